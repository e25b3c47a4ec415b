"""The one implementation of the network's equations, compiled, for one row of parameters at a time.

A state is a vector: the eight lumps named below, then the boiler's water in mixed cells, then the coil's water and
the coil's metal in cells along the flow. At rest nothing flows from cell to cell, every cell has the same
coefficients, and the equations are linear: the means obey the same equations with one cell each, and what differs
from the mean relaxes by itself (`relaxation`). So rest is computed with one cell, flow with all of them, both by
`derivative`.

Time: classic Runge-Kutta steps of fixed length, ended on every change of flow; a relay's crossing is located inside
its step. Heater energy, losses and the heat that leaves with the water are integrated by the same steps, so energy
is conserved to rounding.
"""

from __future__ import annotations

from guidegen.physics.compiled import kernel

# Where the lumps stand in a state vector.
ELEMENT, BOILER, GROUP, SENSOR, INTEGRAL, HEATER_ENERGY, LOST_ENERGY, DRAWN_ENERGY, RELAY = range(9)
LUMPS = 9

# Where the parameters stand in a row.
(
    HEATER_POWER, HEATER_CAPACITY, HEATER_TO_BOILER, HEATER_TO_WATER,
    BOILER_CAPACITY, BOILER_TO_WATER, BOILER_TO_GROUP, BOILER_TO_CASE,
    WATER_CAPACITY, MIXING, GROUP_CAPACITY, GROUP_TO_WATER, GROUP_TO_ROOM,
    SENSOR_LAG, SENSOR_METAL_SHARE, CASE, ROOM, FEED,
    RELAY_CONTROL, SETPOINT, PROPORTIONAL, INTEGRATING, DERIVING, OPENS, CLOSES,
    HAS_COIL, COIL_WATER_CAPACITY, COIL_METAL_CAPACITY, BOILER_TO_COIL, COIL_TO_CASE,
    COIL_INSIDE_AT_REST, COIL_INSIDE_IN_FLOW, COIL_ALONG, SHIELD, BYPASS,
) = range(35)  # fmt: skip
PARAMETERS = 35


@kernel
def limited(back, ahead):
    """The monotonized-central slope: the smallest of both one-sided slopes doubled and their mean, or flat."""
    if back * ahead <= 0.0:
        return 0.0
    middle = 0.5 * (back + ahead)
    if back > 0.0:
        return min(2.0 * back, 2.0 * ahead, middle)
    return max(2.0 * back, 2.0 * ahead, middle)


