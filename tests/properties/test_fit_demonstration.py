"""Every pair of the demonstration: the compiled self-check says what the direct judgement says."""

from __future__ import annotations

import random
import sys
from pathlib import Path
from types import SimpleNamespace
from typing import cast

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "fixtures"))

from fit_cases import Case, random_answer
from fit_parity import answers_at_random, compare, every_edge

from guidegen.judge.fit.build import known_of
from guidegen.judge.fit.identify import compile_identification
from guidegen.judge.fit.questions import MOST_OF_UNIT, MOST_QUESTIONS
from guidegen.judge.fit.rules import sizes
from guidegen.judge.fit.walk import walk
from guidegen.trade import load
from guidegen.trade.machine import Machine
from guidegen.trade.paths import known_facts
from guidegen.units import parse
from guidegen.workshop.questions import Question
from tests.fixtures.fit_demonstration import ROOT, demonstration
from tests.whole import WHOLE

pytestmark = pytest.mark.slow


def cases() -> list[Case]:
    """Every pair as the comparison takes it; pairs whose requirements, data and rules are the same, once."""
    found = {}
    for done in demonstration().values():
        rules = done.payload["rules"]
        same = repr((done.sold, sorted(done.plan.settled.items(), key=repr), rules))
        case = SimpleNamespace(requirements=done.sold, plan=done.plan, rules=rules, questions=done.questions)
        found[same] = cast(Case, case)
    return list(found.values())


def agree(count: int, seed: int) -> None:
    """Compare outcome, reasons and remedies of every pair on random answers."""
    for place, case in enumerate(cases()):
        for answers in answers_at_random(case, count if case.rules["facts"] else 1, 100 * seed + place):
            compare(case, answers)


def test_every_pair_agrees_on_every_edge() -> None:
    for case in cases():
        every_edge(case)


def test_every_pair_agrees_with_the_direct_judgement() -> None:
    agree(20, seed=1)


@pytest.mark.slow
def test_every_pair_agrees_on_very_many() -> None:
    agree(10_000 if WHOLE else 500, seed=2)


def test_every_pair_stays_small_and_asks_little() -> None:
    for name, done in demonstration().items():
        size = sizes(done.payload["rules"])
        assert size.questions <= MOST_QUESTIONS + MOST_OF_UNIT, name
        assert size.bytes < 20_000, name


def test_data_that_decide_alone_leave_nothing_to_ask() -> None:
    """A wall that is too short is short on every unit: the check ends immediately, and says by how much."""
    short = [
        done
        for done in demonstration().values()
        if any(reason.condition.id == "wall-tall-enough" and reason.disqualifies for reason in done.evaluation.reasons)
    ]
    assert short
    for done in short:
        assert done.payload["rules"]["facts"] == []
        row = next(row for row in done.rows if row.id == "wall-tall-enough")
        assert "short by" in row.detail


def test_not_sure_everywhere_never_fits() -> None:
    """Nobody orders on unknown: where anything is asked, "not sure" throughout gives no order."""
    asked = 0
    for name, done in demonstration().items():
        rules = done.payload["rules"]
        if not rules["facts"]:
            continue
        asked += 1
        found = walk(rules, {fact["fact"]: {"unsure": True} for fact in rules["facts"]})
        assert found["outcome"] in ("cannot-tell-yet", "does-not-fit"), name
        if found["outcome"] == "cannot-tell-yet":
            assert found["decide"]["first"] is not None or done.payload["unasked"], name
    assert asked


def test_what_the_data_rule_out_is_not_offered() -> None:
    """The exchange boiler is made for 230 V: offered with that as its proviso, but not for the variant for 120 V."""
    sets = {
        name: [one for row in done.payload["rules"]["sufficient"]["sets"] for one in row]
        for name, done in demonstration().items()
    }
    with_boiler = [one for one in sets["tamsin-mk1/feed-preheater"] if "part:exchange-boiler" in one["remedies"]]
    assert with_boiler
    assert all("exchange-boiler/mains-voltage" in one["provided"] for one in with_boiler)
    # Of the variant for 120 V nobody knows how much metal must remain: it is not trimmed, and has no other way.
    data = demonstration()["tamsin-mk1-120/feed-preheater"].evaluation
    assert (data.outcome, data.remedies) == ("cannot-tell-yet", ())
    for one in sets["tamsin-mk1-120/feed-preheater"]:
        assert "exchange-boiler/mains-voltage" not in one["provided"]
        if "fabrication:trim-protrusions" in one["remedies"]:
            assert "trim-protrusions/can-be-trimmed" in one["provided"]


def excluded(machine: Machine, fact: str, answer: dict, question: Question, units: dict[str, dict]) -> bool:
    """Whether an answer speaks against a variant, straight from its data; what they do not mention never does.

    The tolerance is the one that the owner reads, in the unit of the answer: rounded up to what can be read.
    """
    if answer.get("unsure") or any(one.open for one in question.choices if one.is_ == answer.get("is")):
        return False
    if fact == "family":
        return machine.family != answer["is"]
    if fact.startswith("mark."):
        here = next((mark.see for mark in machine.marks if f"mark.{mark.id}" == fact), None)
        # Whoever sees another's mark has not the one that does not mention it; where nobody looked nothing speaks.
        return here != "unknown" and answer["is"] != here and not (here is None and answer["is"] == "something-else")
    known = known_of(machine.fact(fact))
    if isinstance(known, frozenset):
        return answer["is"] not in known
    if known is None:
        return False
    if "is" in answer:
        middle, reach = parse(answer["is"], known_facts()[fact].dimension).value, 0.0
    else:
        unit = units[answer["unit"]]
        middle, reach = (
            parse(f"{count / 10 ** unit['decimals']} {unit['unit']}", question.measures).value
            for count in (answer["count"], unit["plus_minus"])
        )
    return middle + reach < float(known.low) - 1e-12 or middle - reach > float(known.high) + 1e-12


def test_distinguishing_variants_agrees_with_their_data() -> None:
    """2,000 random sets of answers leave exactly the variants that no asked answer speaks against."""
    known = load(ROOT)
    machines = list(known.machines.values())
    rules, questions = compile_identification(machines, known.questions, known_facts())
    asked = {question.fact: question for question in questions}
    units = {fact["fact"]: {unit["unit"]: unit for unit in fact["units"]} for fact in rules["facts"]}
    chance = random.Random(9)
    several = 0
    for _ in range(2_000):
        unsure = chance.random() < 0.5
        answers = {
            fact["fact"]: {"unsure": True} if unsure and chance.random() < 0.6 else random_answer(fact, chance)
            for fact in rules["facts"]
        }
        found = walk(rules, answers)
        left = [
            machine.id
            for machine in machines
            if not any(excluded(machine, name, answers[name], asked[name], units[name]) for name in found["asked"])
        ]
        assert found["outcome"].split() == left, answers
        several += len(left) > 1
    assert several
