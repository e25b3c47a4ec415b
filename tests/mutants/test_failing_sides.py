"""Mutants made from the table: each failing side opened, so that work goes on as if nothing had failed.

Going on with the next step or with a later phase, no failing side at all, back to a step that does not do again what
failed, and "reset and go on": a harmless step that bears the name of the remedy. What an author can write is written,
and refused by the lint; the failing side that an act has of its own cannot be written, and is refused as such.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any

import pytest

from guidegen.judge.acts.compiled import compiled
from guidegen.judge.acts.row import rows
from guidegen.judge.logic import Truth
from guidegen.judge.safety.facts import holds
from guidegen.workshop.acts import WrittenAct
from tests.mutants.draft import Draft, draft
from tests.mutants.table import BANJO, LOOP_WIRED, TRIM, Mutant, survivors
from tests.mutants.test_exchanged import written_acts
from tests.mutants.test_generated import acts_of, lists_of_steps

GUIDES = (TRIM, BANJO, LOOP_WIRED)
"""A plug and none, each kit, trimmed and exchanged: the hold points of the others are the same."""
IDLE = {"id": "", "act": "test-rcd", "do": "Reset it.", "minutes": 1, "role": "anyone"}
"""What somebody writes in place of a remedy: it does nothing to what failed."""


def held(one: Draft) -> Iterator[tuple[int, int, dict[str, Any]]]:
    """Every hold point that a guide uses: its list, its index there, and the step."""
    used = {(number, name, act) for number, name, act in acts_of(one)}
    for number, steps in enumerate(lists_of_steps(one)):
        for at, entry in enumerate(steps):
            done = "hold" in entry and (number, entry["id"], entry.get("act")) in used
            if done and holds(entry.get("when"), one.facts) is not Truth.FALSE:
                yield number, at, entry


def led(guide: tuple[str, str], number: int, at: int, entry: dict[str, Any], goto: str) -> Mutant:
    """The failing side of a step leading to another place."""

    def change(one: Draft) -> None:
        steps = list(lists_of_steps(one))[number]
        steps[at]["hold"]["on_fail"] = {"goto": goto}

    return Mutant("", f"{entry['id']} ({entry['act']}): when it fails, {goto}", guide, change)


def onward(guide: tuple[str, str]) -> Iterator[Mutant]:
    """Each failing side leading to the next step of its list, to the phase after its own and the last; and left out."""
    clean = draft(*guide)
    lists, behind = list(lists_of_steps(clean)), later_phases(clean)
    for number, at, entry in held(clean):
        following = [one["id"] for one in lists[number][at + 1 :] if one.get("id") not in (None, entry["id"])]
        gotos = [*following[:1], *behind.get(entry["id"], ())]
        yield from (led(guide, number, at, entry, goto) for goto in gotos)
        yield Mutant("", f"{entry['id']} ({entry['act']}) without a failing side", guide,
                     partial(closed, number=number, at=at))  # fmt: skip


def closed(one: Draft, number: int, at: int) -> None:
    """A hold point without a failing side."""
    del list(lists_of_steps(one))[number][at]["hold"]["on_fail"]


def later_phases(clean: Draft) -> dict[str, list[str]]:
    """By the id of a step, the next and the last phase of the fitting behind the last one that holds it."""
    phases = clean.guide().resolved.fitting.phases
    last = {step.step.id: index for index, phase in enumerate(phases) for step in phase.steps}
    ids = [phase.id for phase in phases]
    return {name: list(dict.fromkeys((*ids[at + 1 :][:1], *ids[at + 1 :][-1:]))) for name, at in last.items()}


def back(guide: tuple[str, str]) -> Iterator[Mutant]:
    """Each `back_to` of an author leading to itself, and to each step between the one that is done again and it."""
    clean = draft(*guide)
    lists = list(lists_of_steps(clean))
    for number, at, entry in held(clean):
        hold = rows()[entry["act"]].hold
        if hold is not None and hold.goto == "back":
            names = [one.get("id") for one in lists[number]]
            again = entry["hold"]["on_fail"]["goto"]
            first = names.index(again) + 1 if again in names else 0
            yield from (led(guide, number, at, entry, name) for name in names[first : at + 1] if name)


def reset(guide: tuple[str, str]) -> Iterator[Mutant]:
    """A harmless step above each hold point that leads to a remedy, under the name of that remedy."""
    for number, at, entry in held(draft(*guide)):
        hold = rows()[entry["act"]].hold
        goto = hold.goto if hold is not None else None
        if goto not in (None, "itself", "back"):

            def change(one: Draft, number: int = number, at: int = at, goto: str = str(goto)) -> None:
                list(lists_of_steps(one))[number].insert(at, {**IDLE, "id": goto})

            yield Mutant("", f"{entry['id']} ({entry['act']}): reset and go on in place of {goto}", guide, change)


def turned(guide: tuple[str, str]) -> Iterator[Mutant]:
    """Each remedy that leads back into the work leading to each later phase, and each emptied to one harmless step."""
    clean = draft(*guide)
    courses = [[phase["id"] for phase in clean.procedure["phases"]]]
    used = {remedy.id for course in clean.guide().resolved.courses for remedy in course.remedies}
    for index, remedy in enumerate(clean.shared["remedies"]):
        if remedy["id"] in used:

            def emptied(one: Draft, index: int = index) -> None:
                one.shared["remedies"][index]["steps"] = [{**IDLE, "id": "reset"}]

            yield Mutant("", f"{remedy['id']}: only a reset", guide, emptied)
        goto = remedy["then"].get("goto")
        if remedy["id"] in used and goto:
            names = courses[0]
            behind = names[names.index(goto) + 1 :] if goto in names else names[names.index("cold-test") :]
            for name in behind:

                def change(one: Draft, index: int = index, name: str = name) -> None:
                    one.shared["remedies"][index]["then"] = {"goto": name}

                yield Mutant("", f"{remedy['id']}: then {name}", guide, change)


GENERATORS = (onward, back, reset, turned)


@pytest.mark.slow
@pytest.mark.parametrize("guide", GUIDES, ids="/".join)
@pytest.mark.parametrize("generator", GENERATORS, ids=lambda one: one.__name__)
def test_no_failing_side_can_be_opened(generator: Any, guide: tuple[str, str]) -> None:
    """One at a time: refused, with file, line and fix."""
    assert survivors(generator(guide)) == []


def test_each_of_them_makes_some() -> None:
    """Nothing is proved by a generator that makes nothing."""
    for generator in GENERATORS:
        assert any(True for guide in GUIDES for _ in generator(guide)), generator.__name__


@pytest.mark.parametrize("guide", GUIDES, ids="/".join)
def test_nobody_writes_the_failing_side_that_an_act_has(guide: tuple[str, str]) -> None:
    """Each act with a hold point of its own: another way is refused as a field, with the fix."""
    things = draft(*guide).facts.things
    for _, _, act in written_acts(guide):
        if "occasion" in act:
            continue
        hold = rows()[act["act"]].hold
        if hold is not None and hold.goto != "back":
            made = compiled(WrittenAct.model_validate({**act, "back_to": act["id"]}), things, "device")
            faults = {fault.field: fault.fix for fault in made.faults}
            assert faults.get("back_to") == "leave it out", act["id"]
        for name in ("hold", "on_fail", "goto", "stop"):
            with pytest.raises(ValueError, match=name):
                WrittenAct.model_validate({**act, name: "itself"})
