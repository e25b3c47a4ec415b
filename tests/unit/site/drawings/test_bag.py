"""The coil by itself: as wide as it is wound, with all of its turns, and whole on the sheet."""

from __future__ import annotations

import pytest

from guidegen.site.drawings.bag import coil_alone
from guidegen.site.drawings.marks import Stroke
from guidegen.site.drawings.view import WIDTH
from tests.unit.site.drawings.test_true_to_scale import a_scene

TENTH_MM = 0.1


def test_the_coil_is_as_wide_as_it_is_wound() -> None:
    """The centre line of its tube reaches the outer layer's mean radius on both sides of the axis."""
    scene = a_scene()
    view = coil_alone(scene)
    assert scene.coil is not None
    assert view is not None
    assert view.scale is not None
    tubes = [one for one in view.sheet.marks if isinstance(one, Stroke) and one.style == "tube-edge"]
    across = [x for one in tubes for x, _ in one.points()]
    outer = max(one.mean_mm for one in scene.coil.layers) / 2
    assert (max(across) - WIDTH / 2) / view.scale == pytest.approx(outer, abs=TENTH_MM)
    assert (WIDTH / 2 - min(across)) / view.scale == pytest.approx(outer, abs=TENTH_MM)
    # Each turn is two halves; four turns under three are fourteen.
    assert len(tubes) == round(2 * sum(one.turns for one in scene.coil.layers)) == 14


def test_nothing_of_it_lies_beyond_the_sheet() -> None:
    view = coil_alone(a_scene())
    assert view is not None
    strokes = [one for one in view.sheet.marks if isinstance(one, Stroke)]
    for one in strokes:
        edge = (one.width or 0.0) / 2
        assert all(edge <= y <= view.height - edge for _, y in one.points())


def test_a_kit_without_a_coil_has_no_such_view() -> None:
    assert coil_alone(a_scene().model_copy(update={"coil": None})) is None
