"""All outputs of one network, for every row: the entry to the computation that steps through time.

Rows are independent and each is computed by the same instructions, so the result does not depend on how many
threads share the rows.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from guidegen.physics import program
from guidegen.physics.compiled import kernel
from guidegen.physics.idle import settled, spread
from guidegen.physics.kernels import BYPASS, COIL_WATER_CAPACITY, LUMPS, RELAY_CONTROL, SETPOINT
from guidegen.physics.network import WATER_SPECIFIC_HEAT, Network, Rows
from guidegen.physics.runs import COLUMNS, COURANT, FLOW_STEP, REST_STEP, flowing, rest_step
from guidegen.physics.shot import RESULTS, outlet, shot

CELLS = 40
"""Cells of the coil; the convergence test doubles them."""
PHASES = 12
"""Start phases of a relay's cycle over which a shot is averaged in row 0; other rows draw one phase each."""
WAITS = (30.0, 60.0, 120.0, 300.0, 600.0, 1200.0)
"""Waits before a second drink, s."""
_COLD_TRIES = int(program.COLD_START / program.SOAK_STEP)


@dataclass(frozen=True)
class Pull:
    """What a drink takes from the boiler: withdrawn mass in kg at constant flow over a duration in s."""

    mass: float
    duration: float


@dataclass(frozen=True)
class Usage:
    """One session: drinks by name at their starts after switching on, s, and when it is switched off, s."""

    drinks: tuple[str, ...]
    starts: tuple[float, ...]
    length: float


@dataclass(frozen=True)
class Shots:
    """Results of one drink, each of shape (n,), in K and s; nan where there is none.

    For a relay row 0 is the mean over its start phases, and `drop_ends` the lowest and highest sensor drop there.
    """

    sensor_drop: Rows
    water_drop: Rows
    outlet_fall: Rows
    stability_band: Rows
    mean_outlet: Rows
    sensor_recovery: Rows
    coil_recovery: Rows
    lowest_sensor: Rows
    drop_ends: NDArray[np.float64]


@dataclass(frozen=True)
class Traces:
    """Curves of row 0: columns as in `runs` (time s, temperatures K, power W)."""

    shot: NDArray[np.float64]
    cold: NDArray[np.float64]
    drop_from_cold: NDArray[np.float64]


@dataclass(frozen=True)
class Study:
    """Everything that stepping through time gives for one network; arrays of shape (n,) unless said."""

    drinks: dict[str, Shots]
    second: Shots
    """The main drink again after each of WAITS; arrays of shape (n, waits)."""
    idle_power: Rows
    parked: Rows
    period: Rows
    display_low: Rows
    display_high: Rows
    group_idle: Rows
    boiler_ready: Rows
    group_ready: Rows
    coil_settled: Rows
    shot_ready: Rows
    session_energy: Rows
    preheated: Rows
    """kg of water."""
    traces: Traces


