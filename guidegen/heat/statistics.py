"""Ranges from uncertain inputs: draws, percentiles, and which input matters most.

The draws are a scrambled Sobol sequence of fixed width: every name has its column whether or not it varies, so a
run with a kit and one without see the same boiler, and their ratio is far tighter than either.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.validity import FloatArray, Validity

DRAWS = Validity("draws", 2, 2**20, "", "sobol-1967: a power of two keeps the sequence balanced")
BEYOND, LAST = 1e300, 1e200
"""What stands for an infinite value among numbers, and from where on a quantile between them is one."""
COLUMNS = Validity("columns", 1, 1024, "", "joe-kuo-2008: far fewer than directions are known for")


@dataclass(frozen=True, slots=True)
class Rectangular:
    """Anywhere from `low` to `high` with the same probability: what is known of a number that nobody measured.

    >>> float(Rectangular(1.0, 3.0).at(0.25))
    1.5
    """

    low: float
    high: float

    def __post_init__(self) -> None:
        Validity("upper end of a rectangle", self.low, np.inf, "", "jcgm-101, 6.4.2").check(self.high)

    def at(self, probability: ArrayLike) -> FloatArray:
        """Give the quantile of a probability, any shape."""
        return np.asarray(self.low + (self.high - self.low) * np.asarray(probability, dtype=np.float64))


@dataclass(frozen=True, slots=True)
class Normal:
    """A measured value with its standard uncertainty.

    >>> float(Normal(10.0, 2.0).at(0.5))
    10.0
    """

    mean: float
    standard_uncertainty: float

    def __post_init__(self) -> None:
        Validity("standard uncertainty", 0.0, np.inf, "", "jcgm-101, 6.4.7").check(self.standard_uncertainty)

    def at(self, probability: ArrayLike) -> FloatArray:
        """Give the quantile of a probability, any shape."""
        # Loading it takes longer than reading a workshop does, and most commands draw nothing.
        from scipy.special import ndtri

        return np.asarray(self.mean + self.standard_uncertainty * ndtri(probability), dtype=np.float64)


@dataclass(frozen=True, slots=True)
class Triangular:
    """A best value between ends that it lies between for certain: likeliest at the value, less so towards the ends.

    Valid for: low ≤ mode ≤ high. Equation: the quantile of the density that falls in straight lines from the mode to
    either end. Source: kotz-van-dorp-2004, 1.2; the symmetric one jcgm-101, 6.4.5.

    >>> float(Triangular(0.0, 1.0, 4.0).at(0.25))
    1.0
    """

    low: float
    mode: float
    high: float

    def __post_init__(self) -> None:
        Validity("mode of a triangle", self.low, self.high, "", "kotz-van-dorp-2004, 1.2").check(self.mode)

    def at(self, probability: ArrayLike) -> FloatArray:
        """Give the quantile of a probability, any shape."""
        p, whole = np.asarray(probability, dtype=np.float64), self.high - self.low
        rising = self.low + np.sqrt(p * whole * (self.mode - self.low))
        falling = self.high - np.sqrt((1.0 - p) * whole * (self.high - self.mode))
        return np.asarray(np.where(p * whole < self.mode - self.low, rising, falling))


@dataclass(frozen=True, slots=True)
class LogTriangular:
    """The same of a quantity whose logarithm is triangular: ends that are a multiple of each other, all above zero.

    >>> round(float(LogTriangular(1.0, 10.0, 100.0).at(0.5)), 9)
    10.0
    """

    low: float
    mode: float
    high: float

    def __post_init__(self) -> None:
        Validity("lower end of a log-triangle", np.nextafter(0.0, 1.0), np.inf, "", "a logarithm").check(self.low)
        Validity("mode of a triangle", self.low, self.high, "", "kotz-van-dorp-2004, 1.2").check(self.mode)

    def at(self, probability: ArrayLike) -> FloatArray:
        """Give the quantile of a probability, any shape."""
        low, mode, high = np.log((self.low, self.mode, self.high))
        # The logarithms are rounded, and may cross by their last bit where the mode is an end.
        inside = Triangular(float(low), float(np.clip(mode, low, high)), float(high))
        return np.asarray(np.clip(np.exp(inside.at(probability)), self.low, self.high))


Distribution = Rectangular | Normal | Triangular | LogTriangular


def uniforms(width: int, count: int = 256, seed: int = 1) -> FloatArray:
    """Draw a scrambled Sobol sequence.

    Parameters: width w, how many columns; count n, a power of two; seed.
    Returns: uniform numbers strictly between 0 and 1, shape (n, w). Another width is another sequence in every column.
    Valid for: 2 to 2²⁰ draws; 1 to 1024 columns.
    Equation: Sobol's sequence with Joe and Kuo's directions, linear matrix scramble and digital shift.
    Source: joe-kuo-2008; matousek-1998.

    >>> uniforms(2, 4).shape
    (4, 2)
    """
    DRAWS.check(count)
    COLUMNS.check(width)
    power = count.bit_length() - 1
    if count != 2**power:
        raise ValueError(f"draws are {count}, not a power of two; the nearest below is {2**power}")
    # It takes a fifth of a start, and most commands draw nothing.
    from scipy.stats import qmc

    points = qmc.Sobol(d=width, scramble=True, rng=np.random.default_rng(seed)).random_base2(power)
    # Half a step of the sequence keeps the ends out, where a normal distribution is infinite.
    return np.asarray(np.clip(points, 2.0**-31, 1 - 2.0**-31), dtype=np.float64)


def spread(columns: Mapping[str, int], inputs: Mapping[str, Distribution], points: FloatArray) -> dict[str, FloatArray]:
    """Turn uniform numbers into values of the inputs, each from the column that its name has.

    Parameters: columns by name, no two alike; inputs, the distributions of those that vary; points, shape (n, w).
    Returns: one array of shape (n,) per input.
    Valid for: inputs that have a column.
    Equation: x = F⁻¹(u), F the input's distribution.
    Source: jcgm-101, 6.4.

    >>> points = uniforms(2, 4)
    >>> spread({"mass": 0, "loss": 1}, {"loss": Rectangular(2.0, 2.0)}, points)["loss"]
    array([2., 2., 2., 2.])
    """
    if len(set(columns.values())) != len(columns):
        raise ValueError("two uncertain inputs share a column")
    unknown = sorted(set(inputs) - set(columns))
    if unknown:
        raise KeyError(f"no column is kept for {', '.join(unknown)}")
    return {name: np.asarray(inputs[name].at(points[:, columns[name]])) for name in inputs}


@dataclass(frozen=True, slots=True)
class CoverageInterval:
    """The median and the ends of an output over the draws, infinite where they lie beyond what was watched.

    beyond: the share of values that are infinite; missing: the share of all draws that gave no value.
    """

    low: float
    median: float
    high: float
    beyond: float
    missing: float


def interval(values: ArrayLike, coverage: float = 0.95) -> CoverageInterval:
    """Give the median and the interval, with equal tails, that holds a share of the values.

    A value may be infinite, such as a recovery that did not come while it was watched: it counts as the longest. A draw
    in which the quantity does not exist (NaN) is left out and counted in `missing`.

    Parameters: values, shape (n,); coverage p.
    Returns: quantiles (1 − p)/2, ½ and (1 + p)/2, linear between order statistics, infinite where one of those is; NaN
        where no draw has a value.
    Valid for: coverage 0 to 1.
    Equation: quantiles.
    Source: jcgm-101, 7.7 (probabilistically symmetric interval).

    >>> interval([1.0, 2.0, 3.0, float("nan")], 1.0)
    CoverageInterval(low=1.0, median=2.0, high=3.0, beyond=0.0, missing=0.25)
    >>> interval([1.0, 2.0, float("inf")], 1.0).high
    inf
    """
    Validity("coverage", 0.0, 1.0, "", "jcgm-101, 7.7").check(coverage)
    every = np.asarray(values, dtype=np.float64)
    present = every[~np.isnan(every)]
    if present.size == 0:
        return CoverageInterval(np.nan, np.nan, np.nan, 0.0, 1.0)
    # Between a number and the infinite one nothing can be interpolated; a number beyond all others can stand for it.
    numbers = np.quantile(np.clip(present, -BEYOND, BEYOND), [(1 - coverage) / 2, 0.5, (1 + coverage) / 2])
    low, median, high = (float(one) if abs(one) < LAST else float(np.copysign(np.inf, one)) for one in numbers)
    beyond = float(np.mean(np.isinf(present)))
    return CoverageInterval(low, median, high, beyond, 1 - present.size / every.size)


class Ranked:
    """Inputs with their ranks, to correlate many outputs with; inputs: one array of n values each."""

    def __init__(self, inputs: Mapping[str, ArrayLike]) -> None:
        self._values = {name: np.asarray(one, dtype=np.float64) for name, one in inputs.items()}
        self._ranks = {name: _standardised(one) for name, one in self._values.items()}

    def correlations(self, output: ArrayLike) -> dict[str, float]:
        """Give Spearman's rank correlation of an output with each input, the strongest first.

        Parameters: output, shape (n,), NaN where a draw gave no value.
        Returns: name to ρ, −1 to 1, by falling |ρ|; 0 for an input or an output that does not vary.
        Valid for: 3 values or more; fewer give 0.
        Equation: ρ = correlation of the ranks, ties sharing their mean rank.
        Source: spearman-1904.

        >>> Ranked({"a": [1, 2, 3, 4], "b": [1, 3, 2, 4]}).correlations([1, 8, 27, 64])
        {'a': 1.0, 'b': 0.8}
        """
        values = np.asarray(output, dtype=np.float64)
        present = ~np.isnan(values)
        mine = _standardised(values[present])
        every = bool(present.all())
        correlations = {
            # Rounded because the last bits depend on the order of summation, and they decide ties.
            name: round(float(np.sum((self._ranks[name] if every else _standardised(one[present])) * mine)), 12)
            for name, one in self._values.items()
        }
        # The name breaks ties, so that the order does not hang on the order of the inputs.
        return dict(sorted(correlations.items(), key=lambda item: (-abs(item[1]), item[0])))


def _standardised(values: FloatArray) -> FloatArray:
    """The ranks less their mean, of length one; all zero where nothing varies."""
    from scipy.stats import rankdata

    ranks = np.asarray(rankdata(values), dtype=np.float64)
    if values.size < 3 or np.ptp(ranks) == 0:
        return np.zeros(values.size)
    ranks -= ranks.mean()
    return np.asarray(ranks / np.sqrt(np.sum(ranks * ranks)))


FORMULAS = (
    Formula(
        "Draws of the inputs", "x = F⁻¹(u), u from a scrambled Sobol sequence",
        (Symbol("x", "value of an input", ""), Symbol("F", "its distribution", ""), Symbol("u", "probability", "")),
        (DRAWS,), ("joe-kuo-2008", "jcgm-101, 6.4"),
    ),
    Formula(
        "What matters most", "ρ = correlation of the ranks of input and output",
        (Symbol("ρ", "rank correlation", ""),), (), ("spearman-1904",),
    ),
)  # fmt: skip
