"""Small laws of the formulas that need no time: each expectation is derived here, not read off the code."""

from __future__ import annotations

import math

import numpy as np
import pytest

from guidegen.heat import (
    burns,
    cuts,
    friction,
    heat_transfer,
    hydraulics,
    materials,
    mixing,
    pressure,
    sensors,
    threads,
    water,
)
from guidegen.heat.validity import ValidityError


def test_boiling_temperature_and_pressure_are_inverse() -> None:
    """Region 4's two equations give each other back from 0 to 180 °C."""
    kelvin = np.linspace(273.2, 453.0, 50)
    assert water.saturation_temperature(water.saturation_pressure(kelvin)) == pytest.approx(kelvin, abs=2e-7)


def test_specific_heat_is_the_slope_of_enthalpy() -> None:
    """At one pressure the enthalpy's difference over the temperature's is the specific heat."""
    slope = (water.enthalpy(333.2) - water.enthalpy(333.1)) / 0.1
    assert float(slope) == pytest.approx(float(water.specific_heat(333.15)), rel=1e-6)


def test_water_is_computed_for_arrays_of_any_shape() -> None:
    """A grid of temperatures and pressures comes back as a grid, each value as if alone."""
    kelvin, pascal = np.array([[290.0], [350.0]]), np.array([2e5, 1e6, 1.5e6])
    grid = water.density(kelvin, pascal)
    assert grid.shape == (2, 3)
    assert float(grid[1, 2]) == float(water.density(350.0, 1.5e6))


def test_boiling_water_is_refused_at_atmospheric_pressure_and_allowed_under_the_pump() -> None:
    """At 103 °C there is liquid water only under pressure."""
    with pytest.raises(ValidityError, match="liquid only above the boiling line"):
        water.density(376.15)
    assert 950 < float(water.density(376.15, 9e5)) < 960


def test_unknown_names_say_what_there_is() -> None:
    """A material or a thread that is not kept is refused with the names that are."""
    with pytest.raises(KeyError, match="aluminium, brass, copper, stainless"):
        materials.material("steel")
    with pytest.raises(KeyError, match="M3, M4, M5"):
        threads.nominal_diameter("M7")


def test_water_at_rest_loses_no_pressure() -> None:
    """No flow, no loss; a row with and without flow goes through together."""
    loss = hydraulics.pressure_loss(np.array([0.0, 2e-6]), 6e-3, 78e-3, 2.0, 300.0)
    assert float(loss[0]) == 0.0
    assert float(loss[1]) > 0


def test_pressure_loss_grows_with_length_and_a_fitting_adds_its_share() -> None:
    """Twice the length costs twice as much; a loss coefficient of 2 adds one ρ v²."""
    once, twice = (float(hydraulics.pressure_loss(3e-6, 6e-3, 78e-3, length, 320.0)) for length in (1.0, 2.0))
    assert twice == pytest.approx(2 * once, rel=1e-12)
    fitted = float(hydraulics.pressure_loss(3e-6, 6e-3, 78e-3, 1.0, 320.0, local_losses=2.0))
    velocity = 3e-6 / (math.pi / 4 * 6e-3**2)
    assert fitted - once == pytest.approx(float(water.density(320.0, 1e6)) * velocity**2, rel=1e-9)


def test_three_laws_of_laminar_coil_friction_spread_by_a_quarter_and_the_highest_is_used() -> None:
    """White and Mori and Nakayama lie up to a quarter below Schmidt to Re 2000: the loss is not understated."""
    number = np.array([500.0, 1000.0, 2000.0])
    used = friction.coiled(number, 6 / 78)
    for other in (friction.coiled_white, friction.coiled_mori_nakayama):
        share = other(number, 6 / 78) / used
        assert np.all((share > 0.79) & (share < 1.0))


def test_a_coil_rubs_more_than_a_straight_tube_and_a_wide_one_hardly() -> None:
    """The coil's factor exceeds 64 / Re, and comes within 3 % of it when the coil is a thousand bores wide."""
    number = np.array([150.0, 800.0, 2000.0])
    assert np.all(friction.coiled(number, 0.08) > 64 / number)
    assert friction.coiled(150.0, 1e-3) == pytest.approx(64 / 150, rel=0.03)


def test_flow_takes_heat_better_than_still_water() -> None:
    """At 2 ml/s the conductance is two to four times that of conduction; the plan's figures are 22 and 55 W/K."""
    rest = float(heat_transfer.conductance_at_rest(2.05, 323.15))
    flow = float(heat_transfer.conductance_in_flow(2e-6, 6e-3, 78e-3, 2.05, 323.15))
    assert 20 < rest < 26
    assert 55 < flow < 75
    assert 2 < flow / rest < 4


