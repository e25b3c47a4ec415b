"""Does it fit? The direct judgement of the requirements on what is known of a machine.

Two questions are asked of the tree, in strong Kleene logic. As it is: does everything hold? With remedies:
does everything hold where each condition that is *known* to be unmet may be replaced by a remedy whose own
needs hold? From the two follow the four outcomes; unknown never counts as met, and never as unmet.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal

from guidegen.fit.logic import Truth, all_of, any_of
from guidegen.fit.remedies import RemedySet, sufficient_sets
from guidegen.fit.tree import Condition, Facts, Node, RequirementError, conditions_of

Outcome = Literal["fits", "fits-with-conditions", "does-not-fit", "cannot-tell-yet"]
OUTCOMES: tuple[Outcome, ...] = ("fits", "fits-with-conditions", "does-not-fit", "cannot-tell-yet")
Truths = Mapping[str, Truth]


@dataclass(frozen=True)
class Requirements:
    """All that one kit asks of one machine, with the numbers that are known when the site is built."""

    root: Node

    def __post_init__(self) -> None:
        """Refuse two different conditions under one id."""
        seen: dict[str, Condition] = {}
        for condition in conditions_of(self.root):
            if seen.setdefault(condition.id, condition) != condition:
                raise RequirementError(f"two different conditions have the id {condition.id}")

    @property
    def conditions(self) -> tuple[Condition, ...]:
        """Return every condition once, in document order, those of remedies behind the one they mend."""
        return tuple({condition.id: condition for condition in conditions_of(self.root)}.values())


@dataclass(frozen=True)
class Judged:
    """One condition with its truth on this machine, and what was known of its fact."""

    condition: Condition
    truth: Truth

    @property
    def disqualifies(self) -> bool:
        """Return whether it is not met and nothing can be done about it."""
        return self.truth is Truth.FALSE and not self.condition.remedies


@dataclass(frozen=True)
class Evaluation:
    """The outcome with what led to it.

    `judged` holds every condition, for a table. `reasons` are those that stand in the way: not true, in
    document order, and in no group that holds anyway. `remedies` are the sufficient sets, least effort
    first; empty unless the outcome is "fits with conditions".
    """

    outcome: Outcome
    judged: tuple[Judged, ...]
    reasons: tuple[Judged, ...]
    remedies: tuple[RemedySet, ...]


def evaluate(requirements: Requirements, facts: Facts) -> Evaluation:
    """Judge the requirements on what is known; a fact that is not in `facts` is unknown."""
    truths = {condition.id: condition.judge(facts) for condition in requirements.conditions}
    outcome = outcome_of(as_it_is(requirements.root, truths), with_remedies(requirements.root, truths))
    judged = tuple(Judged(condition, truths[condition.id]) for condition in requirements.conditions)
    in_the_way = reasons_in(requirements.root, truths)
    remedies = sufficient_sets(requirements.root, truths) if outcome == "fits-with-conditions" else ()
    return Evaluation(
        outcome, judged, tuple(one for one in judged if one.condition.id in in_the_way), remedies
    )


def outcome_of(now: Truth, mended: Truth) -> Outcome:
    """Return the outcome from the truth as it is and the truth with remedies."""
    if now is Truth.TRUE:
        return "fits"
    if mended is Truth.TRUE:
        return "fits-with-conditions"
    return "does-not-fit" if mended is Truth.FALSE else "cannot-tell-yet"


def as_it_is(node: Node, truths: Truths) -> Truth:
    """Return whether everything holds without any remedy."""
    return _fold(node, lambda condition: truths[condition.id])


def with_remedies(node: Node, truths: Truths) -> Truth:
    """Return whether everything holds where known failings are mended.

    A condition c with remedies whose needs are n₁ … nₖ counts as c ∨ (¬c ∧ (n₁ ∨ … ∨ nₖ)): while c is
    unknown, so is the need for a remedy, and the whole stays unknown.
    """

    def mended(condition: Condition) -> Truth:
        truth = truths[condition.id]
        possible = any_of(
            Truth.TRUE if remedy.needs is None else with_remedies(remedy.needs, truths)
            for remedy in condition.remedies
        )
        return truth | (~truth & possible)

    return _fold(node, mended)


def reasons_in(node: Node, truths: Truths) -> frozenset[str]:
    """Return the ids of the conditions that keep the node from being true."""
    if as_it_is(node, truths) is Truth.TRUE:
        return frozenset()
    if isinstance(node, Condition):
        needs = (remedy.needs for remedy in node.remedies if remedy.needs is not None)
        return frozenset({node.id}).union(*(reasons_in(need, truths) for need in needs))
    return frozenset().union(*(reasons_in(member, truths) for member in node.members))


def _fold(node: Node, of_condition: Callable[[Condition], Truth]) -> Truth:
    if isinstance(node, Condition):
        return of_condition(node)
    join = all_of if node.kind == "all" else any_of
    return join(_fold(member, of_condition) for member in node.members)
