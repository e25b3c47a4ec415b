"""Values that were measured again and again: how they scatter, and whether groups of them differ."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import fdtrc

from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.validity import FloatArray, Validity

REPEATS = Validity("number of values", 2, 1e9, "", "definition")
GROUPS = Validity("number of groups", 2, 1e6, "", "fisher-1925")


@dataclass(frozen=True, slots=True)
class Repeats:
    """Mean and standard deviation of repeated values, and the correlation of each with the one before."""

    mean: float
    deviation: float
    following: float


def repeats(values: ArrayLike) -> Repeats:
    """Give mean, standard deviation and first autocorrelation of values.

    Parameters: values x, (n,), in the order in which they were measured.
    Returns: a `Repeats`, mean and deviation in the unit of x; its correlation is nan where nothing varies.
    Valid for: two values or more.
    Equation: s² = Σ (x − x̄)² / (n − 1); r₁ = Σ (x_i − x̄)(x_{i+1} − x̄) / Σ (x − x̄)².
    Source: nist-strd, univariate summary statistics.

    >>> made = repeats([1.0, 2.0, 3.0])
    >>> made.mean, made.deviation, made.following  # = (1 + 2 + 3) / 3; ((1 + 1) / 2)^0.5; 0 / 2
    (2.0, 1.0, 0.0)
    """
    x = np.asarray(values, dtype=np.float64)
    REPEATS.check(len(x))
    # From the first value on, so that large values that differ little lose no digits by being added up.
    apart = x - x[0]
    middle = float(apart.mean())
    centred = apart - middle
    centred = centred - centred.mean()
    whole = float(centred @ centred)
    following = float(centred[:-1] @ centred[1:]) / whole if whole > 0.0 else float("nan")
    return Repeats(float(x[0]) + middle, float(np.sqrt(whole / (len(x) - 1))), following)


@dataclass(frozen=True, slots=True)
class BetweenGroups:
    """Sums of squares between and within groups, F, and how often chance alone would make F as large."""

    between: float
    within: float
    statistic: float
    probability: float

    @property
    def explained(self) -> float:
        """The share of the squares that lies between groups, R²."""
        return self.between / (self.between + self.within)


def between(groups: Sequence[ArrayLike]) -> BetweenGroups:
    """Say whether groups of values differ by more than the values in them do (analysis of variance, one way).

    Parameters: groups, each (n_j,), in one unit.
    Returns: a `BetweenGroups`.
    Valid for: two groups or more, with more values than groups, from normal distributions of one width.
    Equation: F = (Σ n_j (x̄_j − x̄)² / (k − 1)) / (Σ Σ (x − x̄_j)² / (n − k)).
    Source: fisher-1925.

    >>> between([[1.0, 3.0], [5.0, 7.0]]).statistic  # = (2 * 4 + 2 * 4) / 1 / ((1 + 1 + 1 + 1) / 2)
    8.0
    """
    GROUPS.check(len(groups))
    first = float(np.asarray(groups[0], dtype=np.float64)[0])
    each: list[FloatArray] = [np.asarray(one, dtype=np.float64) - first for one in groups]
    count = sum(map(len, each))
    Validity("number of values", len(each) + 1, np.inf, "", "fisher-1925").check(count)
    middle = float(np.concatenate(each).mean())
    apart = sum(len(one) * (float(one.mean()) - middle) ** 2 for one in each)
    inside = sum(float(((one - one.mean()) ** 2).sum()) for one in each)
    degrees = len(each) - 1, count - len(each)
    statistic = float(np.divide(apart / degrees[0], inside / degrees[1]))
    return BetweenGroups(apart, inside, statistic, float(fdtrc(*degrees, statistic)))


FORMULAS = (
    Formula("Scatter of repeated values", "s² = Σ (x − x̄)² / (n − 1)",
            (Symbol("x", "values", "their own"), Symbol("n", "number of values", "")), (REPEATS,), ("nist-strd",)),
    Formula("Groups of repeated values", "F = (Σ n_j (x̄_j − x̄)² / (k − 1)) / (Σ Σ (x − x̄_j)² / (n − k))",
            (Symbol("x̄_j", "mean of a group", "that of the values"), Symbol("n_j", "its number of values", ""),
             Symbol("k", "number of groups", ""), Symbol("n", "number of all values", "")), (GROUPS,),
            ("fisher-1925",)),
)  # fmt: skip