def test_a_brew_flow_takes_up_a_tenth_of_what_it_could() -> None:
    """At 2 ml/s and 1 W/K of contact NTU is 0.12, so the coil warms the passing water by a ninth: it is a store."""
    units = 1.0 / (2e-3 * 4180)
    assert float(heat_transfer.effectiveness(units)) == pytest.approx(1 - math.exp(-units), rel=1e-12)
    assert float(heat_transfer.effectiveness(units)) < 0.12


def test_many_cells_come_near_a_plug() -> None:
    """With ever more cells the outlet stays old until one volume is drawn, and is new soon after."""
    before, after = (mixing.share_of_old_water(drawn, 100) for drawn in (0.7, 1.3))
    assert float(before) > 0.99
    assert float(after) < 0.01
    assert float(mixing.share_of_old_water(0.0, 100)) == 1.0


def test_old_water_that_leaves_is_the_water_that_was_there() -> None:
    """All the old water together, over all that is ever drawn, is one vessel: the share integrates to one."""
    drawn = np.linspace(0, 12, 120_001)
    for cells in (1, 3, 10):
        assert np.trapezoid(mixing.share_of_old_water(drawn, cells), drawn) == pytest.approx(1.0, abs=1e-4)


def test_copper_weakens_as_it_warms() -> None:
    """Between the published temperatures the allowable pressure falls evenly, and below 65 °C it stays."""
    at = [float(pressure.allowable_pressure(8e-3, 1e-3, celsius + 273.15)) for celsius in (20, 65, 87.5, 110, 150)]
    assert at[0] == at[1] > at[2] > at[3] > at[4]
    assert at[2] == pytest.approx((at[1] + at[3]) / 2, rel=1e-12)


def test_strong_hole_outlasts_its_screw_and_a_weak_one_does_not() -> None:
    """An M5 in 8 mm of brass (τ 200 MPa) holds the A2-70 screw's yield load; in 3 mm of aluminium (100 MPa) not."""
    size = (5e-3, 0.8e-3)
    load = float(threads.proof_load(*size, threads.CLASSES["A2-70"].proof_stress))
    assert float(threads.stripping_load(*size, 8e-3, 200e6)) > load
    assert float(threads.stripping_load(*size, 3e-3, 100e6)) < load


def test_friction_takes_preload_from_the_same_torque() -> None:
    """The torque that μ 0.1 turns into one preload gives little more than half of it at μ 0.2."""
    low, high = (float(threads.torque(1000.0, 5e-3, 0.8e-3, mu)) for mu in (0.1, 0.2))
    assert 1.7 < high / low < 2.0


def test_third_degree_never_comes_before_second() -> None:
    """At every temperature the deeper burn takes longer, and hotter water never takes longer."""
    kelvin = np.linspace(318.15, 373.15, 300)
    second, third = burns.scald_time(kelvin), burns.scald_time(kelvin, "third")
    assert np.all(third >= second)
    assert np.all(np.diff(second) <= 0)
    assert np.all(np.diff(burns.contact_time(np.linspace(316.15, 473.15, 300))) <= 0)


def test_sensor_has_followed_two_thirds_after_one_lag() -> None:
    """One, two and three lags leave e⁻¹, e⁻² and e⁻³ of the step."""
    left = 1 - sensors.lagged(1.0, np.array([3.0, 6.0, 9.0]), 3.0)
    assert left == pytest.approx(np.exp([-1.0, -2.0, -3.0]), rel=1e-12)


def test_only_what_lies_in_the_coils_band_is_in_its_way() -> None:
    """Bands that part or only touch share nothing; one inside the other shares itself."""
    assert cuts.overlap((0.0, 0.02), (0.02, 0.03)) == 0.0
    assert cuts.overlap((0.0, 0.02), (0.05, 0.06)) == 0.0
    assert cuts.overlap((0.0, 0.05), (0.02, 0.03)) == pytest.approx(0.01)


def test_trimming_takes_a_block_off_and_no_more_than_stands_out() -> None:
    """12 × 14 mm of brass from 6 mm to 0.5 mm are 0.924 cm³ and 7.88 g; a low rest needs no cut at all."""
    one = cuts.cut(12e-3, 14e-3, 6e-3, 0.5e-3, 8530.0)
    assert (one.face, one.volume, one.mass) == pytest.approx((168e-6, 0.924e-6, 7.8817e-3), rel=1e-4)
    assert cuts.cut(12e-3, 14e-3, 0.4e-3, 0.5e-3, 8530.0) == cuts.Cut(0.0, 0.0, 0.0)
