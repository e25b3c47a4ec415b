"""Does it fit? The direct judgement of the requirements on what is known of a machine.

Two questions are asked, in strong Kleene logic. As it is: does everything hold? With remedies: does everything hold
where each condition that is *known* to be unmet may be replaced by a remedy whose own needs hold? From the two
follow four outcomes; unknown never counts as met, and never as unmet. A fifth goes before: a machine of which it is
known that it has what the kit brings needs none, whatever else it lacks.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from typing import Literal, get_args

from guidegen.judge.comparison import Comparison, Facts, RequirementError
from guidegen.judge.fit.remedies import RemedySet, sufficient_sets
from guidegen.judge.fit.tree import Condition, Remedy, all_conditions
from guidegen.judge.logic import Truth, all_of, any_of

Outcome = Literal["fits", "fits-with-conditions", "does-not-fit", "cannot-tell-yet", "has-already"]
OUTCOMES: tuple[Outcome, ...] = get_args(Outcome)
Truths = Mapping[str, Truth]


@dataclass(frozen=True)
class Requirements:
    """All that one kit asks of one machine, with the numbers that are known when the site is built."""

    roots: tuple[Condition, ...]

    def __post_init__(self) -> None:
        """Refuse two different conditions under one id."""
        seen: dict[str, Condition] = {}
        for condition in all_conditions(self.roots):
            if seen.setdefault(condition.id, condition) != condition:
                raise RequirementError(f"two different conditions have the id {condition.id}")

    @property
    def conditions(self) -> tuple[Condition, ...]:
        """Return every condition once, in document order, those of remedies behind the one they remedy."""
        return tuple({condition.id: condition for condition in all_conditions(self.roots)}.values())


@dataclass(frozen=True)
class JudgedCondition:
    """One condition with its truth on this machine, and whether each of its remedies can be carried out on it."""

    condition: Condition
    truth: Truth
    possible: Mapping[str, Truth]

    @property
    def open_remedies(self) -> tuple[Remedy, ...]:
        """Return the remedies that are not ruled out."""
        return tuple(one for one in self.condition.remedies if self.possible[one.id] is not Truth.FALSE)

    @property
    def disqualifies(self) -> bool:
        """Return whether it is not met and nothing can be done about it."""
        return self.truth is Truth.FALSE and not self.condition.remedies


@dataclass(frozen=True)
class Evaluation:
    """The outcome with what led to it.

    `judged` holds the kit's own conditions, for a table. `reasons` are those in the way: not true, in document
    order; the needs of a remedy are among them only where that remedy would be wanted. `remedies` are the
    sufficient sets, least effort first; empty unless the outcome is "fits with conditions".
    """

    outcome: Outcome
    judged: tuple[JudgedCondition, ...]
    reasons: tuple[JudgedCondition, ...]
    remedies: tuple[RemedySet, ...]


def evaluate(requirements: Requirements, facts: Facts, hidden: Collection[Comparison] = ()) -> Evaluation:
    """Judge the requirements on what is known; a fact that is not in `facts` is unknown, a `hidden` comparison open."""
    truths = {condition.id: condition.judge(facts, hidden) for condition in requirements.conditions}
    roots = requirements.roots
    outcome = outcome_of(as_it_is(roots, truths), with_remedies(roots, truths), there_already(roots, truths))
    return Evaluation(
        outcome,
        tuple(_judged(condition, truths) for condition in requirements.roots),
        tuple(_judged(condition, truths) for condition in in_the_way(requirements.roots, truths)),
        sufficient_sets(requirements.roots, truths) if outcome == "fits-with-conditions" else (),
    )


def _judged(condition: Condition, truths: Truths) -> JudgedCondition:
    possible = {one.id: with_remedies(one.needs, truths) for one in condition.remedies}
    return JudgedCondition(condition, truths[condition.id], possible)


def outcome_of(now: Truth, remedied: Truth, there: Truth = Truth.FALSE) -> Outcome:
    """Return the outcome from the truth as it is, with remedies, and whether what the kit brings is there already."""
    if there is Truth.TRUE:
        return "has-already"
    if now is Truth.TRUE:
        return "fits"
    if remedied is Truth.TRUE:
        return "fits-with-conditions"
    return "does-not-fit" if remedied is Truth.FALSE else "cannot-tell-yet"


def as_it_is(conditions: Iterable[Condition], truths: Truths) -> Truth:
    """Return whether everything holds without any remedy."""
    return all_of(truths[condition.id] for condition in conditions)


def there_already(conditions: Iterable[Condition], truths: Truths) -> Truth:
    """Return whether the machine has what the kit brings: a condition that says so is not met."""
    return any_of(~truths[condition.id] for condition in conditions if condition.has_already)


def with_remedies(conditions: Iterable[Condition], truths: Truths) -> Truth:
    """Return whether everything holds where known failings are remedied.

    A condition c with remedies whose needs are n₁ … nₖ counts as c ∨ (¬c ∧ (n₁ ∨ … ∨ nₖ)): while c is unknown, so is
    the need for a remedy, and the whole stays unknown.
    """
    return all_of(
        truths[condition.id]
        | (~truths[condition.id] & any_of(with_remedies(remedy.needs, truths) for remedy in condition.remedies))
        for condition in conditions
    )


def in_the_way(conditions: Iterable[Condition], truths: Truths) -> tuple[Condition, ...]:
    """Return the conditions that are not true, each once; the needs of remedies below the condition they remedy."""
    found: dict[str, Condition] = {}
    for condition in conditions:
        if truths[condition.id] is not Truth.TRUE:
            found.setdefault(condition.id, condition)
            for remedy in condition.remedies:
                for need in in_the_way(remedy.needs, truths):
                    found.setdefault(need.id, need)
    return tuple(found.values())
