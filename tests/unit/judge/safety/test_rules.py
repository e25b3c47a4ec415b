"""Each rule with the smallest guide that breaks it and the smallest that keeps it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from guidegen.judge.safety.rules import RULES
from tests.unit.judge.safety import test_limits, test_order, test_proof, test_things
from tests.unit.judge.safety.examples import CASES, SHOCK, WARNED, WIRED, less, make
from tests.unit.judge.safety.small import OFF, messages

ELSEWHERE = {"ACT08", "QTY03", "SFD04"}
"""Rules whose smallest examples take things or courses: each has a test of its own."""


@pytest.mark.parametrize(("rule", "bad", "good"), CASES, ids=[f"{rule}-{n}" for n, (rule, _, _) in enumerate(CASES)])
def test_a_rule_finds_the_bad_guide_and_leaves_the_good_one(rule: str, bad: Any, good: Any) -> None:
    """The rule's own sentence, in its smallest form."""
    assert messages(rule, bad) != []
    assert messages(rule, good) == []


def test_every_rule_has_a_small_example() -> None:
    """No rule without one."""
    assert {rule.id for rule in RULES} == {
        rule for module in (test_limits, test_order, test_proof, test_things) for rule, _, _ in (*CASES, *module.CASES)
    } | ELSEWHERE


def test_every_rule_says_what_it_wants_and_how_to_fix_it() -> None:
    """The rules page is generated from this."""
    assert len({rule.id for rule in RULES}) == len(RULES)
    for rule in RULES:
        assert rule.sentence.endswith(".")
        assert rule.fix
        assert rule.severity in ("error", "warning")


def test_no_waiver_exists_for_what_kills() -> None:
    """MNS01 to 04, earth, devices, pressure, and the completeness and place of statements."""
    fixed = ("MNS01", "MNS02", "MNS03", "MNS04", "EAR01", "EAR02", "SFD01", "SFD02", "SFD03", "PRS01", "PRS02",
             "PRS03", "HAZ01", "HAZ03")  # fmt: skip
    by_id = {rule.id: rule for rule in RULES}
    assert [name for name in fixed if by_id[name].waiver or by_id[name].severity != "error"] == []


def test_a_more_than_fourth_danger_is_a_warning_that_needs_a_waiver() -> None:
    """HAZ02's own warning."""
    dangers = {f"h{n}": less(SHOCK, probability="will", designed_out="No.") for n in range(5)}
    one = make(less(WARNED, hazards=list(dangers)), hazards=dangers)
    (rule,) = [rule for rule in RULES if rule.id == "HAZ02"]
    assert [found.severity for found in rule.check(one)] == ["warning"]
    assert rule.waiver


def test_unknown_connection_is_not_corded() -> None:
    """What nobody knows is treated as the worse case."""
    one = make(OFF, machine=replace(WIRED, connection="unknown"))
    assert any("has none, or nobody knows" in message for message in messages("MNS01", one))
