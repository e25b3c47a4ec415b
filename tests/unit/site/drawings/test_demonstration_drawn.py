"""The demonstration's drawings: each thing that an act names is pointed out, no text lies on another, all are small."""

from __future__ import annotations

import gzip
from collections.abc import Iterator
from functools import cache
from itertools import combinations
from pathlib import Path

import pytest

from guidegen import trade
from guidegen.assess import guiding, verdict
from guidegen.assess.scene import scene
from guidegen.judge.safety.record import objects_of
from guidegen.site.drawings.callouts import RADIUS, callout_marks, callouts, placed
from guidegen.site.drawings.marks import Lettering
from guidegen.site.drawings.scene_views import SceneViews, scene_views
from guidegen.site.drawings.svg import svg_marks
from guidegen.site.drawings.view import WIDTH, Drawing
from guidegen.trade import Catalogue

pytestmark = pytest.mark.slow

ROOT = Path(__file__).parents[4]
Box = tuple[float, float, float, float]
Phase = tuple[str, list[str]]


@cache
def known() -> Catalogue:
    """The demonstration's catalogue."""
    return trade.load(ROOT)


PAIRS = [
    (path.parent.name + "-" + path.stem, kit.stem)
    for path in sorted((ROOT / "machines").glob("*/*.yml"))
    if path.stem not in ("family", "builds")
    for kit in sorted((ROOT / "content" / "kits").glob("*.yml"))
]


@cache
def drawn(variant: str, kit: str) -> tuple[SceneViews, tuple[Phase, ...]]:
    """The views of a pair, and what each phase of its instruction names."""
    machine, chosen = known().machine(variant), known().kit(kit)
    pair = verdict.judged(known(), machine, chosen, "next")
    views = scene_views(scene(known(), machine, chosen), tuple(verdict.protrusions(machine, chosen, pair)))
    made = guiding.made_guide(known(), machine, chosen, pair.fit, pair, {}, "next")
    courses = (made.resolved.fitting, made.resolved.restoring) if made else ()
    phases = [
        (
            f"{course.name} {phase.id}",
            [name for step in phase.steps for name in objects_of((*step.step.names, *step.step.shows))],
        )
        for course in courses
        if course is not None
        for phase in course.phases
    ]
    return views, tuple(phases)


def test_a_family_is_drawn_at_one_scale() -> None:
    """Plan and elevation of every variant, with any kit, so that two pages can be laid beside each other."""
    scales: dict[str, set[float]] = {}
    for variant, kit in PAIRS:
        for view in drawn(variant, kit)[0].views.values():
            if view.name in ("plan", "elevation") and view.scale is not None:
                scales.setdefault(known().machine(variant).family, set()).add(round(view.scale, 9))
    assert len(scales) > 1
    assert {family: len(found) for family, found in scales.items()} == dict.fromkeys(scales, 1)


@pytest.mark.parametrize(("variant", "kit"), PAIRS)
def test_every_object_of_an_act_is_in_a_view_of_its_phase(variant: str, kit: str) -> None:
    """Nothing is named that no drawing shows, or says that nobody knows where it is."""
    views, phases = drawn(variant, kit)
    for phase, named in phases:
        shown = {thing for _, things in views.showing(named) for thing in things}
        missing = {thing for name in named for thing in views.spread(name)} - shown
        assert not missing, phase


@pytest.mark.parametrize(("variant", "kit"), PAIRS)
def test_no_text_lies_on_another(variant: str, kit: str) -> None:
    """Texts and the rings of numbers keep clear of each other, and inside, when everything is pointed out at once."""
    views, _ = drawn(variant, kit)
    for view in views.views.values():
        boxes = list(_boxes(view))
        for (name, one), (other, two) in combinations(boxes, 2):
            apart = one[2] <= two[0] or two[2] <= one[0] or one[3] <= two[1] or two[3] <= one[1]
            assert apart, f"{view.name}: {name} on {other}"
        for name, (left, top, right, bottom) in boxes:
            assert left >= 0, f"{view.name}: {name}"
            assert top >= 0, f"{view.name}: {name}"
            assert right <= WIDTH, f"{view.name}: {name}"
            assert bottom <= view.height, f"{view.name}: {name}"


