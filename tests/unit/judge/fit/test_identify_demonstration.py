"""The finder of the demonstration: every variant's own marks lead to it, and no other's mark does."""

from __future__ import annotations

from itertools import permutations
from typing import Any

import pytest

from guidegen.judge.fit.identify import compile_identification
from guidegen.judge.fit.marks import seen_marks
from guidegen.judge.fit.walk import walk
from guidegen.trade.paths import known_facts
from guidegen.workshop.questions import Questions
from tests.mutants.draft import catalogue

KNOWN = catalogue()
MACHINES = list(KNOWN.machines.values())
RULES, _ = compile_identification(MACHINES, KNOWN.questions or Questions(), known_facts())


def found(answers: dict[str, Any]) -> str:
    """Answer what is asked as far as it is given, "not sure" to all else."""
    given = dict(answers)
    while (step := walk(RULES, given))["ask"] is not None:
        given[step["ask"]] = {"unsure": True}
    return step["outcome"] or ""


@pytest.mark.parametrize("name", KNOWN.machines)
def test_its_own_marks_in_any_order_never_speak_against_it(name: str) -> None:
    """Whichever of its marks somebody has seen: the variant is among those that are left; with all of them, alone."""
    machine = KNOWN.machines[name]
    marks = {f"mark.{one.id}": {"is": one.see} for one in seen_marks(machine)}
    family = {"family": {"is": machine.family}}
    for order in permutations(marks, min(2, len(marks))):
        assert name in found({**family, **{one: marks[one] for one in order}}).split()
    assert found({**family, **marks}) == name


@pytest.mark.parametrize("name", KNOWN.machines)
def test_a_siblings_own_mark_never_leads_to_it(name: str) -> None:
    """A mark that this variant shows otherwise, seen on the machine, leaves this variant out, whatever else agrees."""
    machine = KNOWN.machines[name]
    own = {one.id: one.see for one in seen_marks(machine)}
    unseen = {one.id for one in machine.marks} - {*own}
    for other in (one for one in MACHINES if one.family == machine.family):
        for mark in seen_marks(other):
            if mark.see != own.get(mark.id) and mark.id not in unseen:
                given = {"family": {"is": machine.family}, f"mark.{mark.id}": {"is": mark.see}}
                assert name not in found(given).split(), (other.id, mark.id)


def test_a_plate_decides_against_the_watts() -> None:
    """A plate with MK3 and 1150 W: no variant is both, and none is named."""
    given = {"family": {"is": "tamsin"}, "mark.plate": {"is": "the letters MK3 before the serial number"}}
    assert found(given) == "tamsin-mk3"
    assert found({**given, "heater.power": {"unit": "W", "count": 1150}}) in ("", "tamsin-mk3")
