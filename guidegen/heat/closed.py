"""Water that stands in a closed coil and warms up: how much it pushes out, or how its pressure rises if it cannot.

The tube is the only thing that gives: no air, no hose. Both would give more, so that the rise is an upper figure and
the kelvins are a lower one.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.temperature import ZERO_CELSIUS
from guidegen.heat.validity import FloatArray, Validity
from guidegen.heat.water import ATMOSPHERIC_PRESSURE, compressibility, density, enclosed, thermal_expansion

NEWTON_STEPS = 8
FAR = 100.0
"""K above the start, where the search for a warming begins: from there it comes down without crossing."""

WALL_SHARE = Validity("wall over outside diameter", 1e-4, 0.499, "", "geometry: the tube has a bore")
START = Validity("temperature before a warm-up", ZERO_CELSIUS, 333.15, "K", "liquid at the start of the search")
GAUGE = Validity("pressure that something opens at", 2e5, 9e7, "Pa", "liquid, and iapws-r7, region 1")


def pushed_out(volume: ArrayLike, cold: ArrayLike, warm: ArrayLike) -> FloatArray:
    """Give the water that an open vessel pushes out while what it holds warms up; the vessel's own growth is left out.

    Parameters: volume V that is held, m³; temperature T₁ before, K; temperature T₂ after, K, shapes that broadcast.
    Returns: volume ΔV, as measured cold, m³.
    Valid for: 273.15 to 623.15 K, liquid at 3 bar absolute, or at the pressure at which it boils.
    Equation: ΔV = V (1 − ρ(T₂) / ρ(T₁)).
    Source: conservation of mass, densities from iapws-r7.

    >>> round(float(pushed_out(1.0, 293.15, 368.15)), 4)  # = 1 - 962.0 / 998.3
    0.0364
    """
    before, after = enclosed(cold), enclosed(warm)
    return np.asarray(np.asarray(volume, dtype=np.float64) * (1 - after / before), dtype=np.float64)


def stretch(outside: ArrayLike, wall: ArrayLike, young: ArrayLike, poisson: ArrayLike) -> FloatArray:
    """Give the share by which the bore of a tube with closed ends grows with each pascal inside.

    Parameters: outside diameter D, m; wall t, m; Young's modulus E, Pa; Poisson's ratio ν, shapes that broadcast.
    Returns: elasticity C, 1/Pa.
    Valid for: t from 0.0001 D to 0.499 D, elastic metal.
    Equation: C = [2(1 + ν) D² + 3(1 − 2ν) d²] / [E (D² − d²)] with d = D − 2t.
    Source: timoshenko-1956, thick-walled cylinder (Lamé): twice the hoop strain at the bore and the axial strain.

    >>> round(float(stretch(8e-3, 1e-3, 118e9, 0.34)) * 1e12, 1)  # = (2.68 * 64 + 0.96 * 36) / 28 / 0.118
    62.4
    """
    diameter, thickness = np.asarray(outside, dtype=np.float64), np.asarray(wall, dtype=np.float64)
    WALL_SHARE.check(thickness / diameter)
    modulus, ratio = np.asarray(young, dtype=np.float64), np.asarray(poisson, dtype=np.float64)
    outer, inner = diameter**2, (diameter - 2 * thickness) ** 2
    grown = 2 * (1 + ratio) * outer + 3 * (1 - 2 * ratio) * inner
    return np.asarray(grown / (modulus * (outer - inner)), dtype=np.float64)


def pressure_rise(
    temperature: ArrayLike, pressure: ArrayLike, elasticity: ArrayLike, expansion: ArrayLike
) -> FloatArray:
    """Give the pressure that locked water gains with each kelvin.

    Parameters: temperature T, K; pressure p, Pa absolute; elasticity C of the tube, 1/Pa; its linear expansion α, 1/K,
        shapes that broadcast.
    Returns: rise dp/dT, Pa/K.
    Valid for: 273.15 to 623.15 K, from the boiling pressure to 100 MPa.
    Equation: dp/dT = (β − 3α) / (κ + C).
    Source: conservation of mass; β and κ from iapws-r7.

    >>> round(float(pressure_rise(323.15, 1e6, 62.4e-12, 16.8e-6)) / 1e5, 1)  # = (457 - 50) / (442 + 62) * 10
    8.1
    """
    water = thermal_expansion(temperature, pressure) - 3 * np.asarray(expansion, dtype=np.float64)
    give = compressibility(temperature, pressure) + np.asarray(elasticity, dtype=np.float64)
    return np.asarray(water / give, dtype=np.float64)


def warming_to(gauge: ArrayLike, start: ArrayLike, elasticity: ArrayLike, expansion: ArrayLike) -> FloatArray:
    """Give the kelvins by which water that was locked in at atmospheric pressure warms until it has a pressure.

    Parameters: pressure p, gauge, Pa; temperature T₁ at which it was locked in, K; elasticity C of the tube, 1/Pa; its
        linear expansion α, 1/K, shapes that broadcast.
    Returns: warming ΔT, K.
    Valid for: p from 2 bar to 900 bar, T₁ from 273.15 to 333.15 K.
    Equation: ρ(T₁ + ΔT, p) (1 + 3 α ΔT) (1 + C p) = ρ(T₁, 0), solved by Newton's method.
    Source: conservation of mass; ρ from iapws-r7.

    >>> kelvins = float(warming_to(12e5, 293.15, 62.4e-12, 16.8e-6))
    >>> abs(kelvins - 12e5 / float(pressure_rise(294.9, 7e5, 62.4e-12, 16.8e-6))) < 0.02  # half of it on
    True
    """
    GAUGE.check(gauge)
    START.check(start)
    above, first = np.asarray(gauge, dtype=np.float64), np.asarray(start, dtype=np.float64)
    metal, inside = 3 * np.asarray(expansion, dtype=np.float64), above + ATMOSPHERIC_PRESSURE
    mass = np.log(density(first))
    bore = np.log1p(np.asarray(elasticity, dtype=np.float64) * above)
    kelvin = first + FAR
    for _ in range(NEWTON_STEPS):
        off = np.log(density(kelvin, inside)) - mass + np.log1p(metal * (kelvin - first)) + bore
        kelvin = kelvin + off / (thermal_expansion(kelvin, inside) - metal)
    return np.asarray(kelvin - first, dtype=np.float64)


def yield_pressure(outside: ArrayLike, wall: ArrayLike, stress: ArrayLike) -> FloatArray:
    """Give the gauge pressure at which the bore of a tube begins to yield.

    Parameters: outside diameter D, m; wall t, m; yield stress S, Pa, shapes that broadcast.
    Returns: pressure p, Pa above atmosphere.
    Valid for: t from 0.0001 D to 0.499 D, straight tube; bends and joints may give way before.
    Equation: p = S/2 (1 − d²/D²) with d = D − 2t, from the greatest shear stress.
    Source: timoshenko-1956, thick-walled cylinder (Lamé).

    >>> round(float(yield_pressure(8e-3, 1e-3, 62e6)) / 1e5, 1)  # = 310 * (1 - 36 / 64)
    135.6
    """
    diameter, thickness = np.asarray(outside, dtype=np.float64), np.asarray(wall, dtype=np.float64)
    WALL_SHARE.check(thickness / diameter)
    bore = ((diameter - 2 * thickness) / diameter) ** 2
    return np.asarray(np.asarray(stress, dtype=np.float64) / 2 * (1 - bore), dtype=np.float64)


_TUBE = (Symbol("D", "outside diameter", "m"), Symbol("t", "wall", "m"))
_ELASTICITY = Symbol("C", "growth of the bore with the pressure", "1/Pa")
_EXPANSION = Symbol("α", "linear expansion of the tube", "1/K")
_LAME = "timoshenko-1956, thick-walled cylinder"

FORMULAS = (
    Formula(
        "Water pushed out", "ΔV = V (1 − ρ(T₂) / ρ(T₁))",
        (Symbol("ΔV", "water pushed out, measured cold", "m³"), Symbol("V", "volume held", "m³"),
         Symbol("ρ", "density of water", "kg/m³"), Symbol("T₁", "temperature before", "K"),
         Symbol("T₂", "temperature after", "K")),
        sources=("iapws-r7, region 1",),
    ),
    Formula(
        "Growth of the bore", "C = [2(1 + ν) D² + 3(1 − 2ν) d²] / [E (D² − d²)], d = D − 2t",
        (_ELASTICITY, Symbol("E", "Young's modulus", "Pa"), Symbol("ν", "Poisson's ratio", ""), *_TUBE),
        (WALL_SHARE,), (_LAME,),
    ),
    Formula(
        "Pressure rise of locked water", "dp/dT = (β − 3α) / (κ + C)",
        (Symbol("p", "pressure", "Pa"), Symbol("T", "temperature", "K"),
         Symbol("β", "cubic expansion coefficient of water", "1/K"),
         Symbol("κ", "isothermal compressibility of water", "1/Pa"), _EXPANSION, _ELASTICITY),
        sources=("iapws-r7, region 1",),
    ),
    Formula(
        "Warming of locked water until a pressure", "ρ(T₁ + ΔT, p) (1 + 3 α ΔT) (1 + C p) = ρ(T₁, 0)",
        (Symbol("ΔT", "warming", "K"), Symbol("T₁", "temperature when it was locked in", "K"),
         Symbol("p", "gauge pressure", "Pa"), Symbol("ρ", "density of water", "kg/m³"), _EXPANSION, _ELASTICITY),
        (GAUGE, START), ("iapws-r7, region 1",),
    ),
    Formula(
        "Pressure at which a tube yields", "p = S/2 (1 − d²/D²), d = D − 2t",
        (Symbol("p", "gauge pressure", "Pa"), Symbol("S", "yield stress of the metal", "Pa"), *_TUBE),
        (WALL_SHARE,), (_LAME, "astm-b75, for annealed copper"),
    ),
)  # fmt: skip
