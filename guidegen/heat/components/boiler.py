"""The boiler's metal: between element, water, group, coil and the air in the case. State: BOILER. Compiled."""

from __future__ import annotations

from guidegen.heat.compiled import part
from guidegen.heat.components.element import element_to_boiler
from guidegen.heat.components.nomenclature import SYMBOLS
from guidegen.heat.formula import Formula
from guidegen.heat.layout import (
    BOILER,
    BOILER_CAPACITY,
    BOILER_SKIN,
    BOILER_TO_GROUP,
    BOILER_TO_WATER,
    CASE_AIR,
    GROUP,
    MORE,
    SHIELD,
    Vector,
)


@part
def boiler_to_group(y: Vector, p: Vector) -> float:
    """Heat into the group, W."""
    return float(p[BOILER_TO_GROUP] * (y[BOILER] - y[GROUP]))


@part
def boiler_loss(y: Vector, p: Vector, skins: Vector) -> float:
    """Heat into the case's air past a coil, W; skins: as in `components.case`."""
    return float(p[SHIELD] * skins[BOILER_SKIN] * (y[BOILER] - y[CASE_AIR]) + skins[MORE + BOILER_SKIN])


@part
def boiler_rate(y: Vector, p: Vector, water: float, into_coil: float, lost: float) -> float:
    """K/s; water: mean, K; into_coil, lost: heat, W."""
    to_water = p[BOILER_TO_WATER] * (y[BOILER] - water)
    kept = element_to_boiler(y, p) - to_water - boiler_to_group(y, p) - lost - into_coil
    return float(kept / p[BOILER_CAPACITY])


FORMULAS = (
    Formula(
        "Boiler metal",
        "C_b Tb′ = G_eb (Te − Tb) − G_bw (Tb − W) − G_bg (Tb − Tg) − (1 − s) G_ba (Tb − Tcase) − G_bc (Tb − Y)",
        SYMBOLS,
    ),
)
