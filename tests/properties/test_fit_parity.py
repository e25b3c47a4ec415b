"""The compiled diagram says what the direct judgement says, on every node and edge and on random answers.

The direct judgement works on exact intervals in SI and on the tree of requirements; the diagram on whole counts and
branches. They share the reading of an answer's unit and nothing else that decides.
"""

from __future__ import annotations

import itertools
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "fixtures"))

from fit_cases import Case, cases, written
from fit_parity import answer_of_class, answers_at_random, compare, directly, every_edge

from guidegen.judge.fit.questions import known_from
from guidegen.judge.fit.requirements import OUTCOMES
from guidegen.judge.fit.walk import walk
from guidegen.judge.logic import Truth
from tests.whole import WHOLE

pytestmark = pytest.mark.slow

CASES = {case.name: case for case in cases()}


@pytest.mark.parametrize("name", CASES)
def test_the_diagram_agrees_with_the_direct_judgement(name: str) -> None:
    """300 random sets of answers, with "not sure" and values on limits ± tolerance."""
    case = CASES[name]
    for answers in answers_at_random(case, 300, seed=1):
        compare(case, answers)


@pytest.mark.slow
@pytest.mark.parametrize("name", CASES)
def test_the_diagram_agrees_on_very_many(name: str) -> None:
    """The same on 2,000 sets per pair, or 10,000."""
    case = CASES[name]
    for answers in answers_at_random(case, 10_000 if WHOLE else 2_000, seed=2):
        compare(case, answers)


def test_random_answers_reach_every_outcome() -> None:
    """The comparison above is not idle: all outcomes occur, and "fits with conditions" with several sets."""
    found = [walk(case.rules, answers) for case in CASES.values() for answers in answers_at_random(case, 150, seed=3)]
    assert {one["outcome"] for one in found} == set(OUTCOMES)
    assert {len(one["remedies"]) for one in found} >= {0, 1, 2}
    assert any(len(one["remedies"]) > 1 and one["remedies"][-1]["provided"] for one in found)


@pytest.mark.parametrize("name", CASES)
def test_every_edge_is_walked_and_agrees(name: str) -> None:
    """For every branch of every node there are answers that take it, and the judgement behind it is the direct one."""
    every_edge(CASES[name])


@pytest.mark.parametrize("name", CASES)
def test_each_question_can_still_change_the_outcome(name: str) -> None:
    """No node of the diagram has all of its branches lead to one place: such a question would be asked for nothing."""
    for node in CASES[name].rules["nodes"]:
        assert len(set(node[1:])) > 1


@pytest.mark.parametrize("name", ["much known", "nobody asked", "hiding"])
def test_what_to_find_out_next_really_decides(name: str) -> None:
    """`needed` decides whatever comes out, no cheaper set does, and `first` is one of it; tried by brute force."""
    case = CASES[name]
    facts = case.rules["facts"]
    tried = 0
    for answers in answers_at_random(case, 60, seed=4):
        found = walk(case.rules, answers)
        if found["outcome"] != "cannot-tell-yet":
            continue
        given = {name: answers[name] for name in found["asked"]}
        loose = [fact for fact in facts if left_open(case, fact, given)]
        decisive = []
        for size in range(1, len(loose) + 1):
            for chosen in itertools.combinations(loose, size):
                if all(outcome != "cannot-tell-yet" for outcome in outcomes(case, given, chosen)):
                    decisive.append(chosen)
        minutes = min((sum(fact["minutes"] for fact in chosen) for chosen in decisive), default=None)
        needed = found["decide"]["needed"]
        if minutes is None:
            assert needed == []
            continue
        tried += 1
        assert sum(fact["minutes"] for fact in facts if fact["fact"] in needed) == minutes
        assert set(needed) in [{fact["fact"] for fact in chosen} for chosen in decisive]
        assert found["decide"]["first"] in needed
    assert tried or name == "nobody asked"


def left_open(case: Case, fact: dict, given: dict) -> bool:
    """Whether the owner can still find out more about a fact; of what cannot be described only the workshop can."""
    if fact["fact"] in given:
        word = given[fact["fact"]].get("is")
        question = case.questions.about(fact["fact"])
        if any(one.hides or one.effect == "suspends" for one in question.choices if one.is_ == word):
            return False
        if settles(case, fact, given[fact["fact"]]):
            return False
    return bool(still_possible(case, fact, given))


def still_possible(case: Case, fact: dict, given: dict) -> list[int]:
    """The clear classes that agree with what an answer has told already, comparison by comparison."""
    asked = next(one for one in case.plan.asked if one.fact == fact["fact"])
    told = given.get(fact["fact"])
    known = known_from(case.questions.about(fact["fact"]), written(fact, told), case.plan.table) if told else None
    truths = [Truth.UNKNOWN if known is None else one.judge_known(known) for one in asked.comparisons]
    return [
        way
        for way in fact["definite"]
        if all(old in (Truth.UNKNOWN, new) for old, new in zip(truths, asked.vectors[way], strict=True))
    ]


def settles(case: Case, fact: dict, answer: dict) -> bool:
    """Whether an answer leaves none of its fact's comparisons open; judged directly."""
    known = known_from(case.questions.about(fact["fact"]), written(fact, answer), case.plan.table)
    asked = next(one for one in case.plan.asked if one.fact == fact["fact"])
    return known is not None and all(one.judge_known(known) is not Truth.UNKNOWN for one in asked.comparisons)


def outcomes(case: Case, given: dict, chosen: tuple) -> set[str]:
    """Every outcome that definite answers to the chosen facts can bring, the rest as given or not sure."""
    unsure = {fact["fact"]: {"unsure": True} for fact in case.rules["facts"]}
    ways = [[answer_of_class(fact, way) for way in still_possible(case, fact, given)] for fact in chosen]
    found = set()
    for combination in itertools.product(*ways):
        answers = {**unsure, **given, **{fact["fact"]: one for fact, one in zip(chosen, combination, strict=True)}}
        found.add(directly(case, answers, list(answers))[0])
    return found
