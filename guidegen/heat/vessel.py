"""The wall that a cylinder under inside pressure needs, and the stress in the wall that it has.

The exact elastic solution of the thick-walled cylinder: it holds for thin walls as well, and is on the safe side of the
mean-diameter formula of pressure codes. Ends, ports, and stress raisers are not in it, so a code adds factors of its
own; the allowable stresses in `materials` carry a factor for castings.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.temperature import ZERO_CELSIUS
from guidegen.heat.validity import FloatArray, Validity

HOTTEST = 423.15
"""K, 150 °C: up to there the allowable stresses in `materials` hold."""
PRESSURE_SHARE = Validity("pressure over allowable stress", 0.0, 0.9, "", "timoshenko-1956")
WALL_SHARE = Validity("wall over outside diameter", 1e-4, 0.499, "", "geometry")
DIAMETER = Validity("outside diameter of the vessel", 1e-3, 1.0, "m", "geometry")
STRONGER = Validity("strength cold over strength hot", 1.0, 2.0, "", "metals of boilers up to 150 °C")
OF_THE_LOAD, OF_THE_PRESSURE = 1.25, 1.43
"""Of a cold proof: over the load with the strength that hot metal loses, over the pressure; ped-2014-68."""
AT_PROOF = 1.5 / 1.05
"""How far the stress at a cold proof may go beyond the allowable one: codes allow the yield stress over 1.05 there, and
over 1.5 in use; from memory."""
TEMPERATURE = Validity("wall temperature", ZERO_CELSIUS, HOTTEST, "K", "allowable stresses in materials")


def hoop_stress(pressure: ArrayLike, outside: ArrayLike, wall: ArrayLike) -> FloatArray:
    """Give the largest hoop stress of a cylinder under inside pressure, at its inner surface.

    Parameters: pressure p, gauge, Pa; outside diameter D, m; wall t, m, of shapes that broadcast.
    Returns: stress σ, Pa.
    Valid for: t from 0.0001 D to 0.499 D, elastic metal, far from the ends.
    Equation: σ = p (D² + d²) / (D² − d²) with d = D − 2t.
    Source: timoshenko-1956, thick-walled cylinder (Lamé), from memory.

    >>> round(float(hoop_stress(13e5, 70e-3, 1.5e-3)) / 1e6, 2)  # = 1.3 * (70**2 + 67**2) / (70**2 - 67**2)
    29.7
    """
    diameter, thickness = np.asarray(outside, dtype=np.float64), np.asarray(wall, dtype=np.float64)
    DIAMETER.check(diameter)
    WALL_SHARE.check(thickness / diameter)
    outer, inner = diameter**2, (diameter - 2 * thickness) ** 2
    return np.asarray(np.asarray(pressure, dtype=np.float64) * (outer + inner) / (outer - inner), dtype=np.float64)


def wall_needed(pressure: ArrayLike, outside: ArrayLike, stress: ArrayLike, temperature: ArrayLike) -> FloatArray:
    """Give the thinnest wall whose hoop stress stays within what the metal may carry.

    Parameters: pressure p, gauge, Pa; outside diameter D, m; stress S, allowable, Pa; temperature T of the wall, K, at
        which S was stated, of shapes that broadcast.
    Returns: wall t, m.
    Valid for: p up to 0.9 S, 0 to 150 °C.
    Equation: t = D/2 (1 − √((S − p)/(S + p))).
    Source: timoshenko-1956, thick-walled cylinder (Lamé), solved for the wall.

    >>> round(float(wall_needed(13e5, 70e-3, 37e6, 417.15)) * 1e3, 3)  # = 35 * (1 - sqrt((37 - 1.3) / (37 + 1.3)))
    1.209
    """
    TEMPERATURE.check(temperature)
    diameter, allowed = np.asarray(outside, dtype=np.float64), np.asarray(stress, dtype=np.float64)
    inside = np.asarray(pressure, dtype=np.float64)
    DIAMETER.check(diameter)
    PRESSURE_SHARE.check(inside / allowed)
    needed = diameter / 2 * (1 - np.sqrt((allowed - inside) / (allowed + inside)))
    return np.asarray(needed, dtype=np.float64)


def proof_pressure(pressure: ArrayLike, stronger_cold: ArrayLike) -> FloatArray:
    """Give the pressure of cold water that proves a vessel, after which it may be heated.

    Parameters: pressure p, the highest that the vessel sees in use, gauge, Pa; r, by how much its metal is stronger at
        the test than hot, of shapes that broadcast.
    Returns: pressure P, gauge, Pa.
    Valid for: a vessel full of cold water, r from 1 to 2.
    Equation: P = max(1.25 p r, 1.43 p).
    Source: ped-2014-68, Annex I, 7.4, from memory.

    >>> round(float(proof_pressure(13e5, 1.0)) / 1e5, 2)  # = 1.43 * 13
    18.59
    >>> round(float(proof_pressure(13e5, 4 / 3)) / 1e5, 2)  # = 1.25 * 13 * 4 / 3
    21.67
    """
    highest, ratio = np.asarray(pressure, dtype=np.float64), np.asarray(stronger_cold, dtype=np.float64)
    STRONGER.check(ratio)
    return np.asarray(np.maximum(OF_THE_LOAD * highest * ratio, OF_THE_PRESSURE * highest), dtype=np.float64)


def pressure_borne(outside: ArrayLike, wall: ArrayLike, stress: ArrayLike) -> FloatArray:
    """Give the inside pressure at which the hoop stress of a cylinder reaches what the metal may carry.

    Parameters: outside diameter D, m; wall t, m; stress S, Pa, of shapes that broadcast.
    Returns: pressure p, gauge, Pa.
    Valid for: t from 0.0001 D to 0.499 D, elastic metal, far from the ends.
    Equation: p = S (D² − d²) / (D² + d²) with d = D − 2t.
    Source: timoshenko-1956, thick-walled cylinder (Lamé), solved for the pressure.

    >>> round(float(pressure_borne(70e-3, 1.5e-3, 29.7e6)) / 1e5, 2)  # = 297 * (70**2 - 67**2) / (70**2 + 67**2)
    13.0
    """
    return np.asarray(np.asarray(stress, dtype=np.float64) / hoop_stress(1.0, outside, wall), dtype=np.float64)


_PRESSURE = Symbol("p", "gauge pressure", "Pa")
_DIAMETER = Symbol("D", "outside diameter", "m")
_WALL = Symbol("t", "wall", "m")

FORMULAS = (
    Formula(
        "Hoop stress in a cylinder", "σ = p (D² + d²) / (D² − d²), d = D − 2t",
        (Symbol("σ", "hoop stress at the inner surface", "Pa"), _PRESSURE, _DIAMETER, _WALL),
        (DIAMETER, WALL_SHARE), ("timoshenko-1956, thick-walled cylinder",),
    ),
    Formula(
        "Wall that a pressure needs", "t = D/2 (1 − √((S − p)/(S + p)))",
        (_WALL, _PRESSURE, _DIAMETER, Symbol("S", "allowable stress of the metal", "Pa")),
        (PRESSURE_SHARE, TEMPERATURE),
        ("timoshenko-1956, thick-walled cylinder", "en-1982, CC750S, sand cast, for brass",
         "copper-board-tube-pressure, annealed at 150 °C, for copper"),
    ),
    Formula(
        "Pressure that proves a vessel", "P = max(1.25 p r, 1.43 p)",
        (Symbol("P", "gauge pressure of the proof", "Pa"), _PRESSURE, Symbol("r", "strength cold over hot", "")),
        (STRONGER,), ("ped-2014-68, Annex I, 7.4",),
    ),
    Formula(
        "Pressure that a wall bears", "p = S (D² − d²) / (D² + d²), d = D − 2t",
        (_PRESSURE, Symbol("S", "stress that the metal may carry", "Pa"), _DIAMETER, _WALL), (DIAMETER, WALL_SHARE),
        ("timoshenko-1956, thick-walled cylinder",),
    ),
)  # fmt: skip
