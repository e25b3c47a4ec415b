"""The closed table of units: factors to SI, other spellings, limits, names.

Factors are exact by definition (international yard and pound 1959; US gallon of 231 cubic inches; standard
gravity 9.80665 m/s²); tests compare each of them with `pint`.
"""

from __future__ import annotations

import math

#: per dimension: unit as written -> (factor to SI, offset in SI). The first unit serves as the example.
UNITS: dict[str, dict[str, tuple[float, float]]] = {
    "mass": {"g": (1e-3, 0), "kg": (1, 0), "oz": (0.028349523125, 0), "lb": (0.45359237, 0)},
    "volume": {"ml": (1e-6, 0), "l": (1e-3, 0), "fl oz": (29.5735295625e-6, 0)},
    "length": {"mm": (1e-3, 0), "cm": (1e-2, 0), "m": (1, 0), "in": (0.0254, 0)},
    "temperature": {"°C": (1, 273.15), "°F": (5 / 9, 459.67 * 5 / 9), "K": (1, 0)},
    "temperature_difference": {"K": (1, 0), "°C": (1, 0), "°F": (5 / 9, 0)},
    "power": {"W": (1, 0), "kW": (1e3, 0)},
    "energy": {"J": (1, 0), "kJ": (1e3, 0), "Wh": (3600, 0), "kWh": (3.6e6, 0)},
    "pressure": {"bar": (1e5, 0), "kPa": (1e3, 0), "Pa": (1, 0), "MPa": (1e6, 0), "psi": (6894.757293168361, 0)},
    "torque": {"N·m": (1, 0), "in·lbf": (0.1129848290276167, 0)},
    "area": {"mm²": (1e-6, 0), "m²": (1, 0)},
    "time": {"s": (1, 0), "min": (60, 0), "h": (3600, 0)},
    "voltage": {"V": (1, 0)},
    "current": {"A": (1, 0)},
    "resistance": {"Ω": (1, 0), "mΩ": (1e-3, 0)},
    "conductance": {"W/K": (1, 0)},
    "heat_capacity": {"J/K": (1, 0)},
    "conductivity": {"W/(m·K)": (1, 0)},
    "specific_heat": {"J/(kg·K)": (1, 0)},
    "integral_gain": {"W/(K·s)": (1, 0)},
    "derivative_gain": {"W·s/K": (1, 0)},
    "speed": {"rpm": (math.pi / 30, 0)},
    "flow": {"ml/s": (1e-6, 0), "ml/min": (1e-6 / 60, 0), "l/h": (1e-3 / 3600, 0)},
    "sound_level": {"dB(A)": (1, 0)},
    "ratio": {"%": (0.01, 0), "": (1, 0)},
    "count": {"": (1, 0)},
}

#: units that guides print and the catalogue has no field for: of testers of the electrical trade, of a spanner's way
TEST_UNITS = {
    "MΩ": ("resistance", 1e6), "mA": ("current", 1e-3), "pH": ("acidity", 1.0), "turn": ("angle", math.tau),
    "turns": ("angle", math.tau)
}  # fmt: skip

#: what else people write for the same unit
SPELLINGS = {
    "Nm": "N·m", "N.m": "N·m", "N*m": "N·m", "N m": "N·m", "in-lbf": "in·lbf", "in lbf": "in·lbf",
    "in*lbf": "in·lbf", "lbf·in": "in·lbf", "lbf in": "in·lbf", "mL": "ml", "L": "l", "floz": "fl oz",
    "fl. oz": "fl oz", "degC": "°C", "℃": "°C", "degF": "°F", "℉": "°F", "mm2": "mm²", "m2": "m²",
    "Ohm": "Ω", "ohm": "Ω", "Ω": "Ω", "mOhm": "mΩ", "mohm": "mΩ", "mΩ": "mΩ", "W/mK": "W/(m·K)",
    "W/(m*K)": "W/(m·K)", "W/(m K)": "W/(m·K)", "J/kgK": "J/(kg·K)", "J/(kg*K)": "J/(kg·K)",
    "J/(kg K)": "J/(kg·K)", "W/(K*s)": "W/(K·s)", "W/(s·K)": "W/(K·s)", "W/(K s)": "W/(K·s)",
    "W*s/K": "W·s/K", "W s/K": "W·s/K", "Ws/K": "W·s/K", "mL/s": "ml/s", "mL/min": "ml/min", "L/h": "l/h",
    "1/min": "rpm", "kWh": "kWh", "dBA": "dB(A)", "dB A": "dB(A)", "dB (A)": "dB(A)", "db(A)": "dB(A)",
}  # fmt: skip

#: what else people write, which is not taken for a unit but shows which one was meant
MEANT = {
    '"': "in", "''": "in", "inch": "in", "inches": "in", "gr": "g", "gram": "g", "grams": "g", "sec": "s",
    "hr": "h", "hrs": "h", "mins": "min", "C": "°C", "F": "°F", "lbs": "lb", "pounds": "lb", "Watt": "W", "Watts": "W",
    "millimetre": "mm", "percent": "%", "litre": "l", "w": "W", "j": "J", "k": "K", "degrees": "°C", "°": "°C",
    "dB": "dB(A)", "db": "dB(A)", "decibel": "dB(A)",
}  # fmt: skip

#: smallest and largest value in SI that a thing on a workbench can have
LIMITS: dict[str, tuple[float, float]] = {
    "mass": (0, 1000), "volume": (0, 1), "length": (0, 100), "temperature": (0, 3000),
    "temperature_difference": (-3000, 3000), "power": (0, 1e5), "energy": (0, 1e9), "pressure": (0, 1e9),
    "torque": (0, 1e4), "area": (0, 100), "time": (0, 3.2e8), "voltage": (0, 1e5), "current": (0, 1e4),
    "resistance": (0, 1e12), "conductance": (0, 1e5), "heat_capacity": (0, 1e7), "conductivity": (0, 1e5),
    "specific_heat": (0, 1e5), "integral_gain": (0, 1e5), "derivative_gain": (0, 1e7), "speed": (0, 1e5),
    "flow": (0, 0.1), "sound_level": (0, 200), "ratio": (0, 1000), "count": (0, 1e6),
}  # fmt: skip

#: with its article, for messages
NAMES = {
    "mass": "a mass", "volume": "a volume", "length": "a length", "temperature": "a temperature",
    "temperature_difference": "a temperature difference", "power": "a power", "energy": "an energy",
    "pressure": "a pressure", "torque": "a torque", "area": "an area", "time": "a time",
    "voltage": "a voltage", "current": "a current", "resistance": "a resistance",
    "conductance": "a thermal conductance", "heat_capacity": "a heat capacity",
    "conductivity": "a thermal conductivity", "specific_heat": "a specific heat",
    "integral_gain": "an integral gain", "derivative_gain": "a derivative gain", "speed": "a speed",
    "flow": "a flow", "sound_level": "a sound level", "ratio": "a ratio", "count": "a count",
}  # fmt: skip
