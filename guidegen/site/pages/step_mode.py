"""One step at a time: the data with which a script walks through an instruction, and the words that it says.

Steps stand in the page once; a step here is its place among them. What is decided is decided before: which steps are
of a case, where a failing side leads, what comes again after a night. The script compares readings with limits by the
rules of :mod:`guidegen.judge.builds`, of which it has a twin, and writes the build report that is read there.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator
from functools import cached_property
from typing import Any

from guidegen.language import gettext
from guidegen.language.choices import CHOICES
from guidegen.record import Assessment
from guidegen.record.procedure import Instruction, InstructionCourse, InstructionPhase, InstructionRemedy
from guidegen.record.step import HoldPoint, InstructionStep
from guidegen.site.pages import step_words
from guidegen.site.pages.cases import cases_of
from guidegen.site.pages.my_case import SCRIPT as MY_CASE
from guidegen.site.pages.sentences import sentence
from guidegen.site.pages.step_mode_words import WORDS, WORDS_OF_THE_WAY_BACK
from guidegen.site.pages.template import deferred, styled
from guidegen.unit_table import SPELLINGS, TEST_UNITS, UNITS
from guidegen.units import UnitError, parse

STYLE = "assets/guidegen/step-mode.css"
SCRIPTS = tuple(
    f"assets/guidegen/step-{name}.js"
    for name in (
        "reading",
        "report",
        "course",
        "store",
        "timer",
        "shown",
        "screen",
        "hand",
        "end",
        "cards",
        "kept",
        "mode",
    )
)
"""Where the site keeps them, from its root; each uses those before it. They are fetched once somebody wants them."""
LOADER = "assets/guidegen/step-load.js"
AWAY_S = 3600
"""Whoever was away longer cannot know what happened to the machine: as after a night."""
ATTEMPTS = 3
"""The failure of one check at which nobody goes on; `step_words.again_rule` says so."""
COOLING = "cool_down.wait"
"""The number of a wait on which it rests that nobody is scalded."""
LOOK = "still-off"
"""The act of looking whether what was cut off was moved; where it was, the cooling down begins again."""
SIGN = "sign"
"""The act whose hold point is a signature: nobody passes it without name and date."""
DRAFT = "next"
OF_THE_UNIT = "unit."
"""How a fact begins that is of one owner's machine, and that no file of a variant has."""
DIMENSIONS = ("length", "mass", "volume", "pressure", "power")
BY_HAND = frozenset({"°C", "°F", *(unit for name in DIMENSIONS for unit in UNITS[name])})
"""The units in which an owner can measure; a kelvin is of a difference, which no instrument shows."""


def offered(course: InstructionCourse | None) -> bool:
    """Whether it is offered: not where steps state conditions of which no case is known, in an edition of before cases.

    Whoever sees one step at a time would take each such step for one that everybody does.
    """
    return course is not None and all(step.cases or not step.only_if for step in course.steps)


def head(record: Assessment, kind: str, root: str) -> str:
    """What the head of an instruction's page asks for: my case, and one step at a time where that is offered."""
    procedure, own = record.procedure, deferred(root, MY_CASE)
    if procedure is not None and offered(procedure.fitting if kind == "install" else procedure.restoring):
        own = styled(root, STYLE) + own + deferred(root, LOADER)
    return str(own)


def step_data(record: Assessment, course: InstructionCourse) -> dict[str, Any]:
    """What the script is given of the fitting or of the way back, of which no maker wants a report."""
    procedure = record.procedure
    if procedure is None:
        raise ValueError("a pair without a procedure has no steps")
    rows, fitting = _Rows(course), course is procedure.fitting
    return {
        "guide": {
            "ticks": tick_place(record, course),
            "variant": record.variant.id,
            "variant_name": record.variant.name,
            "kit": record.kit.id,
            "kit_name": record.kit.name,
            "revision": record.kit.revision,
            "edition": record.edition,
            "draft": record.edition == DRAFT,
            "steps": _digest(course),
        },
        "cases": [{"id": one.id, "says": list(one.says)} for one in cases_of(course)],
        "units": unit_rows(),
        "away": AWAY_S,
        "attempts": ATTEMPTS,
        "groups": [*rows.groups()],
        "report": fitting,
        "facts": [*_facts(record)] if fitting else [],
        "words": _words(record, procedure, fitting),
    }


def tick_place(record: Assessment, course: InstructionCourse) -> str:
    """The name under which a device keeps what was done on an instruction's page."""
    back = "" if record.procedure is not None and course is record.procedure.fitting else "/restore"
    return f"{record.variant.id}/{record.kit.id}{back}@{record.edition}"


def _digest(course: InstructionCourse) -> str:
    """What tells progress by these steps from progress by others: a draft changes."""
    return hashlib.sha256("\n".join(step.key for step in course.steps).encode()).hexdigest()[:16]


def unit_rows() -> list[list[Any]]:
    """Every spelling of a unit: dimension, factor and offset to SI; the twin of what `judge.safety.measure` reads."""
    found = [[unit, name, *to_si] for name, units in UNITS.items() for unit, to_si in units.items() if unit]
    spelled = [[other, *one[1:]] for one in found for other, unit in SPELLINGS.items() if unit == one[0] != other]
    return [*found, *spelled, *([unit, name, factor, 0] for unit, (name, factor) in TEST_UNITS.items())]


