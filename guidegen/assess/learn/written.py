"""A learned value as it is written in YAML: in a unit of the trade, with its ±, to digits that its ± allows."""

from __future__ import annotations

import math

from guidegen.trade.uncertain import Uncertain
from guidegen.unit_table import UNITS

PREFERRED = {
    "mass": "g", "volume": "ml", "temperature": "°C", "ratio": "%", "length": "mm", "time": "s", "power": "W",
    "conductance": "W/K", "heat_capacity": "J/K", "conductivity": "W/(m·K)", "integral_gain": "W/(K·s)",
    "derivative_gain": "W·s/K", "flow": "ml/s", "pressure": "bar",
}  # fmt: skip
"""By dimension, the unit that a learned value is written in."""


def _scale(one: Uncertain) -> tuple[str, float, float]:
    units = UNITS[one.dimension]
    unit = PREFERRED.get(one.dimension, next(iter(units)))
    factor, offset = units[unit]
    return unit, factor, offset


def places(half: float) -> int:
    """Decimal places that show a ± to two digits.

    >>> places(0.123), places(12.0), places(4.5)
    (2, 0, 1)
    """
    return max(0, 1 - math.floor(math.log10(half))) if half > 0.0 else 2


def quantity_text(one: Uncertain, value: float, low: float, high: float) -> str:
    """A value and its ends in SI as `2.41 W/K, 2.3 to 2.5`."""
    unit, factor, offset = _scale(one)
    shown = [(x - offset) / factor for x in (value, low, high)]
    digits = places((shown[2] - shown[1]) / 2)
    middle, first, last = (f"{x:.{digits}f}" for x in shown)
    return f"{middle} {unit}".strip() + f", {first} to {last}"


def yaml_text(one: Uncertain, value: float, low: float, high: float) -> str:
    """A value in SI as `2.41 W/K ± 0.12 W/K`; the ± is the further end, rounded up."""
    unit, factor, offset = _scale(one)
    half = max(high - value, value - low) / factor
    digits = places(half)
    step = 10.0**-digits
    rounded_half = math.ceil(half / step - 1e-9) * step
    difference = "K" if one.dimension == "temperature" else unit
    middle = f"{(value - offset) / factor:.{digits}f} {unit}".strip()
    return f"{middle} ± {rounded_half:.{digits}f} {difference}".strip()
