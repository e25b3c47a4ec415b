"""Ranges from uncertain inputs: draws, percentiles, and which input matters most.

The draws are a scrambled Sobol sequence of fixed width: every name has its column whether or not it varies, so a
run with a kit and one without see the same boiler, and their ratio is far tighter than either.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import ndtri
from scipy.stats import qmc, rankdata

from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.validity import FloatArray, Validity

DRAWS = Validity("draws", 2, 2**20, "", "sobol-1967: a power of two keeps the sequence balanced")
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
        return np.asarray(self.mean + self.standard_uncertainty * ndtri(probability), dtype=np.float64)


Distribution = Rectangular | Normal


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
    """The middle and the ends of an output over the draws, and the share of draws that gave no value."""

    low: float
    middle: float
    high: float
    missing: float


def interval(values: ArrayLike, coverage: float = 0.95) -> CoverageInterval:
    """Give the interval, with equal tails, that holds a share of the values.

    A draw without a value (NaN, such as a recovery that never came) is left out and counted in `missing`.

    Parameters: values, shape (n,); coverage p.
    Returns: quantiles (1 − p)/2, ½ and (1 + p)/2, linear between order statistics; NaN where no draw has a value.
    Valid for: coverage 0 to 1.
    Equation: quantiles.
    Source: jcgm-101, 7.7 (probabilistically symmetric interval).

    >>> interval([1.0, 2.0, 3.0, float("nan")], 1.0)
    CoverageInterval(low=1.0, middle=2.0, high=3.0, missing=0.25)
    """
    Validity("coverage", 0.0, 1.0, "", "jcgm-101, 7.7").check(coverage)
    every = np.asarray(values, dtype=np.float64)
    present = every[~np.isnan(every)]
    if present.size == 0:
        return CoverageInterval(np.nan, np.nan, np.nan, 1.0)
    low, middle, high = np.quantile(present, [(1 - coverage) / 2, 0.5, (1 + coverage) / 2])
    return CoverageInterval(float(low), float(middle), float(high), 1 - present.size / every.size)


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
    if values.size < 3 or np.ptp(values) == 0:
        return np.zeros(values.size)
    ranks = np.asarray(rankdata(values), dtype=np.float64)
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
