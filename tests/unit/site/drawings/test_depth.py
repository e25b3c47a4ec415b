"""The picture hides what a depth buffer of the same bodies hides: both are painted and held against each other.

The buffer is made here, of points sampled on surfaces, and knows nothing of the order in which the picture draws.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw

from guidegen.record.scene import Scene
from guidegen.site.drawings.marks import Lettering, Ring, Stroke
from guidegen.site.drawings.picture import picture
from guidegen.site.drawings.space import TILT
from guidegen.site.drawings.view import WIDTH, Drawing
from tests.unit.site.drawings.test_true_to_scale import a_scene, decided

BARE, BODY, FLANGE, COIL = 0, 1, 2, 3
FINE = 2
"""Pixels for a unit of the drawing."""
Points = NDArray[np.float64]


def test_what_is_hidden_is_hidden() -> None:
    """Coil, flange and boiler with what stands on it: at most 0.5 % of the area of each is seen otherwise.

    A pixel beside a border is not counted: lines have a width there.
    """
    scene = a_scene()
    view = picture(scene, decided("leave"))
    assert view is not None
    drawn, deep = painted(view), buffered(scene, view)
    inner = _inside(deep)
    for part in (BODY, FLANGE, COIL):
        area = deep == part
        assert area.sum() > 2000
        wrong = area & inner & (drawn != part)
        assert wrong.sum() <= 0.005 * area.sum(), part


def test_the_buffer_would_notice() -> None:
    """With the whole coil drawn behind the boiler far more than 0.5 % of it is missing."""
    scene = a_scene()
    view = picture(scene, decided("leave"))
    assert view is not None
    view.sheet.marks.sort(key=lambda mark: not mark.style.startswith("tube"))
    deep = buffered(scene, view)
    wrong = (deep == COIL) & _inside(deep) & (painted(view) != COIL)
    assert wrong.sum() > 0.1 * (deep == COIL).sum()


# --- painted in the picture's order ------------------------------------------------------------------


def painted(view: Drawing) -> NDArray[np.int64]:
    """Which kind of part the picture shows at each pixel."""
    made = Image.new("L", (round(WIDTH) * FINE, math.ceil(view.height) * FINE), BARE)
    pen = ImageDraw.Draw(made)
    kinds = {"body": BODY, "steel": FLANGE, "tube-edge": COIL}
    for mark in view.sheet.marks:
        kind = None if isinstance(mark, Lettering) else kinds.get(mark.style)
        if kind is None:
            continue
        if isinstance(mark, Ring):
            (x, y), rx, ry = mark.centre, mark.rx, mark.ry
            pen.ellipse([(x - rx) * FINE, (y - ry) * FINE, (x + rx) * FINE, (y + ry) * FINE], fill=kind)
        elif isinstance(mark, Stroke):
            points = [(x * FINE, y * FINE) for x, y in mark.points()]
            if mark.closed:
                pen.polygon(points, fill=kind)
            else:
                pen.line(points, fill=kind, width=round((mark.width or 1) * FINE), joint="curve")
    return np.asarray(made, dtype=np.int64)


# --- a depth buffer of the same bodies ---------------------------------------------------------------


def buffered(scene: Scene, view: Drawing) -> NDArray[np.int64]:
    """Which kind of part is nearest at each pixel, of points of all surfaces."""
    assert view.scale is not None
    level = next(mark.centre[1] for mark in view.sheet.marks if isinstance(mark, Ring) and mark.style == "steel")
    # The first ring is the flange's top, whose height is known: the bolts' heads stand on it.
    foot = -((scene.bolts.head_room_mm if scene.bolts else 0.0) or 0.0) - 5.0
    zero = level + foot * math.cos(TILT) * view.scale
    shape = (math.ceil(view.height) * FINE, round(WIDTH) * FINE)
    nearest, kinds = np.full(shape, -np.inf), np.full(shape, BARE, dtype=np.int64)
    for kind, points in surfaces(scene, foot):
        right, near, z = points
        u = np.rint((WIDTH / 2 + right * view.scale) * FINE).astype(int)
        v = np.rint((zero + (near * math.sin(TILT) - z * math.cos(TILT)) * view.scale) * FINE).astype(int)
        depth = near * math.cos(TILT) + z * math.sin(TILT)
        there = (u >= 0) & (u < shape[1]) & (v >= 0) & (v < shape[0])
        order = np.argsort(depth[there])
        rows, columns, deep = v[there][order], u[there][order], depth[there][order]
        seen = deep > nearest[rows, columns]
        nearest[rows[seen], columns[seen]] = deep[seen]
        kinds[rows[seen], columns[seen]] = kind
    return kinds


def surfaces(scene: Scene, foot: float) -> Iterator[tuple[int, Points]]:
    """Points on every surface, as rows right, near, up."""
    boiler, coil, bolts = scene.boiler, scene.coil, scene.bolts
    assert boiler.diameter_mm and boiler.straight_wall_mm and boiler.height_mm and boiler.flange_mm and coil and bolts  # noqa: PT018
    radius = boiler.diameter_mm / 2
    yield FLANGE, can((0, 0), boiler.flange_mm / 2, foot - 6.0, foot)
    yield BODY, can((0, 0), radius, foot, boiler.straight_wall_mm)
    yield BODY, cone(radius, boiler.straight_wall_mm, radius * 0.86, boiler.height_mm)
    yield BODY, can((0, 0), radius * 0.86, boiler.height_mm - 0.5, boiler.height_mm)
    yield BODY, can((0, 17.0), 8.0, boiler.height_mm, boiler.height_mm + 4.8)
    yield BODY, can((0, 17.0), 4.8, boiler.height_mm + 4.8, boiler.height_mm + 9.6)
    for number in range(4):
        angle = math.radians(45.0 + 90.0 * number)
        place = (44.0 * math.sin(angle), -44.0 * math.cos(angle))
        yield BODY, can(place, 4.25, foot, foot + 5.0)
    for layer in coil.layers:
        yield COIL, tube(layer.mean_mm / 2, coil.tube_mm / 2, coil.pitch_mm, layer.turns)


def can(centre: tuple[float, float], radius: float, bottom: float, top: float) -> Points:
    """The side and the top of an upright cylinder."""
    angle, z = np.meshgrid(np.linspace(0, 2 * np.pi, 1600), np.arange(bottom, top + 0.1, 0.12))
    side = np.array([radius * np.sin(angle), radius * np.cos(angle), z]).reshape(3, -1)
    around, out = np.meshgrid(np.linspace(0, 2 * np.pi, 1600), np.arange(0, radius + 0.06, 0.12))
    lid = np.array([out * np.sin(around), out * np.cos(around), np.full_like(out, top)]).reshape(3, -1)
    return np.hstack([side, lid]) + np.array([[centre[0]], [centre[1]], [0.0]])


def cone(wide: float, bottom: float, narrow: float, top: float) -> Points:
    """What rises from a wide circle to a narrow one."""
    angle, share = np.meshgrid(np.linspace(0, 2 * np.pi, 1600), np.linspace(0, 1, 120))
    radius = wide + (narrow - wide) * share
    z = bottom + (top - bottom) * share
    return np.array([radius * np.sin(angle), radius * np.cos(angle), z]).reshape(3, -1)


def tube(radius: float, half: float, pitch: float, turns: float) -> Points:
    """A helix of tube that begins at the left, passes the front, and climbs one pitch in a turn."""
    passed, round_ = np.meshgrid(np.linspace(0, turns, round(2200 * turns)), np.linspace(0, 2 * np.pi, 100))
    out = radius + half * np.cos(round_)
    angle = passed * 2 * np.pi
    return np.array([-out * np.cos(angle), out * np.sin(angle), half + passed * pitch + half * np.sin(round_)]).reshape(
        3, -1
    )


def _inside(kinds: NDArray[np.int64]) -> NDArray[np.bool_]:
    """Pixels of which all within three look alike."""
    alike = np.ones_like(kinds, dtype=bool)
    for down in range(-3, 4):
        for right in range(-3, 4):
            alike &= np.roll(kinds, (down, right), (0, 1)) == kinds
    return alike