def study(
    network: Network, pulls: Mapping[str, Pull], main: str, usage: Usage, phase: Rows, finer: float = 1.0
) -> Study:
    """Compute every output of one network.

    pulls: the drinks; main: the one that is watched while waiting and during warm-up; phase: for a relay the share
    of the cycle at which each row's shots start, shape (n,), not used in row 0; finer: divides every step.
    """
    p = network.parameters()
    names = list(pulls)
    drawn = np.array([_pull(pulls[name]) for name in names])
    used = np.array([_pull(pulls[name]) for name in usage.drinks]).reshape(-1, 3)
    starts, waits = np.array(usage.starts, dtype=float), np.array(WAITS)
    n = len(p)
    out = _Arrays(n, len(names), len(waits), _trace_rows(p, drawn, finer))
    modes = cosine_modes(CELLS)

    def compute(rows: range) -> None:
        if len(rows):
            _rows(
                rows.start, rows.stop, p, CELLS, modes, drawn, names.index(main), waits, used, starts, usage.length,
                phase, finer, *out,
            )  # fmt: skip

    # Row 0 alone first: it also compiles, and only it takes all phases.
    threads = max(1, min(2, os.cpu_count() or 1))
    edges = np.linspace(0, n, threads + 1).astype(int)
    if threads == 1 or n < 2 * threads:
        compute(range(n))
    else:
        with ThreadPoolExecutor(threads) as pool:
            list(pool.map(compute, [range(a, b) for a, b in pairwise(edges)]))
    shots = {name: _shots(out.drinks[:, i], out.ends[:, i]) for i, name in enumerate(names)}
    facts, cold = out.facts, out.cold
    return Study(
        drinks=shots,
        second=_shots(out.second, np.full((n, 2), np.nan)),
        idle_power=facts[:, program.IDLE_POWER],
        parked=facts[:, program.PARKED],
        period=facts[:, program.PERIOD],
        display_low=facts[:, program.LOW],
        display_high=facts[:, program.HIGH],
        group_idle=facts[:, program.GROUP_IDLE],
        boiler_ready=cold[:, program.BOILER_READY],
        group_ready=cold[:, program.GROUP_READY],
        coil_settled=cold[:, program.COIL_SETTLED],
        shot_ready=cold[:, program.SHOT_READY],
        session_energy=out.session,
        preheated=out.preheated,
        traces=Traces(out.shot_trace[: int(out.trace_rows[0])], out.cold_trace[: int(out.trace_rows[1])], out.tried),
    )


def cosine_modes(cells: int) -> NDArray[np.float64]:
    """The orthonormal cosine modes of a row of cells with closed ends, shape (cells, cells)."""
    k, j = np.meshgrid(np.arange(cells), np.arange(cells), indexing="ij")
    modes: NDArray[np.float64] = np.cos(np.pi * k * (j + 0.5) / cells) * np.sqrt(2.0 / cells)
    modes[0] /= np.sqrt(2.0)
    return modes


def _trace_rows(p: NDArray[np.float64], drawn: NDArray[np.float64], finer: float) -> tuple[int, int]:
    """How many rows the trace of a shot with its rest, and that of a cold start, can have at most."""
    resting = min(rest_step(row, REST_STEP / finer) for row in p)
    capacity, through = p[:, COIL_WATER_CAPACITY], drawn[:, 1].max() + p[:, BYPASS].max()
    cell = capacity[capacity > 0].min(initial=np.inf) / CELLS
    flowing = min(FLOW_STEP / finer, COURANT * cell / through)
    shot = drawn[:, 2].max() / flowing + program.FOLLOW / resting
    return int(shot) + 16, _COLD_TRIES * (int(program.SOAK_STEP / resting) + 2)


def _pull(pull: Pull) -> tuple[float, float, float]:
    flow = pull.mass / pull.duration
    return flow, flow * WATER_SPECIFIC_HEAT, pull.duration


def _shots(results: NDArray[np.float64], ends: NDArray[np.float64]) -> Shots:
    return Shots(*(results[..., column] for column in range(RESULTS)), ends)


class _Arrays(tuple[NDArray[np.float64], ...]):
    """The arrays that the kernel fills, in the order of its arguments."""

    def __new__(cls, n: int, drinks: int, waits: int, rows: tuple[int, int]) -> _Arrays:
        shapes = (
            (n, drinks, RESULTS), (n, drinks, 2), (n, waits, RESULTS), (n, 6), (n, 4), (n,), (n,),
            (rows[0], COLUMNS), (rows[1], COLUMNS), (_COLD_TRIES, 2), (2,),
        )  # fmt: skip
        made = super().__new__(cls, (np.full(shape, np.nan) for shape in shapes))
        (
            made.drinks, made.ends, made.second, made.facts, made.cold, made.session, made.preheated,
            made.shot_trace, made.cold_trace, made.tried, made.trace_rows,
        ) = made  # fmt: skip
        return made


