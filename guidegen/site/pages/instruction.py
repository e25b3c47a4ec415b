"""The fitting instruction and the way back: what their templates are given."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from guidegen.language import gettext, marked
from guidegen.record import Assessment
from guidegen.record.procedure import (
    Instruction,
    InstructionCourse,
    InstructionPhase,
    InstructionRemedy,
    WettedPart,
    WorkNote,
)
from guidegen.record.step import AcceptedLimit, InstructionStep, StepNumber
from guidegen.site.drawings.scene_views import views_of
from guidegen.site.pages import downsides, my_case, sentences, step_words
from guidegen.site.pages.carried_out import carried_values
from guidegen.site.pages.conduct import head_words
from guidegen.site.pages.drawn import drawings_of
from guidegen.site.pages.numbers import ShownNumbers
from guidegen.site.pages.page import rel
from guidegen.site.pages.place import ALONG, ONE_FILE, has_restore, pair_path, variant_path
from guidegen.site.pages.site import Site
from guidegen.site.pages.step_mode import SCRIPTS, offered, step_data, tick_place

RECORD_LINES = (
    marked("Machine, serial number"),
    marked("Kit revision and serial number"),
    marked("Day of the work"),
    marked("Who fitted it"),
    marked("Who signed before the power came on"),
    marked("Protective-conductor current, if measured"),
    marked("Touch current, if measured"),
    marked("Minutes"),
    marked("Findings"),
)
ALONG_WORDS = {
    "taking": marked("Taking it along …"),
    "taken": marked("Taken along on {date}. This address now opens without a network, on this device."),
    "again": marked("Take it along again"),
    "size": marked("{size} MB."),
    "may-go": marked("The browser may drop it when the device runs short of space."),
    "removed": marked("Removed from this device."),
    "failed": marked("It could not be taken along: the network or the device refused. Save the file, or print."),
}
"""What `along.js` says."""


def install_values(record: Assessment, path: str, numbers: ShownNumbers, site: Site) -> dict[str, Any]:
    """What the install page's template needs beyond the record."""
    procedure = _procedure(record)
    phases = procedure.fitting.phases
    return {
        **_shared(record, path, procedure.fitting, (*procedure.wetted, *procedure.aftercare)),
        "carried": carried_values(record),
        "main_drink": record.main_drink,
        "outcome_word": sentences.outcome(record.fit.outcome),
        "conditions": [one.model_dump() for one in record.fit.reasons if one.met is not True],
        "downsides": [one.what for one in downsides.of_variant(record)],
        "irreversible": [step for phase in phases for step in phase.steps if not step.reversible],
        "waits": [wait for phase in phases for wait in phase.waits],
        # Only a thermostat has drops that depend on when you pull.
        "has_display": record.main.with_.sensor_drop_phases_k is None,
        "restorable": has_restore(record),
        "one_file": ONE_FILE,
        "file_name": f"{record.variant.id}-{record.kit.id}-{record.edition}.html",
        "along": ALONG,
        "along_words": {name: gettext(text) for name, text in ALONG_WORDS.items()},
    }


def restore_values(record: Assessment, path: str, numbers: ShownNumbers, site: Site) -> dict[str, Any]:
    """What the restoring page's template needs beyond the record."""
    procedure = _procedure(record)
    if procedure.restoring is None:
        raise ValueError("an instruction without a way back has no page for it")
    return {
        **_shared(record, path, procedure.restoring),
        "uses": procedure.restoring_uses or procedure.uses,
    }


def _procedure(record: Assessment) -> Instruction:
    if record.procedure is None:
        raise ValueError("a pair without a procedure has no instruction")
    return record.procedure


