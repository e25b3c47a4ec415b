"""The mean of repeated measurements with all of its uncertainty, and how far it is from a computed value."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import stdtrit

from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.validity import Validity

REPEATED = Validity("number of repeated measurements", 2, 1e6, "", "jcgm-100, 4.2.3")
EXPANDED = Validity("expanded uncertainty", 0.0, np.inf, "", "definition")
RECTANGLE = math.sqrt(3.0)
"""From the half-width of a rectangle to its standard uncertainty (jcgm-100, 4.3.7)."""


@dataclass(frozen=True, slots=True)
class MeasuredMean:
    """A mean, its standard uncertainty by repetition and in all, the degrees of freedom, and the expanded one.

    `half` is the half-width of the interval asked for.
    """

    value: float
    repetition: float
    uncertainty: float
    freedom: float
    half: float
    count: int


def mean_of(values: ArrayLike, common: ArrayLike = 0.0, coverage: float = 0.95) -> MeasuredMean:
    """Give the mean of repeated measurements; what they share does not become smaller by repeating.

    Parameters: values x, (n,); common, standard uncertainties of what all of them share, such as the probe's, in the
        same unit; coverage of the interval.
    Returns: a `MeasuredMean`, in the same unit.
    Valid for: two values or more.
    Equation: u² = s²/n + Σ u_j²; half-width t(ν) u, ν = (n − 1) (u / (s/√n))⁴ (Welch and Satterthwaite).
    Source: jcgm-100, equations 5 and G.2b.

    >>> mean_of([1.0, 2.0, 3.0]).value
    2.0
    """
    x, shared = np.asarray(values, dtype=np.float64), np.atleast_1d(np.asarray(common, dtype=np.float64))
    REPEATED.check(len(x))
    repetition = float(x.std(ddof=1) / math.sqrt(len(x)))
    whole = math.hypot(repetition, *shared)
    half = quantile_of(repetition, whole, len(x), coverage) * whole
    return MeasuredMean(float(x.mean()), repetition, whole, _freedom(repetition, whole, len(x)), half, len(x))


def quantile_of(repetition: float, whole: float, count: int, coverage: float = 0.95) -> float:
    """Give Student's quantile of an uncertainty of which a part alone was found by repeating.

    Parameters: repetition u_A, the standard uncertainty by repetition; whole u, that of all parts, in the same unit;
        count n of the repetitions; coverage of the interval.
    Returns: t, by which the whole is multiplied.
    Valid for: two repetitions or more, and parts of which all others are known well.
    Equation: t(ν), ν = (n − 1) (u / u_A)⁴.
    Source: jcgm-100, equation G.2b.

    >>> round(quantile_of(1.0, 1.0, 5), 2)  # jcgm-100, table G.2, four degrees of freedom
    2.78
    """
    # So many degrees of freedom are a normal distribution to all digits of a double.
    return float(stdtrit(min(_freedom(repetition, whole, count), 1e9), 0.5 + coverage / 2))


def _freedom(repetition: float, whole: float, count: int) -> float:
    return (count - 1) * (whole / repetition) ** 4 if repetition > 0.0 else math.inf


def normalised_error(measured: float, measured_half: float, computed: float, computed_half: float) -> float:
    """Give how far a measured value is from a computed one, in units of what both leave open.

    Parameters: measured x; measured_half, its expanded uncertainty U_x; computed y; computed_half, its expanded
        uncertainty U_y, all in the same unit, expanded to 95 %.
    Returns: E_n; beyond ±1 the two disagree.
    Valid for: two results that do not rest on each other.
    Equation: E_n = (x − y) / √(U_x² + U_y²).
    Source: iso-13528, 9.7; iso-iec-17043, B.3.

    >>> normalised_error(10.0, 3.0, 5.0, 4.0)  # = 5 / 5
    1.0
    """
    EXPANDED.check([measured_half, computed_half])
    return float((measured - computed) / math.hypot(measured_half, computed_half))


FORMULAS = (
    Formula("Mean of repeated measurements", "u² = s²/n + Σ u_j², ν = (n − 1) (u √n / s)⁴",
            (Symbol("u", "standard uncertainty", ""), Symbol("s", "standard deviation", ""),
             Symbol("u_j", "what all measurements share", ""), Symbol("ν", "degrees of freedom", "")),
            (REPEATED,), ("jcgm-100, equation G.2b",)),
    Formula("Normalised error", "E_n = (x − y) / √(U_x² + U_y²)",
            (Symbol("x, y", "measured, computed", ""), Symbol("U", "expanded uncertainty, 95 %", "")), (EXPANDED,),
            ("iso-13528, section 9.7", "iso-iec-17043, annex B")),
)  # fmt: skip
