"""The heater element: fed by the controller's power, it warms boiler metal and water. State: ELEMENT. Compiled."""

from __future__ import annotations

from guidegen.heat.compiled import part
from guidegen.heat.components.nomenclature import SYMBOLS
from guidegen.heat.formula import Formula
from guidegen.heat.layout import BOILER, ELEMENT, HEATER_CAPACITY, HEATER_TO_BOILER, HEATER_TO_WATER, Vector


@part
def element_to_boiler(y: Vector, p: Vector) -> float:
    """Heat into the boiler's metal, W."""
    return float(p[HEATER_TO_BOILER] * (y[ELEMENT] - y[BOILER]))


@part
def element_rate(y: Vector, p: Vector, power: float, water: float) -> float:
    """K/s; power: the heater's, W; water: mean, K."""
    to_water = p[HEATER_TO_WATER] * (y[ELEMENT] - water)
    return float((power - element_to_boiler(y, p) - to_water) / p[HEATER_CAPACITY])


FORMULAS = (Formula("Heater element", "C_e Te′ = q − G_eb (Te − Tb) − G_ew (Te − W)", SYMBOLS),)
