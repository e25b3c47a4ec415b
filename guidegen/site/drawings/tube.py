"""The coil in the picture: half turns, far and near, each the outline of its centre line drawn three times."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from guidegen.record.scene import SceneCoil, SceneLayer
from guidegen.site.drawings.marks import Bend, Point, Style
from guidegen.site.drawings.space import Space

OVERLAP = 0.02
"""Turns by which a half is drawn beyond its ends, so that near and far halves meet without a gap."""


def half_turns(space: Space, coil: SceneCoil, layer: SceneLayer, *, front: bool) -> None:
    """The near or the far halves of a layer's turns, from the lowest up. Turns begin at the left, by the front."""
    for number in range(math.ceil(layer.turns * 2 - 1e-9)):
        if (number % 2 == 0) == front:
            _piece(space, coil, layer, max(0.0, number / 2 - OVERLAP), min(layer.turns, (number + 1) / 2 + OVERLAP))


def open_end(space: Space, coil: SceneCoil, layer: SceneLayer) -> None:
    """The open end of a layer that stops where one can see it."""
    if 2 * OVERLAP < layer.turns % 1.0 < 0.5:
        radius = coil.tube_mm / 2 * space.scale
        space.sheet.ring(on_coil(space, coil, layer, layer.turns), radius * 0.55, "kit-edge", radius)


def on_coil(
    space: Space, coil: SceneCoil, layer: SceneLayer, passed: float, along: tuple[float, float] = (0.0, 0.0)
) -> Point:
    """The tube's middle after so many turns; or beside it along the tangent.

    `along` is the way on the tangent as a share of the radius, and the climb in turns.
    """
    angle, radius = passed * 2 * math.pi, layer.mean_mm / 2
    z = (layer.from_mm or 0.0) + coil.tube_mm / 2 + (passed + along[1]) * coil.pitch_mm
    right = radius * (-math.cos(angle) + along[0] * math.sin(angle))
    near = radius * (math.sin(angle) + along[0] * math.cos(angle))
    return space.seen(right, near, z)


def _piece(space: Space, coil: SceneCoil, layer: SceneLayer, first: float, last: float) -> None:
    points = list(_bends(space, coil, layer, first, last))
    start = on_coil(space, coil, layer, first)
    width = coil.tube_mm * space.scale
    drawn: tuple[tuple[Style, float, float], ...] = (
        ("tube-edge", width, 0.0),
        ("tube-shade", width - 2.4, 0.0),
        ("tube-light", width * 0.5, 0.16 * width),
    )
    for style, broad, lifted in drawn:
        bends = [Bend(*((x, y - lifted) for x, y in (one.first, one.second, one.end))) for one in points]
        space.sheet.path((start[0], start[1] - lifted), bends, style, width=broad)


def _bends(space: Space, coil: SceneCoil, layer: SceneLayer, first: float, last: float) -> Iterator[Bend]:
    """The tube's middle line between two turns as cubic curves, one for about a quarter of a turn.

    For a quarter of a circle such a curve is within 0.03 % of its radius; the climb is spread evenly.
    """
    count = max(1, math.ceil((last - first) * 4 - 0.2))
    at = [first + (last - first) * number / count for number in range(count + 1)]
    long = 4 / 3 * math.tan((at[1] - at[0]) * 2 * math.pi / 4)
    for one, other in pairwise(at):
        climb = (other - one) / 3
        yield Bend(
            on_coil(space, coil, layer, one, (long, climb)),
            on_coil(space, coil, layer, other, (-long, -climb)),
            on_coil(space, coil, layer, other),
        )
