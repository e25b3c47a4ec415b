"""The network's rates of change: its components, put together. Compiled, for one row of parameters at a time.

At rest nothing flows from cell to cell, every cell has the same coefficients, and while the controller keeps its mode
the equations are linear: the means obey the same equations with one cell each, and what differs from the mean relaxes
by itself (`states.relaxation`). So rest is computed with one cell, flow with all of them, both by `derivative`.

Heater energy, losses and the heat that leaves with the water are states like the others, so that energy is conserved
to rounding.
"""

from __future__ import annotations

from guidegen.heat.compiled import kernel
from guidegen.heat.components.boiler import boiler_loss, boiler_rate
from guidegen.heat.components.case import case_loss, case_rate
from guidegen.heat.components.cells import MOST_CELLS, mean
from guidegen.heat.components.coil import coil_inside, coil_loss, coil_takes, exchange_rates, moving_rates
from guidegen.heat.components.controller import integral_rate, power_of
from guidegen.heat.components.element import element_rate
from guidegen.heat.components.group import group_loss, group_rate, group_takes
from guidegen.heat.components.sensor import sensor_rate
from guidegen.heat.components.water import water_rates
from guidegen.heat.layout import (
    BOILER,
    BYPASS,
    CASE_AIR,
    DRAWN_ENERGY,
    ELEMENT,
    FEED,
    GROUP,
    HEATER_ENERGY,
    INTEGRAL,
    LOST_ENERGY,
    LUMPS,
    MODE,
    RETURNED_ENERGY,
    SENSOR,
    Vector,
)


@kernel
def derivative(
    y: Vector, d: Vector, p: Vector, mixed: int, cells: int, flow: float, passing: float, face: Vector, skins: Vector
) -> None:
    """Write the rates of change of every state.

    y, d: state and its rate, K and K/s (energies J and W). p: one row of parameters. mixed, cells: numbers of
    water and coil cells. flow: heat capacity rate of the drawn water, W/K. passing: exp(-UA/flow) of the group.
    face: scratch of cells + 1. skins: what they conduct, and lose beside that, as in `held`. The controller's mode is
    taken as it stands in y; who steps watches over it.
    """
    # With these limits a compiler sees that no index is negative, and runs the loops over whole vector registers.
    mixed, cells = min(max(mixed, 1), MOST_CELLS), min(max(cells, 0), MOST_CELLS)
    water, coil = mean(y, LUMPS, mixed), LUMPS + mixed
    sensor = sensor_rate(y, p, water)
    power = power_of(y, p, sensor)

    entering, into_coil, lost_by_coil = p[FEED], 0.0, 0.0
    d[RETURNED_ENERGY] = 0.0
    if cells > 0:
        metal = mean(y, coil + cells, cells)
        exchange_rates(y, d, p, coil, cells, coil_inside(p, flow), skins)
        into_coil, lost_by_coil = coil_takes(y, p, metal), coil_loss(y, metal, skins)
        if flow > 0.0:
            entering = moving_rates(y, d, p, coil, cells, flow, face)
            d[RETURNED_ENERGY] = p[BYPASS] * (entering - p[FEED])
    leaving, warming = water_rates(y, d, p, mixed, flow, entering)
    taken = group_takes(y, flow, leaving, passing)
    lost_by_boiler, lost_by_group, lost_by_case = (
        boiler_loss(y, p, skins),
        group_loss(y, p, skins),
        case_loss(y, p, skins),
    )

    d[ELEMENT] = element_rate(y, p, power, water)
    d[BOILER] = boiler_rate(y, p, water, into_coil, lost_by_boiler)
    d[GROUP] = group_rate(y, p, taken, lost_by_group)
    d[CASE_AIR] = case_rate(p, lost_by_boiler + lost_by_coil, lost_by_case)
    d[SENSOR] = sensor
    d[MODE] = 0.0
    d[INTEGRAL] = integral_rate(y, p, sensor, d[BOILER], warming)
    d[HEATER_ENERGY] = power
    d[LOST_ENERGY] = lost_by_group + lost_by_case
    d[DRAWN_ENERGY] = flow * (leaving - p[FEED]) - taken
