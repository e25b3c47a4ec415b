"""Outlines, arcs and hatching of drawings against geometry done by hand."""

from __future__ import annotations

import itertools
import math

import pytest

from guidegen.site.drawings.marks import Arc, Bend, Stroke, hatching


def test_half_a_circle_keeps_its_distance_from_the_middle() -> None:
    """From (10, 0) clockwise to (-10, 0) about the origin: y grows first, as the sheet's y runs down."""
    points = Stroke((10.0, 0.0), (Arc(10, 10, (-10.0, 0.0)),), "fine").points()
    assert all(math.hypot(x, y) == pytest.approx(10.0) for x, y in points)
    assert max(y for _, y in points) == pytest.approx(10.0)


def test_the_other_way_round_is_the_other_half() -> None:
    """Counter-clockwise the same ends are joined above."""
    points = Stroke((10.0, 0.0), (Arc(10, 10, (-10.0, 0.0), clockwise=False),), "fine").points()
    assert min(y for _, y in points) == pytest.approx(-10.0)


@pytest.mark.parametrize(("large", "turn"), [(False, 90.0), (True, 270.0)])
def test_a_quarter_or_three(large: bool, turn: float) -> None:
    """The shorter of two arcs between (10, 0) and (0, 10) is a quarter of the circle 10 round, the longer the rest.

    Clockwise on a sheet the quarter is about the origin, the rest about (10, 10).
    """
    arc = Arc(10, 10, (0.0, 10.0), clockwise=True, large=large)
    points = Stroke((10.0, 0.0), (arc,), "fine").points()
    length = sum(math.dist(a, b) for a, b in itertools.pairwise(points))
    assert length == pytest.approx(math.radians(turn) * 10, rel=2e-3)


def test_an_ellipse_is_a_flattened_circle() -> None:
    """Every point satisfies x²/a² + y²/b² = 1."""
    points = Stroke((20.0, 0.0), (Arc(20, 5, (-20.0, 0.0)),), "fine").points()
    assert all((x / 20) ** 2 + (y / 5) ** 2 == pytest.approx(1.0) for x, y in points)


def test_a_cubic_through_its_ends_and_its_middle() -> None:
    """At half way a cubic is (P0 + 3 P1 + 3 P2 + P3) / 8, de Casteljau's construction."""
    points = Stroke((0.0, 0.0), (Bend((0.0, 8.0), (8.0, 8.0), (8.0, 0.0)),), "fine").points()
    assert points[-1] == (8.0, 0.0)
    assert (4.0, 6.0) in [(pytest.approx(x), pytest.approx(y)) for x, y in points]


def test_hatching_fills_a_square_and_stays_inside() -> None:
    """Lines at 45°, 4 apart, across a square of 20: their ends lie on the square's edge, and none is missing.

    The diagonal across the lines is 20·√2 = 28.3 long, so seven lines lie within it.
    """
    lines = list(hatching([(0, 0), (20, 0), (20, 20), (0, 20)], 4.0))
    assert len(lines) == 7
    for (x1, y1), (x2, y2) in lines:
        assert x1 + y1 == pytest.approx(x2 + y2)
        for x, y in ((x1, y1), (x2, y2)):
            assert min(abs(x), abs(20 - x), abs(y), abs(20 - y)) == pytest.approx(0.0, abs=1e-9)