@kernel
def _rows(  # type: ignore[no-untyped-def]
    start, stop, p_all, coil_cells, modes, pulls, main, waits, used, starts, length, phase, finer,
    drinks, ends, second, facts, cold, session, preheated, shot_trace, cold_trace, tried, trace_rows,
):  # fmt: skip
    trace, cold_rows, tries = np.empty_like(shot_trace), np.empty_like(cold_trace), np.empty_like(tried)
    for r in range(start, stop):
        p = p_all[r]
        mixed, cells, size = program.sizes(p, coil_cells)
        work = np.empty((6, size))
        states = np.empty((PHASES, LUMPS + 3))
        count = program.idle(p, mixed, cells, PHASES, work, states, facts[r])
        if count == 0:
            continue
        if r > 0 and count > 1:
            states[0] = states[int(phase[r] * PHASES) % PHASES]
            count = 1
        program.drinks(p, mixed, cells, modes, pulls, states, count, facts[r], finer, work, trace, drinks[r], ends[r])
        program.waiting(p, mixed, cells, modes, pulls[main], waits, states[0], facts[r], finer, work, trace, second[r])
        soaked = drinks[r, main, 0]
        rows = program.from_cold(
            p, mixed, cells, modes, pulls[main], soaked, facts[r], finer, work, cold_rows, cold[r], tries
        )
        session[r] = program.session(p, mixed, cells, modes, used, starts, length, finer, work, trace)
        if cells > 0:
            preheated[r] = program.preheated(p, mixed, cells, pulls[main], states[0], work, 600.0)
        if r == 0:
            cold_trace[:rows] = cold_rows[:rows]
            tried[:] = tries
            trace_rows[1] = rows
            full = np.empty(size)
            result = np.empty(RESULTS)
            spread(states[0], mixed, cells, full)
            trace_rows[0] = shot(
                full, p, mixed, cells, modes, pulls[main, 0], pulls[main, 1], pulls[main, 2], program.FOLLOW,
                facts[r, program.LOW : program.HIGH + 1], facts[r, program.PARKED], finer, work, shot_trace, result,
            )  # fmt: skip


def setpoint_for(network: Network, pull: Pull, wanted: Rows) -> Rows:
    """The setpoint, K, at which a drink's mean outlet is the wanted one, shape (n,); nan for a relay.

    The network is linear but for the heater's limits, so two secant steps settle it to a few millikelvin.
    """
    p = network.parameters()
    modes, one = cosine_modes(CELLS), np.array(_pull(pull))
    if np.any(p[:, RELAY_CONTROL] > 0):
        return np.full(len(p), np.nan)
    at = p[:, SETPOINT].copy()
    got = _mean_outlets(p, CELLS, modes, one)
    slope = np.ones(len(p))
    for _ in range(3):
        change = (wanted - got) / slope
        p[:, SETPOINT] += change
        new = _mean_outlets(p, CELLS, modes, one)
        moved = np.abs(change) > 1e-6
        slope = np.where(moved, (new - got) / np.where(moved, change, 1.0), slope)
        got = new
    found: Rows = p[:, SETPOINT]
    return np.where(np.abs(found - at) < 60.0, found, np.nan)


@kernel
def _mean_outlets(p_all, coil_cells, modes, pull):  # type: ignore[no-untyped-def]
    out = np.empty(len(p_all))
    for r in range(len(p_all)):
        p = p_all[r]
        mixed, cells, size = program.sizes(p, coil_cells)
        work, full, trace, result = (
            np.empty((6, size)),
            np.empty(size),
            np.empty((int(pull[2] / 0.02) + 16, COLUMNS)),
            np.empty(RESULTS),
        )
        settled(p, p[SETPOINT], mixed, cells, full)
        rows = flowing(full, p, mixed, cells, pull[1], pull[2], 0.1, work, trace)
        outlet(trace[:rows], pull[0], result)
        out[r] = result[4]
    return out
