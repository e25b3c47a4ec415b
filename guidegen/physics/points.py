"""Points of the stated machine: what the sensor drop becomes when feed, setpoint, drink or waiting are others.

One row, no draws: these are the answers to "what if", and the drop of a first drink so many minutes after switching on.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from guidegen.physics import program
from guidegen.physics.compiled import kernel
from guidegen.physics.idle import cold, spread
from guidegen.physics.kernels import FEED, LUMPS, RELAY_CONTROL, SENSOR, SETPOINT
from guidegen.physics.network import Network
from guidegen.physics.runs import REST_STEP, means, rest
from guidegen.physics.shot import RESULTS, SENSOR_DROP, WATCHED_AFTER, shot
from guidegen.physics.study import CELLS, PHASES, Pull, _pull, _trace_rows, cosine_modes

_Numbers = NDArray[np.float64]


def what_if(
    network: Network, pulls: Sequence[Pull], feeds: Sequence[float], changes: Sequence[float], waits: Sequence[float]
) -> _Numbers:
    """The sensor drop, K, of row 0 by drink, change of the setpoint, feed and wait since the last such drink.

    feeds in K; changes of the setpoint in K, without effect on a thermostat; waits in s.
    Returns shape (drinks, changes, feeds, 1 + waits): first of a machine at rest, then after each wait. Of a thermostat
    the former is the mean over the start phases of its cycle.
    """
    stated = network.row(0).parameters()[0]
    rows = np.tile(stated, (len(changes) * len(feeds), 1))
    rows[:, FEED] = np.tile(np.asarray(feeds, dtype=float), len(changes))
    if stated[RELAY_CONTROL] == 0.0:
        rows[:, SETPOINT] += np.repeat(np.asarray(changes, dtype=float), len(feeds))
    drawn, times = np.array([_pull(one) for one in pulls]), np.asarray(waits, dtype=float)
    out = np.full((len(rows), len(pulls), 1 + len(times)), np.nan)
    _points(rows, CELLS, cosine_modes(CELLS), drawn, times, _trace_rows(rows, drawn, 1.0)[0], out)
    return out.transpose(1, 0, 2).reshape(len(pulls), len(changes), len(feeds), 1 + len(times))


def drops_from_cold(network: Network, pull: Pull, minutes: int) -> _Numbers:
    """The sensor drop, K, of row 0 in a first drink so many whole minutes after switching on, shape (minutes,).

    nan while the sensor is further below its setpoint than `program.NEAR_SETPOINT`, and for a thermostat, where the
    moment in its cycle decides.
    """
    p = network.row(0).parameters()
    out = np.full(minutes, np.nan)
    if p[0, RELAY_CONTROL] == 0.0:
        drawn = np.array([_pull(pull)])
        _from_cold(p[0], CELLS, cosine_modes(CELLS), drawn[0], _trace_rows(p, drawn, 1.0)[0], out)
    return out


@kernel
def _points(p_all, coil_cells, modes, pulls, waits, trace_rows, out):  # type: ignore[no-untyped-def]
    trace = np.empty((trace_rows, 8))
    facts, second, result = np.empty(6), np.empty((len(waits), RESULTS)), np.empty(RESULTS)
    for r in range(len(p_all)):
        p = p_all[r]
        mixed, cells, size = program.sizes(p, coil_cells)
        work, states, full = np.empty((6, size)), np.empty((PHASES, LUMPS + 3)), np.empty(size)
        count = program.idle(p, mixed, cells, PHASES, work, states, facts)
        if count == 0:
            continue
        band = facts[program.LOW : program.HIGH + 1]
        for i in range(len(pulls)):
            total = 0.0
            for phase in range(count):
                spread(states[phase], mixed, cells, full)
                shot(
                    full, p, mixed, cells, modes, pulls[i, 0], pulls[i, 1], pulls[i, 2], WATCHED_AFTER, band,
                    facts[program.PARKED], 1.0, work, trace, result,
                )  # fmt: skip
                total += result[SENSOR_DROP]
            out[r, i, 0] = total / count
            program.waiting(p, mixed, cells, modes, pulls[i], waits, states[0], facts, 1.0, work, trace, second)
            out[r, i, 1:] = second[:, SENSOR_DROP]


@kernel
def _from_cold(p, coil_cells, modes, pull, trace_rows, out):  # type: ignore[no-untyped-def]
    mixed, cells, size = program.sizes(p, coil_cells)
    work, states, full = np.empty((6, size)), np.empty((PHASES, LUMPS + 3)), np.empty(size)
    facts, result, trace = np.empty(6), np.empty(RESULTS), np.empty((trace_rows, 8))
    program.idle(p, mixed, cells, PHASES, work, states, facts)
    lumped = np.empty(LUMPS + 3)
    cold(p, mixed, cells, full)
    means(full, mixed, cells, lumped)
    for i in range(len(out)):
        rest(lumped, p, cells, 60.0, REST_STEP, work, trace[:0])
        if abs(lumped[SENSOR] - p[SETPOINT]) > program.NEAR_SETPOINT:
            continue
        spread(lumped, mixed, cells, full)
        shot(
            full, p, mixed, cells, modes, pull[0], pull[1], pull[2], WATCHED_AFTER,
            facts[program.LOW : program.HIGH + 1], facts[program.PARKED], 1.0, work, trace, result,
        )  # fmt: skip
        out[i] = result[SENSOR_DROP]
