"""What thermometers give and how late: Pt100, type K thermocouple, first-order lag."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.temperature import ZERO_CELSIUS
from guidegen.heat.validity import FloatArray, Validity

_PLATINUM_A = 3.9083e-3  # 1/°C, iec-60751
_PLATINUM_B = -5.775e-7  # 1/°C², iec-60751
_PLATINUM_AT_ZERO = 100.0  # Ω

# nist-its90, type K, 0 to 1372 °C: mV per power of °C, and the term of the magnetic ordering near 127 °C.
_TYPE_K = (
    -0.176004136860e-1, 0.389212049750e-1, 0.185587700320e-4, -0.994575928740e-7, 0.318409457190e-9,
    -0.560728448890e-12, 0.560750590590e-15, -0.320207200030e-18, 0.971511471520e-22, -0.121047212750e-25,
)  # fmt: skip
_ORDERING = (0.118597600000, -0.118343200000e-3, 126.9686)

PLATINUM = Validity("temperature of the Pt100", ZERO_CELSIUS, ZERO_CELSIUS + 850.0, "K", "iec-60751")
TYPE_K = Validity("temperature of the type K junction", ZERO_CELSIUS, ZERO_CELSIUS + 1372.0, "K", "nist-its90")
LAG = Validity("lag", 1e-6, 1e4, "s", "definition")
BIOT = Validity("Biot number", 0.0, 0.1, "", "incropera, section 5.2")


def platinum_resistance(temperature: ArrayLike) -> FloatArray:
    """Give the resistance of a Pt100.

    Parameters: temperature T, K, any shape (t = T − 273.15 K below).
    Returns: resistance R, Ω, same shape.
    Valid for: 0 to 850 °C.
    Equation: R = 100 Ω (1 + A t + B t²), A = 3.9083e−3 / °C, B = −5.775e−7 / °C².
    Source: iec-60751, equation 2.

    >>> round(float(platinum_resistance(373.15)), 4)  # = 100 * (1 + 3.9083e-3 * 100 - 5.775e-7 * 100**2)
    138.5055
    """
    PLATINUM.check(temperature)
    celsius = np.asarray(temperature, dtype=np.float64) - ZERO_CELSIUS
    return np.asarray(_PLATINUM_AT_ZERO * (1 + _PLATINUM_A * celsius + _PLATINUM_B * celsius**2))


def platinum_temperature(resistance: ArrayLike) -> FloatArray:
    """Give the temperature of a Pt100.

    Parameters: resistance R, Ω, any shape.
    Returns: temperature T, K, same shape.
    Valid for: 100 to 390.481 Ω (0 to 850 °C).
    Equation: the positive root of `platinum_resistance`.
    Source: iec-60751, equation 2.

    >>> round(float(platinum_temperature(123.2419)), 2)  # iec-60751, 60 °C: = 273.15 + 60
    333.15
    """
    Validity("resistance of the Pt100", 100.0, 390.4813, "Ω", "iec-60751").check(resistance)
    ratio = np.asarray(resistance, dtype=np.float64) / _PLATINUM_AT_ZERO
    root = np.sqrt(_PLATINUM_A**2 - 4 * _PLATINUM_B * (1 - ratio))
    return np.asarray(ZERO_CELSIUS + (-_PLATINUM_A + root) / (2 * _PLATINUM_B), dtype=np.float64)


def type_k_voltage(temperature: ArrayLike) -> FloatArray:
    """Give the voltage of a type K thermocouple whose reference junction is at 0 °C.

    Parameters: temperature T, K, any shape (t = T − 273.15 K below).
    Returns: voltage E, V, same shape.
    Valid for: 0 to 1372 °C.
    Equation: E = Σ c t^i + a₀ exp[a₁ (t − a₂)²], ten terms.
    Source: nist-its90, type K reference function.

    >>> round(float(type_k_voltage(373.15)) * 1e3, 3)  # nist-its90, 100 °C
    4.096
    """
    TYPE_K.check(temperature)
    celsius = np.asarray(temperature, dtype=np.float64) - ZERO_CELSIUS
    height, width, place = _ORDERING
    millivolts = np.polynomial.polynomial.polyval(celsius, _TYPE_K) + height * np.exp(width * (celsius - place) ** 2)
    return np.asarray(1e-3 * millivolts, dtype=np.float64)


def lagged(step: ArrayLike, time: ArrayLike, lag: ArrayLike) -> FloatArray:
    """Give what a sensor has followed of a step in its surroundings.

    Parameters: step ΔT, K; time since the step t, s; lag τ, s, shapes that broadcast.
    Returns: change of the reading, K.
    Valid for: lags from a microsecond to 10 000 s.
    Equation: ΔT (1 − exp(−t/τ)).
    Source: incropera, equation 5.6.

    >>> round(float(lagged(1.0, 3.0, 3.0)), 4)  # = 1 - exp(-1)
    0.6321
    """
    LAG.check(lag)
    return np.asarray(np.asarray(step) * -np.expm1(-np.asarray(time) / np.asarray(lag, dtype=np.float64)))


def bead_lag(
    diameter: ArrayLike, density: ArrayLike, specific_heat: ArrayLike, coefficient: ArrayLike, conductivity: ArrayLike
) -> FloatArray:
    """Give the lag of a sensor that is a small bead of metal.

    Parameters: diameter D, m; density ρ, kg/m³; specific heat c, J/(kg·K); heat transfer coefficient h, W/(m²·K);
        conductivity of the bead k, W/(m·K), shapes that broadcast.
    Returns: lag τ, s.
    Valid for: Biot number h D / (6 k) up to 0.1, so that the bead has one temperature.
    Equation: τ = ρ c D / (6 h).
    Source: incropera, equations 5.7 and 5.10.

    >>> round(float(bead_lag(0.706e-3, 8500, 400, 400, 20)), 3)
    1.0
    """
    BIOT.check(np.asarray(coefficient) * np.asarray(diameter) / (6 * np.asarray(conductivity)))
    stored = np.asarray(density) * np.asarray(specific_heat) * np.asarray(diameter)
    return np.asarray(stored / (6 * np.asarray(coefficient, dtype=np.float64)), dtype=np.float64)


_TEMPERATURE = Symbol("t", "temperature", "°C")

FORMULAS = (
    Formula("Resistance of a Pt100", "R = 100 Ω (1 + A t + B t²)", (Symbol("R", "resistance", "Ω"), _TEMPERATURE),
            (PLATINUM,), ("iec-60751, equation 2",)),
    Formula("Voltage of a type K thermocouple", "E = Σ c t^i + a₀ exp[a₁ (t − a₂)²]",
            (Symbol("E", "voltage", "V"), _TEMPERATURE), (TYPE_K,), ("nist-its90",)),
    Formula("Lag of a sensor", "ΔT (1 − exp(−t/τ))", (Symbol("τ", "lag", "s"), Symbol("t", "time", "s")), (LAG,),
            ("incropera, equation 5.6",)),
    Formula("Lag of a bead", "τ = ρ c D / (6 h)",
            (Symbol("τ", "lag", "s"), Symbol("h", "heat transfer coefficient", "W/(m²·K)")), (BIOT,),
            ("incropera, equations 5.7 and 5.10",)),
)  # fmt: skip
