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


_CLASSES: dict[tuple[str, str], tuple[float, float, str]] = {
    **{(kind, "1"): (1.5, 0.004, "iec-60584-1") for kind in ("type-e", "type-j", "type-k", "type-n")},
    **{(kind, "2"): (2.5, 0.0075, "iec-60584-1") for kind in ("type-e", "type-j", "type-k", "type-n")},
    **{(kind, "3"): (2.5, 0.015, "iec-60584-1") for kind in ("type-e", "type-k", "type-n")},
    ("type-t", "1"): (0.5, 0.004, "iec-60584-1"), ("type-t", "2"): (1.0, 0.0075, "iec-60584-1"),
    ("type-t", "3"): (1.0, 0.015, "iec-60584-1"), ("platinum", "AA"): (0.1, 0.0017, "iec-60751"),
    ("platinum", "A"): (0.15, 0.002, "iec-60751"), ("platinum", "B"): (0.3, 0.005, "iec-60751"),
    ("platinum", "C"): (0.6, 0.01, "iec-60751"),
}  # fmt: skip
"""By kind and class: K, K for each kelvin from 0 °C, and the standard; numbers from memory of the standards."""

CLASSES = Validity("temperature of a probe by class", ZERO_CELSIUS - 40.0, ZERO_CELSIUS + 250.0, "K", "iec-60584-1")


def class_tolerance(kind: str, grade: str, temperature: ArrayLike) -> FloatArray:
    """Give how far a probe of a class may be off when it is new.

    A thermocouple has the larger of two terms, a platinum thermometer their sum. Every error within is taken as equally
    likely, so that the standard uncertainty is the tolerance over √3 (jcgm-100, 4.3.7).

    Parameters: kind, as type-k or platinum; grade, its class; temperature T, K, any shape (t = T − 273.15 K below).
    Returns: tolerance, a half-width, K, same shape.
    Valid for: −40 to 250 °C; class 3 of thermocouples to 40 °C.
    Equation: max(a, b |t|) of thermocouples, a + b |t| of platinum.
    Source: iec-60584-1, iec-60751.

    >>> [round(float(class_tolerance(kind, grade, 373.15)), 3) for kind, grade in (("type-k", "1"), ("platinum", "A"))]
    [1.5, 0.35]
    """
    if (kind, grade) not in _CLASSES:
        raise ValueError(f"no class {grade} of {kind}")
    CLASSES.check(temperature)
    celsius = np.abs(np.asarray(temperature, dtype=np.float64) - ZERO_CELSIUS)
    if grade == "3" and (np.asarray(temperature) > ZERO_CELSIUS + 40.0).any():
        raise ValueError("class 3 is for 40 °C and below")
    fixed, share, _ = _CLASSES[kind, grade]
    return np.asarray(fixed + share * celsius if kind == "platinum" else np.maximum(fixed, share * celsius))


_TEMPERATURE = Symbol("t", "temperature", "°C")

FORMULAS = (
    Formula("Resistance of a Pt100", "R = 100 Ω (1 + A t + B t²)", (Symbol("R", "resistance", "Ω"), _TEMPERATURE),
            (PLATINUM,), ("iec-60751, equation 2",)),
    Formula("Voltage of a type K thermocouple", "E = Σ c t^i + a₀ exp[a₁ (t − a₂)²]",
            (Symbol("E", "voltage", "V"), _TEMPERATURE), (TYPE_K,), ("nist-its90",)),
    Formula("Tolerance of a probe", "max(a, b |t|) of thermocouples, a + b |t| of platinum",
            (Symbol("a, b", "by kind and class", "K, 1"), _TEMPERATURE), (CLASSES,), ("iec-60584-1", "iec-60751")),
    Formula("Lag of a sensor", "ΔT (1 − exp(−t/τ))", (Symbol("τ", "lag", "s"), Symbol("t", "time", "s")), (LAG,),
            ("incropera, equation 5.6",)),
    Formula("Lag of a bead", "τ = ρ c D / (6 h)",
            (Symbol("τ", "lag", "s"), Symbol("h", "heat transfer coefficient", "W/(m²·K)")), (BIOT,),
            ("incropera, equations 5.7 and 5.10",)),
)  # fmt: skip
