"""When water was drawn, by each of the signals that show it."""

from __future__ import annotations

import numpy as np
import pytest

from guidegen.runs.shots import by_change, by_level, by_mass

TIME = np.arange(0.0, 400.0, 0.2)
FIRST, SECOND = (100.0, 128.0), (250.0, 275.0)
IS_ON = ((FIRST[0] < TIME) & (FIRST[1] >= TIME)) | ((SECOND[0] < TIME) & (SECOND[1] >= TIME))
NOISE = np.random.default_rng(7)


def spans(found: list) -> list[tuple[float, float]]:
    """Begin and end of each shot."""
    return [(one.begins, one.ends) for one in found]


@pytest.mark.parametrize("high", [1.0, 100.0, 52.0])
def test_by_the_pump(high: float) -> None:
    """To a row, whatever the pump's numbers are."""
    assert np.array(spans(by_level(TIME, high * IS_ON, "pump"))) == pytest.approx(np.array([FIRST, SECOND]), abs=0.25)


def test_a_short_pause_is_within_a_shot_and_a_short_pulse_is_none() -> None:
    """Wetting the coffee and waiting two seconds makes no second shot, rinsing for two seconds no first."""
    pump = IS_ON & ~((TIME > 104) & (TIME < 106)) | ((TIME > 20) & (TIME < 22))
    assert len(by_level(TIME, pump.astype(float), "pump")) == 2


def test_by_the_pressure() -> None:
    """9 bar with ripple; what never rises by a bar and a half is no shot."""
    pressure = 9e5 * IS_ON + 0.1e5 * NOISE.standard_normal(len(TIME))
    assert np.array(spans(by_level(TIME, pressure, "pressure", 1.5e5))) == pytest.approx(
        np.array([FIRST, SECOND]), abs=0.5
    )
    assert by_level(TIME, pressure * 0.1, "pressure", 1.5e5) == []


def test_by_the_mass_a_cup_is_no_shot() -> None:
    """1.5 g/s in the cup; the cup of 200 g comes and goes."""
    mass = (
        np.cumsum(0.2 * 1.5e-3 * IS_ON) + 0.2 * ((TIME > 50) & (TIME < 200)) + 1e-5 * NOISE.standard_normal(len(TIME))
    )
    assert np.array(spans(by_mass(TIME, mass))) == pytest.approx(np.array([FIRST, SECOND]), abs=1.5)


@pytest.mark.parametrize("noise", [0.02, 0.1, 0.2])
def test_by_the_change_of_a_temperature(noise: float) -> None:
    """A sensor that falls by 4 K in each shot and comes back; with rest before, and none is found in the rest alone."""
    fall = np.zeros(len(TIME))
    for begin, end in (FIRST, SECOND):
        fall += np.where(end > TIME, np.clip((TIME - begin) / (end - begin), 0, 1), np.exp(-(TIME - end) / 20.0))
    sensor = 366.0 - 4.0 * fall + noise * NOISE.standard_normal(len(TIME))
    found = np.array(spans(by_change(TIME, sensor, falls=True)))
    assert found == pytest.approx(np.array([FIRST, SECOND]), abs=3.0)
    rest = 366.0 + noise * np.random.default_rng(3).standard_normal(len(TIME))
    assert by_change(TIME, rest, falls=True) == []


def test_nothing_is_found_in_nothing() -> None:
    """No rows, one row, a level that never changes."""
    none = np.empty(0)
    assert by_level(none, none, "pump") == by_mass(none, none) == by_change(none, none, falls=True) == []
    assert by_level(TIME, np.ones(len(TIME)), "pump") == []
    assert by_change(TIME[:1], TIME[:1], falls=False) == by_mass(TIME[:1], TIME[:1]) == []
