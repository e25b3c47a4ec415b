"""Who is left after which answers, in any order, and which answers contradict each other."""

from __future__ import annotations

import random
from itertools import combinations
from typing import Any

import pytest

from guidegen.judge.fit.identified import Identified, identified
from guidegen.judge.fit.identify import PLATE, which_of
from guidegen.judge.fit.marks import seen_marks
from guidegen.trade.paths import known_facts
from guidegen.workshop.questions import Questions
from tests.mutants.draft import catalogue

KNOWN = catalogue()
MACHINES = list(KNOWN.machines.values())
WHICH = which_of(MACHINES, KNOWN.questions or Questions(), known_facts(), edition="next", contact="bench@example.com")
FACTS = WHICH["rules"]["facts"]
MARK_3 = {"is": "the letters MK3 before the serial number"}
WATTS = {"unit": "W", "count": 1150}


def found(answers: dict[str, Any]) -> Identified:
    return identified(WHICH["rules"], WHICH["shows"], answers)


def names(answers: dict[str, Any]) -> list[str]:
    return [WHICH["variants"][place]["id"] for place in found(answers)["left"]]


def own_marks(name: str) -> dict[str, Any]:
    """What an owner sees, straight from the YAML: name and marks."""
    machine = KNOWN.machines[name]
    return {"family": {"is": machine.family}, **{f"mark.{one.id}": {"is": one.see} for one in seen_marks(machine)}}


@pytest.mark.parametrize("name", KNOWN.machines)
def test_whichever_of_its_own_marks_are_seen_it_is_left(name: str) -> None:
    """Every choice of its marks, so whatever came first: never excluded, never a contradiction, all of them: alone."""
    marks = own_marks(name)
    for count in range(1, len(marks) + 1):
        for chosen in combinations(marks, count):
            given = {one: marks[one] for one in chosen}
            assert name in names(given)
            assert found(given)["against"] == []
    assert names(marks) == [name]
    assert found(marks)["ask"] is None


@pytest.mark.parametrize("name", KNOWN.machines)
def test_the_plate_alone_decides(name: str) -> None:
    """Each Tamsin's plate names it: with it nothing more is asked. No Bracken's plate was written down."""
    plate = own_marks(name).get("mark.plate")
    if plate is not None:
        assert names({"mark.plate": plate}) == [name]
        assert found({"mark.plate": plate})["ask"] is None


def test_a_mark_3_with_the_watts_of_a_mark_2_is_a_contradiction() -> None:
    """The Mark 3 has 1250 W in its YAML, 1150 W are of the Marks 1b and 2: both answers are named, in any order."""
    for given in ({"heater.power": WATTS, "mark.plate": MARK_3}, {"mark.plate": MARK_3, "heater.power": WATTS}):
        assert found({"family": {"is": "tamsin"}, **given})["against"] == ["mark.plate", "heater.power"]
        assert names(given) == []


def test_something_else_is_another_machine_and_no_contradiction() -> None:
    given = {"family": {"is": "tamsin"}, "mark.plate": {"is": "something-else"}}
    assert (found(given)["left"], found(given)["against"], found(given)["ask"]) == ([], [], None)


def turn(fact: str) -> int:
    """When a question may come: name, plate, what else is outside, what is under the lid."""
    under = {one["fact"] for one in WHICH["questions"] if one["under_lid"]}
    return 0 if fact == "family" else 1 if fact in ("mark.plate", *PLATE) else 3 if fact in under else 2


def test_on_every_way_the_plate_comes_first_and_the_lid_last() -> None:
    nodes = WHICH["rules"]["nodes"]
    for node in nodes:
        for below in node[1:]:
            if below >= 0:
                assert turn(FACTS[node[0]]["fact"]) <= turn(FACTS[nodes[below][0]]["fact"])
    assert any(turn(FACTS[node[0]]["fact"]) == 3 for node in nodes)


def test_who_is_left_is_what_the_walk_says() -> None:
    """Answers in the order in which they are asked: the walk's outcome, where it asked to the end."""
    from guidegen.judge.fit.walk import walk

    chance = random.Random(3)
    for _ in range(2_000):
        given: dict[str, Any] = {}
        while (step := walk(WHICH["rules"], given))["ask"] is not None:
            fact = next(one for one in FACTS if one["fact"] == step["ask"])
            ways = [{"unsure": True}, *({"is": one} for one in fact["choices"])]
            unit = fact["units"][0] if fact["units"] else None
            ways += [{"unit": unit["unit"], "count": cut} for cut in unit["cuts"]] if unit else []
            given[step["ask"]] = chance.choice(ways)
        assert " ".join(names(given)) == step["outcome"]
