"""Empty each rule's body in turn: at least three mutant tests must fail, or nothing proves that the rule works."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from itertools import islice

import pytest

from guidegen.judge.safety import lint as linting
from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.rules import RULES
from tests.mutants.draft import draft
from tests.mutants.test_mutants import IDS, ROWS
from tests.whole import some

LEAST = 3


def _guides(rule: str) -> Iterator[Guide]:
    for mutant in ROWS:
        if mutant.rule == rule:
            one = draft(*mutant.guide)
            mutant.change(one)
            yield one.guide()


def failures(rule: str, monkeypatch: pytest.MonkeyPatch) -> Iterator[Guide]:
    """Yield the mutants of a rule that survive once its body is empty."""
    rules = tuple(replace(one, check=lambda guide: iter(())) if one.id == rule else one for one in RULES)
    if rule == linting.WAIVER_RULE.id:
        monkeypatch.setattr(linting, "_waived", lambda guide, found, rules: iter(found))
    return (guide for guide in _guides(rule) if rule not in {one.rule for one in linting.lint(guide, rules)})


@pytest.mark.slow
@pytest.mark.parametrize("rule", IDS)
def test_an_empty_rule_is_noticed(rule: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing else stands in for the rule: its mutants survive without it."""
    assert len([*islice(failures(rule, monkeypatch), LEAST)]) == LEAST


@pytest.mark.slow
def test_the_rules_are_what_catches_them() -> None:
    """With all rules emptied, no mutant is caught; so a catch comes from a rule's body and nowhere else."""
    rules = tuple(replace(one, check=lambda guide: iter(())) for one in RULES)
    caught = Counter[str]()
    for rule in some(IDS, 6):
        if rule != linting.WAIVER_RULE.id:
            caught.update(one.rule for guide in _guides(rule) for one in linting.lint(guide, rules))
    assert caught == Counter()
