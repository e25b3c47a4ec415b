"""Liquid water: viscosity, thermal conductivity and the Prandtl number.

Correlations for 0.1 MPa; up to pump pressure they are off by less than one part in a hundred.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.temperature import ZERO_CELSIUS
from guidegen.heat.validity import FloatArray, Validity
from guidegen.heat.water import specific_heat

# Above 373.12 K the release extrapolates into the metastable liquid; under pressure the water there is stable.
TEMPERATURE = Validity("water temperature", ZERO_CELSIUS, 383.15, "K", "iapws-sr6, sections 4 and 5")

_REFERENCE_PRESSURE = 1.0e6
"""Pa. The specific heat in the Prandtl number is taken at pump pressure, where water is liquid to 453 K."""


def viscosity(temperature: ArrayLike) -> FloatArray:
    """Give the dynamic viscosity of liquid water at 0.1 MPa.

    Parameters: temperature T, K, any shape.
    Returns: viscosity μ, Pa·s, same shape.
    Valid for: 273.15 to 383.15 K; within 1 %.
    Equation: μ = 1 µPa·s · Σ a (T / 300 K)^b, four terms.
    Source: iapws-sr6, equation 7 and table 5.

    >>> round(float(viscosity(293.15)) * 1e6)
    ... # = 280.68 * t**-1.9 + 511.45 * t**-7.7 + 61.131 * t**-19.6 + 0.45903 * t**-40 for t = 293.15 / 300
    1002
    """
    TEMPERATURE.check(temperature)
    reduced = np.asarray(temperature, dtype=np.float64) / 300.0
    terms = ((280.68, -1.9), (511.45, -7.7), (61.131, -19.6), (0.45903, -40.0))
    return np.asarray(1e-6 * sum(a * reduced**b for a, b in terms), dtype=np.float64)


def conductivity(temperature: ArrayLike) -> FloatArray:
    """Give the thermal conductivity of liquid water at 0.1 MPa.

    Parameters: temperature T, K, any shape.
    Returns: conductivity k, W/(m·K), same shape.
    Valid for: 273.15 to 383.15 K; within 2 %.
    Equation: k = 1 W/(m·K) · Σ c (T / 300 K)^d, four terms.
    Source: iapws-sr6, equation 8 and table 5.

    >>> round(float(conductivity(293.15)), 3)
    ... # = 1.6630 * t**-1.15 - 1.7781 * t**-3.4 + 1.1567 * t**-6 - 0.432115 * t**-7.6 for t = 293.15 / 300
    0.598
    """
    TEMPERATURE.check(temperature)
    reduced = np.asarray(temperature, dtype=np.float64) / 300.0
    terms = ((1.6630, -1.15), (-1.7781, -3.4), (1.1567, -6.0), (-0.432115, -7.6))
    return np.asarray(sum(c * reduced**d for c, d in terms), dtype=np.float64)


def prandtl(temperature: ArrayLike) -> FloatArray:
    """Give the Prandtl number of liquid water.

    Parameters: temperature T, K, any shape.
    Returns: Pr, dimensionless, same shape.
    Valid for: 273.15 to 383.15 K.
    Equation: Pr = c μ / k.
    Source: definition; c from `water.specific_heat` at 1 MPa.

    >>> bool(abs(prandtl(333.15) * conductivity(333.15) / viscosity(333.15) - specific_heat(333.15, 1e6)) < 1e-9)
    ... # the definition
    True
    """
    heat = specific_heat(temperature, _REFERENCE_PRESSURE)
    return np.asarray(heat * viscosity(temperature) / conductivity(temperature), dtype=np.float64)


_TEMPERATURE_SYMBOL = Symbol("T", "temperature", "K")

FORMULAS = (
    Formula(
        "Viscosity of water", "μ = 1 µPa·s · Σ a (T / 300 K)^b",
        (Symbol("μ", "dynamic viscosity", "Pa·s"), _TEMPERATURE_SYMBOL), (TEMPERATURE,), ("iapws-sr6, equation 7",),
    ),
    Formula(
        "Conductivity of water", "k = 1 W/(m·K) · Σ c (T / 300 K)^d",
        (Symbol("k", "thermal conductivity", "W/(m·K)"), _TEMPERATURE_SYMBOL), (TEMPERATURE,),
        ("iapws-sr6, equation 8",),
    ),
    Formula(
        "Prandtl number", "Pr = c μ / k",
        (Symbol("Pr", "Prandtl number", ""), Symbol("c", "specific heat", "J/(kg·K)")), (TEMPERATURE,), (),
    ),
)  # fmt: skip
