"""What is moved in the data moves in every view that shows it, by as much, and nothing else changes by a byte."""

from __future__ import annotations

import math
import re
from xml.etree import ElementTree

import pytest

from guidegen.record.scene import Scene
from guidegen.site.drawings.scene_views import SceneViews, scene_views
from guidegen.site.drawings.space import TILT
from guidegen.site.drawings.svg import svg_marks
from guidegen.site.drawings.view import Drawing
from tests.unit.site.drawings.test_true_to_scale import TENTH, Ruler, a_scene, decided

Points = list[tuple[float, float]]


def views_of(scene: Scene) -> SceneViews:
    """Every view of a scene whose boss is cut off."""
    return scene_views(scene, (decided()["boss"],))


def elements(view: Drawing) -> list[str]:
    """Each element of a view as it is written."""
    root = ElementTree.fromstring(f"<svg>{svg_marks(view.sheet.marks)}</svg>")
    return [ElementTree.tostring(one, encoding="unicode") for one in root]


def changed(before: SceneViews, after: SceneViews) -> dict[str, list[tuple[str, str]]]:
    """Of each view that looks otherwise the elements that changed; no view has more or fewer of them.

    Leaders of numbers end where they did, but for the boss.
    """
    assert [*before.views] == [*after.views]
    found = {}
    for name, view in before.views.items():
        other = after.views[name]
        pairs = [*zip(elements(view), elements(other), strict=True)]
        different = [(one, two) for one, two in pairs if one != two]
        if different:
            found[name] = different
        assert {**view.targets, "boss": None} == {**other.targets, "boss": None} or "boss" not in view.targets
    return found


def outline(element: str) -> Points:
    """The corners of a closed outline."""
    numbers = [float(one) for one in re.findall(r"-?[0-9.]+", element[element.index(' d="') :])]
    return [*zip(numbers[::2], numbers[1::2], strict=True)]


def cut_off(pairs: list[tuple[str, str]]) -> tuple[Points, Points]:
    """The outline of what is cut off, before and after."""
    (pair,) = (pair for pair in pairs if "gd-cut" in pair[0])
    return outline(pair[0]), outline(pair[1])


def kinds(pairs: list[tuple[str, str]]) -> set[str]:
    """The classes of what changed."""
    return {re.findall(r'class="(gd-[a-z-]+)', one)[0] for pair in pairs for one in pair}


@pytest.mark.parametrize("up", [10.0, -10.0])
def test_moved_up_or_down_by_10_mm(up: float) -> None:
    """In the elevation by ten, in the picture by what of ten is seen from its height; the section says other heights.

    From above, where no height shows, nothing changes, nor where the boss is not.
    """
    before, after = views_of(a_scene()), views_of(a_scene(boss=(12.0 + up, 24.0 + up)))
    found = changed(before, after)
    assert set(found) == {"elevation", "cut-boss", "picture"}
    for name, share in (("elevation", 1.0), ("picture", math.cos(TILT))):
        was, now = cut_off(found[name])
        scale = Ruler(before.views["elevation"]).scale if name == "elevation" else before.views[name].scale
        assert scale is not None
        assert len(was) == len(now) == 4
        for (x1, y1), (x2, y2) in zip(was, now, strict=True):
            assert x1 == x2
            assert (y1 - y2) / scale == pytest.approx(up * share, abs=TENTH)
    assert kinds(found["elevation"]) == {"gd-cut", "gd-hatch"}
    assert kinds(found["picture"]) == {"gd-cut", "gd-hatch", "gd-body"}
    heights = [tuple(ElementTree.fromstring(one)[0].text for one in pair) for pair in found["cut-boss"]]
    for (was, now), height in zip(heights, (12, 24), strict=True):
        assert (was, now) == (f"{height}\u202fmm", f"{height + up:g}\u202fmm")


def test_moved_round_the_wall_by_10_mm() -> None:
    """On a wall of 35 mm radius that is an angle of 10/35: in the plan its corners turn by it about the axis.

    The elevation shows at which side it is, the section how high: both stay.
    """
    angle = 10.0 / 35.0
    before, after = views_of(a_scene()), views_of(a_scene(clock=225.0 + math.degrees(angle)))
    found = changed(before, after)
    assert set(found) == {"plan", "picture"}
    ruler = Ruler(before.views["plan"])
    x0, y0 = ruler.circles("gd-steel")[0][:2]
    was, now = cut_off(found["plan"])
    for (x1, y1), (x2, y2) in zip(was, now, strict=True):
        turned = (
            x0 + (x1 - x0) * math.cos(angle) - (y1 - y0) * math.sin(angle),
            y0 + (x1 - x0) * math.sin(angle) + (y1 - y0) * math.cos(angle),
        )
        assert math.dist(turned, (x2, y2)) / ruler.scale == pytest.approx(0.0, abs=TENTH)
    assert kinds(found["plan"]) == {"gd-cut", "gd-hatch"}
    assert kinds(found["picture"]) == {"gd-cut", "gd-hatch", "gd-body"}
