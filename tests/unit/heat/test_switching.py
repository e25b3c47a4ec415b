"""A machine led by a thermostat's log, against the one that wrote the log, stepped by a general solver."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from guidegen.heat.example import example
from guidegen.heat.layout import SEEN, TIME
from guidegen.heat.network import Thermostat
from guidegen.heat.predicted import Draw, Prepared, Script, shown
from guidegen.heat.switching import later, switchings, turns, unlagged
from tests.reference.ours import in_their_terms, start_of
from tests.reference.solver import Leg, solve

OPENS, CLOSES = 378.0, 369.0
SWITCHED = replace(example(), control=Thermostat(np.array([OPENS]), np.array([CLOSES])))


def test_a_led_machine_does_what_the_logged_one_did() -> None:
    """Rest, a drink and ten minutes behind it, in tenths of a kelvin: every moment to a second, whose heat is 2 K."""
    times, settled = np.arange(0.0, 800.0, 1.0), 3600.0
    draws, legs = (Draw(100.0, 28.0, 0.050),), [Leg(settled + 100.0), Leg(28.0, 0.050 / 28.0), Leg(672.0)]
    start = in_their_terms(start_of(SWITCHED, 0, 48))
    done = solve(SWITCHED, 0, start, legs, settled + times, 48, relative=1e-8)
    read = np.round(done.states[:, 3] + np.random.default_rng(5).normal(0.0, 0.04, len(times)), 1)
    felt = unlagged(times, read, 0.0)
    script = Script("idle", 799.0, draws)
    moments = switchings(felt[:, 0], felt[:, 1], OPENS, CLOSES)
    logged = [(time - settled, on) for time, on in done.switched if 0.0 < time - settled < 799.0]
    assert len(logged) > 4
    assert [on for _, on in moments[1:]] == [on for _, on in logged]
    assert [time for time, _ in moments[1:]] == pytest.approx([time for time, _ in logged], abs=1.0)
    made = Prepared(SWITCHED.parameters())
    seen = shown(made.trace(0, script, felt=felt), made.fleet.p[0], "sensor", script, 0.0, times)
    assert seen == pytest.approx(done.states[:, 3], abs=2.0)


def test_a_probe_that_reads_too_much_and_late_is_told_so() -> None:
    """A probe that reads 0.7 K too much and 1.5 s later than stated, freed of both, leads as a true one does."""
    time = np.arange(0.0, 60.0, 1.0)
    # T = 300 + 2 t, seen 1.5 s late and 0.7 K high
    log = unlagged(time, 300.0 + 2.0 * (time - 1.5) + 0.7, 0.0)
    felt = Script("idle", 60.0, felt=log).felt_by(0.7, 1.5)
    assert felt is not None
    assert felt[:, 1] == pytest.approx(300.0 + 2.0 * time, abs=1e-9)
    assert Script("idle", 60.0).felt_by(0.7, 1.5) is None


def test_a_later_heating_leaves_the_machine_colder() -> None:
    """Two seconds less of the element's power."""
    made = Prepared(SWITCHED.parameters())
    script = Script("idle", 600.0)
    felt = made.trace(0, script)[:, [TIME, SEEN]]
    first, moved = (made.trace(0, script, felt=felt, late=late)[:, SEEN].mean() for late in ((), (0.0, 2.0)))
    assert moved < first


def test_turns_are_those_that_are_large_enough() -> None:
    """By hand: a swing of 1 K is none, one of 3 K is."""
    assert turns(np.array([10.0, 9.0, 10.0, 7.0, 7.5, 7.0, 10.5])) == [0, 3, 6]


def test_a_fall_that_ends_just_above_the_threshold_ended_there() -> None:
    """At 0.2 K over a threshold the heater came on, 1.5 s behind the turn; at 3.2 K over it water ended the fall."""
    time, near = np.arange(7.0), np.array([9.0, 7.0, 4.2, 6.0, 8.0, 9.0, 9.5])
    # 8.5 is half way from 8 at 4 s to 9 at 5 s.
    assert switchings(time, near, 8.5, 4.0) == [(0.0, False), (3.5, True), (4.5, False)]
    assert switchings(time, near, 8.5, 1.0) == [(0.0, False)]


def test_a_ramp_is_freed_of_its_lag() -> None:
    """T = 300 + 2 t, seen 5 s late, is 300 + 2 (t − 5): without the lag it is T again."""
    time = np.arange(20.0)
    freed = unlagged(time, 300.0 + 2.0 * (time - 5.0), 5.0)
    assert freed == pytest.approx(np.column_stack((time, 300.0 + 2.0 * time, np.full(20, 2.0))), abs=1e-9)


def test_a_heating_never_begins_behind_its_own_end() -> None:
    """However late it is said to be."""
    assert later([(0.0, False), (5.0, True), (9.0, False)], [20.0]) == [(0.0, False), (9.0, True), (9.0, False)]
