"""Measured answers as whole numbers: a unit, how many decimals it is read to, and limits in the same counts.

57.3 mm on a scale of one decimal is the count 573. Every limit of a condition becomes a count of the same scale when
the site is built, so the browser compares whole numbers and converts nothing. The tolerance belongs to the
question, not to the answer; it is rounded up to whole counts, limits are rounded to the strict side, so no answer
passes here that would not pass in exact arithmetic.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from fractions import Fraction

from guidegen.judge.comparison import Within
from guidegen.judge.logic import Interval, exact
from guidegen.units import UNITS
from guidegen.workshop.fact_table import FactTable
from guidegen.workshop.questions import Question

MOST_COUNTS = 10_000_000
"""No answer is larger than this on its scale; it keeps every sum far inside what a script counts exactly."""

_WRITTEN = re.compile(r"([0-9]{1,8})(?:[.,]([0-9]{1,6}))?")


class NotRead(ValueError):
    """An answer that is no number of this scale. The message is for whoever wrote it."""


@dataclass(frozen=True)
class Scale:
    """One accepted unit of one question."""

    unit: str
    decimals: int
    plus_minus: int
    plausible: tuple[int, int]
    factor: Fraction
    """SI per count."""
    offset: Fraction
    """SI at count zero."""

    def interval(self, count: int) -> Interval:
        """Return what an answer says in SI: [m − u, m + u]."""
        return Interval(self._si(count - self.plus_minus), self._si(count + self.plus_minus))

    def counts(self, value: Fraction) -> Fraction:
        """Return a value in SI on this scale, not rounded."""
        return (value - self.offset) / self.factor

    def read(self, text: str) -> int:
        """Return the count of a written number."""
        return read_count(self.decimals, text)

    def cuts(self, test: Within) -> set[int]:
        """Return the counts at which the judgement of an answer changes: it is constant from one to the next."""
        found: set[int] = set()
        if test.lowest is not None:
            found.add(math.ceil(self.counts(test.lowest.high)) + self.plus_minus)
            found.add(math.ceil(self.counts(test.lowest.low)) - self.plus_minus)
        if test.highest is not None:
            found.add(math.floor(self.counts(test.highest.low)) - self.plus_minus + 1)
            found.add(math.floor(self.counts(test.highest.high)) + self.plus_minus + 1)
        return {cut for cut in found if 0 < cut <= MOST_COUNTS}

    def limits(self, test: Within) -> tuple[int | None, int | None]:
        """Return the lowest and highest count that surely pass, tolerance left aside, for showing."""
        low = None if test.lowest is None else math.ceil(self.counts(test.lowest.high))
        high = None if test.highest is None else math.floor(self.counts(test.highest.low))
        return low, high

    def _si(self, count: int) -> Fraction:
        return self.offset + count * self.factor


def read_count(decimals: int, text: str) -> int:
    """Return the count of a number on a scale of so many decimals; a finer number is refused, not rounded.

    A decimal comma is read as a point, because that is how half of the world writes it.

    >>> read_count(1, "57.3"), read_count(1, "57,30"), read_count(2, "57")
    (573, 573, 5700)
    """
    match = _WRITTEN.fullmatch(text.strip())
    if match is None:
        raise NotRead(f"{text.strip()!r} is not a number")
    given = (match[2] or "").rstrip("0")
    if len(given) > decimals:
        raise NotRead(f"{text.strip()!r} is finer than this is read: {decimals} decimals")
    count = int(match[1] + given.ljust(decimals, "0"))
    if count > MOST_COUNTS:
        raise NotRead(f"{text.strip()!r} is larger than anything on a bench")
    return count


def scales_of(question: Question, table: FactTable) -> tuple[Scale, ...]:
    """Return one scale per accepted unit, each read just finer than the tolerance."""
    ends = question.ends(table) if question.units else (0.0, 0.0)
    return tuple(_scale(question, unit, ends) for unit in question.units)


def _scale(question: Question, unit: str, ends: tuple[float, float]) -> Scale:
    factor, offset = map(_exact_factor, UNITS[question.measures][unit])
    tolerance = exact(question.half_width) / factor
    decimals = _decimals(tolerance)
    factor /= 10**decimals
    low, high = ((exact(end) - offset) / factor for end in ends)
    plus_minus = math.ceil(exact(question.half_width) / factor)
    return Scale(unit, decimals, plus_minus, (max(0, math.floor(low)), math.ceil(high)), factor, offset)


def _decimals(tolerance: Fraction) -> int:
    """Return how many decimals to read so that one count is at most the tolerance.

    >>> _decimals(Fraction(1, 2)), _decimals(Fraction(5)), _decimals(Fraction(2, 100))
    (1, 0, 2)
    """
    decimals = 0
    while Fraction(1, 10**decimals) > tolerance:
        decimals += 1
    return decimals


def _exact_factor(factor: float) -> Fraction:
    """Return the exact factor of a unit: a small fraction where the float is one (5/9), else its decimal."""
    small = Fraction(factor).limit_denominator(1000)
    return small if float(small) == factor else Fraction(repr(factor))
