"""Legs of a run: flow with every cell, rest with the means, and the change between the two. Compiled, one row.

A full state holds every cell. During rest only the means are stepped; how far each cell differs from its mean
relaxes by itself and is brought up to date in closed form when the rest ends.
"""

from __future__ import annotations

import math

import numpy as np

from guidegen.heat.compiled import kernel
from guidegen.heat.components.cells import mean
from guidegen.heat.components.coil import outlet_of
from guidegen.heat.components.controller import engage
from guidegen.heat.components.group import group_outlet
from guidegen.heat.held import NEAR, forget, hold
from guidegen.heat.layout import (
    BOILER,
    BOILER_CAPACITY,
    BOILER_METAL,
    BOILER_TO_CASE,
    BOILER_TO_COIL,
    BOILER_TO_GROUP,
    BOILER_TO_WATER,
    BYPASS,
    CASE_CAPACITY,
    CASE_TO_ROOM,
    CELLS,
    COIL_ALONG,
    COIL_INSIDE_IN_FLOW,
    COIL_METAL_CAPACITY,
    COIL_OUTLET,
    COIL_SKIN,
    COIL_TO_CASE,
    COIL_WATER,
    COIL_WATER_CAPACITY,
    DERIVING,
    FEED,
    FINER,
    GROUP,
    GROUP_CAPACITY,
    GROUP_METAL,
    GROUP_TO_ROOM,
    GROUP_TO_WATER,
    HEATER_CAPACITY,
    HEATER_ENERGY,
    HEATER_TO_BOILER,
    HEATER_TO_WATER,
    HELD,
    INTEGRATING,
    LEAKED,
    LUMPED,
    LUMPS,
    MEAN_WATER,
    MEMORY,
    MIXING,
    OUTLET,
    POWER,
    PROPORTIONAL,
    SEEN,
    SENSOR,
    SENSOR_LAG,
    SHIELD,
    SWITCHED,
    TIME,
    WATER_CAPACITY,
    Matrix,
    Tower,
    Vector,
)
from guidegen.heat.states import means, relaxation
from guidegen.heat.steps import advance

__all__ = ["COIL_WATER", "GROUP_METAL", "OUTLET", "SEEN", "TIME", "flow_step", "leg", "run", "trace_rows"]

FLOW_STEP, REST_STEP = 0.2, 0.5
"""Longest steps in s; at rest only the moments that are looked at, for there a step is exact."""
COURANT = 0.4
"""Largest share of a coil cell that flows through in one step."""
FASTEST = 0.7
"""Largest product of a step in flow and the fastest rate of lumps, control and coil."""
PARTS = (
    "the heater's element", "the boiler's metal", "the boiler's water", "the group", "the sensor", "the control",
    "the coil's water", "the coil's metal", "the flow through the coil", "the air in the case",
)  # fmt: skip
"""What may ask for short steps in flow, by number."""


@kernel
def fastest_rate(p: Vector, flow: float, which: int) -> float:
    """The fastest rate of one of `PARTS` in flow, 1/s: conductances over heat capacity, or what control adds."""
    rate = 0.0
    if which == 0:
        rate = (p[HEATER_TO_BOILER] + p[HEATER_TO_WATER]) / p[HEATER_CAPACITY]
    elif which == 1:
        out = p[BOILER_TO_WATER] + p[BOILER_TO_GROUP] + abs(p[SHIELD]) * p[BOILER_TO_CASE] + p[BOILER_TO_COIL]
        rate = (p[HEATER_TO_BOILER] + out) / p[BOILER_CAPACITY]
    elif which == 2:
        rate = (p[HEATER_TO_WATER] + p[BOILER_TO_WATER] + p[MIXING] * flow) / p[WATER_CAPACITY]
    elif which == 3:
        rate = (p[BOILER_TO_GROUP] + p[GROUP_TO_ROOM] + flow) / p[GROUP_CAPACITY]
    elif which == 4:
        rate = 1.0 / p[SENSOR_LAG]
    elif which == 5:
        late = p[HEATER_CAPACITY] * p[SENSOR_LAG]
        rate = max(math.sqrt(p[DERIVING] / late), math.sqrt(p[PROPORTIONAL] / late), (p[INTEGRATING] / late) ** (1 / 3))
    elif p[CELLS] > 0.0 and which == 6:
        inside = p[COIL_INSIDE_IN_FLOW]
        rate = inside / p[COIL_WATER_CAPACITY] + inside / p[COIL_METAL_CAPACITY]
    elif p[CELLS] > 0.0 and which == 7:
        beside = 2.0 * p[COIL_ALONG] * p[CELLS] * p[CELLS]
        rate = (p[BOILER_TO_COIL] + p[COIL_TO_CASE] + beside) / p[COIL_METAL_CAPACITY]
    elif p[CELLS] > 0.0 and which == 8:
        rate = FASTEST / COURANT * p[CELLS] * (flow + p[BYPASS]) / p[COIL_WATER_CAPACITY]
    elif which == 9:
        rate = (p[CASE_TO_ROOM] + abs(p[SHIELD]) * p[BOILER_TO_CASE] + p[COIL_TO_CASE]) / p[CASE_CAPACITY]
    return float(rate)


