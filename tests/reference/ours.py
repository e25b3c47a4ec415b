"""The one place where the tests reach into the package's kernels: a run of legs, seen in the reference's own terms."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from guidegen.heat import layout as at
from guidegen.heat.fleet import Fleet
from guidegen.heat.idle import settled
from guidegen.heat.network import WATER_SPECIFIC_HEAT, Network
from guidegen.heat.runs import leg as run_leg
from guidegen.heat.runs import trace_rows
from guidegen.heat.states import cold, size_of
from tests.reference.solver import Leg

Numbers = NDArray[np.float64]
_LUMPS = (at.ELEMENT, at.BOILER, at.GROUP, at.SENSOR, at.INTEGRAL, at.HEATER_ENERGY, at.LOST_ENERGY)


@dataclass(frozen=True)
class Run:
    """Trace of all legs (rows: s, K, W), and the states where legs end, in the reference's order."""

    trace: Numbers
    states: tuple[Numbers, ...]


def prepared(network: Network, row: int, cells: int, finer: float = 1.0) -> Fleet:
    """One row, ready to run."""
    return Fleet(network.row(row).parameters(), cells=cells, finer=finer)


def start_of(network: Network, row: int, cells: int, from_cold: bool = False) -> Numbers:
    """The idle or the cold state, every cell; a relay's idle is the steady state it would swing about."""
    made = prepared(network, row, cells)
    lumped, p = np.zeros(at.LUMPED), made.p[0]
    if from_cold:
        cold(p, lumped)
    else:
        settled(p, float(p[at.SETPOINT]), lumped)
    return np.asarray(made.full(lumped[np.newaxis])[0, : size_of(p)])


def in_their_terms(full: Numbers) -> Numbers:
    """A state in the order of the reference's equations."""
    drawn = full[at.DRAWN_ENERGY] + full[at.RETURNED_ENERGY]
    return np.concatenate((full[list(_LUMPS)], [drawn], full[at.LUMPS :], [full[at.CASE_AIR]]))


def run(network: Network, row: int, start: Numbers, legs: list[Leg], cells: int, finer: float = 1.0) -> Run:
    """Run the kernels through the legs."""
    made = prepared(network, row, cells, finer)
    p, full = made.p[0], start.copy()
    work = np.zeros((at.WORK, max(len(full), at.LUMPED, cells + 1)))
    length = sum(int(trace_rows(p, leg.flow * WATER_SPECIFIC_HEAT, leg.duration)) for leg in legs)
    trace, rows, time, states = np.full((length, at.COLUMNS), np.nan), 0, 0.0, []
    for leg in legs:
        flow = leg.flow * WATER_SPECIFIC_HEAT
        rows = run_leg(full, p, made.modes, work, made.exact[0], flow, leg.duration, np.nan, time, trace, rows)
        time += leg.duration
        states.append(in_their_terms(full))
    return Run(trace[:rows], tuple(states))


def in_our_terms(before: Numbers, state: Numbers) -> Numbers:
    """A state of a run as the kernels keep it; what the reference does not know is taken from the state before."""
    full = before.copy()
    full[list(_LUMPS)] = state[:7]
    full[at.LUMPS :], full[at.CASE_AIR] = state[8:-1], state[-1]
    return full
