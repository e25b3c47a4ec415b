"""All outputs of one network, for every row: the entry to the computation that steps through time.

Rows are independent and each is computed by the same instructions, so the result does not depend on how many
threads share the rows.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from guidegen.heat import idle, program, warming
from guidegen.heat.fleet import CELLS, Fleet, idles
from guidegen.heat.network import Network, Rows
from guidegen.heat.pull import FLUSH, Pull, Usage
from guidegen.heat.setpoint import setpoint_for
from guidegen.heat.shot import Shots

__all__ = ["CELLS", "FLUSH", "WAITS", "Pull", "Shots", "Study", "Traces", "Usage", "setpoint_for", "study"]

WAITS = (30.0, 60.0, 120.0, 300.0, 600.0, 1200.0)
"""Waits before a second drink, s."""
FLUSH_PAUSE = 30.0
"""s from the end of a flush to the drink after it: to wipe, lock in and start; common practice, no source."""


@dataclass(frozen=True)
class Traces:
    """Curves of row 0: columns as in `layout` (time s, temperatures K, power W).

    Of a relay the shot is the one that starts at row 0's phase.
    """

    shot: NDArray[np.float64]
    cold: NDArray[np.float64]


@dataclass(frozen=True)
class Study:
    """Everything that stepping through time gives for one network; arrays of shape (n,) unless stated.

    A row whose heater cannot hold its setpoint, or whose relay finds no settled cycle, is nan throughout.
    """

    drinks: dict[str, Shots[Rows]]
    """In K and s, infinite where longer than it was watched; for a relay the mean over start phases of its cycle, but
    recoveries, which are those of the first phase alone."""
    drop_ends: dict[str, NDArray[np.float64]]
    """Of each drink the lowest and highest sensor drop over a relay's start phases, shape (n, 2)."""
    second: Shots[Rows]
    """The main drink again after each of WAITS, for a relay from a row's first phase; arrays of shape (n, waits)."""
    after_flush: Shots[Rows]
    """The main drink half a minute after a flush."""
    idle_power: Rows
    parked: Rows
    period: Rows
    display_low: Rows
    """The sensor's lowest and highest temperature at idle, K."""
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
    network: Network,
    pulls: Mapping[str, Pull],
    main: str,
    usage: Usage,
    phase: Rows,
    *,
    flush: Pull = FLUSH,
    habit: NDArray[np.float64] | None = None,
    finer: float = 1.0,
    cells: int = CELLS,
    threads: int | None = None,
) -> Study:
    """Compute every output of one network.

    Parameters: network of n rows; pulls, the drinks by name; main, the one that is watched while waiting and during
        warm-up; usage, one session; phase, for a relay the share of the cycle at which the first of each row's shots
        starts, shape (n,); flush; habit, how each row's drinks differ from what is stated, as in `Pull.rows`; finer,
        divides every step; cells of the coil; threads, at most as many as the machine has.
    Returns: `Study`.
    Valid for: what `network` says; flows above zero; phases from 0 to 1.
    Equation: those of `network`, `control` and `shot`.
    Source: none; the equations are balances of energy.

    >>> from guidegen.heat.example import example
    >>> made = study(example(), {"double": Pull(0.05, 28.0)}, "double", Usage((), (), 600.0), np.zeros(1))
    >>> bool(293.15 < made.parked[0] < 273.15 + 110)  # between the room and the boiler
    True
    """
    if len(phase) != len(network) or not np.all((phase >= 0) & (phase <= 1)):
        raise ValueError("phase: one share from 0 to 1 for each row")
    if len(usage.starts) != len(usage.drinks) or not math.isfinite(usage.length + sum(usage.starts)):
        raise ValueError("usage: one finite start for each drink")
    fleet = Fleet(network.parameters(), cells=cells, finer=finer, threads=threads, habit=habit)
    return _answers(program.starts(fleet, phase), pulls, main, usage, flush)


def _answers(begin: program.Starts, pulls: Mapping[str, Pull], main: str, usage: Usage, flush: Pull) -> Study:
    """Everything that is asked of machines at rest."""
    fleet, facts, drink, once = begin.fleet, begin.facts, pulls[main], begin.once()
    firsts = {name: program.first(begin, once, pull, show=name == main) for name, pull in pulls.items()}
    made = {name: by_name(first.results) for name, first in firsts.items()}
    flushed = program.drinks(once, flush, 0.0)
    times, cold = fleet.from_cold(facts, shown=True)
    times[~idles(facts)] = np.nan
    energy = program.session(fleet, [pulls[name] for name in usage.drinks], usage.starts, usage.length)
    ready = times[:, warming.BOILER_READY]
    return Study(
        drinks=made,
        drop_ends={name: first.ends for name, first in firsts.items()},
        second=by_name(once.mean(program.again(once, firsts[main].watched, drink, WAITS))),
        after_flush=by_name(once.mean(program.again(once, flushed, drink, (FLUSH_PAUSE,)))[:, 0]),
        idle_power=facts[:, idle.IDLE_POWER],
        parked=facts[:, idle.PARKED],
        period=facts[:, idle.PERIOD],
        display_low=facts[:, idle.LOW],
        display_high=facts[:, idle.HIGH],
        group_idle=facts[:, idle.GROUP_IDLE],
        boiler_ready=ready,
        group_ready=times[:, warming.GROUP_READY],
        coil_settled=times[:, warming.COIL_SETTLED],
        shot_ready=program.shot_ready(fleet, drink, made[main].sensor_drop, ready),
        session_energy=np.where(idles(facts), energy, np.nan),
        preheated=program.preheated(once, drink),
        traces=Traces(firsts[main].watched.curve, cold),
    )


def by_name(results: NDArray[np.float64]) -> Shots[Rows]:
    """Results by column, the last axis, as results by name."""
    return Shots(*np.moveaxis(results, -1, 0))
