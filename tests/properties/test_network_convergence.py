"""Smaller steps and more cells: no output moves, and errors fall at the order of the method."""

from __future__ import annotations

import functools
from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from guidegen.heat.layout import BOILER
from guidegen.heat.network import WATER_SPECIFIC_HEAT, Network
from guidegen.heat.study import CELLS, Pull, Study, Usage, study
from tests.published.test_front import COLD, HELD, INSIDE, METAL, computed
from tests.reference import machines, ours
from tests.reference.front import share_by_chi_square
from tests.reference.solver import Leg, solve

PULLS = {"single": Pull(0.036, 25.0), "double": Pull(0.050, 28.0), "lungo": Pull(0.094, 38.0)}
USAGE = Usage(("double", "double"), (900.0, 1800.0), 2700.0)
KELVIN, SECONDS, SHARE = 0.02, 1.0, 0.002
"""What halving the step and doubling the cells may move: K or W; s; or of the value."""
AT_THE_FRONT = 0.06
"""K, where a draw ends just as the front, whose jump no scheme keeps sharp, comes to the coil's outlet: there cells
count at first order, and the drink half a minute later starts from what went in."""
JUMPS = 0.02
"""Share of machines whose recovery may jump: a swing that just touches the edge of the band counts or does not."""
MACHINES = 10
CASES = {
    "reference with": lambda: machines.reference(True),
    "reference without": lambda: machines.reference(False),
    "reference with, ten cells of water": lambda: machines.reference(True, 10.0),
    "with": lambda: machines.plausible(MACHINES, True),
    "without": lambda: machines.plausible(MACHINES, False),
    "thermostat with": lambda: machines.plausible(MACHINES, True, True),
    "thermostat without": lambda: machines.plausible(MACHINES, False, True),
}


@functools.cache
def studied(case: str, finer: float = 1.0, cells: int = CELLS) -> dict[str, NDArray[np.float64]]:
    """Every output of a study by name."""
    network: Network = CASES[case]()
    made = study(network, PULLS, "double", USAGE, np.linspace(0.0, 0.99, len(network)), finer=finer, cells=cells)
    return outputs(made)


def outputs(made: Study) -> dict[str, NDArray[np.float64]]:
    """Every output of a study by name."""
    shots = {**made.drinks, "second": made.second, "after flush": made.after_flush}
    found = {f"{name} {field}": value for name, one in shots.items() for field, value in one._asdict().items()}
    found |= {f"{name} drop_ends": value for name, value in made.drop_ends.items()}
    others = ("drinks", "drop_ends", "second", "after_flush", "traces")
    return found | {name: value for name, value in vars(made).items() if name not in others}


def allowed(name: str, value: NDArray[np.float64]) -> NDArray[np.float64]:
    """How far an output may move."""
    timed = name.endswith(("recovery", "ready", "settled", "period"))
    absolute = name in ("parked", "group_idle") or name.endswith(("outlet", "sensor", "low", "high"))
    floor = SECONDS if timed else KELVIN
    floor = 0.0 if name in ("session_energy", "preheated") else floor
    return np.maximum(floor, 0.0 if absolute else SHARE * np.abs(value))


@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize(
    ("finer", "cells"), [(2.0, CELLS), (2.0, 2 * CELLS)], ids=["half the step", "and twice the cells"]
)
def test_no_output_moves(case: str, finer: float, cells: int) -> None:
    """Halving the step, and doubling the cells as well, moves nothing by more than is allowed."""
    coarse, fine = studied(case), studied(case, finer, cells)
    assert len(coarse) > 50
    for name, value in coarse.items():
        moved = np.abs(value - fine[name])
        assert np.array_equal(np.isnan(value), np.isnan(fine[name])), name
        outside = np.mean(np.nan_to_num(moved) > allowed(name, value))
        assert outside == 0 or ("recovery" in name and len(value) > 1 and outside <= max(JUMPS, 1 / len(value))), (
            name, np.nanmax(moved)
        )  # fmt: skip


