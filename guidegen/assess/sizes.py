"""How large the compiled self-checks are, for the terminal: of each pair, of the finder, and the largest."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import cast

from guidegen.assess.reference import find
from guidegen.judge.fit.questions import MOST_OF_UNIT, MOST_QUESTIONS
from guidegen.judge.fit.rules import MOST_STEPS, Sizes, sizes
from guidegen.judge.fit.shape import Rules
from guidegen.record import Assessment
from guidegen.record.self_check import CheckRules
from guidegen.trade import Catalogue


def self_check_sizes(records: Iterable[Assessment]) -> Iterator[str]:
    """How large each pair's compiled self-check is, a line each."""
    for record in records:
        yield f"self-check of {record.variant.id} with {record.kit.id}: {_sizes(record.self_check.rules)}"


def identification_size(known: Catalogue) -> str:
    """How large the page is that distinguishes the variants; it alone grows with their number."""
    return f"distinguishing the variants: {_sizes(find(known, tuple(known.machines), edition='').rules)}"


def largest_self_check(records: Iterable[Assessment]) -> str:
    """The most questions and the most steps that a self-check of these has, beside what is allowed."""
    known = [_sizes(record.self_check.rules) for record in records]
    questions = max((one.questions for one in known), default=0)
    steps = max((one.nodes for one in known), default=0)
    most = MOST_QUESTIONS + MOST_OF_UNIT
    return f"self-checks of up to {questions} questions (of {most}) in {steps} steps (of {MOST_STEPS})"


def _sizes(rules: CheckRules) -> Sizes:
    return sizes(cast(Rules, rules.model_dump(mode="json")))