def _shared(
    record: Assessment, path: str, part: InstructionCourse, around: Iterable[WorkNote | WettedPart] = ()
) -> dict[str, Any]:
    procedure = _procedure(record)
    marks = marks_of(part.steps, around)
    mine = my_case.CaseMarks(part, my_case.hazards_elsewhere(procedure, part))
    drawings = drawings_of(views_of(record), mine)
    return {
        "p": procedure,
        "ticks": tick_place(record, part),
        "steps_data": step_data(record, part) if offered(part) else None,
        "step_scripts": " ".join(rel(path, one) for one in SCRIPTS),
        "drawings": drawings,
        "part": part,
        "who": lambda phase: step_words.who(step.role for step in phase.steps),
        "holds": lambda phase: sum(step.hold is not None for step in phase.steps),
        "again_rule": step_words.again_rule(record.variant.connection, procedure.contact),
        "readings": [{**one, "mark": mine.of_numbers((one["number"],))} for one in readings(part.groups)],
        "mine": mine,
        "record_lines": [gettext(line) for line in RECORD_LINES],
        "marks": marks,
        "mark_of": lambda evidence, source: marks[evidence, source],
        "conduct": head_words(record),
        "guide_of": lambda kit: rel(path, pair_path(record.variant.id, kit)),
        "safety_page": rel(path, "safety.html"),
        "variant_page": rel(path, variant_path(record.variant.id)),
        "reasons": reasons(part.steps),
        "shown_numbers": shown_numbers,
        "stated": stated,
        "number_name": step_words.number_name,
        "roles": {role: gettext(text) for role, text in step_words.ROLES.items()},
        "senses": {sense: gettext(text) for sense, text in step_words.SENSES.items()},
    }


def readings(groups: Iterable[InstructionPhase | InstructionRemedy]) -> Iterator[dict[str, Any]]:
    """What the record sheet has a line for: each torque, and each hold point that asks for something."""
    for group in groups:
        for step in group.steps:
            if step.torque is not None:
                limit = step.torque.is_
                yield {"number": step.number, "anchor": step.anchor, "record": gettext("torque"), "limit": limit}
            if step.hold is not None and step.hold.record:
                accept = stated(step)
                limit = " ".join((gettext(step_words.SENSES[accept.sense]), accept.limit)) if accept else ""
                for wanted in step.hold.looks or (limit,):
                    yield {"number": step.number, "anchor": step.anchor, "record": step.hold.record, "limit": wanted}


Origin = tuple[str, str | None]


def marks_of(steps: Iterable[InstructionStep], around: Iterable[WorkNote | WettedPart] = ()) -> dict[Origin, str]:
    """A letter for each evidence and source on a page: those of its steps, and of the text around them."""
    standards = (("standard", one.source) for one in around if one.source)
    found = dict.fromkeys((*standards, *(origin for step in steps for origin in _origins(step))))
    return {origin: step_words.letter(place) for place, origin in enumerate(found)}


def _origins(step: InstructionStep) -> Iterator[Origin]:
    if step.torque:
        yield step.torque.evidence, step.torque.source
    yield from ((one.evidence, one.source) for one in shown_numbers(step))
    if accept := stated(step):
        yield accept.evidence, accept.source


def stated(step: InstructionStep) -> AcceptedLimit | None:
    """The limit of a hold point where its criterion does not say it: "nothing drips" needs no number beside it."""
    accept = step.hold.accept if step.hold else None
    return None if accept is None or accept.evidence == "common-practice" else accept


def reasons(steps: Iterable[InstructionStep]) -> dict[str, str]:
    """The reason of each step by its anchor; what many steps have in common is printed at the first of them."""
    first = {step.why: step.anchor for step in reversed(tuple(steps)) if step.why}
    return {anchor: why for why, anchor in first.items()}


def shown_numbers(step: InstructionStep) -> Iterator[StepNumber]:
    """The numbers of a step whose origin is not stated elsewhere in it: by its hold point or its torque."""
    accept = stated(step)
    for one in step.numbers:
        if accept and (one.text, one.source) == (accept.limit, accept.source):
            continue
        if step.torque and one.text in (step.torque.is_, step.torque.thread):
            continue
        yield one
