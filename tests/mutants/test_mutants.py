"""Proof of the lint: each one-change mutant of a clean guide trips its rule, and nothing that has no reason to."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Any

import pytest

from guidegen.judge.safety.rules import RULES
from tests.mutants import (
    rows_acts,
    rows_around,
    rows_hazards,
    rows_limits,
    rows_mains,
    rows_order,
    rows_texts,
    rows_things,
    rows_volumes,
    rows_work,
)
from tests.mutants.draft import draft
from tests.mutants.table import CLEAN, Mutant

ROWS: tuple[Mutant, ...] = (
    *rows_acts.ROWS, *rows_around.ROWS, *rows_hazards.ROWS, *rows_limits.ROWS, *rows_mains.ROWS, *rows_order.ROWS,
    *rows_texts.ROWS, *rows_things.ROWS, *rows_volumes.ROWS, *rows_work.ROWS,
)  # fmt: skip
#: the rule about waivers is no check of its own: it is how the lint applies them
IDS = (*(rule.id for rule in RULES), "WVR01")


def once_for_each_rule() -> Iterator[Any]:
    """The rows, all but the first of each rule for the slow tier."""
    seen: set[str] = set()
    for mutant in ROWS:
        yield pytest.param(mutant, marks=[pytest.mark.slow] if mutant.rule in seen else [], id=mutant.name)
        seen.add(mutant.rule)


@pytest.mark.parametrize("mutant", [*once_for_each_rule()])
def test_mutant(mutant: Mutant) -> None:
    """The change trips its rule, the rules that the table names, and no other E rule."""
    findings = mutant.findings()
    assert mutant.rule in {one.rule for one in findings}, "the mutant survives"
    errors = {one.rule for one in findings if one.severity == "error"} - {mutant.rule}
    assert errors - rows_order.RULES == set(mutant.also) - rows_order.RULES


@pytest.mark.parametrize("guide", CLEAN, ids="/".join)
def test_clean_guides_trip_nothing(guide: tuple[str, str]) -> None:
    """The guides that the mutants come from have no finding, not even a warning."""
    assert [str(one.problem()) for one in draft(*guide).findings()] == []


def test_every_rule_has_at_least_three_mutants() -> None:
    """A rule that three changes cannot trip is not proved."""
    counts = Counter(mutant.rule for mutant in ROWS)
    assert {rule: counts[rule] for rule in IDS if counts[rule] < 3} == {}


def test_there_are_enough_mutants_over_the_three_kits() -> None:
    """At least 120, every kit among them, and no row stands twice."""
    assert len(ROWS) >= 120
    assert {mutant.guide[1] for mutant in ROWS} == {"feed-preheater", "banjo-feed", "loop-controller"}
    assert len({mutant.name for mutant in ROWS}) == len(ROWS)
