"""A brief for the electrically skilled person, to send before anybody orders: visits, tests, limits, signature."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from guidegen.language import gettext
from guidegen.record import Assessment
from guidegen.record.step import InstructionStep
from guidegen.site.pages import step_words
from guidegen.site.pages.cost import waits_words
from guidegen.site.pages.effort import Visit, days, skilled_tools, visits
from guidegen.site.pages.instruction import stated
from guidegen.site.pages.numbers import ShownNumbers
from guidegen.site.pages.page import rel
from guidegen.site.pages.place import path_of
from guidegen.site.pages.site import Site

SIGNS = "sign"
"""The act by which the owner asks him to sign."""


def brief_values(record: Assessment, path: str, numbers: ShownNumbers, site: Site) -> dict[str, Any]:
    """What the brief's template needs beyond the record."""
    procedure, found, known = record.procedure, visits(record), days(record)
    if procedure is None or not found:
        raise ValueError("a pair without visits has no brief")
    install = rel(path, path_of(record, "install"))
    return {
        "p": procedure,
        "visits": [_visit(number, one, install) for number, one in enumerate(found, 1)],
        "all_minutes": sum(one.minutes for one in found),
        "waits": waits_words(known.waits) if known is not None and known.waits else "",
        "instruments": skilled_tools(record),
        "signs": [
            {"number": step.number, "href": f"{install}#{step.anchor}", "looks": _looks(step), "why": step.why}
            for step in procedure.fitting.steps
            if step.act == SIGNS
        ],
        "volts": record.variant.voltage_v,
        "safety_page": rel(path, "safety.html"),
    }


def _looks(step: InstructionStep) -> tuple[str, ...]:
    return step.hold.looks or (step.hold.criterion,) if step.hold else ()


def _visit(number: int, one: Visit, install: str) -> dict[str, Any]:
    return {
        "number": number,
        "phases": [{"number": phase.number, "name": phase.name, "only_if": phase.only_if} for phase in one.phases],
        "minutes": one.minutes,
        "tests": list(_tests(one, install)),
        "other": [
            {"number": step.number, "href": f"{install}#{step.anchor}", "do": step.do, "minutes": step.minutes}
            for step in one.steps
            if step.hold is None
        ],
    }


def _tests(one: Visit, install: str) -> Iterator[dict[str, Any]]:
    """Each of his hold points: what he does, with what, and what it must show."""
    for step in one.steps:
        if step.hold is None:
            continue
        accept = stated(step)
        instrument = (accept.read_with or "") if accept else ""
        sense = gettext(step_words.SENSES[accept.sense]) if accept else ""
        yield {
            "number": step.number,
            "href": f"{install}#{step.anchor}",
            "do": step.do,
            "only_if": step.only_if,
            "minutes": step.minutes,
            "instrument": instrument or ", ".join(step.uses.tools),
            "limit": f"{sense} {accept.limit}" if accept else "",
            "shows": step.hold.looks or (step.hold.criterion,),
            "record": step.hold.record,
        }
