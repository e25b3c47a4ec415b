"""The one implementation of the network's equations, compiled, for one row of parameters at a time.

At rest nothing flows from cell to cell, every cell has the same coefficients, and while the controller keeps its mode
the equations are linear: the means obey the same equations with one cell each, and what differs from the mean relaxes
by itself (`runs.relaxation`). So rest is computed with one cell, flow with all of them, both by `derivative`.

Heater energy, losses and the heat that leaves with the water are states like the others, so that energy is conserved
to rounding.
"""

from __future__ import annotations

from guidegen.heat.compiled import kernel
from guidegen.heat.layout import (
    BOILER,
    BOILER_CAPACITY,
    BOILER_TO_CASE,
    BOILER_TO_COIL,
    BOILER_TO_GROUP,
    BOILER_TO_WATER,
    BYPASS,
    CASE,
    COIL_ALONG,
    COIL_INSIDE_AT_REST,
    COIL_INSIDE_IN_FLOW,
    COIL_METAL_CAPACITY,
    COIL_TO_CASE,
    COIL_WATER_CAPACITY,
    DERIVING,
    DRAWN_ENERGY,
    ELEMENT,
    FEED,
    GROUP,
    GROUP_CAPACITY,
    GROUP_TO_ROOM,
    HEATER_CAPACITY,
    HEATER_ENERGY,
    HEATER_POWER,
    HEATER_TO_BOILER,
    HEATER_TO_WATER,
    INTEGRAL,
    INTEGRATING,
    LOST_ENERGY,
    LUMPS,
    MODE,
    ON,
    ON_SLIDING,
    PROPORTIONAL,
    RELAY_CONTROL,
    RETURNED_ENERGY,
    ROOM,
    SENSOR,
    SENSOR_LAG,
    SENSOR_METAL_SHARE,
    SETPOINT,
    SHIELD,
    WATER_CAPACITY,
    ZERO,
    ZERO_SLIDING,
    Vector,
)

MOST_CELLS = 10_000
"""Of water in the boiler, and of the coil: far more than any run has."""


@kernel
def mean(y: Vector, start: int, count: int) -> float:
    """The mean of so many neighbours, summed in four strands, always in the same order."""
    start, count = min(max(start, 0), 2 * MOST_CELLS), min(max(count, 1), MOST_CELLS)
    a, b, c, d = 0.0, 0.0, 0.0, 0.0
    whole = count - count % 4
    for i in range(start, start + whole, 4):
        a += y[i]
        b += y[i + 1]
        c += y[i + 2]
        d += y[i + 3]
    for i in range(start + whole, start + count):
        a += y[i]
    return ((a + b) + (c + d)) / count


@kernel
def seen(y: Vector, p: Vector, water: float) -> float:
    """What the sensor settles at, K: its share of boiler metal and of mean boiler water."""
    return float(p[SENSOR_METAL_SHARE] * y[BOILER] + (1.0 - p[SENSOR_METAL_SHARE]) * water)


@kernel
def slope(back: float, ahead: float) -> float:
    """Half the monotonized-central slope: the least of twice the one-sided ones and their mean; flat at an extremum."""
    steepest = min(min(abs(back), abs(ahead)), 0.25 * abs(back + ahead))
    signed = steepest if back > 0.0 else -steepest
    return signed if back * ahead > 0.0 else 0.0


@kernel
def outlet_of(y: Vector, p: Vector, water: int, cells: int) -> float:
    """The temperature of the water that leaves the coil in flow, K.

    Behind the last cell there is nothing to draw a line to: the line from the cell before goes on, as far as water can
    get, which is between the cell's own water and metal.
    """
    here, wall = y[water + cells - 1], y[water + 2 * cells - 1]
    before = y[water + cells - 2] if cells > 1 else p[FEED]
    onward = here + 0.5 * (here - before)
    return float(min(max(onward, min(here, wall)), max(here, wall)))


@kernel
def faces(y: Vector, p: Vector, water: int, cells: int, face: Vector) -> None:
    """Write the temperature of the water that passes each border between the coil's cells, from feed to outlet.

    Second order in space: a straight line in every cell. Before the first cell stands a mirrored one, so that the line
    through both meets the feed at the border.
    """
    water, cells = min(max(water, 0), 2 * MOST_CELLS), min(max(cells, 1), MOST_CELLS)
    face[0] = p[FEED]
    for j in range(1, cells - 1):
        here = y[water + j]
        face[j + 1] = here + slope(here - y[water + j - 1], y[water + j + 1] - here)
    if cells > 1:
        face[1] = y[water] + slope(2.0 * (y[water] - p[FEED]), y[water + 1] - y[water])
    face[cells] = outlet_of(y, p, water, cells)