@kernel
def flow_step(p: Vector, flow: float) -> float:
    """The longest step, s, that every part of the network allows in flow."""
    h = FLOW_STEP
    for which in range(len(PARTS)):
        rate = fastest_rate(p, flow, which)
        if h * rate > FASTEST:
            h = FASTEST / rate
    return float(h / p[FINER])


@kernel
def trace_rows(p: Vector, flow: float, duration: float) -> int:
    """How many rows the trace of a leg has at most."""
    h = flow_step(p, flow) if flow > 0.0 else REST_STEP / p[FINER]
    return int(duration / h) + 4


@kernel
def run(y: Vector, p: Vector, work: Matrix, exact: Tower, flow: float, duration: float, halt: float, start: float,
        trace: Matrix, rows: int) -> int:  # fmt: skip
    """Step a state through a leg, in place: a full state in flow (W/K), a state of means at rest, with flow zero.

    halt: the coil's outlet at which a draw ends early, K, or nan. start: what the trace's clock shows at the beginning,
    s. trace: rows are written from `rows` on, one for the start as well; it must be long enough, or of no length: then
    nothing is written. Returns the row that comes next; in work[HELD] is left what the coil's skin conducted, J/K.
    """
    mixed, cells = int(p[MIXING]), int(p[CELLS])
    whole = REST_STEP / p[FINER]
    h, passing = whole, 1.0
    if flow > 0.0:
        steps = max(1, math.ceil(duration / flow_step(p, flow) - 1e-9))
        h, passing = duration / steps, math.exp(-p[GROUP_TO_WATER] / flow)
    else:
        steps = math.ceil(duration / h - 1e-9)
        mixed, cells = 1, min(1, cells)
    engage(y, p, mixed)
    rate, at, total, face, before, skins, memory = work[0], work[1], work[2], work[3], work[4], work[HELD], work[MEMORY]
    time, power, switched, leaked = 0.0, 0.0, np.nan, 0.0
    forget(memory)
    for i in range(steps + 1):
        if i > 0:
            step = h if i < steps else duration - time
            # The last step of a rest is a whole one too where it is one but for rounding.
            step = h if abs(step - h) < 1e-9 else step
            energy = y[HEATER_ENERGY]
            metal = mean(y, LUMPS + mixed + cells, cells) if cells > 0 else 0.0
            hold(y, p, metal, cells > 0, flow <= 0.0, NEAR, skins, memory)
            changed = advance(y, p, before, rate, at, total, face, skins, exact, flow, passing, whole, step)
            switched, power = start + time + changed, (y[HEATER_ENERGY] - energy) / step
            time = i * h if i < steps else duration
            leaked += step * skins[COIL_SKIN]
        outlet = p[FEED]
        if flow > 0.0 and cells > 0:
            outlet = outlet_of(y, p, LUMPS + mixed, cells)
        if len(trace) > 0:
            if rows >= len(trace):
                raise IndexError("a trace is too short for its run")
            trace[rows, TIME], trace[rows, SEEN] = start + time, y[SENSOR]
            trace[rows, MEAN_WATER] = mean(y, LUMPS, mixed)
            trace[rows, OUTLET] = group_outlet(y, y[LUMPS + mixed - 1], passing)
            trace[rows, GROUP_METAL], trace[rows, BOILER_METAL] = y[GROUP], y[BOILER]
            trace[rows, COIL_WATER] = mean(y, LUMPS + mixed, cells) if cells > 0 else p[FEED]
            trace[rows, COIL_OUTLET], trace[rows, POWER], trace[rows, SWITCHED] = outlet, power, switched
            rows += 1
        if outlet <= halt:
            break
    skins[LEAKED] = leaked
    return rows


@kernel
def leg(full: Vector, p: Vector, modes: Matrix, work: Matrix, exact: Tower, flow: float, duration: float, halt: float,
        start: float, trace: Matrix, rows: int) -> int:  # fmt: skip
    """Step a full state through a leg, in place: a draw with every cell, a rest by its means. Arguments as in `run`."""
    resting = flow <= 0.0
    lumped = work[5, :LUMPED]
    means(full, p, lumped)
    rows = run(lumped if resting else full, p, work, exact, flow, duration, halt, start, trace, rows)
    if resting and duration > 0.0:
        relaxation(full, p, modes, duration, work[HELD, LEAKED] / duration, lumped, work)
    return rows
