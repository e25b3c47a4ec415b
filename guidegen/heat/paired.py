"""Before and after: what differs between runs that were made in pairs, and how sure that is."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import stdtr

from guidegen.heat.evaluation import mean_of, quantile_of
from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.validity import FloatArray, Validity

PAIRS = Validity("number of pairs", 5, 1e6, "", "common practice, no source")
EXACT = Validity("number of pairs of which every exchange is counted", 5, 40, "", "definition")
NOTHING: tuple[tuple[float, float], ...] = ()
"""What pairs share when nobody says."""


@dataclass(frozen=True, slots=True)
class PairedDifference:
    """The mean of the differences, its standard uncertainty by repetition alone, and the ends of its interval."""

    mean: float
    uncertainty: float
    low: float
    high: float
    pairs: int

    @property
    def statistic(self) -> float:
        """Student's t; infinite where all differences are alike, and not zero."""
        return float(np.divide(self.mean, self.uncertainty))

    @property
    def probability(self) -> float:
        """How often chance alone would make |t| as large, both sides together."""
        return float(2 * stdtr(self.pairs - 1, -abs(self.statistic)))


def _shared(common: ArrayLike) -> FloatArray:
    return np.asarray(common, dtype=np.float64).reshape(-1, 2)


def _pairs(before: ArrayLike, after: ArrayLike) -> tuple[FloatArray, FloatArray]:
    first, second = np.asarray(before, dtype=np.float64), np.asarray(after, dtype=np.float64)
    if first.shape != second.shape or first.ndim != 1:
        raise ValueError(f"{first.shape} and {second.shape} are no pairs")
    if not (np.isfinite(first).all() and np.isfinite(second).all()):
        raise ValueError("a pair lacks a value")
    PAIRS.check(len(first))
    return first, second


def difference(
    before: ArrayLike, after: ArrayLike, common: ArrayLike = NOTHING, coverage: float = 0.95
) -> PairedDifference:
    """Give the mean difference of pairs with Student's interval; what all share does not become smaller by repeating.

    Parameters: before x, (n,); after y, (n,), in the same unit and order; common, (k, 2), by how much each thing that
        all of them share may move x̄ and ȳ at once, standard uncertainties in the same unit; coverage of the interval.
    Returns: a `PairedDifference`, in the same unit.
    Valid for: five pairs or more, whose differences come from nearly a normal distribution.
    Equation: d̄ ± t(ν) u, d = y − x, u² = s²/n + Σ (u_y − u_x)², ν = (n − 1) (u √n / s)⁴.
    Source: student-1908; jcgm-100, equations 16 and G.2b.

    >>> round(difference([1.0, 2.0, 3.0, 4.0, 5.0], [1.5, 2.5, 3.5, 4.5, 6.0]).mean, 6)
    0.6
    """
    first, second = _pairs(before, after)
    shared = _shared(common)
    made = mean_of(second - first, shared[:, 1] - shared[:, 0], coverage)
    return PairedDifference(made.value, made.repetition, made.value - made.half, made.value + made.half, made.count)


