"""Every pair of the demonstration: the compiled self-check says what the direct judgement says."""

from __future__ import annotations

import random
import sys
from functools import cache
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "fixtures"))

from fit_cases import random_answer, written

from guidegen.assessment.fitting import computed
from guidegen.catalogue import load
from guidegen.fit.check import Check, check
from guidegen.fit.questions import Plan, known_from
from guidegen.fit.requirements import evaluate
from guidegen.fit.rules import sizes
from guidegen.fit.walk import walk

ROOT = Path(__file__).parents[2]


@cache
def demonstration() -> dict[str, tuple[Check, Plan]]:
    """Every pair, checked on its own data, with what its owner is asked."""
    known = load(ROOT)
    found = {}
    for machine in known.machines.values():
        for kit in known.kits.values():
            numbers = computed(machine, known.kits, kit)
            done = check(machine, kit, known.kits, known.questions, numbers, edition="next", contact="bench")
            found[f"{machine.id}/{kit.id}"] = done, done.plan
    return found


def agree(count: int, seed: int) -> dict[str, set[str]]:
    """Compare on random answers; return the outcomes that each pair reached."""
    reached: dict[str, set[str]] = {}
    for name, (done, planned) in demonstration().items():
        rules = done.payload["rules"]
        chance = random.Random(f"{seed} {name}")
        questions = {one.fact: one.question for one in planned.asked}
        for _ in range(count if rules["facts"] else 1):
            answers = {fact["fact"]: random_answer(fact, chance) for fact in rules["facts"]}
            found = walk(rules, answers)
            facts = dict(planned.settled)
            for fact in rules["facts"]:
                known = known_from(questions[fact["fact"]], written(fact, answers[fact["fact"]]))
                if known is not None and fact["fact"] in found["asked"]:
                    facts[fact["fact"]] = known
            direct = evaluate(done.requirements, facts)
            assert found["outcome"] == direct.outcome, (name, answers)
            assert [one["remedies"] for one in found["remedies"]] == [list(one.ids) for one in direct.remedies]
            reached.setdefault(name, set()).add(direct.outcome)
    return reached


def test_every_pair_agrees_with_the_direct_judgement() -> None:
    agree(20, seed=1)


@pytest.mark.slow
def test_every_pair_agrees_on_ten_thousand() -> None:
    agree(10_000, seed=2)


def test_every_pair_stays_small_and_asks_little() -> None:
    for name, (done, _) in demonstration().items():
        size = sizes(done.payload["rules"])
        assert size.questions <= 12, name
        assert size.bytes < 20_000, name


def test_data_that_decide_alone_leave_nothing_to_ask() -> None:
    """A wall that is too short is short on every unit: the check ends at once, and says by how much."""
    short = [
        done
        for done, _ in demonstration().values()
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
    for name, (done, _) in demonstration().items():
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
        name: [one for row in done.payload["rules"]["mending"]["sets"] for one in row]
        for name, (done, _) in demonstration().items()
    }
    with_boiler = [one for one in sets["tamsin-mk1/feed-preheater"] if "part:exchange-boiler" in one["remedies"]]
    assert with_boiler
    assert all("exchange-boiler/mains-voltage" in one["provided"] for one in with_boiler)
    assert sets["tamsin-mk1-120/feed-preheater"]
    assert all("part:exchange-boiler" not in one["remedies"] for one in sets["tamsin-mk1-120/feed-preheater"])
