"""The machine warm and at rest: where every temperature settles, and the heater's mean power. Compiled, by rows."""

from __future__ import annotations

import math

import numpy as np

from guidegen.heat.compiled import kernel, part
from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.held import NEAR, forget, hold
from guidegen.heat.layout import (
    BETWEEN,
    BOILER,
    BOILER_SKIN,
    BOILER_TO_CASE,
    BOILER_TO_COIL,
    BOILER_TO_GROUP,
    BOILER_TO_WATER,
    CASE,
    CASE_AIR,
    CASE_CAPACITY,
    CASE_SKIN,
    CASE_TO_ROOM,
    CELLS,
    CLOSES,
    COIL_SKIN,
    COIL_TO_CASE,
    ELEMENT,
    FINER,
    GROUP,
    GROUP_SKIN,
    HAS_COIL,
    HEATER_ENERGY,
    HEATER_POWER,
    HEATER_TO_BOILER,
    HEATER_TO_WATER,
    HELD,
    INTEGRAL,
    LUMPED,
    LUMPS,
    MEMORY,
    MODE,
    ON,
    OPENS,
    RELAY_CONTROL,
    ROOM,
    SENSOR,
    SENSOR_METAL_SHARE,
    SETPOINT,
    SHIELD,
    Matrix,
    Tower,
    Vector,
)
from guidegen.heat.runs import REST_STEP
from guidegen.heat.skins import conductance
from guidegen.heat.states import copy
from guidegen.heat.steps import advance

CYCLES = 1000
"""A relay that has not settled after so many cycles never will."""
LONGEST_CYCLE = 7200.0
"""s; a relay that takes longer from switching on to switching on has no cycle worth the name."""
LONGEST_SEARCH = 20 * LONGEST_CYCLE
"""s in all; a relay whose cycle has not settled by then never will."""
SAME_CYCLE = 1e-5
"""K: where no temperature moves further from one switching on to the next, the cycle has settled."""
MOST_TO_COME = 5.0
"""K by which the case's air is helped on at once."""
MOST_TURNS, SAME_STATE = 200, 1e-10
"""Turns between temperatures and conductances; K by which the last one moves any of them. It takes about fifteen."""

# What the warm, idle machine gives: W, K, s. LOW and HIGH are the ends of the sensor.
IDLE_POWER, PARKED, PERIOD, LOW, HIGH, GROUP_IDLE = range(6)
FACTS = 6


@kernel
def settled(p: Vector, temperature: float, y: Vector) -> float:
    """Write the steady state, of means, in which the sensor sees a temperature, K; returns the heater's power, W.

    With given conductances all balances are linear in the boiler's temperature: each loss in parallel, and the element
    above the boiler by what it has to give. The conductances follow the temperatures, so both are found in turns. The
    controller's integral is its idle output, so that a run starts without a jump.
    """
    room, contact = p[ROOM], p[BOILER_TO_COIL]
    into_water = p[HEATER_TO_WATER] / (p[HEATER_TO_WATER] + p[BOILER_TO_WATER])
    from_element = p[HEATER_TO_BOILER] + into_water * p[BOILER_TO_WATER]
    # Sensor = boiler + (1 - share of metal) (water - boiler), water - boiler = into_water (element - boiler).
    above = (1.0 - p[SENSOR_METAL_SHARE]) * into_water / from_element
    boiler, group, case, coil, power = temperature, 0.5 * (temperature + room), p[CASE], temperature, 0.0
    for _ in range(MOST_TURNS):
        to_room = conductance(p, GROUP_SKIN, group, room)
        share = p[BOILER_TO_GROUP] / (p[BOILER_TO_GROUP] + to_room)
        leak, to_case = 0.0, p[SHIELD] * conductance(p, BOILER_SKIN, boiler, case)
        if p[HAS_COIL] > 0.0:
            leak = conductance(p, COIL_SKIN, coil, case)
            to_case += contact * leak / (contact + leak) if contact > 0.0 else 0.0
        from_case = conductance(p, CASE_SKIN, case, room)
        through = to_case * from_case / (to_case + from_case) if to_case > 0.0 else 0.0
        lost = share * to_room + through
        before, group_before, case_before, coil_before = boiler, group, case, coil
        boiler = (temperature + above * lost * room) / (1.0 + above * lost)
        power = lost * (boiler - room)
        group = share * boiler + (1.0 - share) * room
        case = (to_case * boiler + from_case * room) / (to_case + from_case) if to_case + from_case > 0.0 else room
        coil = (contact * boiler + leak * case) / (contact + leak) if contact > 0.0 else case
        moved = max(max(abs(boiler - before), abs(group - group_before)), abs(case - case_before))
        if max(moved, abs(coil - coil_before)) < SAME_STATE:
            break
    element = boiler + power / from_element
    for i in range(len(y)):
        y[i] = 0.0
    y[ELEMENT], y[BOILER], y[SENSOR], y[GROUP], y[CASE_AIR] = element, boiler, temperature, group, case
    y[INTEGRAL], y[MODE] = power, ON if p[RELAY_CONTROL] > 0.0 else BETWEEN
    y[LUMPS] = boiler + into_water * (element - boiler)
    if p[HAS_COIL] > 0.0:
        y[LUMPS + 1], y[LUMPS + 2] = coil, coil
    return float(power)


