"""The kernels against a general solver on the same semi-discrete equations, over machines all over the ranges.

The equations are stated a second time in tests/reference, apart from the package; LSODA solves them to ten digits.
Where PID control holds its integral the equations jump; there the reference is held against very many small steps.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from guidegen.heat import layout as at
from tests.reference import machines, ours
from tests.reference.solver import Leg, Solution, imbalance, small_steps, solve

Numbers = NDArray[np.float64]
CELLS = 20
MACHINES = 24
"""Machines in the slow tier; the fast one takes the first of them."""
KELVIN, CELL, EDGE = 0.01, 0.03, 0.05
"""K; of a single cell of the coil, because how far it differs from the mean relaxes with the mean of its skin's
conductance over a rest; and on the edges of a thermostat's swing, which a sensor runs up at one to two kelvins
a second.
"""
SECONDS, CLEAR, LARGEST_SHARE = 0.05, 0.05, 0.05
"""A relay's crossing within so many s, for machines that clear each threshold by so many K at every turning point;
the largest share of machines that may be left out for that."""
ROWS = [pytest.param(row, marks=[] if row < 8 else [pytest.mark.slow]) for row in range(MACHINES)]


def drawn(row: int) -> list[Leg]:
    """A shot, a rest, a flush and a long rest; flows and times differ from row to row."""
    draw = np.random.default_rng(1000 + row)
    shot = Leg(float(draw.uniform(20.0, 35.0)), float(draw.uniform(1.0e-3, 3.0e-3)))
    return [shot, Leg(45.0), Leg(float(draw.uniform(8.0, 15.0)), 4e-3), Leg(300.0)]


def both(
    coil: bool, relay: bool, row: int, legs: list[Leg], cold: bool, every: int = 7
) -> tuple[ours.Run, Solution, float]:
    """Ours and the solver's, and the largest share of heater energy by which a balance of ours does not close."""
    network = machines.plausible(MACHINES, coil, relay)
    start = ours.start_of(network, row, CELLS, cold)
    run = ours.run(network, row, start, legs, CELLS)
    theirs = ours.in_their_terms(start)
    ends = np.cumsum([leg.duration for leg in legs])
    looks = np.unique(np.concatenate((run.trace[::every, at.TIME], ends)))
    solved = solve(network, row, theirs, legs, looks, CELLS)
    gaps = [imbalance(network, row, theirs, state, CELLS) / max(state[5], 1.0) for state in run.states]
    return run, solved, max(gaps)


def furthest(run: ours.Run, solved: Solution, mixed: int) -> float:
    """The largest difference of sensor, mean water, group and boiler over the whole run, K."""
    trace = run.trace
    worst = 0.0
    columns = (
        (at.SEEN, solved.states[:, 3]),
        (at.MEAN_WATER, solved.states[:, 8 : 8 + mixed].mean(axis=1)),
        (at.GROUP_METAL, solved.states[:, 2]),
        (at.BOILER_METAL, solved.states[:, 1]),
    )
    nearest = np.abs(trace[:, at.TIME][None, :] - solved.times[:, None]).argmin(axis=1)
    same = np.abs(trace[nearest, at.TIME] - solved.times) < 1e-6
    assert same.sum() > 20
    for column, expected in columns:
        worst = max(worst, float(np.abs(trace[nearest, column] - expected)[same].max()))
    return worst


@pytest.mark.parametrize("row", ROWS)
@pytest.mark.parametrize("coil", [False, True], ids=["without", "with"])
def test_shots_agree_with_the_solver(coil: bool, row: int) -> None:
    """From idle, a shot, a rest, a flush and a rest stay within a hundredth of a kelvin, and the balance closes."""
    legs = drawn(row)
    run, solved, gap = both(coil, False, row, legs, False)
    mixed = int(machines.plausible(MACHINES, coil).mixing[row])
    assert furthest(run, solved, mixed) < KELVIN
    end, expected = run.states[-1], solved.states[-1]
    assert np.abs(end[:4] - expected[:4]).max() < KELVIN
    assert np.abs(end[8:] - expected[8:]).max() < CELL
    assert end[-1] == pytest.approx(expected[-1], abs=KELVIN)
    assert end[5] == pytest.approx(expected[5], abs=1.0, rel=1e-5)
    assert gap < 1e-6


@pytest.mark.parametrize("row", ROWS)
@pytest.mark.parametrize("coil", [False, True], ids=["without", "with"])
def test_cold_starts_agree_with_the_solver(coil: bool, row: int) -> None:
    """From cold, saturated at first, through a shot while still warming: within a hundredth of a kelvin."""
    run, solved, gap = both(coil, False, row, [Leg(420.0), Leg(28.0, 1.8e-3), Leg(240.0)], True)
    mixed = int(machines.plausible(MACHINES, coil).mixing[row])
    assert furthest(run, solved, mixed) < KELVIN
    assert np.abs(run.states[-1][8:] - solved.states[-1][8:]).max() < CELL
    assert gap < 1e-6


