"""Allowable inside pressure of straight new copper tube. Bends and joints are weaker and are tested, not computed.

Only copper: no allowable stress of aluminium or stainless tube was to hand in a published table.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.temperature import ZERO_CELSIUS
from guidegen.heat.validity import FloatArray, Validity

_TEMPERATURES = np.array([338.15, 383.15, 423.15])  # 65, 110 and 150 °C
_STRESSES = np.array([46e6, 40e6, 34e6])  # annealed (R220)

TEMPERATURE = Validity("tube temperature", ZERO_CELSIUS, 423.15, "K", "copper-board-tube-pressure")
WALL_SHARE = Validity("tube wall over outside diameter", 0.01, 0.25, "", "copper-board-tube-pressure")


def allowable_stress(temperature: ArrayLike) -> FloatArray:
    """Give the stress that annealed copper tube (R220) may carry for good.

    Below 65 °C the value of 65 °C holds; between the three published temperatures the value is interpolated.

    Parameters: temperature T, K, any shape.
    Returns: stress F, Pa, same shape.
    Valid for: 273.15 to 423.15 K, annealed copper.
    Equation: 46, 40 and 34 N/mm² at 65, 110 and 150 °C, linear between.
    Source: copper-board-tube-pressure.

    >>> float(allowable_stress(383.15)) / 1e6  # copper-board-tube-pressure
    40.0
    """
    TEMPERATURE.check(temperature)
    return np.asarray(np.interp(np.asarray(temperature, dtype=np.float64), _TEMPERATURES, _STRESSES), dtype=np.float64)


def allowable_pressure(outside: ArrayLike, wall: ArrayLike, temperature: ArrayLike) -> FloatArray:
    """Give the gauge pressure that straight new annealed copper tube may carry for good.

    Parameters: outside diameter D, m; wall t, m; temperature T, K, shapes that broadcast.
    Returns: pressure p, Pa above atmosphere.
    Valid for: t from 0.01 D to 0.25 D, 273.15 to 423.15 K.
    Equation: p = 2 F t / (D − t); the source writes 20 F t / (D − t) for bar and N/mm².
    Source: copper-board-tube-pressure.

    >>> round(float(allowable_pressure(8e-3, 1e-3, 383.15)) / 1e5)  # = 20 * 40 * 1 / (8 - 1)
    114
    """
    diameter, thickness = np.asarray(outside, dtype=np.float64), np.asarray(wall, dtype=np.float64)
    WALL_SHARE.check(thickness / diameter)
    return np.asarray(2 * allowable_stress(temperature) * thickness / (diameter - thickness), dtype=np.float64)


FORMULAS = (
    Formula(
        "Allowable pressure of copper tube", "p = 2 F t / (D − t)",
        (Symbol("p", "gauge pressure", "Pa"), Symbol("F", "allowable stress at the tube's temperature", "Pa"),
         Symbol("t", "wall", "m"), Symbol("D", "outside diameter", "m")),
        (TEMPERATURE, WALL_SHARE), ("copper-board-tube-pressure",),
    ),
)  # fmt: skip