@kernel
def derivative(y, d, p, mixed, cells, flow, passing):
    """The rates of change of every state.

    y, d: state and its rate, K and K/s (energies J and W). p: one row of parameters. mixed, cells: numbers of
    water and coil cells. flow: heat capacity rate of the drawn water, W/K. passing: exp(-UA/flow) of the group.
    Returns the heater's power in W.
    """
    water, inside, metal = LUMPS, LUMPS + mixed, LUMPS + mixed + cells
    element, boiler, group = y[ELEMENT], y[BOILER], y[GROUP]
    mean_water = 0.0
    for i in range(mixed):
        mean_water += y[water + i]
    mean_water /= mixed

    seen = p[SENSOR_METAL_SHARE] * boiler + (1.0 - p[SENSOR_METAL_SHARE]) * mean_water
    d[SENSOR] = (seen - y[SENSOR]) / p[SENSOR_LAG]
    d[RELAY] = 0.0
    d[INTEGRAL] = 0.0
    if p[RELAY_CONTROL] > 0.0:
        power = p[HEATER_POWER] * y[RELAY]
    else:
        error = p[SETPOINT] - y[SENSOR]
        wanted = p[PROPORTIONAL] * error + y[INTEGRAL] - p[DERIVING] * d[SENSOR]
        power = min(max(wanted, 0.0), p[HEATER_POWER])
        # The integral rests while the output is saturated in the direction of the error: no wind-up from cold.
        if not ((wanted >= p[HEATER_POWER] and error > 0.0) or (wanted <= 0.0 and error < 0.0)):
            d[INTEGRAL] = p[INTEGRATING] * error

    d[DRAWN_ENERGY] = 0.0
    entering = p[FEED]
    coil_heat = 0.0
    coil_loss = 0.0
    if cells > 0:
        water_cell, metal_cell = p[COIL_WATER_CAPACITY] / cells, p[COIL_METAL_CAPACITY] / cells
        exchange = (p[COIL_INSIDE_IN_FLOW] if flow > 0.0 else p[COIL_INSIDE_AT_REST]) / cells
        contact, leak, along = p[BOILER_TO_COIL] / cells, p[COIL_TO_CASE] / cells, p[COIL_ALONG] * cells
        # What returns to the tank behind the coil passes the coil too, and takes its heat along.
        through = flow + p[BYPASS] if flow > 0.0 else 0.0
        face = p[FEED]
        for j in range(cells):
            here = y[inside + j]
            slope = 0.0
            if through > 0.0:
                before = y[inside + j - 1] if j > 0 else p[FEED]
                after = y[inside + j + 1] if j < cells - 1 else 2.0 * here - before
                slope = limited(here - before, after - here)
            leaving = here + 0.5 * slope
            swap = exchange * (y[metal + j] - here)
            d[inside + j] = (through * (face - leaving) + swap) / water_cell
            face = leaving
            given = contact * (boiler - y[metal + j])
            lost = leak * (y[metal + j] - p[CASE])
            moved = 0.0
            if j > 0:
                moved += along * (y[metal + j - 1] - y[metal + j])
            if j < cells - 1:
                moved += along * (y[metal + j + 1] - y[metal + j])
            d[metal + j] = (given - swap - lost + moved) / metal_cell
            coil_heat += given
            coil_loss += lost
        entering = face
        d[DRAWN_ENERGY] = (through - flow) * (face - p[FEED])

    from_element, from_boiler = p[HEATER_TO_WATER], p[BOILER_TO_WATER]
    for i in range(mixed):
        here = y[water + i]
        heat = from_element * (element - here) + from_boiler * (boiler - here)
        d[water + i] = (mixed * flow * (entering - here) + heat) / p[WATER_CAPACITY]
        entering = here

    outlet_water = y[water + mixed - 1]
    taken = flow * (outlet_water - group) * (1.0 - passing)
    boiler_loss = p[SHIELD] * p[BOILER_TO_CASE] * (boiler - p[CASE])
    group_heat = p[BOILER_TO_GROUP] * (boiler - group)
    group_loss = p[GROUP_TO_ROOM] * (group - p[ROOM])
    to_boiler = p[HEATER_TO_BOILER] * (element - boiler)
    d[ELEMENT] = (power - to_boiler - from_element * (element - mean_water)) / p[HEATER_CAPACITY]
    to_water = from_boiler * (boiler - mean_water)
    d[BOILER] = (to_boiler - to_water - group_heat - boiler_loss - coil_heat) / p[BOILER_CAPACITY]
    d[GROUP] = (group_heat + taken - group_loss) / p[GROUP_CAPACITY]
    d[HEATER_ENERGY] = power
    d[LOST_ENERGY] = boiler_loss + group_loss + coil_loss
    d[DRAWN_ENERGY] += flow * (outlet_water - p[FEED]) - taken
    return power


@kernel
def step(y, p, mixed, cells, flow, passing, h, work):
    """One classic Runge-Kutta step of h seconds, in place. work: five rows of scratch as long as y."""
    size = LUMPS + mixed + 2 * cells
    k1, k2, k3, k4, at = work[0], work[1], work[2], work[3], work[4]
    derivative(y, k1, p, mixed, cells, flow, passing)
    for i in range(size):
        at[i] = y[i] + 0.5 * h * k1[i]
    derivative(at, k2, p, mixed, cells, flow, passing)
    for i in range(size):
        at[i] = y[i] + 0.5 * h * k2[i]
    derivative(at, k3, p, mixed, cells, flow, passing)
    for i in range(size):
        at[i] = y[i] + h * k3[i]
    derivative(at, k4, p, mixed, cells, flow, passing)
    for i in range(size):
        y[i] += h / 6.0 * (k1[i] + 2.0 * k2[i] + 2.0 * k3[i] + k4[i])
    work[0, 0] = k1[HEATER_ENERGY]


@kernel
def relayed_step(y, p, mixed, cells, flow, passing, h, work):
    """A step that ends, switches and goes on where a relay's threshold is crossed inside it.

    The crossing is found by the secant through the step's ends and two corrections; a step holds at most a few.
    """
    if p[RELAY_CONTROL] == 0.0:
        step(y, p, mixed, cells, flow, passing, h, work)
        return
    before = work[5]
    left = h
    for _ in range(8):
        before[:] = y
        step(y, p, mixed, cells, flow, passing, left, work)
        on = y[RELAY] > 0.5
        threshold = p[OPENS] if on else p[CLOSES]
        if (on and y[SENSOR] < threshold) or (not on and y[SENSOR] > threshold):
            return
        low, high = 0.0, left
        at_low, at_high = before[SENSOR] - threshold, y[SENSOR] - threshold
        part = left
        for _ in range(6):
            if at_high == at_low:
                break
            part = low - at_low * (high - low) / (at_high - at_low)
            y[:] = before
            step(y, p, mixed, cells, flow, passing, part, work)
            miss = y[SENSOR] - threshold
            if abs(miss) < 1e-9:
                break
            if miss * at_low > 0.0:
                low, at_low = part, miss
            else:
                high, at_high = part, miss
        y[RELAY] = 0.0 if on else 1.0
        left -= part
        if left <= 1e-9:
            return
    step(y, p, mixed, cells, flow, passing, left, work)
