"""The kernels against a general solver: LSODA with a compiled right-hand side, on the same equations.

The peer gets the same cells, the same slopes within them and the equations as they are defined (tests/reference,
compiled); relative tolerance 1e-6, no output but the end, a new start wherever the flow changes. It runs on one thread,
for its solver holds the interpreter; the kernels run on two. Its time is the median over as many rows as a second
allows: where PID control slides along a limit of the heater it nearly stands still, which would flatter the kernels.
Errors of both are against LSODA at 1e-10 with every change of the controller's mode located.
"""

from __future__ import annotations

import os
import platform
import time
import warnings
from collections.abc import Iterator
from dataclasses import dataclass

import numba
import numpy as np
from numpy.typing import NDArray
from scipy.integrate import ODEintWarning, odeint

from guidegen.heat import program
from guidegen.heat.fleet import CELLS, Fleet
from guidegen.heat.network import WATER_SPECIFIC_HEAT, Network
from guidegen.heat.states import size_of
from tests.bench._aims import Aim
from tests.reference import machines, ours
from tests.reference.equations import packed, rates
from tests.reference.solver import Leg, solve

Numbers = NDArray[np.float64]
TOLERANCE, THREADS = 1e-6, 2
FEWEST, PATIENCE, STALLS = 3, 1.0, 10
"""Rows of the peer at least, seconds after which no more are measured, and medians that count as standing still."""

AIM_RATIO, FARTHEST_K = 40, 0.1
BOUND = (
    "the right-hand side of a draw, four times in each fifth of a second, where the coil's cells already run in whole "
    "vector registers; at rest by one product of a 16 by 16 matrix with a state for each half second that is looked "
    "at; of one row alone by the interpreter's calls around them"
)


@dataclass(frozen=True)
class Case:
    """Legs from idle or from cold, and the batches that are measured."""

    name: str
    legs: tuple[Leg, ...]
    cold: bool
    coil: bool
    batches: tuple[int, ...]


SHOT = (Leg(28.0, 1.8e-3), Leg(60.0))
CASES = (
    Case("a shot and a minute, with a coil", SHOT, False, True, (1, 100)),
    Case("a shot and a minute, without", SHOT, False, False, (1, 100)),
    Case("a shot and twenty minutes, with a coil", (SHOT[0], Leg(1200.0)), False, True, (1, 100)),
    Case("half an hour from cold, with a coil", (Leg(1800.0),), True, True, (1, 100)),
    Case("ten seconds of a draw, with a coil", (Leg(10.0, 1.8e-3),), False, True, (1, 100, 10_000)),
)


@numba.njit
def right_hand_side(y: Numbers, _t: float, a: Numbers, m: int, n: int, flow: float) -> Numbers:
    """The reference's rates, as the solver wants them."""
    d = np.empty_like(y)
    rates(y, a, m, n, flow, 0.0, d)
    return d


def peer(network: Network, row: int, start: Numbers, legs: tuple[Leg, ...]) -> Numbers:
    """The end by LSODA."""
    a, m, n = packed(network, row), int(network.mixing[row]), CELLS if network.coil is not None else 0
    y = start
    for leg in legs:
        arguments = (a, m, n, leg.flow * WATER_SPECIFIC_HEAT)
        y = odeint(
            right_hand_side, y, [0.0, leg.duration], arguments, rtol=TOLERANCE, atol=TOLERANCE, mxstep=100_000
        )[-1]  # fmt: skip
    return np.asarray(y)


def kernels(fleet: Fleet, states: Numbers, legs: tuple[Leg, ...]) -> Numbers:
    """The ends of all rows by the kernels."""
    pulls = np.zeros((len(fleet), 3))
    for leg in legs:
        if leg.flow > 0:
            pulls[:] = leg.flow, leg.flow * WATER_SPECIFIC_HEAT, leg.duration
            states = fleet.shots(states, pulls, keep=True).drawn
        else:
            pulls[:] = 0.0
            states = fleet.shots(states, pulls, wait=leg.duration, keep=True).begun
    return states


