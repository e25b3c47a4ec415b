"""The coil's geometry, worked out on paper and along a drawn helix."""

from __future__ import annotations

import math

import numpy as np
import pytest

from guidegen.heat import bend, coil
from guidegen.heat.coil import CoilDemand, wind

SMALL_BOILER = 70e-3
ANY_WALL = math.inf


@pytest.mark.parametrize(("outside", "wall", "millimetres"), [(8e-3, 1e-3, 81), (6e-3, 0.8e-3, 116)])
def test_seventy_millilitres_in_one_layer(outside: float, wall: float, millimetres: int) -> None:
    """70 ml on a 70 mm boiler: bore area, length, turns and rise by hand; the height is one tube more than the rise."""
    one = wind(CoilDemand(SMALL_BOILER, ANY_WALL, outside, wall, 70e-6))
    bore = outside - 2 * wall
    length = 70e-6 / (math.pi / 4 * bore**2)
    turns = length / math.hypot(math.pi * (SMALL_BOILER + outside), outside)
    assert one.length == pytest.approx(length, rel=1e-12)
    assert one.turns == pytest.approx(turns, rel=1e-12)
    assert round(turns * outside * 1e3) == millimetres
    assert one.height == pytest.approx(turns * outside + outside, rel=1e-12)


def test_length_and_height_are_those_of_a_drawn_helix() -> None:
    """A polyline along the tube's centre has the coil's length, and its ends plus one tube the coil's height."""
    one = wind(CoilDemand(90e-3, ANY_WALL, 8e-3, 1e-3, 60e-6, gap=0.5e-3))
    angle = np.linspace(0, 2 * math.pi * one.turns, 200_001)
    radius, pitch = (90e-3 + 8e-3) / 2, 8.5e-3
    points = np.stack([radius * np.cos(angle), radius * np.sin(angle), pitch * angle / (2 * math.pi)])
    drawn = np.sqrt((np.diff(points, axis=1) ** 2).sum(axis=0)).sum()
    assert one.length == pytest.approx(drawn, rel=1e-8)
    assert one.height == pytest.approx(points[2].max() - points[2].min() + 8e-3, rel=1e-12)


def test_reference_coil_weighs_what_its_copper_does() -> None:
    """2.051 m of 21.99 mm² copper are 0.403 kg; 42 g of fittings make it 0.445 kg and 58 ml of water 0.503 kg."""
    one = wind(CoilDemand(SMALL_BOILER, 46e-3, 8e-3, 1e-3, 58e-6, 2, tails=0.18, fittings_mass=0.042, trim=0.1))
    assert one.fits
    assert one.tube_mass == pytest.approx(0.4030, abs=5e-5)
    assert one.dry_mass == pytest.approx(0.4450, abs=5e-5)
    assert one.filled_mass == pytest.approx(0.5029, abs=5e-5)
    assert one.cut_length == pytest.approx(2.151, abs=5e-4)


def test_second_layer_takes_what_the_wall_has_no_room_for() -> None:
    """46 mm of wall have room for four whole turns of 8 mm tube (40 mm); the rest lies 16 mm further out."""
    one = wind(CoilDemand(SMALL_BOILER, 46e-3, 8e-3, 1e-3, 58e-6, 2, tails=0.18))
    inner = 4 * math.hypot(math.pi * 78e-3, 8e-3)
    outer = (58e-6 / (math.pi / 4 * 6e-3**2) - 0.18 - inner) / math.hypot(math.pi * 94e-3, 8e-3)
    assert one.turns_per_layer == (4.0, pytest.approx(outer, rel=1e-12))
    assert one.contact_length == pytest.approx(inner, rel=1e-12)
    assert (one.layers, one.radial_build) == (2, pytest.approx(16e-3))
    assert one.envelope_diameter == pytest.approx(102e-3)
    assert one.height == pytest.approx(40e-3)
    assert 78e-3 < one.mean_diameter < 94e-3


def test_margin_keeps_wall_free() -> None:
    """With 7 mm kept free the same wall has room for three whole turns only."""
    one = wind(CoilDemand(SMALL_BOILER, 46e-3, 8e-3, 1e-3, 58e-6, 2, tails=0.18, height_margin=7e-3))
    assert one.turns_per_layer[0] == 3.0
    assert one.height <= 46e-3 - 7e-3


@pytest.mark.parametrize("layers_max", [1, 2, 3])
def test_coil_that_does_not_fit_says_by_how_much(layers_max: int) -> None:
    """What is missing in volume is what the largest coil lacks; with the missing wall added the whole coil goes on."""
    demand = CoilDemand(SMALL_BOILER, 20e-3, 8e-3, 1e-3, 70e-6, layers_max, tails=0.15)
    one = wind(demand)
    assert not one.fits
    assert one.held + one.volume_missing == pytest.approx(70e-6, rel=1e-12)
    assert one.held < 70e-6
    assert one.height <= 20e-3
    wall = 20e-3 + one.height_missing
    assert wind(CoilDemand(SMALL_BOILER, wall + 1e-9, 8e-3, 1e-3, 70e-6, layers_max, tails=0.15)).fits
    assert not wind(CoilDemand(SMALL_BOILER, wall - 1e-6, 8e-3, 1e-3, 70e-6, layers_max, tails=0.15)).fits


def test_wall_lower_than_the_tube_carries_nothing() -> None:
    """A wall of 5 mm carries no 8 mm tube: no layer, no contact, and only the tails hold water."""
    one = wind(CoilDemand(SMALL_BOILER, 5e-3, 8e-3, 1e-3, 58e-6, 2, tails=0.18))
    assert (one.fits, one.layers, one.turns, one.height, one.contact_length) == (False, 0, 0, 0.0, 0.0)
    assert one.length == pytest.approx(0.18)


def test_tails_that_hold_it_all_need_no_coil() -> None:
    """A volume that the tails hold already leaves nothing to wind."""
    one = wind(CoilDemand(SMALL_BOILER, 50e-3, 8e-3, 1e-3, 3e-6, tails=0.18))
    assert (one.fits, one.turns) == (True, 0)
    assert one.held == pytest.approx(3e-6)


def test_tube_may_be_bent_as_tightly_as_the_coil_does() -> None:
    """8 mm tube on a 70 mm boiler bends to 39 mm; the table allows 19 mm for a thicker tube."""
    one = wind(CoilDemand(SMALL_BOILER, ANY_WALL, 8e-3, 1e-3, 58e-6))
    assert one.tightest_radius == pytest.approx(39e-3)
    assert one.tightest_radius > float(bend.minimum_bend_radius(8e-3))


def test_tube_between_two_rows_bends_as_the_thicker_one() -> None:
    """10 mm tube lies between 3/8 in and 1/2 in outside: it takes the larger's radius, 1.5 in."""
    assert float(bend.minimum_bend_radius(10e-3)) == pytest.approx(1.5 * 25.4e-3)


def test_formulas_take_arrays() -> None:
    """Tolerances of tube and boiler go through as arrays."""
    outside = np.array([7.95e-3, 8.0e-3, 8.05e-3])
    areas = coil.bore_area(outside, 1e-3) + coil.metal_area(outside, 1e-3)
    assert areas == pytest.approx(math.pi / 4 * outside**2, rel=1e-12)
    assert coil.layer_height(np.array([0.0, 1.0, 2.5]), 8e-3, 1e-3) == pytest.approx([0.0, 17e-3, 30.5e-3])
