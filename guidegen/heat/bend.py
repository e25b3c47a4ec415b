"""How tightly annealed copper tube may be bent."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.validity import FloatArray, Validity

_INCH = 25.4e-3
# Nominal size, which for this tube is the outside diameter less an eighth of an inch, and the radius; both in inches.
_TABLE = ((1 / 4, 3 / 4), (3 / 8, 3 / 2), (1 / 2, 9 / 4), (3 / 4, 3.0), (1.0, 4.0), (5 / 4, 9.0))
_OUTSIDE = np.array([(nominal + 1 / 8) * _INCH for nominal, _ in _TABLE])
_RADIUS = np.array([radius * _INCH for _, radius in _TABLE])

TUBE_OUTSIDE = Validity("tube outside diameter", 1e-3, float(_OUTSIDE[-1]), "m", "copper-tube-handbook, table 4.1")


def minimum_bend_radius(outside: ArrayLike) -> FloatArray:
    """Give the smallest radius to which a mechanical bender may bend annealed copper tube.

    A size between two rows takes the larger row's radius, and one below the first row that of the first row: never a
    tighter bend than the table allows for a thicker tube.

    Parameters: outside diameter D, m, any shape.
    Returns: radius R to the tube's centre line, m, same shape.
    Valid for: up to 34.9 mm; annealed copper, walls of types K and L.
    Equation: a table.
    Source: copper-tube-handbook, table 4.1.

    >>> round(float(minimum_bend_radius(8e-3)) * 1e3, 2)  # copper-tube-handbook, 3/4 inch: = 0.75 * 25.4
    19.05
    """
    TUBE_OUTSIDE.check(outside)
    # A nanometre of tolerance keeps a table row's own diameter on that row.
    row = np.searchsorted(_OUTSIDE, np.asarray(outside, dtype=np.float64) - 1e-9)
    return np.asarray(_RADIUS[row], dtype=np.float64)


FORMULAS = (
    Formula(
        "Bend radius of copper tube", "table of outside diameter and smallest radius",
        (Symbol("D", "tube outside diameter", "m"), Symbol("R", "bend radius", "m")), (TUBE_OUTSIDE,),
        ("copper-tube-handbook, table 4.1",),
    ),
)  # fmt: skip
