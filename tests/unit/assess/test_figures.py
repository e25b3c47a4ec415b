"""Rows become figures: median and ends of the draws, the stated row beside them, what lies beyond as the longest."""

from __future__ import annotations

import numpy as np
import pytest

from guidegen.assess.figures import Figures, Limit
from guidegen.assess.reasons import described_reason

LIMIT = Limit(20 * 60.0, "time", "s")


def make(draws: int) -> Figures:
    """A maker of figures for so many draws."""
    return Figures({}, draws)


def test_the_value_is_the_median_of_the_same_draws_as_the_range() -> None:
    """Of 1 to 41 the median is 21, and the central 95 % reach from 2 to 40; the stated 1,000 moves nothing."""
    made = make(41).figure(np.array([1000.0, *np.arange(1.0, 42.0)]))
    assert (made.value, made.low, made.high, made.stated) == (21.0, 2.0, 40.0, 1000.0)
    assert made.beyond is None
    assert made.missing is None


def test_without_draws_the_stated_value_is_all_there_is() -> None:
    """A draft without ranges."""
    made = make(0).figure(np.array([7.0]))
    assert (made.value, made.stated, made.ranged) == (7.0, 7.0, False)


def test_what_was_not_reached_counts_as_the_longest_and_keeps_its_share() -> None:
    """Two of eight never came: the upper end lies beyond the limit; with six of eight the median does too."""
    some = make(8).figure(np.array([9.0, 1, 2, 3, 4, 5, 6, np.inf, np.inf]), limit=LIMIT)
    assert (some.value, some.high) == (4.5, None)
    assert some.beyond is not None
    assert (some.beyond.limit, some.beyond.share) == (1200.0, 0.25)
    most = make(8).figure(np.array([9.0, 1, 2, *[np.inf] * 6]), limit=LIMIT)
    assert most.value is None
    assert most.reason is not None
    assert described_reason(most.reason) == "longer than 20 min"
    assert most.low is not None


def test_where_it_does_not_exist_it_is_left_out_and_counted() -> None:
    """One of eight draws has no such quantity; where most have none, there is no figure."""
    some = make(8).figure(np.array([9.0, 1, 2, 3, 4, 5, 6, 7, np.nan]))
    assert (some.value, some.missing) == (4.0, 0.125)
    none = make(8).figure(np.array([9.0, 1, 2, *[np.nan] * 6]), reason="why")
    assert (none.value, none.reason, none.stated) == (None, "why", 9.0)


def test_a_ratio_is_taken_within_each_draw() -> None:
    """The median of the ratios is not the ratio of the medians."""
    above, below = np.array([1.0, 1, 2, 9]), np.array([1.0, 1, 8, 3])
    assert make(3).ratio(above, below).value == 1.0
    assert np.median(above[1:]) / np.median(below[1:]) == pytest.approx(2 / 3)


def test_the_typical_row_is_the_one_nearest_to_all_medians() -> None:
    """Distances in units of the ranges: a draw that is right in one figure and far off in the other is not chosen."""
    maker = make(5)
    one = maker.figure(np.array([0.0, 10, 20, 30, 40, 50]))
    other = maker.figure(np.array([0.0, 1, 2, 9, 4, 3.2]))
    # Medians 30 and 3.2, ranges 38 and 7.4: the third is right in the first and far off in the second; of the draws
    # that are near in both, the fourth is ten and 0.8 away, the second ten and 1.2.
    assert maker.typical([one, other]) == 4
