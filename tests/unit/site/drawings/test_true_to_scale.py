"""Drawings are measured: coordinates read back from the SVG agree with the data to a tenth of a millimetre.

The scale is taken from the drawing's own scale bar, as somebody with a ruler would.
"""

from __future__ import annotations

import math
import re
from xml.etree import ElementTree

import pytest

from guidegen.record.scene import (
    Scene,
    SceneBoiler,
    SceneBolts,
    SceneCircuit,
    SceneCoil,
    SceneLayer,
    SceneProtrusion,
    SceneThing,
    SceneWater,
    Spot,
)
from guidegen.record.stated import Protrusion
from guidegen.site.drawings.cut import cut
from guidegen.site.drawings.elevation import elevation
from guidegen.site.drawings.picture import picture
from guidegen.site.drawings.plan import plan
from guidegen.site.drawings.svg import svg_marks
from guidegen.site.drawings.view import Drawing

TENTH = 0.1
BAR = re.compile(r"^(\d+)\u202fmm$")


def a_scene(boss: tuple[float, float] = (12.0, 24.0), clock: float | None = 225.0, sensor: float = 17.0) -> Scene:
    """A boiler of 70 mm with a coil of 8 mm tube, 4 turns under 3, a boss, four bolts, a sensor. Invented."""
    return Scene(
        boiler=SceneBoiler(
            diameter_mm=70.0, straight_wall_mm=44.5, height_mm=52.0, flange_mm=104.0, clearance_mm=24.0, wall_mm=4.0
        ),
        bolts=SceneBolts(
            count=4,
            order=(1, 3, 2, 4),
            circle_mm=88.0,
            head_mm=8.5,
            head_room_mm=19.0,
            undone_from="above",
            clock_deg=45.0,
        ),
        protrusions=(
            SceneProtrusion(
                id="boss",
                kind="boss",
                clock_deg=clock,
                from_mm=boss[0],
                to_mm=boss[1],
                stands_out_mm=6.0,
                width_mm=14.0,
            ),
        ),
        coil=SceneCoil(
            tube_mm=8.0,
            wall_mm=1.0,
            pitch_mm=8.0,
            height_mm=40.0,
            layers=(
                SceneLayer(turns=4.0, mean_mm=78.0, from_mm=0.0),
                SceneLayer(turns=3.0, mean_mm=94.0, from_mm=0.0),
            ),
        ),
        things=(SceneThing(id="sensor", name="sensor", kind="sensor", spot=Spot(clock_deg=180.0, out_mm=sensor)),),
        water=SceneWater(
            before=(), after=(), relief_branch=None, check_valve=None, relief=None, pump_bar=None, relief_bar=None
        ),
        circuit=SceneCircuit(before=None, after=None),
        marks=(),
    )


def decided(action: str = "trim") -> dict[str, Protrusion]:
    """What becomes of the boss."""
    one = Protrusion.model_validate(
        {"id": "boss", "name": "boss", "kind": "boss", "carries": "nothing", "stands_out_mm": 6.0, "overlap_mm": 12.0,
         "action": action, "why": "", "keeps_mm": 3.0 if action == "trim" else None}
    )  # fmt: skip
    return {"boss": one}


class Ruler:
    """Reads a view's SVG: its scale from the bar, circles as middles and radii, closed outlines as points."""

    def __init__(self, view: Drawing | None) -> None:
        assert view is not None
        self.root = ElementTree.fromstring(f"<svg>{svg_marks(view.sheet.marks)}</svg>")
        words = [one for one in self.root.iter("text") if "gd-muted" in one.get("class", "")]
        bar = next(one for one in words if one.get("class", "").endswith("gd-start") and self._metric(one))
        length = float(BAR.match(self._metric(bar) or "")[1])  # type: ignore[index]
        y, end = float(bar.get("y", "")) - 4, float(bar.get("x", "")) - 6
        drawn = next(
            points
            for points in self.lines("gd-dim")
            if abs(points[1][0] - end) < 0.02 and abs(points[0][1] - y) < 0.02 and points[0][0] < end
        )
        self.scale = (drawn[1][0] - drawn[0][0]) / length

    @staticmethod
    def _metric(text: ElementTree.Element) -> str | None:
        inner = text.find("tspan")
        found = text.text if inner is None else inner.text
        return found if found and BAR.match(found) else None

    def lines(self, style: str) -> list[list[tuple[float, float]]]:
        """Every line of a style, as points; arcs by their ends."""
        made = []
        for path in self.root.iter("path"):
            if path.get("class") == style:
                for piece in re.findall(r"M[^M]+", path.get("d", "")):
                    pairs = re.findall(r"(-?[\d.]+) (-?[\d.]+)(?= |[A-Z]|$)", re.sub(r"A\S+ \S+ 0 \d \d ", "L", piece))
                    made.append([(float(x), float(y)) for x, y in pairs])
        return made

    def circles(self, style: str) -> list[tuple[float, float, float]]:
        """Every circle of a style: middle and radius."""
        found = (one for one in self.root.iter("circle") if one.get("class") == style)
        return [(float(one.get("cx", "")), float(one.get("cy", "")), float(one.get("r", ""))) for one in found]


