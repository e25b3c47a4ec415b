"""The group: warmed by the boiler, and by the water on its way to the cup. State: GROUP. Compiled."""

from __future__ import annotations

from guidegen.heat.compiled import part
from guidegen.heat.components.boiler import boiler_to_group
from guidegen.heat.components.nomenclature import SYMBOLS
from guidegen.heat.formula import Formula
from guidegen.heat.layout import GROUP, GROUP_CAPACITY, GROUP_SKIN, MORE, ROOM, Vector


@part
def group_takes(y: Vector, flow: float, leaving: float, passing: float) -> float:
    """Heat that the passing water leaves in the group, W.

    flow: heat capacity rate, W/K; leaving: the water that leaves the boiler, K; passing: exp(-UA/flow).
    """
    return float(flow * (leaving - y[GROUP]) * (1.0 - passing))


@part
def group_outlet(y: Vector, leaving: float, passing: float) -> float:
    """The water that leaves the group, K."""
    return float(y[GROUP] + (leaving - y[GROUP]) * passing)


@part
def group_loss(y: Vector, p: Vector, skins: Vector) -> float:
    """Heat into the room, W; skins: as in `components.case`."""
    return float(skins[GROUP_SKIN] * (y[GROUP] - p[ROOM]) + skins[MORE + GROUP_SKIN])


@part
def group_rate(y: Vector, p: Vector, taken: float, lost: float) -> float:
    """K/s; taken: heat from the passing water, lost: into the room, W."""
    return float((boiler_to_group(y, p) + taken - lost) / p[GROUP_CAPACITY])


FORMULAS = (
    Formula(
        "Group", "C_g Tg′ = G_bg (Tb − Tg) + ṁ c (W_M − Tg) (1 − exp(−UA_g / (ṁ c))) − G_ga (Tg − Troom)", SYMBOLS,
        (), ("incropera, equation 11.35a",),
    ),
    Formula("Outlet", "T_out = Tg + (W_M − Tg) exp(−UA_g / (ṁ c))", SYMBOLS, (), ("incropera, equation 11.35a",)),
)  # fmt: skip
