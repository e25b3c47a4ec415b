"""The view of the bolts: where they are, which follows which, how tight; and that a bolt keeps its own number."""

from __future__ import annotations

import itertools
import math

import pytest

from guidegen.record.scene import Scene, SceneBolts
from guidegen.site.drawings.bolts import ARROW, bolts
from guidegen.site.drawings.marks import Lettering, Ring, Stroke
from guidegen.site.drawings.scene_views import scene_views
from guidegen.site.drawings.view import Drawing
from tests.unit.site.drawings.test_true_to_scale import TENTH, Ruler, a_scene, decided


def with_bolts(**changes: object) -> Scene:
    """The invented scene with other facts of its bolts."""
    scene = a_scene()
    assert scene.bolts is not None
    whole = scene.bolts.model_copy(update={"torque_nm": 5.0, "torque_within_nm": 0.5, **changes})
    return scene.model_copy(update={"bolts": whole})


def the_view(**changes: object) -> Drawing:
    """The view of its bolts."""
    made = bolts(with_bolts(**changes))
    assert made is not None
    return made


def texts(view: Drawing) -> list[str]:
    """Every text, in millimetres and newton metres."""
    return [
        f"{mark.lead}{mark.text}".replace("\u202f", " ") for mark in view.sheet.marks if isinstance(mark, Lettering)
    ]


def test_bolts_stand_where_the_clock_says() -> None:
    """Bolt 1 at half past one, 44 mm from the axis, the others a quarter further each, with heads of 8.5 mm."""
    view = the_view()
    ruler = Ruler(view)
    middle = ruler.circles("gd-steel")[0][:2]
    for number, degrees in ((1, 45.0), (2, 135.0), (3, 225.0), (4, 315.0)):
        x, y = view.targets[f"bolt-{number}"]
        right, back = (x - middle[0]) / ruler.scale, (middle[1] - y) / ruler.scale
        assert math.hypot(right, back) == pytest.approx(44.0, abs=TENTH)
        assert math.degrees(math.atan2(right, back)) % 360 == pytest.approx(degrees, abs=0.2)
    heads = [one for one in ruler.circles("gd-body") if one[2] < 20 * ruler.scale]
    assert [2 * one[2] / ruler.scale for one in heads] == [pytest.approx(8.5, abs=TENTH)] * 4


@pytest.mark.parametrize(("count", "order"), [(4, (1, 3, 2, 4)), (6, (1, 4, 2, 5, 3, 6)), (2, (1, 2))])
def test_arrows_lead_in_the_printed_order(count: int, order: tuple[int, ...]) -> None:
    """One from each bolt to the next, from nearer the one to nearer the other; the last has none."""
    view = the_view(count=count, order=order)
    shafts = [one for one in view.sheet.marks if isinstance(one, Stroke) and one.style == "edge"]
    shafts = [one for one in shafts if math.dist(one.points()[0], one.points()[-1]) > 2 * ARROW]
    found = []
    for one in shafts:
        ends = [min(view.targets, key=lambda name: math.dist(view.targets[name], end)) for end in one.points()]
        found.append(tuple(int(name.removeprefix("bolt-")) for name in ends))
    assert found == [*itertools.pairwise(order)]


def test_the_order_and_the_torque_are_said() -> None:
    """As the instruction prints them; in the other system of units 5 N·m are 44.3 in·lbf (NIST SP 811)."""
    view = the_view()
    assert "Tighten in the order 1 – 3 – 2 – 4" in texts(view)
    assert "each to 5 N·m ± 0.5 N·m" in texts(view)
    other = [mark.other for mark in view.sheet.marks if isinstance(mark, Lettering) and "N·m" in mark.text]
    assert [one.replace("\u202f", " ") for one in other] == ["44.3 in·lbf ± 4.4 in·lbf"]


def test_nobody_knows_where_bolt_1_is() -> None:
    """No head is drawn where nobody has seen it, every bolt is named as not placed; the order is known all the same."""
    view = the_view(clock_deg=None)
    assert view.unplaced == ["bolt-1", "bolt-2", "bolt-3", "bolt-4"]
    assert not view.targets
    assert sum(isinstance(mark, Ring) and mark.style == "body" for mark in view.sheet.marks) == 1  # the boiler
    assert "where bolt 1 is: not known" in texts(view)
    assert "Tighten in the order 1 – 3 – 2 – 4" in texts(view)


def test_a_torque_that_nobody_stated_is_not_guessed() -> None:
    """It is said."""
    assert "to what torque, nobody has stated" in texts(the_view(torque_nm=None, torque_within_nm=None))


def test_a_bolt_keeps_its_own_number() -> None:
    """Bolt 3 has the number 3, whatever was numbered before it; what is no bolt goes on behind the last bolt."""
    views = scene_views(with_bolts(), (decided()["boss"],))
    assert views.numbered(["sensor", "bolt-3", "boss", "sensor"]) == {"bolt-3": 3, "sensor": 4, "boss": 5}
    assert views.numbered(["sensor", "boss"]) == {"sensor": 1, "boss": 2}
    assert [*views.numbered(["boiler-bolts"]).values()] == [1, 2, 3, 4]


def test_bolts_are_pointed_out_in_their_own_view() -> None:
    """The plan shows them too; what else is named is found there."""
    views = scene_views(with_bolts(), (decided()["boss"],))
    found = {view.name: named for view, named in views.showing(["bolt-2", "sensor", "bolt-1"])}
    assert found == {"bolts": ["bolt-2", "bolt-1"], "plan": ["sensor"]}


@pytest.mark.parametrize("circle", [0.0, 4.0])
def test_heads_that_touch_have_no_arrow_between_them(circle: float) -> None:
    """Whatever somebody states, the drawing is made: bolts in one point, or closer than their heads."""
    view = the_view(circle_mm=circle)
    assert len(view.targets) == 4
    assert not [one for one in view.sheet.marks if isinstance(one, Stroke) and one.style == "edge"]


def test_no_bolts_no_view() -> None:
    """A boiler of which nobody knows how many bolts it has."""
    assert bolts(a_scene().model_copy(update={"bolts": None})) is None
    assert isinstance(a_scene().bolts, SceneBolts)