def test_the_plan_has_the_stated_sizes() -> None:
    """Boiler 70, coil to 102, flange 104, bolts on 88, free to 118 mm, all about one middle."""
    ruler = Ruler(plan(a_scene(), decided()))
    body = max(ruler.circles("gd-body"), key=lambda one: one[2])
    assert 2 * body[2] / ruler.scale == pytest.approx(70.0, abs=TENTH)
    assert 2 * ruler.circles("gd-kit")[0][2] / ruler.scale == pytest.approx(94.0 + 8.0, abs=TENTH)
    assert 2 * ruler.circles("gd-steel")[0][2] / ruler.scale == pytest.approx(104.0, abs=TENTH)
    assert 2 * ruler.circles("gd-axis")[0][2] / ruler.scale == pytest.approx(88.0, abs=TENTH)
    assert 2 * ruler.circles("gd-hidden")[0][2] / ruler.scale == pytest.approx(70.0 + 2 * 24.0, abs=TENTH)


def test_bolts_stand_where_the_clock_says() -> None:
    """Bolt 1 at half past one, the others a quarter further each, clockwise, 44 mm from the axis."""
    view = plan(a_scene(), decided())
    assert view is not None
    ruler = Ruler(view)
    middle = ruler.circles("gd-steel")[0][:2]
    for number, degrees in ((1, 45.0), (2, 135.0), (3, 225.0), (4, 315.0)):
        x, y = view.targets[f"bolt-{number}"]
        right, back = (x - middle[0]) / ruler.scale, (middle[1] - y) / ruler.scale
        assert math.hypot(right, back) == pytest.approx(44.0, abs=TENTH)
        assert math.degrees(math.atan2(right, back)) % 360 == pytest.approx(degrees, abs=0.2)


def test_the_elevation_has_the_stated_heights() -> None:
    """Wall 44.5, top 52 over its lower edge; each tube of the section where a helix of 8 mm pitch passes the plane."""
    ruler = Ruler(elevation(a_scene(), decided()))
    body = ruler.lines("gd-body")[0]
    low_left = next(one for one in body if one[1] == max(y for _, y in body))
    top = min(y for _, y in body)
    foot = 19.0 + 5.0
    assert (low_left[1] - top) / ruler.scale == pytest.approx(52.0 + foot, abs=TENTH)
    zero = low_left[1] - foot * ruler.scale
    middle = sum(x for x, _ in body) / len(body)
    seen = sorted(
        (round((x - middle) / ruler.scale, 1), round((zero - y) / ruler.scale, 1), round(r / ruler.scale, 1))
        for x, y, r in ruler.circles("gd-kit")
    )
    # z = 4 + 8 n on the left after n whole turns, 4 + 8 (n + 1/2) on the right.
    inner = [(-39.0, 4.0 + 8 * n, 4.0) for n in range(5)] + [(39.0, 8.0 + 8 * n, 4.0) for n in range(4)]
    outer = [(-47.0, 4.0 + 8 * n, 4.0) for n in range(4)] + [(47.0, 8.0 + 8 * n, 4.0) for n in range(3)]
    assert len(seen) == len(inner) + len(outer)
    for one, wanted in zip(seen, sorted(inner + outer), strict=True):
        assert one == pytest.approx(wanted, abs=TENTH)