def _boxes(view: Drawing) -> Iterator[tuple[str, Box]]:
    """The boxes of texts as in print, where both systems are read, and of the rings of up to twelve numbers."""
    for mark in view.sheet.marks:
        if isinstance(mark, Lettering):
            lines = [mark.text, mark.other] if mark.stacked else [" · ".join(filter(None, (mark.text, mark.other)))]
            longest = mark.lead + max(lines, key=len)
            size = 9.5 if mark.small else 11.0
            wide, (x, y) = 0.54 * size * len(longest), mark.at
            start = {"start": 0.0, "middle": -wide / 2, "end": -wide}[mark.anchor]
            if mark.turned:
                yield mark.text, (x - size * 0.8, y - wide / 2, x + size * 0.2, y + wide / 2)
            else:
                below = y + size * 0.2 + 10 * (len(lines) - 1)
                yield mark.text, (x + start, y - size * 0.8, x + start + wide, below)
    targets = list(enumerate(list(view.targets.values())[:12], 1))
    for one in placed(targets, view.height):
        x, y = one.at
        yield f"number {one.number}", (x - RADIUS, y - RADIUS, x + RADIUS, y + RADIUS)


@pytest.mark.parametrize(("variant", "kit"), PAIRS)
def test_each_drawing_is_small(variant: str, kit: str) -> None:
    """At most 15 kB packed, with every thing pointed out."""
    views, _ = drawn(variant, kit)
    for view in views.views.values():
        numbers = callout_marks(callouts(views.listed(view, views.numbered(view.targets)), view.height))
        assert len(gzip.compress(svg_marks([*view.sheet.marks, *numbers]).encode())) <= 15_000, view.name


def test_unknown_is_drawn_as_unknown() -> None:
    """Nobody has seen where the web of the Mark 1 for 120 V stands: it is in no picture, and named as not placed."""
    views, _ = drawn("tamsin-mk1-120", "feed-preheater")
    for name in ("plan", "picture"):
        assert "lifting-web" in views.views[name].unplaced
        assert "lifting-web" not in views.views[name].targets
    assert "lifting-web" in views.views["elevation"].unplaced


def test_the_water_passes_the_coil_once_it_is_on() -> None:
    """Pump, old hose, the kit's male fitting, coil, female fitting, inlet, boiler: as the kit's joints say."""
    views, _ = drawn("tamsin-mk2", "feed-preheater")
    things = [one for one in views.scene.water.after if one not in {"feed-pump"} and one != "inlet-fitting"]
    passed = ["pump", "feed-hose", "male-fitting", "coil", "female-fitting", "straight-inlet", "boiler"]
    assert [one for one in things if one in passed] == passed
    before = ["pump", "feed-hose", "straight-inlet", "boiler"]
    assert [one for one in views.scene.water.before if one in before] == before
    assert "coil" not in views.scene.water.before


def test_the_controller_takes_the_place_of_the_brew_thermostat() -> None:
    """In the circuit of a Mark 1 with the Loop Controller the brew thermostat is gone, the limit stays before it."""
    views, _ = drawn("tamsin-mk1", "loop-controller")
    assert views.scene.circuit.before == ("own-switch", "limit", "brew-thermostat")
    assert views.scene.circuit.after == ("own-switch", "limit", "controller")


@pytest.mark.parametrize(("variant", "kit"), PAIRS)
def test_no_list_has_one_name_twice(variant: str, kit: str) -> None:
    """Whoever looks for "feed hose" finds one: a joint that is called as the hose is says what it leads to."""
    views, phases = drawn(variant, kit)
    for phase, named in phases:
        for _, things in views.showing(named):
            listed = [views.names[one] for one in things]
            assert len({*listed}) == len(listed), phase