def exchange_probability(before: ArrayLike, after: ArrayLike) -> float:
    """Give how often the sum of differences would be as large if before and after meant nothing, by counting.

    Every way to exchange the two within pairs is counted, so no distribution is assumed.

    Parameters: before x, (n,); after y, (n,), in the same unit and order.
    Returns: the share of the 2ⁿ exchanges whose |Σ ± d| is at least the observed |Σ d|.
    Valid for: 5 to 40 pairs.
    Equation: P = #{|Σ ± d| ≥ |Σ d|} / 2ⁿ.
    Source: fisher-1935, section 21.

    >>> exchange_probability([0.0, 0.0, 0.0, 0.0, 0.0], [1.0, 2.0, 3.0, 4.0, 5.0])  # all signs alike, = 2 / 32
    0.0625
    """
    first, second = _pairs(before, after)
    EXACT.check(len(first))
    gaps = second - first
    observed = abs(float(gaps.sum()))
    # Two halves of 2^(n/2) sums each say for each sum of one how many of the other reach the observed one.
    slack = 1e-9 * float(np.abs(gaps).sum())
    left, right = _signed_sums(gaps[: len(gaps) // 2]), np.sort(_signed_sums(gaps[len(gaps) // 2 :]))
    above = len(right) - np.searchsorted(right, observed - slack - left, side="left")
    below = np.searchsorted(right, -observed + slack - left, side="right")
    return min(1.0, float(above.sum() + below.sum()) / 2.0 ** len(gaps))


def _signed_sums(gaps: FloatArray) -> FloatArray:
    sums = np.zeros(1)
    for gap in gaps:
        sums = np.concatenate([sums + gap, sums - gap])
    return sums


def ratio(
    before: ArrayLike, after: ArrayLike, common: ArrayLike = NOTHING, coverage: float = 0.95
) -> tuple[float, float, float]:
    """Give the ratio of the means of pairs with Fieller's interval; what moves both alike leaves it where it is.

    Parameters: before x, (n,); after y, (n,), in the same unit and order; common, as of `difference`; coverage of the
        interval.
    Returns: ȳ / x̄ and the ends of its interval; these are infinite where x̄ may be zero.
    Valid for: five pairs or more, from nearly a normal distribution.
    Equation: all r for which |ȳ − r x̄| ≤ t(ν) u, u² = s²(y − r x)/n + Σ (u_y − r u_x)², ν that of r = ȳ / x̄.
    Source: fieller-1954; jcgm-100, equations 16 and G.2b.

    >>> [round(end, 6) for end in ratio([1.0, 2.0, 3.0, 4.0, 5.0], [0.5, 1.0, 1.5, 2.0, 2.5])]
    [0.5, 0.5, 0.5]
    """
    first, second = _pairs(before, after)
    below, above = float(first.mean()), float(second.mean())
    shared, repeated = _shared(common), np.cov(first, second) / len(first)
    whole = repeated + shared.T @ shared
    here = np.array([-above / below, 1.0]) if below else np.array([1.0, 0.0])
    by_repeating, in_all = (float(np.sqrt(max(here @ one @ here, 0.0))) for one in (repeated, whole))
    spread = quantile_of(by_repeating, in_all, len(first), coverage) ** 2 * whole
    leading = below**2 - spread[0, 0]
    if leading <= 0:
        return (above / below if below else np.nan), -np.inf, np.inf
    middle, last = above * below - spread[0, 1], above**2 - spread[1, 1]
    # The root is of a difference of large numbers where the interval is narrow; rounding may make it negative.
    root = np.sqrt(max(middle**2 - leading * last, 0.0))
    return above / below, float((middle - root) / leading), float((middle + root) / leading)


_N = Symbol("n", "number of pairs", "")
_SHARED = Symbol("u_x, u_y", "by which something that all share moves both means", "the unit of both")
FORMULAS = (
    Formula("Difference of pairs", "d̄ ± t u, u² = s²/n + Σ (u_y − u_x)²",
            (Symbol("d", "after less before", "the unit of both"), Symbol("s", "standard deviation of d", "that of d"),
             _SHARED, Symbol("t", "Student's quantile", ""), _N), (PAIRS,),
            ("student-1908", "jcgm-100, equation G.2b")),
    Formula("Exchanges within pairs", "P = #{|Σ ± d| ≥ |Σ d|} / 2ⁿ",
            (Symbol("d", "after less before", "the unit of both"), _N), (EXACT,), ("fisher-1935, section 21",)),
    Formula("Ratio of pairs", "|ȳ − r x̄| ≤ t u, u² = s²(y − r x)/n + Σ (u_y − r u_x)²",
            (Symbol("r", "ratio of after to before", ""), Symbol("x", "before", "the unit of both"),
             Symbol("y", "after", "the unit of both"), _SHARED, _N), (PAIRS,),
            ("fieller-1954", "jcgm-100, equation G.2b")),
)  # fmt: skip
