"""Everything that is asked of one network, row by row, compiled: idle, shots, waiting, cold start, a session.

Shots start from one idle state and branch: the second drink starts from where the first one's rest has come to, a
shot during warm-up from where the cold start has come to. Nothing is run twice.
"""

from __future__ import annotations

import math

import numpy as np

from guidegen.physics.compiled import kernel
from guidegen.physics.idle import cold, limit_cycle, settled, spread
from guidegen.physics.kernels import (
    GROUP,
    HAS_COIL,
    HEATER_ENERGY,
    LUMPS,
    MIXING,
    OPENS,
    RELAY_CONTROL,
    SENSOR,
    SETPOINT,
)
from guidegen.physics.runs import (
    COIL_WATER,
    FLOW_STEP,
    GROUP_METAL,
    REST_STEP,
    SEEN,
    TIME,
    flowing,
    means,
    relaxation,
    rest,
)
from guidegen.physics.shot import RESULTS, SENSOR_DROP, shot

NEAR_SETPOINT, NEAR_GROUP, NEAR_COIL, BAND = 2.0, 1.0, 5.0, 0.5
"""K: boiler ready, group ready, coil settled, and recovered are within these of their goal."""
FOLLOW, COLD_START, SHOWN, SOAK_STEP, SOAKED = 1200.0, 7200.0, 1800.0, 60.0, 0.10
"""s: how long a shot's rest and a cold start are watched, how much of the latter is shown, how often a shot is tried;
the share of the soaked drop that counts as soaked."""

# What the cold start gives, s.
BOILER_READY, GROUP_READY, COIL_SETTLED, SHOT_READY = range(4)
# What the warm, idle machine gives.
IDLE_POWER, PARKED, PERIOD, LOW, HIGH, GROUP_IDLE = range(6)


@kernel
def sizes(p, cells):
    """Mixed cells, coil cells and length of a row's full state."""
    mixed = int(p[MIXING])
    cells = cells if p[HAS_COIL] > 0.0 else 0
    return mixed, cells, LUMPS + mixed + 2 * cells


@kernel
def idle(p, mixed, cells, phases, work, states, facts):
    """Fill `states` with idle states to start from, and `facts`; returns how many states are different.

    PID control has one idle state. A relay has as many as phases are asked for.
    """
    full = np.empty(LUMPS + mixed + 2 * cells)
    power = settled(p, p[SETPOINT], mixed, cells, full)
    means(full, mixed, cells, states[0])
    facts[IDLE_POWER], facts[GROUP_IDLE] = power, full[GROUP]
    facts[PARKED] = states[0, LUMPS + 1] if cells > 0 else np.nan
    facts[PERIOD] = 0.0
    facts[LOW], facts[HIGH] = p[SETPOINT] - BAND, p[SETPOINT] + BAND
    if p[RELAY_CONTROL] == 0.0:
        return 1
    lumped, cycle = states[0].copy(), np.empty(4)
    if not limit_cycle(p, cells, phases, lumped, work, states, cycle):
        return 0
    facts[PERIOD], facts[IDLE_POWER], facts[LOW], facts[HIGH] = cycle
    facts[GROUP_IDLE] = states[:phases, GROUP].mean()
    if cells > 0:
        facts[PARKED] = states[:phases, LUMPS + 1].mean()
    return phases


@kernel
def drinks(p, mixed, cells, modes, pulls, states, count, facts, finer, work, trace, out, spreads):
    """Each drink from each idle state: means over the states into out, ends of the sensor drop into spreads.

    pulls: mass flow kg/s, flow W/K, duration s per drink. The trace ends with the last drink's first state.
    """
    full = np.empty(LUMPS + mixed + 2 * cells)
    band = facts[LOW : HIGH + 1]
    result = np.empty(RESULTS)
    for i in range(len(pulls)):
        out[i, :] = 0.0
        spreads[i, 0], spreads[i, 1] = np.inf, -np.inf
        for phase in range(count - 1, -1, -1):
            spread(states[phase], mixed, cells, full)
            shot(
                full, p, mixed, cells, modes, pulls[i, 0], pulls[i, 1], pulls[i, 2], FOLLOW, band, facts[PARKED],
                finer, work, trace, result,
            )  # fmt: skip
            out[i, :] += result / count
            spreads[i, 0] = min(spreads[i, 0], result[SENSOR_DROP])
            spreads[i, 1] = max(spreads[i, 1], result[SENSOR_DROP])


@kernel
def waiting(p, mixed, cells, modes, pull, waits, start, facts, finer, work, trace, out):
    """The same drink again after each wait: results of the second one, the machine left alone in between."""
    full = np.empty(LUMPS + mixed + 2 * cells)
    second = full.copy()
    lumped = np.empty(LUMPS + 3)
    spread(start, mixed, cells, full)
    flowing(full, p, mixed, cells, pull[1], pull[2], FLOW_STEP / finer, work, trace[:0])
    waited = 0.0
    for i in range(len(waits)):
        means(full, mixed, cells, lumped)
        rest(lumped, p, cells, waits[i] - waited, REST_STEP / finer, work, trace[:0])
        relaxation(full, p, mixed, cells, modes, waits[i] - waited, lumped)
        waited = waits[i]
        second[:] = full
        shot(
            second, p, mixed, cells, modes, pull[0], pull[1], pull[2], 60.0, facts[LOW : HIGH + 1], facts[PARKED],
            finer, work, trace, out[i],
        )  # fmt: skip