def timed(fleet: Fleet, states: Numbers, legs: tuple[Leg, ...]) -> float:
    """How long the kernels take for all rows, s."""
    began = time.perf_counter()
    kernels(fleet, states, legs)
    return time.perf_counter() - began


def theirs_of(fleet: Fleet, states: Numbers, row: int) -> Numbers:
    """The state of one row in the reference's terms, without what fills up its registers."""
    return ours.in_their_terms(states[row, : size_of(fleet.p[row])])


def error(found: Numbers, exact: Numbers) -> float:
    """The largest difference of a temperature, K."""
    return float(max(np.abs(found[:4] - exact[:4]).max(), np.abs(found[8:] - exact[8:]).max()))


def measure(case: Case) -> Iterator[Aim]:
    """A line and an aim per batch."""
    legs = list(case.legs)
    seconds = float(sum(leg.duration for leg in legs))
    for batch in case.batches:
        network = machines.plausible(batch, case.coil) if batch > 1 else machines.reference(case.coil)
        began = time.perf_counter()
        fleet = Fleet(network.parameters(), threads=THREADS)
        states = program.cold_states(fleet) if case.cold else fleet.idle()[0]
        # The first call makes the exact steps at rest of every row: it is part of what a batch costs, so the time to
        # make them is counted, in a fleet of its own.
        ready = time.perf_counter() - began
        fresh = [Fleet(network.parameters(), threads=THREADS) for _ in range(3)]
        ours_spent = min(timed(one, states, case.legs) for one in fresh)
        ends, spent, errors, rows = kernels(fleet, states, case.legs), [], [], 0
        while rows < batch and (rows < FEWEST or sum(spent) < PATIENCE):
            start = theirs_of(fleet, states, rows)
            began = time.perf_counter()
            theirs = peer(network, rows, start, case.legs)
            spent.append(time.perf_counter() - began)
            if rows < FEWEST:
                looks = np.array([seconds])
                exact = solve(network, rows, start, legs, looks, CELLS, relative=1e-10).states[-1]
                mine = theirs_of(fleet, ends, rows)
                errors.append((error(mine, exact), error(theirs, exact)))
            rows += 1
        each, theirs_each = ours_spent / batch, float(np.median(spent))
        mine_off, theirs_off = np.max(errors, axis=0)
        if max(mine_off, theirs_off) > FARTHEST_K:
            raise AssertionError(
                f"{case.name}: off by {mine_off:.1e} and {theirs_off:.1e} K, so these are other states"
            )
        stalled = int(np.sum(np.array(spent) > STALLS * theirs_each))
        print(
            f"physics: {case.name}, {batch} rows, N = {fleet.cells} both: {theirs_each / each:.0f} times "
            f"(kernels {each * 1e6:.0f} µs a row, LSODA {theirs_each * 1e6:.0f} µs over {rows} rows; "
            f"off by {mine_off:.1e} and {theirs_off:.1e} K; made ready in {ready * 1e3:.0f} ms)"
            + (f"; LSODA stalls in {stalled} of them" if stalled else "")
        )
        what = f"kernels against LSODA, {case.name}, {batch} rows"
        yield Aim(what, theirs_each / each, AIM_RATIO, "times", BOUND, at_least=True)


def main() -> Iterator[Aim]:
    """The ratios, and what bounds them."""
    print(f"physics: {os.cpu_count()} processors, {platform.processor() or platform.machine()}, {THREADS} threads")
    warm = machines.reference(True)
    for cold in (False, True):
        fleet = Fleet(warm.parameters(), threads=1)
        states = program.cold_states(fleet) if cold else fleet.idle()[0]
        kernels(fleet, states, SHOT)
        peer(warm, 0, theirs_of(fleet, states, 0), (Leg(1.0, 1e-3),))
    with warnings.catch_warnings():
        # It says so where it stalls; the line of the case says so too.
        warnings.simplefilter("ignore", ODEintWarning)
        for case in CASES:
            yield from measure(case)
