"""Comparison in pairs against Student's sleep, Darwin's maize, and a set of NIST's that is hard to sum."""

from __future__ import annotations

import functools

import numpy as np
import pytest
from scipy import stats

from guidegen.heat import paired
from tests.published.check import Check, printed

SLEEP = "Student 1908, hours of sleep gained by two drugs; t and p as statistics packages print them, from memory"
MAIZE = "Fisher, The Design of Experiments, section 21, on Darwin's maize, from memory"
NUMACC4 = "NIST StRD, NumAcc4, certified values, data and values from memory"

FIRST_DRUG = (0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0)
SECOND_DRUG = (1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4)
# Crossed less self-fertilised, in eighths of an inch; they sum to 314, as Fisher says.
TALLER = (49, -67, 8, 16, 6, 23, 28, 41, 14, 29, 56, 24, 75, 60, -48)
LARGE = np.array([10000000.2, *[10000000.1, 10000000.3] * 500])


@functools.cache
def _sleep() -> paired.PairedDifference:
    return paired.difference(SECOND_DRUG, FIRST_DRUG)


@functools.cache
def _maize() -> paired.PairedDifference:
    return paired.difference(np.zeros(15), TALLER)


CHECKS = [
    Check("sleep-t", "paired t of the two drugs", "", *printed("-4.0621"), SLEEP,
          "M", "outside", ("Difference of pairs",), lambda: _sleep().statistic),
    Check("sleep-p", "probability of such a t", "", *printed("0.002833"), SLEEP,
          "M", "outside", ("Difference of pairs",), lambda: _sleep().probability),
    Check("sleep-low", "lower end of the 95 % interval", "h", *printed("-2.4598858"), SLEEP,
          "M", "outside", ("Difference of pairs",), lambda: _sleep().low),
    Check("sleep-high", "upper end of the 95 % interval", "h", *printed("-0.7001142"), SLEEP,
          "M", "outside", ("Difference of pairs",), lambda: _sleep().high),
    Check("maize-t", "paired t of crossed and self-fertilised plants", "", *printed("2.148"), MAIZE,
          "M", "outside", ("Difference of pairs",), lambda: _maize().statistic),
    # 835 of 32,768 arrangements exceed 314, and 28 equal it; as many lie on the other side.
    Check("maize-exchanges", "arrangements with a sum of 314 or more, either way", "", 2 * 863, 1e-6, MAIZE,
          "M", "outside", ("Exchanges within pairs",),
          lambda: paired.exchange_probability(np.zeros(15), TALLER) * 2**15),
    Check("numacc4-mean", "mean", "", 10000000.2, 1e-8, NUMACC4, "M", "outside", ("Difference of pairs",),
          lambda: paired.difference(np.zeros(1001), LARGE).mean),
    # The numbers themselves, as doubles, are off by up to 1e-9 from the printed ones.
    Check("numacc4-deviation", "standard deviation", "", 0.1, 1e-9, NUMACC4, "M", "outside", ("Difference of pairs",),
          lambda: paired.difference(np.zeros(1001), LARGE).uncertainty * np.sqrt(1001)),
    # An end of Fieller's interval is that ratio at which Student's t of y − r x is at its limit.
    *(
        Check(f"fieller-{name}", f"t of y − r x at the {name} end", "", sign * stats.t.ppf(0.975, 14), 1e-7,
              "definition of Fieller's interval; the quantile by scipy.stats", "L", "derived", ("Ratio of pairs",),
              lambda end=end: _at_end(end))
        for name, end, sign in (("lower", 1, 1), ("upper", 2, -1))
    ),
]  # fmt: skip

# Darwin's heights, in inches, crossed and self-fertilised, from memory; their differences are those above.
CROSSED = np.array([23.5, 12, 21, 22, 19.125, 21.5, 22.125, 20.375, 18.25, 21.625, 23.25, 21, 22.125, 23, 12])
SELFED = CROSSED - np.array(TALLER) / 8


def _at_end(which: int) -> float:
    end = paired.ratio(SELFED, CROSSED)[which]
    return float(stats.ttest_1samp(CROSSED - end * SELFED, 0.0).statistic)


@pytest.mark.parametrize("check", CHECKS, ids=str)
def test_value(check: Check) -> None:
    """The published or the derived value comes out."""
    check.hold()


def test_an_independent_library_counts_the_same() -> None:
    """Exchanges of random pairs, all of them, by scipy's permutation test."""
    pairs = np.random.default_rng(5).normal(size=(2, 9))
    expected = stats.permutation_test(
        tuple(pairs), lambda x, y: (y - x).sum(), permutation_type="samples", n_resamples=np.inf
    )
    assert paired.exchange_probability(*pairs) == pytest.approx(expected.pvalue, abs=1e-12)


@pytest.mark.parametrize(
    ("before", "after"), [([1.0] * 4, [2.0] * 4), ([1.0] * 6, [2.0] * 5), ([1.0] * 5, [np.nan] * 5)]
)
def test_what_are_no_pairs_or_too_few_is_refused(before: list[float], after: list[float]) -> None:
    """Four pairs, six against five, and a value that is missing."""
    for function in (paired.difference, paired.exchange_probability, paired.ratio):
        with pytest.raises(ValueError, match=r"pair"):
            function(before, after)


def test_a_ratio_to_what_may_be_zero_has_no_ends() -> None:
    """A drop before of nearly nothing says nothing about a ratio."""
    assert paired.ratio([-1.0, 1.0, -2.0, 2.0, 0.1], [1.0, 2.0, 3.0, 4.0, 5.0])[1:] == (-np.inf, np.inf)


def test_what_all_shots_share_widens_both_intervals() -> None:
    """No scatter, a lag that may move the dip of 2 K by 0.1 K and that of 5 K by none: 1.96 of 0.1, of 0.1 / 5."""
    before, after = [5.0] * 5, [2.0] * 5
    less = paired.difference(before, after, [(0.0, 0.1)])
    assert (less.low, less.mean, less.high) == pytest.approx((-3.19600, -3.0, -2.80400), abs=1e-4)
    assert paired.ratio(before, after, [(0.0, 0.1)]) == pytest.approx((0.4, 0.36080, 0.43920), abs=1e-4)


def test_a_slope_of_the_probe_moves_the_difference_and_not_the_ratio() -> None:
    """A probe that may read 2 % too far moves 5 and 2 K by 0.1 and 0.04 K at once: 0.06 K, and no ratio."""
    before, after, slope = [5.0] * 5, [2.0] * 5, [(0.1, 0.04)]
    less = paired.difference(before, after, slope)
    assert less.high - less.mean == pytest.approx(1.959964 * 0.06, rel=1e-5)
    assert paired.ratio(before, after, slope) == pytest.approx((0.4, 0.4, 0.4), abs=1e-6)


def test_the_degrees_of_freedom_follow_from_both_parts() -> None:
    """s/√n of 1, 2, 3, 4, 5 is √0.5; as much again is shared: ν = 4 · 2² = 16, t = 2.120 (a table), u = 1."""
    less = paired.difference([0.0] * 5, [1.0, 2.0, 3.0, 4.0, 5.0], [(0.0, 0.5**0.5)])
    assert less.high - less.mean == pytest.approx(2.120, abs=5e-4)
    assert less.uncertainty == pytest.approx(0.5**0.5)