@kernel
def from_cold(p, mixed, cells, modes, pull, soaked_drop, facts, finer, work, trace, out, tried):
    """Switch on in a cold room: when everything is ready. Returns the rows of trace; `tried` gets drop by start."""
    full = np.empty(LUMPS + mixed + 2 * cells)
    lumped, result, scratch = np.empty(LUMPS + 3), np.empty(RESULTS), np.empty_like(trace)
    cold(p, mixed, cells, full)
    means(full, mixed, cells, lumped)
    rows, time, was_in, entered = 0, 0.0, False, 0.0
    out[:] = np.nan
    before = np.nan
    tried[:] = np.nan
    for i in range(len(tried)):
        if time >= SHOWN and ready(out, lumped, p, cells, facts):
            break
        steps = rest(lumped, p, cells, SOAK_STEP, REST_STEP / finer, work, trace[rows:])
        for j in range(rows, rows + steps):
            trace[j, TIME] += time
        rows += steps
        time += SOAK_STEP
        tried[i, 0], tried[i, 1] = time, np.nan
        if p[RELAY_CONTROL] > 0.0 or not math.isnan(out[SHOT_READY]) or lumped[SENSOR] < p[SETPOINT] - NEAR_SETPOINT:
            continue
        spread(lumped, mixed, cells, full)
        shot(
            full, p, mixed, cells, modes, pull[0], pull[1], pull[2], 60.0, facts[LOW : HIGH + 1], facts[PARKED], finer,
            work, scratch, result,
        )  # fmt: skip
        miss = abs(result[SENSOR_DROP] - soaked_drop) - SOAKED * soaked_drop
        tried[i, 1] = result[SENSOR_DROP]
        if miss <= 0.0 and was_in:
            # Two tries in a row count; the moment lies between the last try outside and the first inside.
            out[SHOT_READY] = entered
        elif miss <= 0.0:
            entered = time if math.isnan(before) else time - SOAK_STEP * miss / (miss - before)
            was_in = True
        else:
            was_in, before = False, miss
    out[BOILER_READY] = first(trace[:rows], SEEN, p[SETPOINT], NEAR_SETPOINT)
    if p[RELAY_CONTROL] > 0.0:
        out[BOILER_READY] = first(trace[:rows], SEEN, p[OPENS], NEAR_SETPOINT)
    out[GROUP_READY] = first(trace[:rows], GROUP_METAL, facts[GROUP_IDLE], NEAR_GROUP)
    if cells > 0:
        out[COIL_SETTLED] = first(trace[:rows], COIL_WATER, facts[PARKED], NEAR_COIL)
    return rows


@kernel
def ready(out, lumped, p, cells, facts):
    """Whether nothing is left to wait for."""
    group = abs(lumped[GROUP] - facts[GROUP_IDLE]) <= 0.9 * NEAR_GROUP
    coil = cells == 0 or abs(lumped[LUMPS + 1] - facts[PARKED]) <= 0.9 * NEAR_COIL
    return group and coil and (p[RELAY_CONTROL] > 0.0 or not math.isnan(out[SHOT_READY]))


@kernel
def first(trace, column, goal, near):
    """When a column is first within `near` of a goal, by the line between two rows; nan where never."""
    for i in range(len(trace)):
        if abs(trace[i, column] - goal) <= near:
            if i == 0:
                return trace[0, TIME]
            edge = goal - near if trace[i - 1, column] < goal else goal + near
            share = (edge - trace[i - 1, column]) / (trace[i, column] - trace[i - 1, column])
            return trace[i - 1, TIME] + share * (trace[i, TIME] - trace[i - 1, TIME])
    return np.nan


@kernel
def session(p, mixed, cells, modes, pulls, starts, length, finer, work, trace):
    """Heater energy, J, of one session from cold: drinks at their starts, then off at `length`, s."""
    full, lumped = np.empty(LUMPS + mixed + 2 * cells), np.empty(LUMPS + 3)
    cold(p, mixed, cells, full)
    time = 0.0
    for i in range(len(starts) + 1):
        until = starts[i] if i < len(starts) else length
        if until > time:
            means(full, mixed, cells, lumped)
            rest(lumped, p, cells, until - time, REST_STEP / finer, work, trace[:0])
            relaxation(full, p, mixed, cells, modes, until - time, lumped)
            time = until
        if i < len(starts):
            flowing(full, p, mixed, cells, pulls[i, 1], pulls[i, 2], FLOW_STEP / finer, work, trace[:0])
            time += pulls[i, 2]
    return full[HEATER_ENERGY]


@kernel
def preheated(p, mixed, cells, pull, start, work, longest):
    """Mass in kg drawn at constant flow until the coil's outlet has fallen halfway from parked to feed."""
    full = np.empty(LUMPS + mixed + 2 * cells)
    spread(start, mixed, cells, full)
    last = LUMPS + mixed + cells - 1
    half = 0.5 * (full[last] + p[17])
    before, chunk, time = full[last], 0.5, 0.0
    while time < longest:
        flowing(full, p, mixed, cells, pull[1], chunk, FLOW_STEP, work, np.empty((0, 8)))
        time += chunk
        if full[last] <= half:
            share = (before - half) / (before - full[last])
            return (time - chunk * (1.0 - share)) * pull[0]
        before = full[last]
    return np.nan
