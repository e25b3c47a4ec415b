"""Liquid water: density, specific heat, enthalpy and the line on which it boils.

The industrial formulation of 1997 (IAPWS R7-97, revised 2012), region 1 for the liquid and region 4 for the boiling
line. Temperatures in kelvin, pressures absolute in pascal. Viscosity and conductivity are in `water_transport`.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.temperature import ZERO_CELSIUS
from guidegen.heat.validity import FloatArray, Validity, ValidityError

ATMOSPHERIC_PRESSURE = 101_325.0
"""Standard atmosphere in pascal, the default pressure of every function here."""

COLD_WATER = 998.0
"""kg/m³ of the feed, and of the water that returns to the tank."""

UNDER_PRESSURE = 3e5
"""Pa in an idle boiler and its coil, in which they are full: the density hardly depends on how many."""

GAS_CONSTANT = 461.526
"""Specific gas constant of water in J/(kg·K), IAPWS R7-97 equation 1."""

LIQUID_TEMPERATURE = Validity("water temperature", ZERO_CELSIUS, 623.15, "K", "iapws-r7, region 1")
LIQUID_PRESSURE = Validity("water pressure", 0.0, 100e6, "Pa", "iapws-r7, region 1")
BOILING_TEMPERATURE = Validity("boiling temperature", ZERO_CELSIUS, 647.096, "K", "iapws-r7, region 4")
BOILING_PRESSURE = Validity("boiling pressure", 611.213, 22.064e6, "Pa", "iapws-r7, region 4")

# IAPWS R7-97 table 2: exponents I and J and the coefficient n of the 34 terms of region 1.
_REGION_1 = np.array(
    [
        (0, -2, 0.14632971213167), (0, -1, -0.84548187169114), (0, 0, -0.37563603672040e1),
        (0, 1, 0.33855169168385e1), (0, 2, -0.95791963387872), (0, 3, 0.15772038513228),
        (0, 4, -0.16616417199501e-1), (0, 5, 0.81214629983568e-3), (1, -9, 0.28319080123804e-3),
        (1, -7, -0.60706301565874e-3), (1, -1, -0.18990068218419e-1), (1, 0, -0.32529748770505e-1),
        (1, 1, -0.21841717175414e-1), (1, 3, -0.52838357969930e-4), (2, -3, -0.47184321073267e-3),
        (2, 0, -0.30001780793026e-3), (2, 1, 0.47661393906987e-4), (2, 3, -0.44141845330846e-5),
        (2, 17, -0.72694996297594e-15), (3, -4, -0.31679644845054e-4), (3, 0, -0.28270797985312e-5),
        (3, 6, -0.85205128120103e-9), (4, -5, -0.22425281908000e-5), (4, -2, -0.65171222895601e-6),
        (4, 10, -0.14341729937924e-12), (5, -8, -0.40516996860117e-6), (8, -11, -0.12734301741641e-8),
        (8, -6, -0.17424871230634e-9), (21, -29, -0.68762131295531e-18), (23, -31, 0.14478307828521e-19),
        (29, -38, 0.26335781662795e-22), (30, -39, -0.11947622640071e-22), (31, -40, 0.18228094581404e-23),
        (32, -41, -0.93537087292458e-25),
    ]
)  # fmt: skip
_POWER_OF_PRESSURE, _POWER_OF_TEMPERATURE, _COEFFICIENT = _REGION_1.T

# IAPWS R7-97 table 34: the ten coefficients of region 4, numbered from one as there.
_BOILING = (
    0.0, 0.11670521452767e4, -0.72421316703206e6, -0.17073846940092e2, 0.12020824702470e5, -0.32325550322333e7,
    0.14915108613530e2, -0.48232657361591e4, 0.40511340542057e6, -0.23855557567849, 0.65017534844798e3,
)  # fmt: skip


def saturation_pressure(temperature: ArrayLike) -> FloatArray:
    """Give the absolute pressure at which water of a temperature boils.

    Parameters: temperature T, K, any shape.
    Returns: pressure p, Pa, same shape.
    Valid for: 273.15 to 647.096 K.
    Equation: p = 1 MPa · [2C / (−B + √(B² − 4AC))]⁴, with A, B, C quadratic in ϑ = T + n₉/(T − n₁₀).
    Source: iapws-r7, equation 30 and table 34.

    >>> round(float(saturation_pressure(300.0)), 2)  # iapws-r7, table 35
    3536.59
    """
    BOILING_TEMPERATURE.check(temperature)
    kelvin = np.asarray(temperature, dtype=np.float64)
    n = _BOILING
    theta = kelvin + n[9] / (kelvin - n[10])
    a = theta**2 + n[1] * theta + n[2]
    b = n[3] * theta**2 + n[4] * theta + n[5]
    c = n[6] * theta**2 + n[7] * theta + n[8]
    return np.asarray(1e6 * (2 * c / (-b + np.sqrt(b**2 - 4 * a * c))) ** 4, dtype=np.float64)


def saturation_temperature(pressure: ArrayLike) -> FloatArray:
    """Give the temperature at which water under a pressure boils.

    Parameters: pressure p, Pa absolute, any shape.
    Returns: temperature T, K, same shape.
    Valid for: 611.213 Pa to 22.064 MPa.
    Equation: T = [n₁₀ + D − √((n₁₀ + D)² − 4(n₉ + n₁₀D))] / 2, D from E, F, G quadratic in β = (p / 1 MPa)^¼.
    Source: iapws-r7, equation 31 and table 34.

    >>> round(float(saturation_temperature(1e6)), 3)  # iapws-r7, table 36
    453.036
    """
    BOILING_PRESSURE.check(pressure)
    beta = (np.asarray(pressure, dtype=np.float64) / 1e6) ** 0.25
    n = _BOILING
    e = beta**2 + n[3] * beta + n[6]
    f = n[1] * beta**2 + n[4] * beta + n[7]
    g = n[2] * beta**2 + n[5] * beta + n[8]
    d = 2 * g / (-f - np.sqrt(f**2 - 4 * e * g))
    together = n[10] + d
    return np.asarray((together - np.sqrt(together**2 - 4 * (n[9] + n[10] * d))) / 2, dtype=np.float64)


def _reduced(temperature: ArrayLike, pressure: ArrayLike) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    """Check that the water is liquid; give T, p, and the bases of both powers with the terms on a last axis."""
    LIQUID_TEMPERATURE.check(temperature)
    LIQUID_PRESSURE.check(pressure)
    kelvin, pascal = np.broadcast_arrays(
        np.asarray(temperature, dtype=np.float64), np.asarray(pressure, dtype=np.float64)
    )
    boils_at = saturation_pressure(kelvin)
    vapour = pascal < boils_at
    if vapour.any():
        # Below its boiling pressure the liquid's equation still gives numbers; they would be numbers of no water.
        raise ValidityError(
            "water pressure", float(pascal[vapour].flat[0]), float(boils_at[vapour].flat[0]), 100e6, "Pa",
            "iapws-r7, region 1: liquid only above the boiling line",
        )  # fmt: skip
    return kelvin, pascal, (7.1 - pascal / 16.53e6)[..., None], (1386.0 / kelvin - 1.222)[..., None]


def density(temperature: ArrayLike, pressure: ArrayLike = ATMOSPHERIC_PRESSURE) -> FloatArray:
    """Give the density of liquid water.

    Parameters: temperature T, K; pressure p, Pa absolute, shapes that broadcast.
    Returns: density ρ, kg/m³.
    Valid for: 273.15 to 623.15 K, from the boiling pressure to 100 MPa.
    Equation: 1/ρ = (R T / p) π γ_π, γ = Σ n (7.1 − π)^I (τ − 1.222)^J, π = p/16.53 MPa, τ = 1386 K / T.
    Source: iapws-r7, equation 7 and tables 2 to 4.

    >>> round(float(density(300.0, 3e6)), 3)  # iapws-r7, table 5: = 1 / 0.100215168e-2
    997.853
    """
    kelvin, _, by_pressure, by_temperature = _reduced(temperature, pressure)
    i, j, n = _POWER_OF_PRESSURE, _POWER_OF_TEMPERATURE, _COEFFICIENT
    gamma_pi = -np.sum(n * i * by_pressure ** (i - 1) * by_temperature**j, axis=-1)
    # π / p is one over the reducing pressure, so the pressure itself drops out.
    return np.asarray(16.53e6 / (GAS_CONSTANT * kelvin * gamma_pi), dtype=np.float64)


def enclosed(temperature: ArrayLike) -> FloatArray:
    """Give the density of the water that fills a closed boiler or its coil.

    Parameters: temperature T, K.
    Returns: density ρ, kg/m³.
    Valid for: 273.15 to 623.15 K.
    Equation: that of `density` at 0.3 MPa, above 133.5 °C at the pressure at which it boils.
    Source: iapws-r7.

    >>> bool(enclosed(373.15) == density(373.15, 3e5)), bool(enclosed(413.15) < enclosed(373.15))
    (True, True)
    """
    return density(temperature, np.maximum(UNDER_PRESSURE, saturation_pressure(temperature)))


def thermal_expansion(temperature: ArrayLike, pressure: ArrayLike = ATMOSPHERIC_PRESSURE) -> FloatArray:
    """Give the share by which the volume of liquid water grows with each kelvin, its pressure kept.

    Parameters: temperature T, K; pressure p, Pa absolute, shapes that broadcast.
    Returns: cubic expansion coefficient β, 1/K; negative below 4 °C.
    Valid for: 273.15 to 623.15 K, from the boiling pressure to 100 MPa.
    Equation: β = (1/v)(∂v/∂T)_p = (1 − τ γ_πτ / γ_π) / T with γ as in `density`.
    Source: iapws-r7, equation 7 and tables 2 to 4.

    >>> grown = float(density(299.5, 3e6) / density(300.5, 3e6)) - 1
    >>> abs(float(thermal_expansion(300.0, 3e6)) - grown) < 1e-7
    True
    """
    kelvin, _, by_pressure, by_temperature = _reduced(temperature, pressure)
    i, j, n = _POWER_OF_PRESSURE, _POWER_OF_TEMPERATURE, _COEFFICIENT
    gamma_pi = -np.sum(n * i * by_pressure ** (i - 1) * by_temperature**j, axis=-1)
    gamma_pi_tau = -np.sum(n * i * by_pressure ** (i - 1) * j * by_temperature ** (j - 1), axis=-1)
    return np.asarray((1 - 1386.0 / kelvin * gamma_pi_tau / gamma_pi) / kelvin, dtype=np.float64)


def compressibility(temperature: ArrayLike, pressure: ArrayLike = ATMOSPHERIC_PRESSURE) -> FloatArray:
    """Give the share by which the volume of liquid water shrinks with each pascal, its temperature kept.

    Parameters: temperature T, K; pressure p, Pa absolute, shapes that broadcast.
    Returns: isothermal compressibility κ, 1/Pa.
    Valid for: 273.15 to 623.15 K, from the boiling pressure to 100 MPa.
    Equation: κ = −(1/v)(∂v/∂p)_T = −γ_ππ / (γ_π · 16.53 MPa) with γ as in `density`.
    Source: iapws-r7, equation 7 and tables 2 to 4.

    >>> shrunk = float(density(300.0, 3.5e6) / density(300.0, 2.5e6)) - 1
    >>> abs(float(compressibility(300.0, 3e6)) - shrunk / 1e6) < 1e-12
    True
    """
    _, _, by_pressure, by_temperature = _reduced(temperature, pressure)
    i, j, n = _POWER_OF_PRESSURE, _POWER_OF_TEMPERATURE, _COEFFICIENT
    gamma_pi = -np.sum(n * i * by_pressure ** (i - 1) * by_temperature**j, axis=-1)
    gamma_pi_pi = np.sum(n * i * (i - 1) * by_pressure ** (i - 2) * by_temperature**j, axis=-1)
    return np.asarray(-gamma_pi_pi / (gamma_pi * 16.53e6), dtype=np.float64)


def specific_heat(temperature: ArrayLike, pressure: ArrayLike = ATMOSPHERIC_PRESSURE) -> FloatArray:
    """Give the specific heat of liquid water at constant pressure.

    Parameters: temperature T, K; pressure p, Pa absolute, shapes that broadcast.
    Returns: specific heat c, J/(kg·K).
    Valid for: 273.15 to 623.15 K, from the boiling pressure to 100 MPa.
    Equation: c = −R τ² γ_ττ with γ as in `density`.
    Source: iapws-r7, equation 7 and tables 2 to 4.

    >>> round(float(specific_heat(300.0, 3e6)), 2)  # iapws-r7, table 5
    4173.01
    """
    kelvin, _, by_pressure, by_temperature = _reduced(temperature, pressure)
    i, j, n = _POWER_OF_PRESSURE, _POWER_OF_TEMPERATURE, _COEFFICIENT
    gamma_tau_tau = np.sum(n * by_pressure**i * j * (j - 1) * by_temperature ** (j - 2), axis=-1)
    return np.asarray(-GAS_CONSTANT * (1386.0 / kelvin) ** 2 * gamma_tau_tau, dtype=np.float64)


def enthalpy(temperature: ArrayLike, pressure: ArrayLike = ATMOSPHERIC_PRESSURE) -> FloatArray:
    """Give the specific enthalpy of liquid water; only differences of it have a meaning here.

    Parameters: temperature T, K; pressure p, Pa absolute, shapes that broadcast.
    Returns: enthalpy h, J/kg, zero for the liquid at the triple point.
    Valid for: 273.15 to 623.15 K, from the boiling pressure to 100 MPa.
    Equation: h = R T τ γ_τ with γ as in `density`.
    Source: iapws-r7, equation 7 and tables 2 to 4.

    >>> round(float(enthalpy(300.0, 3e6)))  # iapws-r7, table 5
    115331
    """
    _, _, by_pressure, by_temperature = _reduced(temperature, pressure)
    i, j, n = _POWER_OF_PRESSURE, _POWER_OF_TEMPERATURE, _COEFFICIENT
    gamma_tau = np.sum(n * by_pressure**i * j * by_temperature ** (j - 1), axis=-1)
    # T τ is the reducing temperature, 1386 K.
    return np.asarray(GAS_CONSTANT * 1386.0 * gamma_tau, dtype=np.float64)


_TEMPERATURE = Symbol("T", "temperature", "K")
_PRESSURE = Symbol("p", "absolute pressure", "Pa")
_LIQUID = (LIQUID_TEMPERATURE, LIQUID_PRESSURE)

FORMULAS = (
    Formula(
        "Boiling pressure of water", "p = 1 MPa · [2C / (−B + √(B² − 4AC))]⁴", (_PRESSURE, _TEMPERATURE),
        (BOILING_TEMPERATURE,), ("iapws-r7, equation 30",),
    ),
    Formula(
        "Boiling temperature of water", "T = [n₁₀ + D − √((n₁₀ + D)² − 4(n₉ + n₁₀D))] / 2",
        (_TEMPERATURE, _PRESSURE), (BOILING_PRESSURE,), ("iapws-r7, equation 31",),
    ),
    Formula(
        "Density of water", "1/ρ = (R T / p) π γ_π", (Symbol("ρ", "density", "kg/m³"), _TEMPERATURE, _PRESSURE),
        _LIQUID, ("iapws-r7, equation 7",),
    ),
    Formula(
        "Expansion of water", "β = (1 − τ γ_πτ / γ_π) / T",
        (Symbol("β", "cubic expansion coefficient", "1/K"), _TEMPERATURE, _PRESSURE),
        _LIQUID, ("iapws-r7, equation 7",),
    ),
    Formula(
        "Compressibility of water", "κ = −γ_ππ / (γ_π · 16.53 MPa)",
        (Symbol("κ", "isothermal compressibility", "1/Pa"), _TEMPERATURE, _PRESSURE),
        _LIQUID, ("iapws-r7, equation 7",),
    ),
    Formula(
        "Specific heat of water", "c = −R τ² γ_ττ", (Symbol("c", "specific heat", "J/(kg·K)"), _TEMPERATURE),
        _LIQUID, ("iapws-r7, equation 7",),
    ),
    Formula(
        "Enthalpy of water", "h = R T τ γ_τ", (Symbol("h", "specific enthalpy", "J/kg"), _TEMPERATURE),
        _LIQUID, ("iapws-r7, equation 7",),
    ),
)  # fmt: skip
