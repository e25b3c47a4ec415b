"""The judgement as a decision diagram: each node asks one fact, each end is an outcome.

Only questions that can still change the outcome are in it, because the diagram is reduced. The order is fixed:
from outside before under the lid, then facts that can end the matter, then by expected decision per minute.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence

from guidegen.judge.comparison import Comparison, Test
from guidegen.judge.fit.questions import Asked, QuestionPlan, weights
from guidegen.judge.fit.requirements import Outcome, Requirements, outcome_of
from guidegen.judge.fit.store import Store
from guidegen.judge.fit.tree import Condition
from guidegen.judge.logic import Truth, all_of, any_of

MOST_NODES = 20_000
"""While it is put together; the finished diagram is a small part of that."""


def ordered(requirements: Requirements, plan: QuestionPlan) -> tuple[Asked, ...]:
    """Return the asked facts in the order in which they are asked."""
    provisional = sorted(plan.asked, key=_tier)
    store = Store(MOST_NODES)
    top = compose(store, requirements, plan, provisional)
    gains = {one.fact: _gain(store, top, provisional, level) for level, one in enumerate(provisional)}
    return tuple(sorted(provisional, key=lambda one: (*_tier(one), -gains[one.fact] / one.question.minutes)))


def _tier(asked: Asked) -> tuple[bool, str, bool]:
    """Outside before under the lid: nobody opens a machine for what the rating plate decides. Screens stay together."""
    return asked.question.look == "under-lid", asked.question.screen or "", not asked.disqualifies


def compose(store: Store, requirements: Requirements, plan: QuestionPlan, order: Sequence[Asked]) -> int:
    """Return the diagram of the outcome, its nodes in the order of `order`."""
    return _Composer(store, plan, order).outcome(requirements)


class _Composer:
    """Puts diagrams of comparisons together to one of the outcome."""

    def __init__(self, store: Store, plan: QuestionPlan, order: Sequence[Asked]) -> None:
        self._store, self._plan = store, plan
        self._levels = {one.fact: (level, one) for level, one in enumerate(order)}
        self._conditions: dict[str, int] = {}

    def outcome(self, requirements: Requirements) -> int:
        now = self._all(self._condition(one) for one in requirements.roots)
        missing = self._all(self._condition(one) for one in requirements.roots if one.has_already)
        return self._store.join(_outcome, now, self._remedied(requirements.roots), missing)

    def _remedied(self, conditions: Iterable[Condition]) -> int:
        return self._all(self._remedied_one(one) for one in conditions)

    def _remedied_one(self, condition: Condition) -> int:
        truth = self._condition(condition)
        if not condition.remedies:
            return truth
        possible = self._any(self._remedied(remedy.needs) for remedy in condition.remedies)
        return self._store.join(_remedy, truth, possible)

    def _condition(self, condition: Condition) -> int:
        if condition.id not in self._conditions:
            self._conditions[condition.id] = self._test(condition.test)
        return self._conditions[condition.id]

    def _test(self, test: Test) -> int:
        if isinstance(test, Comparison):
            return self._comparison(test)
        join = self._all if test.kind == "all" else self._any
        return join(self._test(member) for member in test.members)

    def _comparison(self, comparison: Comparison) -> int:
        truth = self._plainly(comparison)
        for level, asked in self._levels.values():
            hiding = self._plan.hiding(asked, comparison)
            if hiding:
                ends = [self._store.end(way in hiding) for way in range(len(asked.vectors))]
                truth = self._store.join(_unless, truth, self._store.node(level, ends))
        return truth

    def _plainly(self, comparison: Comparison) -> int:
        """Return the diagram of a comparison whose place nothing hides."""
        if comparison.fact not in self._levels:
            return self._store.end(comparison.judge(self._plan.settled))
        level, asked = self._levels[comparison.fact]
        place = asked.comparisons.index(comparison)
        return self._store.node(level, [self._store.end(vector[place]) for vector in asked.vectors])

    def _all(self, diagrams: Iterable[int]) -> int:
        return self._fold(lambda one, other: one & other, diagrams, all_of(()))

    def _any(self, diagrams: Iterable[int]) -> int:
        return self._fold(lambda one, other: one | other, diagrams, any_of(()))

    def _fold(self, join: Callable[[Truth, Truth], Truth], diagrams: Iterable[int], empty: Truth) -> int:
        result = self._store.end(empty)
        for diagram in diagrams:
            result = self._store.join(join, result, diagram)
        return result


def _outcome(now: Truth, remedied: Truth, missing: Truth) -> Outcome:
    return outcome_of(now, remedied, ~missing)


def _unless(truth: Truth, hidden: bool) -> Truth:
    return Truth.UNKNOWN if hidden else truth


def _remedy(truth: Truth, possible: Truth) -> Truth:
    return truth | (~truth & possible)


def _gain(store: Store, top: int, order: Sequence[Asked], level: int) -> float:
    """Return the information in bits that one answer gives about the outcome, the other answers unknown."""
    within = sum(
        weight * _bits(_distribution(store, top, order, {level: way})) for way, weight in weights(order[level]).items()
    )
    # Rounded, so that the order of equals does not hang on the last bit of a logarithm.
    return round(_bits(_distribution(store, top, order, {})) - within, 9)


def _distribution(store: Store, top: int, order: Sequence[Asked], fixed: Mapping[int, int]) -> dict[object, float]:
    """Return how likely each outcome is, with the answers to some questions given."""
    memo: dict[int, dict[object, float]] = {}

    def below(number: int) -> dict[object, float]:
        if number not in memo:
            if store.is_end(number):
                memo[number] = {store.value(number): 1.0}
            else:
                level, children = store.level(number), store.children(number)
                ways = {fixed[level]: 1.0} if level in fixed else weights(order[level])
                mixed: dict[object, float] = {}
                for way, weight in ways.items():
                    for value, share in below(children[way]).items():
                        mixed[value] = mixed.get(value, 0.0) + weight * share
                memo[number] = mixed
        return memo[number]

    return below(top)


def _bits(distribution: Mapping[object, float]) -> float:
    return -sum(share * math.log2(share) for share in distribution.values() if share > 0)
