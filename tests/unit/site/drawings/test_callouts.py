"""Numbers beside a drawing never lie on one another, whatever they point at."""

from __future__ import annotations

from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from guidegen.site.drawings.callouts import RADIUS, placed
from guidegen.site.drawings.view import WIDTH

places = st.tuples(st.floats(0, WIDTH), st.floats(0, 300))


@settings(max_examples=200, deadline=None)
@given(st.lists(places, min_size=1, max_size=24))
def test_rings_are_apart_and_inside(targets: list[tuple[float, float]]) -> None:
    """Up to 24 numbers, wherever they point: each ring is inside the drawing and clear of every other."""
    found = placed(list(enumerate(targets, 1)), 300.0)
    assert sorted(one.number for one in found) == list(range(1, len(targets) + 1))
    for one in found:
        assert RADIUS <= one.at[1] <= 300.0 - RADIUS
        assert one.at[0] in (13.0, WIDTH - 13.0)
    for one, other in combinations(found, 2):
        assert one.at[0] != other.at[0] or abs(one.at[1] - other.at[1]) >= 2 * RADIUS


@given(st.lists(places, min_size=2, max_size=20))
def test_leaders_of_one_column_do_not_swap(targets: list[tuple[float, float]]) -> None:
    """In a column numbers stand in the order of the heights that they point to."""
    found = placed(list(enumerate(targets, 1)), 300.0)
    for x in (13.0, WIDTH - 13.0):
        column = sorted((one for one in found if one.at[0] == x), key=lambda one: one.at[1])
        heights = [one.target[1] for one in column]
        assert heights == sorted(heights)
