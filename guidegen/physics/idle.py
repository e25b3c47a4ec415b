"""The machine warm and at rest: where every temperature settles, and the heater's mean power. Compiled, one row."""

from __future__ import annotations

from guidegen.physics.compiled import kernel
from guidegen.physics.kernels import (
    BOILER,
    BOILER_TO_CASE,
    BOILER_TO_COIL,
    BOILER_TO_GROUP,
    BOILER_TO_WATER,
    CASE,
    COIL_TO_CASE,
    ELEMENT,
    GROUP,
    GROUP_TO_ROOM,
    HAS_COIL,
    HEATER_ENERGY,
    HEATER_TO_BOILER,
    HEATER_TO_WATER,
    INTEGRAL,
    LUMPS,
    RELAY,
    ROOM,
    SENSOR,
    SENSOR_METAL_SHARE,
    SHIELD,
    relayed_step,
)
from guidegen.physics.runs import REST_STEP, rest_step

CYCLES = 40
"""A relay that has not settled after so many cycles never will: its machine is heated by something else."""
LONGEST_CYCLE = 3600.0
"""s; a relay that stays off for longer has no cycle worth the name."""


@kernel
def settled(p, temperature, mixed, cells, full):
    """Write the steady state in which the sensor sees a temperature; returns the heater's power, W.

    All balances are linear in the boiler's temperature: each loss in parallel, and the element above the boiler by
    what it has to give. The controller's integral is its idle output, so that a run starts without a jump.
    """
    share = p[BOILER_TO_GROUP] / (p[BOILER_TO_GROUP] + p[GROUP_TO_ROOM])
    to_room = share * p[GROUP_TO_ROOM]
    to_case = p[SHIELD] * p[BOILER_TO_CASE]
    if p[HAS_COIL] > 0.0:
        to_case += p[BOILER_TO_COIL] * p[COIL_TO_CASE] / (p[BOILER_TO_COIL] + p[COIL_TO_CASE])
    into_water = 0.0
    if p[HEATER_TO_WATER] > 0.0:
        into_water = p[HEATER_TO_WATER] / (p[HEATER_TO_WATER] + p[BOILER_TO_WATER])
    from_element = p[HEATER_TO_BOILER] + into_water * p[BOILER_TO_WATER]
    # Sensor = boiler + (1 - share of metal) (water - boiler), water - boiler = into_water (element - boiler).
    above = (1.0 - p[SENSOR_METAL_SHARE]) * into_water / from_element
    boiler = (temperature + above * (to_room * p[ROOM] + to_case * p[CASE])) / (1.0 + above * (to_room + to_case))
    power = to_room * (boiler - p[ROOM]) + to_case * (boiler - p[CASE])
    element = boiler + power / from_element
    full[:] = 0.0
    full[ELEMENT], full[BOILER], full[SENSOR] = element, boiler, temperature
    full[GROUP] = share * boiler + (1.0 - share) * p[ROOM]
    full[INTEGRAL] = power
    full[RELAY] = 1.0
    full[LUMPS : LUMPS + mixed] = boiler + into_water * (element - boiler)
    if cells > 0:
        parked = (p[BOILER_TO_COIL] * boiler + p[COIL_TO_CASE] * p[CASE]) / (p[BOILER_TO_COIL] + p[COIL_TO_CASE])
        full[LUMPS + mixed :] = parked
    return power


@kernel
def cold(p, mixed, cells, full):
    """Write the state of a machine that has stood in its room, heater off, integral empty."""
    full[:] = p[ROOM]
    full[INTEGRAL:LUMPS] = 0.0
    full[RELAY] = 1.0


@kernel
def limit_cycle(p, cells, phases, lumped, work, states, facts):
    """Follow a relay until its cycle repeats, and sample one cycle.

    lumped: the start, of means. states: filled with `phases` states equally spaced over one cycle from switching
    on, shape (phases, LUMPS + 3). facts: filled with period s, mean power W, lowest and highest sensor K.
    Returns whether the cycle settled within the time that is given to it.
    """
    coil = 1 if cells > 0 else 0
    size = LUMPS + 1 + 2 * coil
    h = rest_step(p, REST_STEP)
    period, settled_cycles, before = 0.0, 0, 0.0
    for _ in range(CYCLES):
        period = to_switching_on(lumped[:size], p, coil, h, work[:, :size], 0.0, states[:0], facts)
        if period < 0.0:
            return False
        settled_cycles = settled_cycles + 1 if abs(period - before) < 1e-3 * period else 0
        before = period
        if settled_cycles >= 3:
            break
    start_energy = lumped[HEATER_ENERGY]
    period = to_switching_on(lumped[:size], p, coil, h, work[:, :size], period / phases, states, facts)
    facts[0], facts[1] = period, (lumped[HEATER_ENERGY] - start_energy) / period
    return period > 0.0


@kernel
def to_switching_on(y, p, coil, h, work, spacing, states, facts):
    """Step until the relay switches on again; returns the time that took, or -1 where it takes too long.

    Every `spacing` seconds the state goes into the next row of states; facts[2:4] get the sensor's ends.
    """
    time, was_on, taken = 0.0, y[RELAY] > 0.5, 0
    facts[2], facts[3] = y[SENSOR], y[SENSOR]
    while time < LONGEST_CYCLE:
        if taken < len(states) and time >= taken * spacing - 1e-9:
            states[taken, : len(y)] = y
            taken += 1
        relayed_step(y, p, 1, coil, 0.0, 1.0, h, work)
        time += h
        facts[2], facts[3] = min(facts[2], y[SENSOR]), max(facts[3], y[SENSOR])
        on = y[RELAY] > 0.5
        if on and not was_on:
            return time
        was_on = on
    return -1.0


@kernel
def spread(lumped, mixed, cells, full):
    """Write a state of means into every cell of a full state."""
    full[:LUMPS] = lumped[:LUMPS]
    full[LUMPS : LUMPS + mixed] = lumped[LUMPS]
    if cells > 0:
        full[LUMPS + mixed : LUMPS + mixed + cells] = lumped[LUMPS + 1]
        full[LUMPS + mixed + cells :] = lumped[LUMPS + 2]