def test_the_coil_is_as_high_as_computed() -> None:
    """From the lowest to the highest point of the tube: 40 mm, as the record says."""
    ruler = Ruler(elevation(a_scene(), decided()))
    tubes = ruler.circles("gd-kit")
    height = max(y + r for _, y, r in tubes) - min(y - r for _, y, r in tubes)
    assert height / ruler.scale == pytest.approx(40.0, abs=TENTH)


def test_what_is_cut_is_hatched_at_its_place() -> None:
    """The boss from 12 to 24 mm, 6 mm out of a wall of 35 mm radius, on the left, since it is at half past seven."""
    ruler = Ruler(elevation(a_scene(), decided()))
    body, (cut_off,) = ruler.lines("gd-body")[0], ruler.lines("gd-cut")
    zero = max(y for _, y in body) - 24.0 * ruler.scale
    middle = sum(x for x, _ in body) / len(body)
    across = sorted({round((x - middle) / ruler.scale, 1) for x, _ in cut_off})
    heights = sorted({round((zero - y) / ruler.scale, 1) for _, y in cut_off})
    assert across == [pytest.approx(-41.0, abs=TENTH), pytest.approx(-35.0, abs=TENTH)]
    assert heights == [pytest.approx(12.0, abs=TENTH), pytest.approx(24.0, abs=TENTH)]


@pytest.mark.parametrize("draw", [plan, elevation, picture])
@pytest.mark.parametrize("action", ["leave", "cannot"])
def test_what_stays_is_not_hatched(draw, action: str) -> None:  # type: ignore[no-untyped-def]
    """Nothing that is left, or must not be cut, looks as if it went."""
    view = draw(a_scene(), decided(action))
    assert view is not None
    assert not Ruler.lines(_only(view), "gd-cut")


def test_the_section_shows_what_remains() -> None:
    """Of a 4 mm wall 3 mm must remain: the line stands 3 mm from the water's side, the cut follows the wall's face."""
    view = cut(a_scene(), decided()["boss"], "boss")
    ruler = Ruler(view)
    wall = ruler.lines("gd-steel")[0]
    inside, face = min(x for x, _ in wall), max(x for x, _ in wall)
    assert (face - inside) / ruler.scale == pytest.approx(4.0, abs=TENTH)
    assert (ruler.lines("gd-hidden")[0][0][0] - inside) / ruler.scale == pytest.approx(3.0, abs=TENTH)
    assert ruler.lines("gd-scribe")[0][0][0] == pytest.approx(face, abs=0.02)
    (gone,) = ruler.lines("gd-cut")
    assert (max(x for x, _ in gone) - face) / ruler.scale == pytest.approx(6.0, abs=TENTH)


@pytest.mark.parametrize("draw", [plan, elevation, picture])
def test_nobody_knows_where_it_is(draw) -> None:  # type: ignore[no-untyped-def]
    """A boss of which nobody noted the direction is named as not placed, and not hatched anywhere."""
    view = draw(a_scene(clock=None), decided())
    assert view is not None
    assert "boss" in view.unplaced
    assert "boss" not in view.targets
    assert not Ruler.lines(_only(view), "gd-cut")


def test_nearly_equal_machines_are_drawn_at_one_scale() -> None:
    """70 and 66 mm: two variants of a family can be held beside each other."""
    small = a_scene()
    small = small.model_copy(update={"boiler": small.boiler.model_copy(update={"diameter_mm": 66.0})})
    for draw in (plan, elevation, picture):
        one, other = draw(a_scene(), decided()), draw(small, decided())
        assert one is not None
        assert other is not None
        assert one.scale == other.scale


@pytest.mark.parametrize("draw", [plan, elevation, picture])
def test_no_size_no_drawing(draw) -> None:  # type: ignore[no-untyped-def]
    """A boiler that nobody measured is not drawn as if somebody had."""
    scene = a_scene()
    bare = scene.model_copy(update={"boiler": scene.boiler.model_copy(update={"diameter_mm": None})})
    assert draw(bare, decided()) is None


def _only(view: Drawing) -> Ruler:
    """A ruler without a scale, for a picture that has no bar."""
    made = object.__new__(Ruler)
    made.root = ElementTree.fromstring(f"<svg>{svg_marks(view.sheet.marks)}</svg>")
    return made
