"""A written `when:` as a tree of comparisons: the one way in which a condition on a machine is judged.

An unknown fact makes a condition unknown, never true (strong Kleene logic); a quantity that is known between two ends
holds a limit only where both ends do.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from guidegen.judge.comparison import Comparison, Connective, Facts, OneOf, RequirementError, Test, Within
from guidegen.judge.logic import Interval, Truth
from guidegen.units import UnitError, parse
from guidegen.workshop.base import HasPlaces, Loc
from guidegen.workshop.when import JOINTS

Dimension = Callable[[str], str | None]
"""Gives the dimension of a fact; None for a word. May raise `KeyError` where there is no such fact."""
Unreadable = Callable[[Loc, str, str], Test]
"""What becomes of a line that cannot be compared, from its place, the message and the fix."""

_UNREADABLE = Comparison("", OneOf(frozenset()))
"""In place of what cannot be compared: it asks a fact without a name, which nobody ever knows."""


def holds(condition: Mapping[str, Any] | None, facts: Facts, dimension: Dimension) -> Truth:
    """Judge a condition on what is known; what cannot be compared with its fact is unknown."""
    lines = tuple(_lines(condition or {}, dimension, lambda loc, message, fix: _UNREADABLE))
    return Connective("all", lines).judge(facts)


def tree_of(condition: Mapping[str, Any], dimension: Dimension, document: HasPlaces | None, loc: Loc) -> Test:
    """Return a condition as a tree. Raises `RequirementError`, with its place, where a value does not fit its fact."""

    def refuse(inner: Loc, message: str, fix: str) -> Test:
        raise RequirementError(message, document, (*loc, *inner), fix)

    members = tuple(_lines(condition, dimension, refuse))
    return members[0] if len(members) == 1 else Connective("all", members)


def _lines(
    condition: Mapping[str, Any], dimension: Dimension, unreadable: Unreadable, negated: bool = False, loc: Loc = ()
) -> Iterator[Test]:
    """Yield what a condition wants line by line; of a negated one the negations, of which any is enough."""
    for name, wanted in condition.items():
        here = (*loc, name)
        if name in JOINTS:
            members = (
                _joined(part, dimension, unreadable, negated, (*here, index)) for index, part in enumerate(wanted)
            )
            yield Connective("all" if (name == "all") != negated else "any", tuple(members))
        elif name == "not":
            yield _joined(wanted, dimension, unreadable, not negated, here)
        else:
            yield _Line(name, dimension, unreadable, here).test(wanted, negated)


def _joined(
    condition: Mapping[str, Any], dimension: Dimension, unreadable: Unreadable, negated: bool, loc: Loc
) -> Test:
    return Connective("any" if negated else "all", tuple(_lines(condition, dimension, unreadable, negated, loc)))


class _Line:
    """One line of a condition: a fact, and what is wanted of it."""

    def __init__(self, name: str, dimension: Dimension, unreadable: Unreadable, loc: Loc) -> None:
        self._name, self._dimension, self._unreadable, self._loc = name, dimension, unreadable, loc

    def test(self, wanted: Any, negated: bool) -> Test:
        """Return the test behind a value, a list of values, or a mapping of senses."""
        if isinstance(wanted, Mapping):
            members = tuple(self._sense(sense, limit, negated) for sense, limit in wanted.items())
            return members[0] if len(members) == 1 else Connective("any" if negated else "all", members)
        values = wanted if isinstance(wanted, tuple | list) else (wanted,)
        return Connective("all" if negated else "any", tuple(self._compared("is", str(one), negated) for one in values))

    def _sense(self, sense: str, limit: Any, negated: bool) -> Test:
        return self.test(limit, not negated) if sense == "not" else self._compared(sense, str(limit), negated)

    def _compared(self, sense: str, value: str, negated: bool) -> Test:
        try:
            dimension = self._dimension(self._name)
        except KeyError:
            return self._unreadable(self._loc, f"no machine has a fact {self._name}", "")
        if dimension is None:
            if sense != "is":
                words = f"{self._name} is a word; {sense} compares quantities"
                return self._unreadable(self._loc, words, "write the wanted word")
            return Comparison(self._name, OneOf(frozenset({value})), negated)
        try:
            quantity = parse(value, dimension)
        except UnitError as error:
            return self._unreadable(self._loc, error.message, error.fix)
        low, high = Interval.around(quantity.low), Interval.around(quantity.high)
        within = Within(dimension, low if sense != "at_most" else None, high if sense != "at_least" else None)
        return Comparison(self._name, within, negated)
