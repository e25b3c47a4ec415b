"""The template: what is marked on the metal, at its own size, to be cut out and laid round the boiler.

All places are millimetres on the paper: x to the right, y down, from the upper left of the drawing.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

from guidegen.language import gettext
from guidegen.record import Assessment
from guidegen.record.scene import Scene, SceneProtrusion
from guidegen.site.pages.paper.frame import SheetOrder, frame
from guidegen.site.pages.place import has_install

WIDEST = 250.0
"""mm; the longest strip that both papers hold on their long side."""
ALONG, ACROSS, BAR_LEFT = 100.0, 50.0, 110.0
"""mm; what the reader measures before the first cut, along the paper and across it, and where both begin."""
STRIP_TOP, GAUGE_TOP = 16.0, 34.0
"""mm; above the strip is room for its words, and between the strip and the gauges."""
BESIDE = 20.0
"""mm of the wall's circle that a gauge shows on either side of what stands out."""

Place = tuple[float, float]
Shape = dict[str, Any]


def has_template(record: Assessment) -> bool:
    """Whether something is marked and cut on the wall, and all of its sizes are known."""
    scene = record.scene
    if not has_install(record) or scene is None or not _trimmed(record):
        return False
    boiler = scene.boiler
    return (
        boiler.diameter_mm is not None
        and boiler.straight_wall_mm is not None
        and math.pi * boiler.diameter_mm <= WIDEST
        and all(None not in (one.clock_deg, one.from_mm, one.to_mm, one.stands_out_mm, one.width_mm)
                for one, _ in _trimmed(record))
    )  # fmt: skip


def _trimmed(record: Assessment) -> list[tuple[SceneProtrusion, str]]:
    """What is cut off, with its name."""
    names = {one.id: one.name for one in record.protrusions if one.action == "trim"}
    return [(one, names[one.id]) for one in record.scene.protrusions if one.id in names] if record.scene else []


def template_data(order: SheetOrder) -> dict[str, Any]:
    """What the template prints: shapes in millimetres, and what to measure before it is used."""
    scene, trimmed = order.record.scene, _trimmed(order.record)
    assert scene is not None
    diameter, wall = scene.boiler.diameter_mm or 0.0, scene.boiler.straight_wall_mm or 0.0
    below = STRIP_TOP + wall + GAUGE_TOP
    shapes = [*_strip(scene, trimmed, diameter, wall), *_bars(BAR_LEFT, below)]
    for place, (one, name) in enumerate(trimmed):
        shapes += _gauge(one, name, diameter / 2, (40.0, below + 70.0 * place))
    listed = ", ".join(name for _, name in trimmed)
    says = gettext("The straight wall unrolled, as seen from outside, with the places of: {names}.")
    return {
        **frame(order, gettext("template")),
        "shapes": shapes,
        "wide": math.pi * diameter,
        "tall": below + 70.0 * len(trimmed) - 20.0,
        "alt": says.format(names=listed),
        "print": gettext("Print at 100 %, not fitted to the page."),
        "measure": gettext("Measure both bars before the first cut: {bar} mm along, {square} mm across.").format(
            bar=f"{ALONG:g}", square=f"{ACROSS:g}"
        ),
        "use": gettext(
            "Cut out the strip and its windows and lay it round the straight wall, its lower edge on the wall's, front "
            "to front. The ends meet at the back. What does not come through its window is not where this guide has "
            "it: ask before you cut."
        ),
    }


def _line(start: Place, end: Place, style: str = "edge") -> Shape:
    return {"kind": "line", "from": start, "to": end, "style": style}


def _words(at: Place, text: str) -> Shape:
    return {"kind": "words", "at": at, "text": text}


def _box(left: float, top: float, wide: float, tall: float, style: str = "edge") -> Iterator[Shape]:
    corners = [(left, top), (left + wide, top), (left + wide, top + tall), (left, top + tall)]
    for place, corner in enumerate(corners):
        yield _line(corner, corners[(place + 1) % 4], style)


def _bars(left: float, top: float) -> Iterator[Shape]:
    """The bars to be measured, with their lengths beside them."""
    yield _line((left, top), (left + ALONG, top), "bar")
    yield _line((left, top), (left, top + ACROSS), "bar")
    yield _words((left + ALONG / 2, top + 1.5), f"{ALONG:g} mm")
    yield _words((left + 1.5, top + ACROSS / 2), f"{ACROSS:g} mm")


def _strip(scene: Scene, trimmed: list[tuple[SceneProtrusion, str]], diameter: float, wall: float) -> Iterator[Shape]:
    """The wall unrolled, the front in the middle: from outside, what is clockwise from above goes to the left."""
    around = math.pi * diameter
    top, low = STRIP_TOP, STRIP_TOP + wall
    yield from _box(0.0, top, around, wall)
    yield _words((0.0, low + 1.0), gettext("lower edge of the straight wall"))
    sides = ((gettext("front"), 180.0), (gettext("right"), 90.0), (gettext("left"), 270.0))
    for name, clock in (*sides, (gettext("back"), 0.0), (gettext("back"), 359.999)):
        x = _along(clock, around)
        yield _line((x, top - 3.0), (x, top), "fine")
        yield _words((min(x, around - 10.0) + 0.6, top - 5.0), name)
    if scene.coil is not None and scene.coil.layers and scene.coil.layers[0].from_mm is not None:
        first = scene.coil.layers[0].from_mm
        for height in (first, first + scene.coil.height_mm):
            yield _line((0.0, low - height), (around, low - height), "dashed")
        yield _words((1.0, low - first - scene.coil.height_mm + 0.8), gettext("the coil's place, between the dashes"))
    for one, name in trimmed:
        x, wide = _along(one.clock_deg or 0.0, around), one.width_mm or 0.0
        lower, upper = one.from_mm or 0.0, one.to_mm or 0.0
        yield from _box(x - wide / 2, low - upper, wide, upper - lower, "bold")
        yield _words((x + wide / 2 + 1.0, low - upper), gettext("window: {name}").format(name=name))


def _along(clock: float, around: float) -> float:
    """Where a direction lies along the strip, mm from its left end.

    >>> _along(180.0, 220.0), _along(90.0, 220.0), _along(270.0, 220.0)
    (110.0, 165.0, 55.0)
    """
    return around / 2 + (180.0 - clock) / 360.0 * around


def _gauge(one: SceneProtrusion, name: str, radius: float, at: Place) -> Iterator[Shape]:
    """The wall's circle where it crosses what stands out, as seen from above; `at` is where both meet, outside up."""
    (x, y), wide, out = at, one.width_mm or 0.0, one.stands_out_mm or 0.0
    half = min(wide / 2 + BESIDE, radius * 0.95)
    steps = 48
    across = [half * (2 * step / steps - 1) for step in range(steps + 1)]
    points = [(x + each, y + radius - math.sqrt(radius**2 - each**2)) for each in across]
    for start, end in pairwise(points):
        yield _line(start, end, "bold")
    edge = radius - math.sqrt(radius**2 - (wide / 2) ** 2)
    yield _line((x - wide / 2, y + edge), (x - wide / 2, y - out), "dashed")
    yield _line((x - wide / 2, y - out), (x + wide / 2, y - out), "dashed")
    yield _line((x + wide / 2, y - out), (x + wide / 2, y + edge), "dashed")
    says = gettext("from above, with what is cut off dashed: {name}")
    yield _words((x - half, y - out - 5.0), says.format(name=name))
    yield _words((x - half, points[0][1] + 1.5), gettext("the line of the straight wall"))