@kernel
def derivative(
    y: Vector, d: Vector, p: Vector, mixed: int, cells: int, flow: float, passing: float, face: Vector
) -> None:
    """Write the rates of change of every state.

    y, d: state and its rate, K and K/s (energies J and W). p: one row of parameters. mixed, cells: numbers of
    water and coil cells. flow: heat capacity rate of the drawn water, W/K. passing: exp(-UA/flow) of the group.
    face: scratch of cells + 1. The controller's mode is taken as it stands in y; who steps watches over it.
    """
    # With these limits a compiler sees that no index is negative, and runs the loops over whole vector registers.
    mixed, cells = min(max(mixed, 1), MOST_CELLS), min(max(cells, 0), MOST_CELLS)
    water, inside, metal = LUMPS, LUMPS + mixed, LUMPS + mixed + cells
    element, boiler, group, mode = y[ELEMENT], y[BOILER], y[GROUP], y[MODE]
    mean_water = mean(y, water, mixed)

    d[SENSOR] = (seen(y, p, mean_water) - y[SENSOR]) / p[SENSOR_LAG]
    d[MODE] = 0.0
    d[INTEGRAL] = 0.0
    power = p[HEATER_POWER] if mode >= ON else 0.0
    if p[RELAY_CONTROL] == 0.0:
        error = p[SETPOINT] - y[SENSOR]
        if mode > ZERO and mode < ON:
            power = p[PROPORTIONAL] * error + y[INTEGRAL] - p[DERIVING] * d[SENSOR]
        # The integral rests while the output is saturated in the direction of the error: no wind-up from cold.
        if mode not in (ON, ZERO):
            d[INTEGRAL] = p[INTEGRATING] * error

    entering, coil_heat, coil_loss = p[FEED], 0.0, 0.0
    d[RETURNED_ENERGY] = 0.0
    if cells > 0:
        per_water, per_metal = cells / p[COIL_WATER_CAPACITY], cells / p[COIL_METAL_CAPACITY]
        exchange = (p[COIL_INSIDE_IN_FLOW] if flow > 0.0 else p[COIL_INSIDE_AT_REST]) / cells
        contact, leak, along = p[BOILER_TO_COIL] / cells, p[COIL_TO_CASE] / cells, p[COIL_ALONG] * cells
        warmth = contact * boiler + leak * p[CASE]
        for j in range(cells):
            swap = exchange * (y[metal + j] - y[inside + j])
            d[inside + j] = per_water * swap
            d[metal + j] = per_metal * (warmth - (contact + leak) * y[metal + j] - swap)
        if cells > 1:
            last = metal + cells - 1
            beside = per_metal * along
            for j in range(metal + 1, last):
                d[j] += beside * ((y[j - 1] - y[j]) + (y[j + 1] - y[j]))
            d[metal] += beside * (y[metal + 1] - y[metal])
            d[last] += beside * (y[last - 1] - y[last])
        mean_metal = mean(y, metal, cells)
        coil_heat = p[BOILER_TO_COIL] * (boiler - mean_metal)
        coil_loss = p[COIL_TO_CASE] * (mean_metal - p[CASE])
        if flow > 0.0:
            # What returns to the tank behind the coil passes the coil too, and takes its heat along.
            through = flow + p[BYPASS]
            faces(y, p, inside, cells, face)
            for j in range(cells):
                d[inside + j] += per_water * through * (face[j] - face[j + 1])
            entering = face[cells]
            d[RETURNED_ENERGY] = p[BYPASS] * (entering - p[FEED])

    from_element, from_boiler = p[HEATER_TO_WATER], p[BOILER_TO_WATER]
    warming = 0.0
    for i in range(mixed):
        here = y[water + i]
        heat = from_element * (element - here) + from_boiler * (boiler - here)
        d[water + i] = (mixed * flow * (entering - here) + heat) / p[WATER_CAPACITY]
        warming += d[water + i] / mixed
        entering = here

    taken = flow * (entering - group) * (1.0 - passing)
    boiler_loss = p[SHIELD] * p[BOILER_TO_CASE] * (boiler - p[CASE])
    group_heat = p[BOILER_TO_GROUP] * (boiler - group)
    group_loss = p[GROUP_TO_ROOM] * (group - p[ROOM])
    to_boiler = p[HEATER_TO_BOILER] * (element - boiler)
    d[ELEMENT] = (power - to_boiler - from_element * (element - mean_water)) / p[HEATER_CAPACITY]
    to_water = from_boiler * (boiler - mean_water)
    d[BOILER] = (to_boiler - to_water - group_heat - boiler_loss - coil_heat) / p[BOILER_CAPACITY]
    d[GROUP] = (group_heat + taken - group_loss) / p[GROUP_CAPACITY]
    if mode in (ON_SLIDING, ZERO_SLIDING):
        # Just so much that what is asked for stays at the limit.
        turning = p[SENSOR_METAL_SHARE] * d[BOILER] + (1.0 - p[SENSOR_METAL_SHARE]) * warming - d[SENSOR]
        d[INTEGRAL] = p[PROPORTIONAL] * d[SENSOR] + p[DERIVING] * turning / p[SENSOR_LAG]
    d[HEATER_ENERGY] = power
    d[LOST_ENERGY] = boiler_loss + group_loss + coil_loss
    d[DRAWN_ENERGY] = flow * (entering - p[FEED]) - taken
