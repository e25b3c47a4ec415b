"""Points for "what if": they agree with the study where they ask the same, and obey the laws of a drop."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from guidegen.heat.network import Coil, Network, Pid, Thermostat
from guidegen.heat.points import drops_from_cold, what_if
from guidegen.heat.study import Pull, Usage, study

DOUBLE, SINGLE = Pull(0.050, 28.0), Pull(0.036, 25.0)
USAGE = Usage(("double",), (900.0,), 1800.0)
FEED = 293.15
IN_PIECES = 1e-4
"""K between a wait as a whole and in pieces: a coil's cells relax with their skin's mean conductance in each."""


def one(value: float) -> np.ndarray:
    """A row."""
    return np.array([float(value)])


def machine(coil: bool = False, relay: bool = False) -> Network:
    """A small brass machine; engineering judgement, no real one."""
    return Network(
        heater_power=one(1150), heater_capacity=one(60), heater_to_boiler=one(35), heater_to_water=one(0),
        boiler_capacity=one(220), boiler_to_water=one(18), boiler_to_group=one(2.4), boiler_to_case=one(0.36),
        water_mass=one(0.1), mixing=one(1), group_capacity=one(494), group_to_water=one(6), group_to_room=one(0.65),
        sensor_lag=one(3), sensor_metal_share=one(0.7), case=one(311.15), room=one(295.15), feed=one(FEED),
        case_capacity=one(1000), case_to_room=one(1.46), boiler_at_idle=one(376.15), group_at_idle=one(358.9),
        boiler_emissivity=one(0.3), group_emissivity=one(0.3), follows=one(1),
        control=Thermostat(one(378.15), one(372.15)) if relay else Pid(one(376.15), one(60), one(0.7), one(180)),
        coil=Coil(
            one(0.057), one(171), one(1.1), one(0.5), one(22), one(60), one(0.0026), one(0.5), one(0.0), one(0.5)
        ) if coil else None,
    )  # fmt: skip


@pytest.mark.parametrize("coil", [False, True])
def test_the_stated_conditions_give_what_the_study_gives(coil: bool) -> None:
    """Two ways through the program, one answer: a drink from rest, and again after a minute."""
    network = machine(coil)
    full = study(network, {"double": DOUBLE}, "double", USAGE, np.zeros(1))
    points = what_if(network, [DOUBLE], [FEED], [0.0], [60.0])
    assert points.shape == (1, 1, 1, 2)
    assert points[0, 0, 0, 0] == pytest.approx(full.drinks["double"].sensor_drop[0], abs=1e-9)
    assert points[0, 0, 0, 1] == pytest.approx(full.second.sensor_drop[0, 1], abs=IN_PIECES)


def test_order_is_drink_setpoint_feed_wait() -> None:
    """Each axis alone gives the same number as its place in the whole."""
    whole = what_if(machine(True), [SINGLE, DOUBLE], [280.0, 300.0], [0.0, -5.0], [60.0, 300.0])
    assert whole.shape == (2, 2, 2, 3)
    alone = what_if(machine(True), [DOUBLE], [300.0], [-5.0], [300.0])
    assert whole[1, 1, 1, 2] == pytest.approx(alone[0, 0, 0, 1], abs=IN_PIECES)
    assert whole[1, 1, 1, 0] == alone[0, 0, 0, 0]


@pytest.mark.parametrize("coil", [False, True])
def test_less_drop_with_warmer_feed_a_lower_setpoint_and_a_smaller_drink(coil: bool) -> None:
    """What is drawn away is smaller in each case, the machine the same."""
    drops = what_if(machine(coil), [SINGLE, DOUBLE], [278.0, 303.0], [0.0, -6.0], [])[..., 0]
    assert (drops[:, :, 1] < drops[:, :, 0]).all()
    assert (drops[:, 1] < drops[:, 0]).all()
    assert (drops[0] < drops[1]).all()


def test_a_thermostat_keeps_its_temperatures() -> None:
    """A change of the setpoint is no change where there is none to set."""
    drops = what_if(machine(relay=True), [DOUBLE], [FEED], [0.0, -6.0], [])
    assert drops[0, 0, 0, 0] == drops[0, 1, 0, 0]


def test_from_cold_the_drop_comes_to_that_of_a_soaked_machine() -> None:
    """nan while the boiler is cold; after two hours the drop is the idle machine's."""
    drops = drops_from_cold(machine(True), DOUBLE, 120)
    assert np.isnan(drops[0])
    soaked = what_if(machine(True), [DOUBLE], [FEED], [0.0], [])[0, 0, 0, 0]
    assert drops[-1] == pytest.approx(soaked, abs=0.01)


def test_a_thermostat_has_no_drop_by_minutes() -> None:
    """It depends on when in the cycle."""
    assert np.isnan(drops_from_cold(machine(relay=True), DOUBLE, 3)).all()


def test_only_the_stated_row_counts() -> None:
    """Further rows of a network are draws; they change nothing here."""
    network = machine()
    twice = replace(
        network, **{name: np.concatenate((value, value * 1.1)) for name, value in vars(network).items()
                    if isinstance(value, np.ndarray)},
        control=Pid(*(np.concatenate((value, value * 1.1)) for value in vars(network.control).values())),
    )  # fmt: skip
    first, second = (what_if(side, [DOUBLE], [FEED], [0.0], [60.0]) for side in (network, twice))
    assert np.array_equal(first, second)
