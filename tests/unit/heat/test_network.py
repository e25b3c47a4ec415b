"""A network refuses what its equations cannot take, and its rows are independent."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from guidegen.heat import layout as at
from guidegen.heat.fleet import CELLS, Fleet
from guidegen.heat.network import WATER_SPECIFIC_HEAT, Network, Thermostat
from guidegen.heat.pull import Pull
from guidegen.heat.validity import ValidityError
from tests.reference import machines

ONE = np.ones(1)


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        ("boiler_capacity", 0.0, "boiler capacity"),
        ("heater_power", np.nan, "heater power"),
        ("heater_to_boiler", np.inf, "heater to boiler"),
        ("group_to_room", -1.0, "group to room"),
        ("sensor_lag", 0.0, "sensor lag"),
        ("feed", 20.0, "feed"),
        ("mixing", 0.0, "mixing"),
        ("mixing", 1e6, "mixing"),
    ],
)
def test_what_no_machine_has_is_refused_by_name(field: str, value: float, words: str) -> None:
    """Nothing to divide by, nothing finite, degrees Celsius where kelvin belong: the error names the quantity."""
    network: Network = replace(machines.reference(False), **{field: value * ONE})  # type: ignore[arg-type]
    with pytest.raises(ValidityError, match=words):
        network.parameters()


def test_a_coil_is_checked_too() -> None:
    """A coil without water has no cells to step."""
    network = machines.reference(True)
    assert network.coil is not None
    with pytest.raises(ValidityError, match="coil water mass"):
        replace(network, coil=replace(network.coil, water_mass=0 * ONE)).parameters()


def test_rows_of_another_length_are_refused() -> None:
    """One row too many in one field."""
    with pytest.raises(ValueError, match=r"room: shape \(2,\), where all others have \(1,\)"):
        replace(machines.reference(False), room=np.full(2, 295.0)).parameters()


def test_parameters_stand_where_the_layout_says() -> None:
    """A few of them, by their names."""
    network = machines.reference(True)
    p = network.parameters()[0]
    assert len(p) == at.PARAMETERS
    assert p[at.HEATER_POWER] == 1150.0
    assert p[at.WATER_CAPACITY] == pytest.approx(float(network.water_mass[0]) * WATER_SPECIFIC_HEAT)
    assert p[at.SHIELD] == 0.5
    assert p[at.SETPOINT] == 376.15
    assert p[at.RELAY_CONTROL] == 0.0


def test_water_s_specific_heat_is_the_mean_over_the_range() -> None:
    """(h(100 °C) - h(20 °C)) / 80 K at saturation and at 0.1 MPa, with an independent library."""
    from iapws import IAPWS97

    rise = IAPWS97(T=373.124, x=0).h - IAPWS97(T=293.15, P=0.1).h
    assert rise / (373.124 - 293.15) * 1e3 == pytest.approx(WATER_SPECIFIC_HEAT, abs=3.0)


def test_heat_capacity_is_the_sum_of_its_parts() -> None:
    """Element, boiler, water, group, and a coil with its water."""
    plain, fitted = machines.reference(False), machines.reference(True)
    assert fitted.coil is not None
    assert plain.heat_capacity()[0] == pytest.approx(60 + 0.58 * 380 + 105e-6 * 957 * 4190 + 1.30 * 380)
    more = 0.44 * 385 + float(fitted.coil.water_mass[0]) * 4190
    assert fitted.heat_capacity()[0] - plain.heat_capacity()[0] == pytest.approx(more)


@pytest.mark.parametrize("mass", [0.0, -0.01, np.nan, np.inf])
def test_a_pull_needs_water(mass: float) -> None:
    """Nothing drawn is no drink."""
    with pytest.raises(ValueError, match="above zero"):
        Pull(mass, 28.0)


def test_a_fleet_refuses_rows_that_are_none() -> None:
    """Wrong shapes and numbers that are not finite never reach compiled code."""
    p = machines.reference(True, rows=2).parameters()
    with pytest.raises(ValueError, match="finite"):
        Fleet(np.where(np.arange(p.shape[1]) == 3, np.nan, p))
    with pytest.raises(ValueError, match="rows"):
        Fleet(p[:, :-1])
    fleet = Fleet(p)
    states = fleet.idle()[0]
    with pytest.raises(ValueError, match="one row of the network"):
        fleet.shots(states, Pull(0.05, 28.0), who=np.array([0, 2]))
    with pytest.raises(ValueError, match="one row of the network"):
        fleet.shots(states[:1], Pull(0.05, 28.0))
    with pytest.raises(ValueError, match="finite"):
        fleet.shots(states, Pull(0.05, 28.0), wait=np.nan)
    with pytest.raises(ValueError, match="finite"):
        fleet.shots(states, Pull(0.05, 28.0), wait=-1.0)
    with pytest.raises(ValueError, match="as long as the longest state"):
        fleet.shots(states[:, :-1], Pull(0.05, 28.0))


def test_rows_of_different_mixing_share_a_fleet() -> None:
    """Each row has states of its own length; the longest decides how wide the array is."""
    network = machines.plausible(6, True)
    fleet = Fleet(network.parameters())
    assert fleet.longest == at.LUMPS + int(network.mixing.max()) + 2 * CELLS
    states, facts = fleet.idle()
    results = fleet.shots(states, Pull(0.05, 28.0), follow=60.0, facts=facts).results
    alone = [Fleet(network.row(row).parameters()) for row in range(6)]
    for row, one in enumerate(alone):
        state, fact = one.idle()
        expected = one.shots(state, Pull(0.05, 28.0), follow=60.0, facts=fact).results[0]
        assert np.array_equal(results[row], expected, equal_nan=True)


def test_a_thermostat_that_opens_below_where_it_closes_has_no_idle() -> None:
    """It would switch without end; its row is nan, and nothing hangs."""
    network = machines.plausible(2, False, True)
    assert isinstance(network.control, Thermostat)
    turned = replace(network, control=Thermostat(network.control.closes, network.control.opens))
    assert np.isnan(Fleet(turned.parameters()).idle()[1]).all()
