"""Speed, Reynolds number and pressure loss of water in a feed coil."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.friction import COILED, CURVATURE, coiled
from guidegen.heat.validity import FloatArray, Validity
from guidegen.heat.water import density
from guidegen.heat.water_transport import viscosity

FLOW = Validity("volume flow", 0.0, 1e-3, "m³/s", "what is meant here by a feed coil")

_LIQUID_PRESSURE = 1.0e6
"""Pa. The density is taken at pump pressure, where water is liquid over the whole range of `viscosity`."""


def speed(flow: ArrayLike, bore: ArrayLike) -> FloatArray:
    """Give the mean speed of water in a tube.

    Parameters: volume flow Q, m³/s; bore d, m, shapes that broadcast.
    Returns: speed v, m/s.
    Valid for: up to 1 l/s.
    Equation: v = 4 Q / (π d²).
    Source: continuity.

    >>> round(float(speed(2e-6, 6e-3)), 4)  # = 2 / (pi / 4 * 6**2)
    0.0707
    """
    FLOW.check(flow)
    return np.asarray(4 * np.asarray(flow) / (math.pi * np.asarray(bore, dtype=np.float64) ** 2), dtype=np.float64)


def reynolds(flow: ArrayLike, bore: ArrayLike, temperature: ArrayLike) -> FloatArray:
    """Give the Reynolds number of water in a tube.

    Parameters: volume flow Q, m³/s; bore d, m; temperature T, K, shapes that broadcast.
    Returns: Re.
    Valid for: 273.15 to 383.15 K.
    Equation: Re = ρ v d / μ.
    Source: definition.

    >>> round(float(reynolds(2e-6, 6e-3, 293.15)))  # = 998.2 * 0.07074 * 6e-3 / 1.002e-3
    423
    """
    thickness = viscosity(temperature)
    return np.asarray(density(temperature, _LIQUID_PRESSURE) * speed(flow, bore) * np.asarray(bore) / thickness)


def pressure_loss(
    flow: ArrayLike, bore: ArrayLike, coil_diameter: ArrayLike, length: ArrayLike, temperature: ArrayLike,
    local_losses: ArrayLike = 0.0, roughness: ArrayLike = 0.0,
) -> FloatArray:  # fmt: skip
    """Give the pressure that a coil costs.

    The tails are counted as coiled tube: a little too much. What fittings cost is `local_losses`, a sum of loss
    coefficients: 0.5 for a sharp entry and 1 for the exit into a vessel.

    Parameters: volume flow Q, m³/s; bore d, m; mean diameter of the turns D, m; length L, m; temperature T, K;
        loss coefficients ζ; roughness ε, m, shapes that broadcast.
    Returns: pressure loss Δp, Pa; none at rest.
    Valid for: Re 100 to 150 000 or no flow, d/D 0.001 to 0.14, 273.15 to 383.15 K.
    Equation: Δp = (f L / d + ζ) ρ v² / 2.
    Source: white-2011, equations 6.10 and 6.78 (Darcy and Weisbach); f from schmidt-1967.

    >>> round(float(pressure_loss(2e-6, 6e-3, 78e-3, 2.8, 293.15)))
    ... # f after Schmidt is 0.2807: = 0.2807 * 2.8 / 6e-3 * 998.2 * 0.07074**2 / 2
    327
    """
    number = reynolds(flow, bore, temperature)
    velocity = speed(flow, bore)
    # At rest there is no loss and no Reynolds number for the friction law; any valid one serves the product with zero.
    factor = coiled(
        np.where(velocity == 0, COILED.low, number), np.asarray(bore) / np.asarray(coil_diameter),
        np.asarray(roughness) / np.asarray(bore),
    )  # fmt: skip
    dynamic = density(temperature, _LIQUID_PRESSURE) * velocity**2 / 2
    return np.asarray((factor * np.asarray(length) / np.asarray(bore) + np.asarray(local_losses)) * dynamic)


_SPEED = Symbol("v", "mean speed", "m/s")
_BORE = Symbol("d", "bore", "m")
_DENSITY = Symbol("ρ", "density", "kg/m³")

FORMULAS = (
    Formula("Speed in a tube", "v = 4 Q / (π d²)", (_SPEED, Symbol("Q", "volume flow", "m³/s"), _BORE), (FLOW,)),
    Formula("Reynolds number", "Re = ρ v d / μ", (_SPEED, _BORE, _DENSITY, Symbol("μ", "viscosity", "Pa·s"))),
    Formula("Pressure loss of a coil", "Δp = (f L / d + ζ) ρ v² / 2",
            (Symbol("Δp", "pressure loss", "Pa"), Symbol("f", "friction factor", ""), Symbol("L", "length", "m"), _BORE,
             Symbol("ζ", "loss coefficients of fittings", ""), _DENSITY, _SPEED),
            (COILED, CURVATURE), ("white-2011, equations 6.10 and 6.78", "schmidt-1967")),
)  # fmt: skip
