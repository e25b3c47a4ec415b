"""Friction factors (Darcy's) of straight and of coiled tube, and where a coil's flow turns turbulent."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.validity import FloatArray, Validity

LAMINAR_STRAIGHT = Validity("Reynolds number of laminar straight flow", 1e-3, 2300.0, "", "white-2011, section 6.2")
TURBULENT = Validity("Reynolds number of turbulent straight flow", 4000.0, 1e8, "", "colebrook-1939")
ROUGHNESS = Validity("roughness over diameter", 0.0, 0.05, "", "colebrook-1939")
COILED = Validity("Reynolds number of coiled flow", 100.0, 1.5e5, "", "schmidt-1967")
CURVATURE = Validity("tube bore over coil diameter", 1e-3, 0.14, "", "schmidt-1967")
WHITE_DEAN = Validity("Dean number", 11.6, 2000.0, "", "white-1929")
MORI_NAKAYAMA_DEAN = Validity("Dean number", 100.0, 2000.0, "", "mori-nakayama-1964")

_TURBULENT_LAW_CHANGES = 2.2e4  # schmidt-1967 gives one law below and another above


def straight_laminar(reynolds: ArrayLike) -> FloatArray:
    """Give the friction factor of laminar flow in a straight tube.

    Parameters: Reynolds number Re, any shape.
    Returns: Darcy friction factor f, same shape.
    Valid for: Re up to 2300.
    Equation: f = 64 / Re.
    Source: white-2011, equation 6.13 (Hagen and Poiseuille).

    >>> float(straight_laminar(1000))  # = 64 / 1000
    0.064
    """
    LAMINAR_STRAIGHT.check(reynolds)
    return np.asarray(64 / np.asarray(reynolds, dtype=np.float64), dtype=np.float64)


def colebrook(reynolds: ArrayLike, relative_roughness: ArrayLike = 0.0) -> FloatArray:
    """Give the friction factor of turbulent flow in a straight tube.

    Parameters: Reynolds number Re; roughness over diameter ε/D, shapes that broadcast.
    Returns: Darcy friction factor f.
    Valid for: Re 4000 to 10⁸, ε/D up to 0.05.
    Equation: 1/√f = −2 log₁₀(ε/D / 3.7 + 2.51 / (Re √f)), solved by Newton's steps to rounding.
    Source: colebrook-1939, equation 10.

    >>> round(float(colebrook(1e5, 1e-4)), 7)  # = (-2 * log10(1e-4 / 3.7 + 2.51 / (1e5 * sqrt(0.0185139))))**-2
    0.0185139
    """
    TURBULENT.check(reynolds)
    ROUGHNESS.check(relative_roughness)
    return _colebrook(np.asarray(reynolds, dtype=np.float64), np.asarray(relative_roughness, dtype=np.float64))


def _colebrook(reynolds: FloatArray, relative_roughness: FloatArray) -> FloatArray:
    """Solve Colebrook's equation wherever it has a solution; the coil's law uses it below 4000 as well."""
    rough, viscous = relative_roughness / 3.7, 2.51 / reynolds
    inverse_root = np.full(np.broadcast(rough, viscous).shape, 7.0)
    # The function is convex and monotonic, so Newton's steps from inside the range of tubes end at rounding.
    for _ in range(12):
        inside = rough + viscous * inverse_root
        mismatch = inverse_root + 2 * np.log10(inside)
        inverse_root = inverse_root - mismatch / (1 + 2 * viscous / (inside * math.log(10)))
    return np.asarray(inverse_root**-2, dtype=np.float64)


def dean(reynolds: ArrayLike, curvature: ArrayLike) -> FloatArray:
    """Give the Dean number, which orders laminar flow in a coil.

    Parameters: Reynolds number Re; bore over coil diameter d/D, shapes that broadcast.
    Returns: De.
    Valid for: any.
    Equation: De = Re √(d/D).
    Source: dean-1928.

    >>> round(float(dean(1000, 0.04)), 1)  # = 1000 * 0.2
    200.0
    """
    return np.asarray(np.asarray(reynolds) * np.sqrt(np.asarray(curvature, dtype=np.float64)), dtype=np.float64)


def critical_reynolds(curvature: ArrayLike) -> dict[str, FloatArray]:
    """Give the Reynolds number at which a coil's flow turns turbulent, by four sources that differ by half.

    Parameters: bore over coil diameter d/D, any shape.
    Returns: source key to critical Re; `schmidt-1967` is the one the pressure loss uses.
    Valid for: d/D 0.001 to 0.14.
    Equation: 1900 [1 + 8 (d/D)^0.5]; 2300 [1 + 8.6 (d/D)^0.45]; 20000 (d/D)^0.32; 2100 [1 + 12 (d/D)^0.5].
    Source: seth-stahel-1969; schmidt-1967; ito-1959; srinivasan-1970.

    >>> {key: round(float(value)) for key, value in critical_reynolds(6 / 78).items()}
    ... # = 1900 * (1 + 8 * (6 / 78)**0.5), 2300 * (1 + 8.6 * (6 / 78)**0.45)
    ... # = 2e4 * (6 / 78)**0.32, 2100 * (1 + 12 * (6 / 78)**0.5)
    {'seth-stahel-1969': 6116, 'schmidt-1967': 8537, 'ito-1959': 8802, 'srinivasan-1970': 9089}
    """
    CURVATURE.check(curvature)
    ratio = np.asarray(curvature, dtype=np.float64)
    return {
        "seth-stahel-1969": np.asarray(1900 * (1 + 8 * ratio**0.5)),
        "schmidt-1967": np.asarray(2300 * (1 + 8.6 * ratio**0.45)),
        "ito-1959": np.asarray(20_000 * ratio**0.32),
        "srinivasan-1970": np.asarray(2100 * (1 + 12 * ratio**0.5)),
    }


def coiled_white(reynolds: ArrayLike, curvature: ArrayLike) -> FloatArray:
    """Give the friction factor of laminar flow in a coil after White.

    Parameters: Reynolds number Re; bore over coil diameter d/D, shapes that broadcast.
    Returns: Darcy friction factor f.
    Valid for: De 11.6 to 2000.
    Equation: f = (64 / Re) / {1 − [1 − (11.6/De)^0.45]^(1/0.45)}.
    Source: white-1929.

    >>> round(float(coiled_white(1000, 6 / 78)), 5)
    ... # = 0.064 / (1 - (1 - (11.6 / (1000 * sqrt(6 / 78)))**0.45)**(1 / 0.45))
    0.14033
    """
    number = dean(reynolds, curvature)
    WHITE_DEAN.check(number)
    straight = 64 / np.asarray(reynolds, dtype=np.float64)
    return np.asarray(straight / (1 - (1 - (11.6 / number) ** 0.45) ** (1 / 0.45)), dtype=np.float64)


def coiled_mori_nakayama(reynolds: ArrayLike, curvature: ArrayLike) -> FloatArray:
    """Give the friction factor of laminar flow in a coil after Mori and Nakayama.

    Parameters: Reynolds number Re; bore over coil diameter d/D, shapes that broadcast.
    Returns: Darcy friction factor f.
    Valid for: De 100 to 2000.
    Equation: f = (64 / Re) · 0.108 √De / (1 − 3.253 / √De).
    Source: mori-nakayama-1964.

    >>> round(float(coiled_mori_nakayama(1000, 6 / 78)), 5)
    ... # = 0.064 * 0.108 * sqrt(1000 * sqrt(6 / 78)) / (1 - 3.253 / sqrt(1000 * sqrt(6 / 78)))
    0.14305
    """
    number = dean(reynolds, curvature)
    MORI_NAKAYAMA_DEAN.check(number)
    root = np.sqrt(number)
    return np.asarray(64 / np.asarray(reynolds) * 0.108 * root / (1 - 3.253 / root), dtype=np.float64)


def coiled(reynolds: ArrayLike, curvature: ArrayLike, relative_roughness: ArrayLike = 0.0) -> FloatArray:
    """Give the friction factor of a coil, laminar or turbulent, after Schmidt: the one that the pressure loss uses.

    Parameters: Reynolds number Re; bore over coil diameter d/D; roughness over bore ε/d, shapes that broadcast.
    Returns: Darcy friction factor f.
    Valid for: Re 100 to 150 000, d/D 0.001 to 0.14.
    Equation: laminar f = (64 / Re) {1 + 0.14 (d/D)^0.97 Re^[1 − 0.644 (d/D)^0.312]}; turbulent, f₀ Colebrook's,
        f = f₀ [1 + 28800/Re (d/D)^0.62] to Re 22 000, above f₀ [1 + 0.0823 (1 + d/D) (d/D)^0.53 Re^0.25].
    Source: schmidt-1967.

    >>> round(float(coiled(1000, 6 / 78)), 5)
    ... # = 0.064 * (1 + 0.14 * (6 / 78)**0.97 * 1000**(1 - 0.644 * (6 / 78)**0.312))
    0.1649
    """
    COILED.check(reynolds)
    CURVATURE.check(curvature)
    ROUGHNESS.check(relative_roughness)
    number, ratio, rough = np.broadcast_arrays(
        np.asarray(reynolds, dtype=np.float64),
        np.asarray(curvature, dtype=np.float64),
        np.asarray(relative_roughness, dtype=np.float64),
    )
    laminar = 64 / number * (1 + 0.14 * ratio**0.97 * number ** (1 - 0.644 * ratio**0.312))
    straight = _colebrook(number, rough)
    turbulent = np.where(
        number < _TURBULENT_LAW_CHANGES,
        straight * (1 + 2.88e4 / number * ratio**0.62),
        straight * (1 + 0.0823 * (1 + ratio) * ratio**0.53 * number**0.25),
    )
    return np.asarray(np.where(number < critical_reynolds(ratio)["schmidt-1967"], laminar, turbulent))


_FACTOR = Symbol("f", "Darcy friction factor", "")
_REYNOLDS = Symbol("Re", "Reynolds number", "")
_RATIO = Symbol("d/D", "bore over coil diameter", "")

FORMULAS = (
    Formula("Friction, straight, laminar", "f = 64 / Re", (_FACTOR, _REYNOLDS), (LAMINAR_STRAIGHT,),
            ("white-2011, equation 6.13",)),
    Formula("Friction, straight, turbulent", "1/√f = −2 log₁₀(ε/D / 3.7 + 2.51 / (Re √f))", (_FACTOR, _REYNOLDS),
            (TURBULENT, ROUGHNESS), ("colebrook-1939, equation 10",)),
    Formula("Friction of a coil", "f = (64 / Re) {1 + 0.14 (d/D)^0.97 Re^[1 − 0.644 (d/D)^0.312]}",
            (_FACTOR, _REYNOLDS, _RATIO), (COILED, CURVATURE), ("schmidt-1967", "white-1929", "mori-nakayama-1964")),
    Formula("Critical Reynolds number of a coil", "Re = 2300 [1 + 8.6 (d/D)^0.45]", (_REYNOLDS, _RATIO), (CURVATURE,),
            ("schmidt-1967", "seth-stahel-1969", "ito-1959", "srinivasan-1970")),
)  # fmt: skip