def _words(record: Assessment, procedure: Instruction, fitting: bool) -> dict[str, str]:
    words = {name: gettext(text) for name, text in (WORDS if fitting else WORDS | WORDS_OF_THE_WAY_BACK).items()}
    again = step_words.again_rule(record.variant.connection, procedure.contact)
    return {**words, "third": again, "contact": procedure.contact or gettext("the workshop")}


class _Rows:
    """The steps of a course by their places."""

    def __init__(self, course: InstructionCourse) -> None:
        self._course = course
        self._cases = [case for case in cases_of(course) if case.id]
        self._night: list[int] | None = []

    @cached_property
    def _places(self) -> dict[str, int]:
        return {step.anchor: place for place, step in enumerate(self._course.steps)}

    @cached_property
    def _by_key(self) -> dict[str, int]:
        return {step.key: place for place, step in enumerate(self._course.steps)}

    def groups(self) -> Iterator[dict[str, Any]]:
        """Each phase and remedy with its steps."""
        for group in self._course.groups:
            yield {"id": group.id, **self._own(group), "steps": [self._step(group.id, step) for step in group.steps]}

    def _own(self, group: InstructionPhase | InstructionRemedy) -> dict[str, Any]:
        if isinstance(group, InstructionPhase):
            return {"name": f"{group.number} {group.name}", "phase": True, "stop": group.stop is not None}
        way = group.then
        ends = " ".join(filter(None, (way.stop, _helped(way.who_can_help)))) if way else ""
        aim = self._places.get(way.anchor or "", -1) if way else -1
        return {"name": f"{group.letter} {group.name}", "phase": False, "then": aim, "ends": ends}

    def _step(self, group: str, step: InstructionStep) -> dict[str, Any]:
        """What the page does not print of a step. `a`, where it is not said, is as of the step before it."""
        found: dict[str, Any] = {"k": step.key.removeprefix(f"{group}/"), "m": step.minutes}
        cases = [case.id for case in self._cases if case.takes(step)]
        if len(cases) < len(self._cases):
            found["c"] = cases
        if step.act == LOOK:
            found["g"] = 1
        if step.role == "electrically-skilled":
            found["s"] = 1
        if step.hold is not None:
            found["h"] = self._hold(step.hold, step.act)
        if waits := [*_waits(step)]:
            found["w"] = waits
        again = step.after_night
        night = None if again is None else [self._by_key[key] for key in again if key in self._by_key]
        if night != self._night:
            self._night = found["a"] = night
        return found

    def _hold(self, hold: HoldPoint, act: str | None) -> dict[str, Any]:
        accept, way = hold.accept, hold.on_fail
        return {
            "s": accept.sense if accept else "",
            "l": accept.limit if accept else "",
            "r": int(bool(hold.record)),
            "f": self._places.get(way.anchor or "", -1) if way else -1,
            **({"n": 1} if act == SIGN else {}),
        }


def _helped(who: str | None) -> str:
    return gettext("Who can help: {who}.").format(who=who) if who else ""


def _waits(step: InstructionStep) -> Iterator[list[Any]]:
    """Every time that a step states: seconds, what it is, and whether it is a wait for safety, a limit, or neither."""
    accept = step.hold.accept if step.hold else None
    for one in step.numbers:
        try:
            seconds = parse(one.text, "time").value
        except UnitError:
            continue
        most = one.name.endswith("limit") or (
            accept is not None and accept.sense == "at_most" and accept.limit == one.text
        )
        kind = "safety" if one.name == COOLING else "most" if most else "least"
        yield [round(seconds), f"{step_words.number_name(one.name)}: {one.text}", kind]


def _facts(record: Assessment) -> Iterator[dict[str, Any]]:
    """What an owner can measure or see on a machine: what the self-check asks of it, and what the numbers state in a
    unit of a rule, a scale, a measuring jug, a thermometer, a gauge or a power meter.
    """
    titles, questions = step_words.fact_titles(), {one.fact: one for one in record.self_check.questions}
    found: dict[str, dict[str, Any]] = {}
    for one in record.self_check.rules.facts:
        question = questions.get(one.fact)
        if one.fact.startswith(OF_THE_UNIT) or question is None:
            continue
        if one.units:
            found[one.fact] = {"title": question.title, "unit": one.units[0].unit}
        elif words := [[word, says] for word, says in question.choices if word in CHOICES or _unit(word)]:
            found[one.fact] = {"title": question.title, "words": words}
    for put in record.inputs:
        unit = _unit(put.text)
        if unit in BY_HAND and put.id in titles:
            found.setdefault(put.id, {"title": gettext(titles[put.id]), "unit": unit})
    for name, asked in sorted(found.items()):
        yield {"fact": name, **asked, "title": sentence(asked["title"])}


def _unit(text: str) -> str:
    """The unit of a stated value, as it is spelled there; nothing where it is none.

    >>> _unit("580 g ± 5 g"), _unit("103 °C"), _unit("banjo")
    ('g', '°C', '')
    """
    number, _, rest = " ".join(text.split()).partition(" ")
    return rest.partition(" ")[0] if re.fullmatch(r"[0-9]+(?:\.[0-9]+)?", number) else ""
