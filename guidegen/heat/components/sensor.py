"""The sensor: somewhere between metal and water, and late. State: SENSOR. Compiled."""

from __future__ import annotations

from guidegen.heat.compiled import part
from guidegen.heat.components.nomenclature import SYMBOLS
from guidegen.heat.formula import Formula
from guidegen.heat.layout import BOILER, SENSOR, SENSOR_LAG, SENSOR_METAL_SHARE, Vector


@part
def seen(y: Vector, p: Vector, water: float) -> float:
    """What the sensor settles at, K: its share of boiler metal and of mean boiler water."""
    return float(p[SENSOR_METAL_SHARE] * y[BOILER] + (1.0 - p[SENSOR_METAL_SHARE]) * water)


@part
def sensor_rate(y: Vector, p: Vector, water: float) -> float:
    """K/s; water: mean, K."""
    return float((seen(y, p, water) - y[SENSOR]) / p[SENSOR_LAG])


FORMULAS = (Formula("Sensor", "τ_s Ts′ = a Tb + (1 − a) W − Ts", SYMBOLS),)