@kernel
def limit_cycle(y: Vector, p: Vector, work: Matrix, exact: Tower, facts: Vector) -> bool:
    """Follow a relay from a state of means until its cycle repeats, from switching on to switching on.

    Leaves y where it switches on. Facts are means over the cycle: power from the energy between both moments, group and
    coil by trapezoids over its steps. Returns whether the cycle settles.
    """
    whole, was, last = REST_STEP / p[FINER], work[5], work[6]
    cycles, settled_down, near = 0, False, NEAR
    time, length, arriving, spent = 0.0, whole, False, 0.0
    group, coil, low, high = 0.0, 0.0, y[SENSOR], y[SENSOR]
    skins, memory = work[HELD], work[MEMORY]
    copy(y, last)
    forget(memory)
    while cycles < CYCLES and time < LONGEST_CYCLE and spent < LONGEST_SEARCH:
        copy(y, was)
        if not arriving:
            # In the end worked out anew each time: a cycle that settles has to be the same to the last digit.
            hold(y, p, y[LUMPS + 2], p[CELLS] > 0.0, True, near, skins, memory)
        switched = advance(y, p, work[0], work[1], work[2], work[3], work[4], skins, exact, 0.0, 1.0, whole, length)
        if not arriving and was[MODE] != ON and y[MODE] == ON:
            # Once more and only so far: the step in which it switches on ends there.
            copy(was, y)
            length, arriving = switched, True
            continue
        time, spent = time + length, spent + length
        group += 0.5 * length * (was[GROUP] + y[GROUP])
        coil += 0.5 * length * (was[LUMPS + 1] + y[LUMPS + 1])
        low, high = min(low, y[SENSOR]), max(high, y[SENSOR])
        if arriving:
            y[MODE] = ON
            if settled_down:
                facts[IDLE_POWER], facts[PERIOD] = (y[HEATER_ENERGY] - last[HEATER_ENERGY]) / time, time
                facts[LOW], facts[HIGH], facts[GROUP_IDLE] = low, high, group / time
                facts[PARKED] = coil / time if p[CELLS] > 0.0 else np.nan
                return True
            moved = max(abs(y[ELEMENT] - last[ELEMENT]), abs(y[BOILER] - last[BOILER]), abs(y[GROUP] - last[GROUP]))
            moved = max(moved, abs(y[CASE_AIR] - last[CASE_AIR]))
            for i in range(LUMPS, LUMPED):
                moved = max(moved, abs(y[i] - last[i]))
            settled_down, near = moved < SAME_CYCLE, 0.0 if moved < NEAR else NEAR
            if not settled_down:
                y[CASE_AIR] += to_come(p, y[CASE_AIR] - last[CASE_AIR], time)
            copy(y, last)
            cycles, time, length, arriving = cycles + 1, 0.0, whole, False
            group, coil, low, high = 0.0, 0.0, y[SENSOR], y[SENSOR]
    return False


@part
def to_come(p: Vector, moved: float, time: float) -> float:
    """How much further the case's air, which warms slowest, goes on where it has moved so far in a cycle, K.

    Its way is that of one lump with the stated conductances, so each cycle leaves about the same share of the rest.
    """
    out = p[CASE_TO_ROOM] + p[SHIELD] * p[BOILER_TO_CASE] + p[COIL_TO_CASE]
    left = math.exp(-out * time / p[CASE_CAPACITY])
    return float(min(max(moved * left / (1.0 - left), -MOST_TO_COME), MOST_TO_COME)) if out > 0.0 else 0.0


@kernel
def idle_rows(start: int, stop: int, p_all: Matrix, exact: Tower, states: Matrix, facts: Matrix,
              work: Matrix) -> None:  # fmt: skip
    """Write the idle state of means of each row, shape (n, LUMPED), and its facts.

    Facts are nan where the heater cannot hold the setpoint, or need not heat, or where a relay's cycle does not settle.
    A relay's state is the moment of switching on in its settled cycle. work: scratch, shape (WORK, LUMPED).
    """
    for r in range(start, stop):
        p, y, fact = p_all[r], states[r], facts[r]
        power = settled(p, p[SETPOINT], y)
        for i in range(FACTS):
            fact[i] = np.nan
        if not 0.0 < power < p[HEATER_POWER]:
            continue
        if p[RELAY_CONTROL] > 0.0:
            if p[OPENS] <= p[CLOSES] or not limit_cycle(y, p, work, exact[r], fact):
                fact[IDLE_POWER] = np.nan
            continue
        fact[IDLE_POWER], fact[GROUP_IDLE], fact[PERIOD] = power, y[GROUP], 0.0
        fact[PARKED] = y[LUMPS + 1] if p[CELLS] > 0.0 else np.nan
        fact[LOW], fact[HIGH] = p[SETPOINT], p[SETPOINT]


FORMULAS = (
    Formula(
        "Parked water", "T_park = (G_bc Tb + G_ca Tcase) / (G_bc + G_ca)",
        (Symbol("T_park", "water that has long stood in the coil", "K"),
         Symbol("G_bc", "conductance from boiler to coil", "W/K"),
         Symbol("G_ca", "conductance from coil to case air", "W/K"), Symbol("Tb", "boiler metal", "K"),
         Symbol("Tcase", "case air, as warm as boiler and coil keep it", "K")),
    ),
    Formula(
        "Idle power", "q = (G_room + G_case G_cr / (G_case + G_cr)) (Tb − Troom)",
        (Symbol("q", "mean heater power at idle; of a thermostat over whole cycles", "W"),
         Symbol("G_room", "G_bg G_ga / (G_bg + G_ga), from boiler through group to room", "W/K"),
         Symbol("G_case", "(1 − s) G_ba + G_bc G_ca / (G_bc + G_ca), from boiler to case air", "W/K"),
         Symbol("G_cr", "from the case to the room", "W/K"),
         Symbol("s", "share of the boiler's skin that a coil shields", "")),
    ),
)  # fmt: skip
