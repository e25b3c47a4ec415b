"""How cold feed dilutes a vessel of hot water: from perfectly stirred to nearly a plug."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.validity import FloatArray, Validity

CELLS = Validity("mixed cells", 1, 100, "", "levenspiel-1999, chapter 14")
DRAWN = Validity("mass drawn over mass held", 0.0, 50.0, "", "levenspiel-1999, chapter 14")


def share_of_old_water(drawn_over_held: ArrayLike, cells: int = 1) -> FloatArray:
    """Give the share of the water at the outlet that was in the vessel before the draw began.

    Parameters: mass drawn over mass held x, any shape; number of equal, well-mixed cells in series M.
    Returns: share, 1 at the start to 0, same shape. Without heat the outlet is feed + share · (start − feed).
    Valid for: 1 to 100 cells, up to fifty vessels drawn.
    Equation: exp(−M x) Σ (M x)^k / k!, k from 0 to M − 1; one cell gives exp(−x).
    Source: levenspiel-1999, equation 14.5 summed.

    >>> round(20 + 80 * float(share_of_old_water(55 / 90)), 2)
    ... # 55 g through 90 g at 100 °C, feed at 20 °C: = 20 + 80 * exp(-55 / 90)
    63.42
    """
    CELLS.check(cells)
    DRAWN.check(drawn_over_held)
    drawn = cells * np.asarray(drawn_over_held, dtype=np.float64)
    # Terms grow to exp(M x) before they fall; each is taken together with the exponential so that none overflows.
    with np.errstate(divide="ignore"):
        logarithm = np.log(drawn)
    terms = [np.exp(-drawn) if k == 0 else np.exp(k * logarithm - drawn - math.lgamma(k + 1)) for k in range(cells)]
    return np.asarray(np.minimum(sum(terms), 1.0), dtype=np.float64)


FORMULAS = (
    Formula(
        "Dilution of a vessel", "exp(−M x) Σ (M x)^k / k!",
        (Symbol("M", "well-mixed cells in series", ""), Symbol("x", "mass drawn over mass held", "")), (CELLS, DRAWN),
        ("levenspiel-1999, chapter 14",),
    ),
)  # fmt: skip
