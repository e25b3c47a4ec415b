"""Strong Kleene three-valued logic, and intervals against thresholds.

A machine is measured with a ruler by somebody who may not be sure. So a statement about it is true, false, or
not known, and "not known" is carried through to the outcome instead of being taken for either.

Origin: S. C. Kleene, Introduction to Metamathematics, North-Holland 1952, §64, the strong connectives (cited
from memory): `and` is the least, `or` the greatest of its operands in the order false < unknown < true.
"""

from __future__ import annotations

import functools
from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import NoReturn

DIGITS = 12
"""Significant digits that a binary float is trusted with when it becomes an exact decimal."""


class Truth(Enum):
    """One of the three truth values. It has no cast to bool: "unknown" must not slip through an `if`."""

    FALSE = "false"
    UNKNOWN = "unknown"
    TRUE = "true"

    def __bool__(self) -> NoReturn:
        """Refuse: compare with `is Truth.TRUE`."""
        raise TypeError("a truth value may be unknown; compare it with `is Truth.TRUE`")

    @property
    def rank(self) -> int:
        """Return 0, 1, 2 in the order false, unknown, true."""
        return _RANK[self]

    def __and__(self, other: Truth) -> Truth:
        """Return the lesser of the two."""
        return self if self.rank <= other.rank else other

    def __or__(self, other: Truth) -> Truth:
        """Return the greater of the two."""
        return self if self.rank >= other.rank else other

    def __invert__(self) -> Truth:
        """Return true for false and false for true; unknown stays unknown."""
        return _BY_RANK[2 - self.rank]

    @staticmethod
    def of(known: bool) -> Truth:
        """Return the truth value of something that is known."""
        return Truth.TRUE if known else Truth.FALSE


_BY_RANK = (Truth.FALSE, Truth.UNKNOWN, Truth.TRUE)
_RANK = {truth: rank for rank, truth in enumerate(_BY_RANK)}


def all_of(truths: Iterable[Truth]) -> Truth:
    """Return whether all hold; nothing at all holds."""
    return functools.reduce(lambda one, other: one & other, truths, Truth.TRUE)


def any_of(truths: Iterable[Truth]) -> Truth:
    """Return whether at least one holds; of nothing, none does."""
    return functools.reduce(lambda one, other: one | other, truths, Truth.FALSE)


def exact(number: float | int | Fraction) -> Fraction:
    """Return the decimal that a float was meant to be, at twelve significant digits.

    1.3 mm becomes 0.0013000000000000002 m as a float; a threshold must not move by that.

    >>> exact(1.3 * 0.001)
    Fraction(13, 10000)
    """
    return number if isinstance(number, Fraction) else Fraction(format(number, f".{DIGITS}g"))


@dataclass(frozen=True)
class Interval:
    """All the values that a quantity may have, ends included, in SI and exact."""

    low: Fraction
    high: Fraction

    def __post_init__(self) -> None:
        """Refuse an interval that ends below its start."""
        if self.low > self.high:
            raise ValueError(f"an interval ends at or above its start, not {self.low} to {self.high}")

    @classmethod
    def between(cls, low: float | Fraction, high: float | Fraction) -> Interval:
        """Return the interval from one end to the other."""
        return cls(exact(low), exact(high))

    @classmethod
    def around(cls, middle: float | Fraction, half_width: float | Fraction = 0) -> Interval:
        """Return [m − u, m + u]."""
        centre, half = exact(middle), exact(half_width)
        return cls(centre - half, centre + half)

    @property
    def middle(self) -> Fraction:
        """Return the middle."""
        return (self.low + self.high) / 2

    @property
    def half_width(self) -> Fraction:
        """Return half the width."""
        return (self.high - self.low) / 2

    def moved(self, by: Fraction) -> Interval:
        """Return the interval shifted."""
        return Interval(self.low + by, self.high + by)


def at_least(measured: Interval, limit: Interval) -> Truth:
    """Return whether a measured quantity reaches a limit that is itself known between two ends only.

    True only if every measured value reaches every limit; false only if none reaches any; else unknown.
    """
    if measured.low >= limit.high:
        return Truth.TRUE
    return Truth.FALSE if measured.high < limit.low else Truth.UNKNOWN


def at_most(measured: Interval, limit: Interval) -> Truth:
    """Return whether a measured quantity stays within a limit; see `at_least`."""
    if measured.high <= limit.low:
        return Truth.TRUE
    return Truth.FALSE if measured.low > limit.high else Truth.UNKNOWN


def among(possible: frozenset[str], wanted: frozenset[str]) -> Truth:
    """Return whether what may be there is one of what is wanted.

    >>> among(frozenset({"straight", "banjo"}), frozenset({"banjo"}))
    <Truth.UNKNOWN: 'unknown'>
    """
    if possible <= wanted:
        return Truth.TRUE
    return Truth.FALSE if not possible & wanted else Truth.UNKNOWN
