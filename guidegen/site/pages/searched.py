"""What the pages of a pair are found by: its overview, and each page, step, fault, downside and question of the kit.

All but the overview say whose they are, so that those with the same words become one entry (`guidegen.site.found`).
People search with other words than a workshop writes; `PLAIN` has those, by what a downside or a question is about.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from guidegen.language import gettext, marked
from guidegen.record import Assessment
from guidegen.site.pages import downsides, sentences
from guidegen.site.pages.page import SearchEntry, SharedBy
from guidegen.site.pages.questions import PREFIX
from guidegen.site.pages.replies import asked_about
from guidegen.site.pages.topics import question

TITLE_LIMIT, TEXT_LIMIT = 90, 120
"""Characters; what is cut ends in an ellipsis. More makes the index heavy and the list of finds long."""

PLAIN: Mapping[str, str] = {
    "fit": marked("compatible, compatibility, which machine, requirements"),
    "gain": marked("temperature stability, temperature drop, dip, better coffee, benefit"),
    "second": marked("recovery, next shot, back to back"),
    "warm-up": marked("heat-up time, startup, ready, how long until hot"),
    "setpoint": marked("temperature setting, offset, display, thermometer"),
    "steam": marked("steaming, milk, cooling flush"),
    "energy": marked("electricity, power consumption, kWh"),
    "cost": marked("price, money, electricity bill"),
    "mass": marked("weight, heavy"),
    "noise": marked("sound, loud, hum, rattle"),
    "water": marked("descale, descaling, limescale, citric acid, copper, taste"),
    "scale": marked("descale, limescale, hard water"),
    "descaling": marked("descale, descaler, limescale, citric acid"),
    "stagnation": marked("stale water, flush, hygiene"),
    "metals": marked("copper, brass, corrosion"),
    "leak": marked("leaking, drip, water under the machine, frost"),
    "frost": marked("freezing, winter, transport"),
    "warranty": marked("guarantee, void, liability"),
    "approval": marked("certification, safety mark, conformity"),
    "insurance": marked("liability, cover, fire"),
    "resale": marked("value, sell, second hand"),
    "time": marked("duration, how long, hours, difficulty"),
    "skills": marked("electrician, difficulty, qualified"),
    "service": marked("repair, maintenance, workshop"),
    "undo": marked("remove, uninstall, reversible, original state, give back"),
    "irreversible": marked("cut, permanent, reversible"),
    "profile": marked("taste, temperature profile"),
    "sure": marked("accuracy, measured, tested, proof, uncertainty"),
}
PAGES: Mapping[str, str] = {
    "fit": marked("compatible, self-check, requirements, measure, order"),
    "questions": marked("FAQ, help"),
    "charts": marked("diagram, curve, graph"),
    "install": marked("install, installation, manual, how to, fitting, tools, parts"),
    "restore": marked("remove, uninstall, take off"),
    "numbers": marked("figures, data, results"),
    "brief": marked("electrician, quote, appointment, order"),
}
"""By the kind of page."""
TORQUE = marked("torque, tighten, {torque}")


def searched(record: Assessment, kind: str) -> tuple[SearchEntry, ...]:
    """What a page of a pair is found by."""
    kit = record.kit.name
    if kind == "overview":
        own = SearchEntry("", sentences.pair_name(record), sentences.search_text(record, kind))
    else:
        name = gettext(sentences.PAGE_NAMES[kind])
        own = _shared(record, "", f"{kit}: {name}", gettext(PAGES[kind]) if kind in PAGES else "")
    return (own, *(_shared(record, place, f"{kit}: {title}", text) for place, title, text in _places(record, kind)))


def _shared(record: Assessment, place: str, title: str, text: str) -> SearchEntry:
    of = SharedBy(record.kit.id, record.variant.family_name, record.variant.name)
    return SearchEntry(place, shortened(title, TITLE_LIMIT), shortened(text, TEXT_LIMIT), of=of)


def _places(record: Assessment, kind: str) -> Iterator[tuple[str, str, str]]:
    """The places of a page: their ids, titles and texts."""
    match kind:
        case "overview" if not record.fit.refused:
            for downside in downsides.of_variant(record):
                yield f"downside-{downside.id}", downside.what, f"{_plain(downside.about)}. {downside.do}"
        case "questions":
            for name in asked_about(record):
                yield f"{PREFIX}{name}", question(record, name), _plain(name)
        case "install" if record.procedure is not None:
            for step in record.procedure.fitting.steps:
                torque = gettext(TORQUE).format(torque=step.torque.is_) if step.torque is not None else ""
                yield step.anchor, step.do, " ".join(filter(None, (torque, step.why)))
            for number, fault in enumerate(record.procedure.faults, 1):
                yield f"fault-{number}", fault.symptom, f"{fault.cause}. {fault.do}"


def _plain(about: str) -> str:
    return gettext(PLAIN[about]) if about in PLAIN else ""


def shortened(text: str, limit: int) -> str:
    """The text, cut at a space where it is longer.

    >>> shortened("one two three", 9)
    'one two …'
    """
    return text if len(text) <= limit else f"{text[: limit - 1].rsplit(' ', 1)[0]} …"
