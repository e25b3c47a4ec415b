"""What probes would show of a run, against the equations written a second time and a closed form."""

from __future__ import annotations

import numpy as np
import pytest

from guidegen.heat.example import example
from guidegen.heat.predicted import COLUMNS, Draw, Prepared, Script, shown
from tests.reference.ours import in_their_terms, start_of
from tests.reference.solver import Leg, solve

TIMES = np.arange(2.0, 200.0, 4.0)


@pytest.mark.parametrize("cold", [True, False])
def test_a_run_shows_what_a_general_solver_steps(cold: bool) -> None:
    """From cold, and a drink from rest with a coil: sensor, group and boiler within two hundredths of a kelvin."""
    network = example()
    draws = () if cold else (Draw(60.0, 28.0, 0.050),)
    script = Script("cold" if cold else "idle", 200.0, draws)
    legs = [Leg(200.0)] if cold else [Leg(60.0), Leg(28.0, 0.050 / 28.0), Leg(112.0)]
    done = solve(network, 0, in_their_terms(start_of(network, 0, 48, from_cold=cold)), legs, TIMES, 48, relative=1e-8)
    made = Prepared(network.parameters())
    trace = made.trace(0, script)
    for place, column in (("sensor", 3), ("group", 2), ("boiler-wall", 1)):
        seen = shown(trace, made.fleet.p[0], place, script, 0.0, TIMES)
        assert seen == pytest.approx(done.states[:, column], abs=0.02)


def test_a_lag_of_a_ramp_is_the_closed_form() -> None:
    """T = 300 + 2 t through a lag of 5 s from rest: 300 + 2 (t − 5 + 5 exp(−t/5))."""
    time = np.arange(0.0, 60.0)
    trace = np.zeros((60, 10))
    trace[:, 0], trace[:, 1] = time, 300.0 + 2.0 * time
    seen = shown(trace, np.zeros(60), "sensor", Script("cold", 60.0), 5.0, time)
    assert seen == pytest.approx(300.0 + 2.0 * (time - 5.0 + 5.0 * np.exp(-time / 5.0)), abs=1e-9)


def test_each_draw_keeps_what_it_brought() -> None:
    """Two draws of ten seconds, an outlet of 360 K + 0.1 K/s: both are as drawn, and before each it is its first."""
    time = np.arange(0.0, 80.0)
    trace = np.zeros((80, 10))
    trace[:, 0], trace[:, COLUMNS["outlet"]] = time, 360.0 + 0.1 * time
    script = Script("idle", 80.0, (Draw(10.0, 10.0, 0.02), Draw(60.0, 10.0, 0.02)))
    seconds = np.array([5.0, 12.0, 15.0, 18.0, 40.0, 65.0])
    seen = shown(trace, np.zeros(60), "outlet", script, 0.0, seconds)
    assert seen == pytest.approx([361.0, 361.2, 361.5, 361.8, 366.0, 366.5])


def test_water_that_arrives_is_that_of_the_draw() -> None:
    """A trace has two rows at the second at which a draw begins; the last one before it still rests at 300 K."""
    time = np.array([0.0, 10.0, 10.0, 20.0])
    trace = np.zeros((4, 10))
    trace[:, 0], trace[:, COLUMNS["outlet"]] = time, [300.0, 300.0, 360.0, 362.0]
    seen = shown(trace, np.zeros(60), "outlet", Script("idle", 20.0, (Draw(10.0, 10.0, 0.02),)), 0.0, time[:2])
    assert seen == pytest.approx([360.0, 360.0])


def test_a_cooling_run_gives_no_heat() -> None:
    """With the heater off everything falls, and the group, which stands in the room, ends below where it began."""
    network = example()
    off = Prepared(network.parameters() * np.where(np.arange(network.parameters().shape[1]) == 0, 1e-12, 1.0))
    trace = Prepared(network.parameters()).trace(0, Script("off", 1800.0), (), off)
    assert (np.diff(trace[5:, 5]) < 1e-9).all()
    assert trace[-1, 4] < trace[0, 4] - 20.0