def test_a_flush_that_ends_at_the_front_moves_a_little_more() -> None:
    """A flush of as much as the coil holds: the drop of the drink after it moves by more than elsewhere, but little."""
    ends = []
    for finer, cells in ((1.0, CELLS), (2.0, 2 * CELLS)):
        network = machines.plausible(MACHINES, True)
        as_much = Pull(0.060, 15.0)
        made = study(network, PULLS, "double", USAGE, np.zeros(MACHINES), flush=as_much, finer=finer, cells=cells)
        ends.append(made.after_flush.sensor_drop)
    assert np.nanmax(np.abs(ends[0] - ends[1])) < AT_THE_FRONT


def test_the_step_in_flow_is_of_fourth_order() -> None:
    """A smooth draw, no coil and no limit met: the error falls sixteenfold, and at least elevenfold, per halving.

    With losses in proportion: how closely they follow temperature otherwise is a matter of fits, not of steps.
    """
    network = replace(machines.reference(False, 3.0), follows=np.zeros(1))
    start, legs = ours.start_of(network, 0, CELLS), [Leg(12.0, 2.0e-3)]
    exact = solve(network, 0, ours.in_their_terms(start), legs, np.array([12.0]), CELLS, relative=1e-12).states[-1]
    errors = [
        np.abs(ours.run(network, 0, start, legs, CELLS, finer).states[-1][:4] - exact[:4]).max()
        for finer in (0.25, 0.5, 1.0)
    ]
    assert errors[0] / errors[1] > 11.0
    assert errors[1] / errors[2] > 11.0


@pytest.mark.parametrize(("follows", "kelvin", "share"), [(0.0, 1e-6, 1e-10), (1.0, 2e-4, 2e-5)])
def test_a_rest_has_next_to_no_error_of_the_step(follows: float, kelvin: float, share: float) -> None:
    """A rest in steps of 2 s and of an eighth of a second ends the same, through saturation.

    To rounding where losses are in proportion; where they follow temperature, to what changes within a step.
    """
    network = replace(machines.reference(True), follows=np.full(1, follows))
    start = ours.start_of(network, 0, CELLS, True)
    ends = [ours.run(network, 0, start, [Leg(600.0)], CELLS, finer).states[-1] for finer in (0.25, 4.0)]
    assert ends[0][BOILER] > 370.0
    assert ends[0] == pytest.approx(ends[1], abs=kelvin, rel=share)


def test_the_coil_is_of_second_order() -> None:
    """Away from the front, where the exact outlet is smooth, twice the cells leave a quarter, at most a third."""
    flow, errors = 1e-3, []
    for cells in (20, 40, 80):
        drawn, outlets = computed(flow, cells)
        behind = (drawn > 1.25 * HELD) & (drawn < 2.0 * HELD)
        waited = INSIDE / METAL * (drawn[behind] - HELD) / flow
        hot = outlets[0]
        exact = hot + (COLD - hot) * share_by_chi_square(INSIDE / (flow * WATER_SPECIFIC_HEAT), waited)
        errors.append(float(np.mean(np.abs(outlets[behind] - exact))))
    assert errors[0] / errors[1] > 3.0
    assert errors[1] / errors[2] > 3.0


def test_a_stirred_tank_empties_exactly() -> None:
    """No heat: what is left of the old water is exp(-m/M), and for cells in series a sum of such terms (Erlang)."""
    from scipy.stats import gamma

    one = np.ones(1)
    for mixing in (1.0, 4.0):
        network = machines.reference(False, mixing)
        network = replace(
            network, heater_power=1e-6 * one, boiler_to_water=1e-6 * one, feed=293.15 * one, group_to_water=0 * one,
            water_mass=0.090 * one,
        )  # fmt: skip
        start = ours.start_of(network, 0, CELLS)
        start[-int(mixing) :] = 373.15
        end = ours.run(network, 0, start, [Leg(27.5, 2e-3)], CELLS).states[-1]
        share = (end[-2] - 293.15) / 80.0
        assert share == pytest.approx(float(gamma.sf(55 / 90, a=mixing, scale=1 / mixing)), abs=1e-5)
        if mixing == 1.0:
            # 55 g through 90 g, 100 to 20 °C: exp(-m/M), exact.
            assert end[-2] - 273.15 == pytest.approx(20 + 80 * np.exp(-55 / 90), abs=5e-3)
