"""The boiler's water: mixed cells in series, their number set by how well it stirs. States: from LUMPS on. Compiled."""

from __future__ import annotations

from guidegen.heat.compiled import part
from guidegen.heat.components.nomenclature import SYMBOLS
from guidegen.heat.formula import Formula
from guidegen.heat.layout import BOILER, BOILER_TO_WATER, ELEMENT, HEATER_TO_WATER, LUMPS, WATER_CAPACITY, Vector


@part
def water_rates(y: Vector, d: Vector, p: Vector, mixed: int, flow: float, entering: float) -> tuple[float, float]:
    """Write the rate of every cell, K/s.

    flow: heat capacity rate, W/K; entering: temperature of what flows in, K. Returns the temperature of what leaves,
    K, and the rate of the mean, K/s.
    """
    element, boiler = y[ELEMENT], y[BOILER]
    from_element, from_boiler = p[HEATER_TO_WATER], p[BOILER_TO_WATER]
    warming = 0.0
    for i in range(mixed):
        here = y[LUMPS + i]
        heat = from_element * (element - here) + from_boiler * (boiler - here)
        d[LUMPS + i] = (mixed * flow * (entering - here) + heat) / p[WATER_CAPACITY]
        warming += d[LUMPS + i] / mixed
        entering = here
    return entering, warming


FORMULAS = (
    Formula(
        "Boiler water", "C_w/M W_i′ = ṁ c (W_before − W_i) + G_bw/M (Tb − W_i) + G_ew/M (Te − W_i)", SYMBOLS
    ),
)  # fmt: skip
