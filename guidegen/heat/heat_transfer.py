"""Heat from a coil's tube to the water in it, at rest and in flow, and what a flow takes up on its way."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.friction import CURVATURE, critical_reynolds
from guidegen.heat.hydraulics import reynolds
from guidegen.heat.validity import FloatArray, Validity, ValidityError
from guidegen.heat.water_transport import conductivity, prandtl

PRANDTL = Validity("Prandtl number", 0.7, 100.0, "", "vdi-heat-atlas-2002, section Gc")
UNITS = Validity("number of transfer units", 0.0, math.inf, "", "incropera, section 11.4")
XIN_EBADIAN = (
    Validity("Reynolds number", 5e3, 1e5, "", "xin-ebadian-1997"),
    Validity("Prandtl number", 0.7, 5.0, "", "xin-ebadian-1997"),
    Validity("tube bore over coil diameter", 0.0267, 0.0884, "", "xin-ebadian-1997"),
)
MORI_NAKAYAMA = (
    Validity("Re (d/D)²", 0.1, math.inf, "", "mori-nakayama-1967"),
    Validity("Prandtl number", 1.0, math.inf, "", "mori-nakayama-1967, law for Pr of 1 and more"),
)

SCHMIDT_REYNOLDS = Validity("Reynolds number", 2.3e3, 2.2e4, "", "schmidt-1967")

FIRST_ZERO_OF_BESSEL_J0 = 2.404825557695773
"""Abramowitz and Stegun, table 9.5: the slowest heat wave in a cylinder whose wall is held at one temperature."""

NUSSELT_AT_REST = FIRST_ZERO_OF_BESSEL_J0**2
"""Nusselt number, about mean water temperature, of still water in a tube that conducts only."""


def effectiveness(transfer_units: ArrayLike) -> FloatArray:
    """Give the share of the possible warming that a flow takes up along a wall of one temperature.

    Parameters: number of transfer units NTU = G / (ṁ c), any shape.
    Returns: effectiveness ε, 0 to 1, same shape.
    Valid for: NTU ≥ 0, a wall of one temperature (heat capacity ratio 0).
    Equation: ε = 1 − exp(−NTU).
    Source: incropera, equation 11.35a.

    >>> round(float(effectiveness(0.1)), 6)  # = 1 - exp(-0.1)
    0.095163
    """
    UNITS.check(transfer_units)
    return np.asarray(-np.expm1(-np.asarray(transfer_units, dtype=np.float64)), dtype=np.float64)


def nusselt_laminar(reynolds_number: ArrayLike, prandtl_number: ArrayLike, curvature: ArrayLike) -> FloatArray:
    """Give the mean Nusselt number of laminar flow in a coil.

    Parameters: Reynolds number Re; Prandtl number Pr; bore over coil diameter d/D, shapes that broadcast.
    Returns: Nu.
    Valid for: Re up to Schmidt's critical value, d/D 0.001 to 0.14.
    Equation: Nu = 3.66 + 0.08 [1 + 0.8 (d/D)^0.9] Re^m Pr^⅓, m = 0.5 + 0.2903 (d/D)^0.194.
    Source: vdi-heat-atlas-2002, section Gc, equation 5 (gnielinski-1986, schmidt-1967).

    >>> round(float(nusselt_laminar(0.0, 3.0, 6 / 78)), 2)  # vdi-heat-atlas-2002
    3.66
    """
    PRANDTL.check(prandtl_number)
    CURVATURE.check(curvature)
    number, ratio = np.asarray(reynolds_number, dtype=np.float64), np.asarray(curvature, dtype=np.float64)
    critical = critical_reynolds(ratio)["schmidt-1967"]
    turbulent = ~((number >= 0) & (number <= critical))
    if turbulent.any():
        worst = np.broadcast_to(number, turbulent.shape)[turbulent].flat[0]
        raise ValidityError("Reynolds number of laminar coiled flow", float(worst), 0.0, float(np.min(critical)), "",
                            "schmidt-1967")  # fmt: skip
    exponent = 0.5 + 0.2903 * ratio**0.194
    prandtl_root = np.asarray(prandtl_number, dtype=np.float64) ** (1 / 3)
    return np.asarray(3.66 + 0.08 * (1 + 0.8 * ratio**0.9) * number**exponent * prandtl_root, dtype=np.float64)


def nusselt_xin_ebadian(reynolds_number: ArrayLike, prandtl_number: ArrayLike, curvature: ArrayLike) -> FloatArray:
    """Give the Nusselt number of turbulent flow in a coil after Xin and Ebadian.

    Parameters: Reynolds number Re; Prandtl number Pr; bore over coil diameter d/D, shapes that broadcast.
    Returns: Nu.
    Valid for: Re 5000 to 100 000, Pr 0.7 to 5, d/D 0.0267 to 0.0884.
    Equation: Nu = 0.00619 Re^0.92 Pr^0.4 (1 + 3.455 d/D).
    Source: xin-ebadian-1997.

    >>> round(float(nusselt_xin_ebadian(1e4, 3.0, 6 / 78)), 3)  # = 0.00619 * 1e4**0.92 * 3**0.4 * (1 + 3.455 * 6 / 78)
    58.196
    """
    for limit, value in zip(XIN_EBADIAN, (reynolds_number, prandtl_number, curvature), strict=True):
        limit.check(value)
    number, fluid = np.asarray(reynolds_number, dtype=np.float64), np.asarray(prandtl_number, dtype=np.float64)
    return np.asarray(0.00619 * number**0.92 * fluid**0.4 * (1 + 3.455 * np.asarray(curvature)), dtype=np.float64)


def nusselt_mori_nakayama(reynolds_number: ArrayLike, prandtl_number: ArrayLike, curvature: ArrayLike) -> FloatArray:
    """Give the Nusselt number of turbulent flow in a coil after Mori and Nakayama.

    Parameters: Reynolds number Re; Prandtl number Pr; bore over coil diameter d/D, shapes that broadcast.
    Returns: Nu.
    Valid for: Re (d/D)² above 0.1, Pr of 1 and more.
    Equation: Nu = Pr^0.4 / 41 · Re^(5/6) (d/D)^(1/12) {1 + 0.061 / [Re (d/D)^2.5]^(1/6)}.
    Source: mori-nakayama-1967.

    >>> round(float(nusselt_mori_nakayama(1e4, 3.0, 6 / 78)), 3)
    ... # = 3**0.4 / 41 * 1e4**(5 / 6) * (6 / 78)**(1 / 12) * (1 + 0.061 / (1e4 * (6 / 78)**2.5)**(1 / 6))
    68.372
    """
    number, ratio = np.asarray(reynolds_number, dtype=np.float64), np.asarray(curvature, dtype=np.float64)
    for limit, value in zip(MORI_NAKAYAMA, (number * ratio**2, prandtl_number), strict=True):
        limit.check(value)
    fluid = np.asarray(prandtl_number, dtype=np.float64) ** 0.4
    coil = ratio ** (1 / 12) * (1 + 0.061 / (number * ratio**2.5) ** (1 / 6))
    return np.asarray(fluid / 41 * number ** (5 / 6) * coil, dtype=np.float64)


def nusselt_schmidt(reynolds_number: ArrayLike, prandtl_number: ArrayLike, curvature: ArrayLike) -> FloatArray:
    """Give the Nusselt number of turbulent flow in a coil after Schmidt.

    Parameters: Reynolds number Re; Prandtl number Pr; bore over coil diameter d/D, shapes that broadcast.
    Returns: Nu.
    Valid for: Re to 22 000, above the critical value; d/D 0.001 to 0.14.
    Equation: Nu = 0.023 [1 + 14.8 (1 + d/D) (d/D)^⅓] Re^[0.8 − 0.22 (d/D)^0.1] Pr^⅓.
    Source: schmidt-1967.

    >>> round(float(nusselt_schmidt(1e4, 3.0, 6 / 78)), 3)
    ... # = 0.023 * (1 + 14.8 * (1 + 6 / 78) * (6 / 78)**(1 / 3)) * 1e4**(0.8 - 0.22 * (6 / 78)**0.1) * 3**(1 / 3)
    85.262
    """
    SCHMIDT_REYNOLDS.check(reynolds_number)
    CURVATURE.check(curvature)
    number, ratio = np.asarray(reynolds_number, dtype=np.float64), np.asarray(curvature, dtype=np.float64)
    coil = 1 + 14.8 * (1 + ratio) * ratio ** (1 / 3)
    fluid = np.asarray(prandtl_number, dtype=np.float64) ** (1 / 3)
    return np.asarray(0.023 * coil * number ** (0.8 - 0.22 * ratio**0.1) * fluid, dtype=np.float64)


def conductance_at_rest(length: ArrayLike, temperature: ArrayLike) -> FloatArray:
    """Give the conductance from a tube's wall to the still water in it.

    Conduction only. Warm water rises inside the tube as well, so the true value is higher.

    Parameters: length of the tube L, m; temperature T, K, shapes that broadcast.
    Returns: conductance G, W/K, from the wall to the mean temperature of the water.
    Valid for: after the first quarter of the time d²/(4 a), 273.15 to 383.15 K.
    Equation: G = j² π k L, j = 2.4048 the first zero of the Bessel function J₀.
    Source: carslaw-jaeger-1959, section 7.6.

    >>> round(float(conductance_at_rest(2.05, 323.15)), 1)
    ... # water at 50 °C has 0.641 W/(m·K): = 2.4048**2 * pi * 0.641 * 2.05
    23.9
    """
    return np.asarray(NUSSELT_AT_REST * math.pi * conductivity(temperature) * np.asarray(length, dtype=np.float64))


def conductance_in_flow(
    flow: ArrayLike, bore: ArrayLike, coil_diameter: ArrayLike, length: ArrayLike, temperature: ArrayLike
) -> FloatArray:
    """Give the conductance from a coil's wall to the water that flows through it in laminar flow.

    Parameters: volume flow Q, m³/s; bore d, m; mean diameter of the turns D, m; length L, m; mean temperature of
        the water T, K, shapes that broadcast.
    Returns: conductance G, W/K.
    Valid for: as `nusselt_laminar`, 273.15 to 383.15 K.
    Equation: G = Nu π k L.
    Source: vdi-heat-atlas-2002, section Gc, equation 5.

    >>> round(float(conductance_in_flow(2e-6, 6e-3, 78e-3, 2.05, 323.15)))
    64
    """
    number = nusselt_laminar(
        reynolds(flow, bore, temperature), prandtl(temperature), np.asarray(bore) / np.asarray(coil_diameter)
    )
    return np.asarray(number * math.pi * conductivity(temperature) * np.asarray(length, dtype=np.float64))


_NUSSELT = Symbol("Nu", "Nusselt number", "")
_RATIO = Symbol("d/D", "bore over coil diameter", "")
_CONDUCTANCE = Symbol("G", "conductance", "W/K")

FORMULAS = (
    Formula("Effectiveness", "ε = 1 − exp(−NTU)",
            (Symbol("ε", "effectiveness", ""), Symbol("NTU", "transfer units, G / (ṁ c)", "")), (UNITS,),
            ("incropera, equation 11.35a",)),
    Formula("Heat transfer in a coil, laminar", "Nu = 3.66 + 0.08 [1 + 0.8 (d/D)^0.9] Re^m Pr^⅓",
            (_NUSSELT, _RATIO), (PRANDTL, CURVATURE), ("vdi-heat-atlas-2002, section Gc, equation 5",)),
    Formula("Heat transfer in a coil, turbulent", "Nu = 0.00619 Re^0.92 Pr^0.4 (1 + 3.455 d/D)", (_NUSSELT, _RATIO),
            XIN_EBADIAN, ("xin-ebadian-1997", "mori-nakayama-1967", "schmidt-1967")),
    Formula("Wall to still water", "G = j² π k L", (_CONDUCTANCE, Symbol("j", "first zero of J₀", ""),
            Symbol("k", "conductivity of water", "W/(m·K)"), Symbol("L", "length", "m")), (),
            ("carslaw-jaeger-1959, section 7.6",)),
    Formula("Wall to flowing water", "G = Nu π k L", (_CONDUCTANCE, _NUSSELT), (PRANDTL, CURVATURE),
            ("vdi-heat-atlas-2002, section Gc, equation 5",)),
)  # fmt: skip