@pytest.mark.parametrize("row", [2, 6])
def test_the_reference_needs_no_regimes(row: int) -> None:
    """Two machines whose control slides along zero: small steps of the equations as defined end where others do."""
    network, legs = machines.plausible(MACHINES, False), [Leg(260.0)]
    run, solved, _ = both(False, False, row, legs, True)
    start = ours.in_their_terms(ours.start_of(network, row, CELLS, True))
    jumps = small_steps(network, row, start, legs, CELLS, 4e-3)
    assert np.abs(solved.states[-1][:4] - jumps[:4]).max() < 0.1 * KELVIN
    assert np.abs(run.states[-1][:4] - jumps[:4]).max() < 0.1 * KELVIN
    assert run.states[-1][4] == pytest.approx(jumps[4], abs=0.5)


MET_AT_ONCE = ((7, 16, False), (54, 9, False), (58, 0, False), (54, 11, True), (24, 12, True), (30, 20, False))
"""Seed and row of machines whose control meets zero and its setpoint within the same half second; whether from cold."""


@pytest.mark.parametrize(("seed", "row", "cold"), MET_AT_ONCE)
def test_two_borders_within_one_step_are_met_in_turn(seed: int, row: int, cold: bool) -> None:
    """The one that is crossed from inside is looked for: no power below zero, no jump of the integral."""
    network = machines.plausible(MACHINES, False, False, seed)
    legs = [Leg(200.0)] if cold else [Leg(28.0, 1.8e-3), Leg(120.0)]
    start = ours.start_of(network, row, CELLS, cold)
    run, end = ours.run(network, row, start, legs, CELLS), sum(leg.duration for leg in legs)
    solved = solve(network, row, ours.in_their_terms(start), legs, np.array([end]), CELLS)
    assert np.abs(run.states[-1][:4] - solved.states[-1][:4]).max() < KELVIN
    assert run.states[-1][4] == pytest.approx(solved.states[-1][4], abs=0.5)
    assert np.nanmin(run.trace[:, at.POWER]) > -0.05


def clears(network_row: int, coil: bool, solved: Solution) -> bool:
    """Whether the reference's sensor turns well away from the threshold that it would switch at."""
    control = machines.plausible(MACHINES, coil, True).control
    opens, closes = float(control.opens[network_row]), float(control.closes[network_row])  # type: ignore[union-attr]
    sensor = solved.states[:, 3]
    turning = np.nonzero(np.diff(np.sign(np.diff(sensor))) != 0)[0] + 1
    # The turning point itself, from the parabola through three looks.
    before, here, after = sensor[turning - 1], sensor[turning], sensor[turning + 1]
    bend = before - 2 * here + after
    extreme = here - np.divide((after - before) ** 2, 8 * bend, out=np.zeros_like(bend), where=bend != 0)
    on = np.ones(len(sensor), bool)
    for moment, state in solved.switched:
        on[solved.times >= moment] = state
    threshold = np.where(on, opens, closes)
    return bool(np.all(np.abs(extreme - threshold[turning]) >= CLEAR))


@pytest.mark.slow
@pytest.mark.parametrize("coil", [False, True], ids=["without", "with"])
def test_thermostats_switch_when_the_solver_says(coil: bool, capsys: pytest.CaptureFixture[str]) -> None:
    """A relay's crossings are met within 0.05 s and its sensor within 0.05 K, where the reference clears thresholds."""
    left_out = 0
    legs = [Leg(300.0), Leg(28.0, 1.8e-3), Leg(300.0)]
    for row in range(MACHINES):
        run, solved, gap = both(coil, True, row, legs, True, 1)
        assert gap < 1e-6
        if not clears(row, coil, solved):
            left_out += 1
            continue
        found = run.trace[:, at.SWITCHED]
        found = found[np.isfinite(found)]
        expected = np.array([moment for moment, _ in solved.switched])
        assert len(found) == len(expected)
        assert np.abs(found - expected).max() < SECONDS
        mixed = int(machines.plausible(MACHINES, coil, True).mixing[row])
        assert furthest(run, solved, mixed) < EDGE
    with capsys.disabled():
        print(f"\nthermostat, coil {coil}: {left_out} of {MACHINES} machines turn at a threshold and are left out")
    assert left_out <= LARGEST_SHARE * MACHINES
