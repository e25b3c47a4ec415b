"""How a measurement is taken: a small drawing per fact, not to scale, with the ruler where it is held.

It stands beside the question, so it shows no machine in particular: only what is touched, from where to where.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

from markupsafe import Markup

from guidegen.language import gettext, marked
from guidegen.site.drawings.figure import plain_figure
from guidegen.site.drawings.lengths import span
from guidegen.site.drawings.marks import Bend, Lettering, Point, Sheet
from guidegen.site.drawings.view import WIDTH, Drawing, on_clock

MIDDLE = WIDTH / 2
HEIGHT = 150.0
TICK = 6.0
BOLTS = (45.0, 135.0, 225.0, 315.0)
"""Degrees on the clock, as they stand in many machines."""


def drawn(fact: str, name: str) -> Markup:
    """The figure of how a fact is measured; empty where there is none. `name` is its id, which a page has once."""
    if fact not in WAYS:
        return Markup("")
    draw, says = WAYS[fact]
    view = Drawing(name, gettext("How to measure it"), "", HEIGHT)
    draw(view.sheet)
    return plain_figure(view, gettext("{how} Not to scale.").format(how=gettext(says)), name)


def _boiler(sheet: Sheet) -> tuple[float, float, float, float]:
    """A boiler from the side on its flange; left, right, top and foot of the straight wall."""
    left, right, top, foot = MIDDLE - 45, MIDDLE + 45, 52.0, 118.0
    sheet.box(left - 18, foot, right + 18, foot + 10, "steel")
    corner = Bend((right, top - 9), (right - 6, top - 15), (right - 15, top - 15))
    other = Bend((left + 6, top - 15), (left, top - 9), (left, top))
    sheet.path((left, foot), ((left, top), (left, top)), "body")
    sheet.path((right, foot), ((right, top), corner, (left + 15, top - 15), other, (left, foot)), "body", closed=True)
    _word(sheet, (MIDDLE, 90), gettext("boiler"))
    return left, right, top, foot


def _ruler(sheet: Sheet, zero: Point, length: float, upright: bool) -> None:
    """A steel ruler from its zero on, upwards or to the right, its ticks on the side of what is measured."""
    x, y = zero
    corners = (x, y - length, x + 14, y) if upright else (x, y, x + length, y + 14)
    sheet.box(*corners, "steel")
    for number in range(1, math.floor(length / TICK)):
        deep = 7.0 if number % 5 == 0 else 4.0
        at = (x, y - number * TICK) if upright else (x + number * TICK, y)
        sheet.line([at, (x + deep, at[1]) if upright else (at[0], y + deep)], "fine")


def _word(sheet: Sheet, at: Point, text: str) -> None:
    sheet.words(Lettering(at, text, style="muted"))


def _straight_wall(sheet: Sheet) -> None:
    _, right, top, foot = _boiler(sheet)
    _ruler(sheet, (right + 24, foot), 84, upright=True)
    sheet.line([(right + 2, top), (right + 62, top)], "dim")
    sheet.line([(right + 40, foot), (right + 62, foot)], "dim")
    span(sheet, (right + 54, top), (right + 54, foot))


def _diameter(sheet: Sheet) -> None:
    left, right, top, _ = _boiler(sheet)
    for x in (left, right):
        sheet.line([(x, top + 8), (x, 14)], "fine")
    sheet.box(left - 14, 10, right + 30, 16, "steel")
    span(sheet, (left, 26), (right, 26))


def _clearance(sheet: Sheet) -> None:
    """From above: the case is nearest at the right."""
    sheet.box(MIDDLE - 80, 8, MIDDLE + 80, 142, "edge")
    sheet.ring((MIDDLE, 75), 46, "body")
    _word(sheet, (MIDDLE, 72), gettext("boiler"))
    _word(sheet, (MIDDLE - 60, 24), gettext("case"))
    _ruler(sheet, (MIDDLE + 46, 75), 62, upright=False)
    span(sheet, (MIDDLE + 46, 66), (MIDDLE + 80, 66))


def _on_wall(sheet: Sheet, thing: Callable[[float], None], top: float) -> None:
    """A piece of the wall, what stands on it, and a ruler beside it that stands on the wall."""
    wall = 118.0
    sheet.box(MIDDLE - 90, wall, MIDDLE + 90, wall + 12, "steel")
    _word(sheet, (MIDDLE - 62, wall + 26), gettext("boiler’s wall"))
    thing(wall)
    _ruler(sheet, (MIDDLE + 28, wall), 96, upright=True)
    sheet.line([(MIDDLE + 4, top), (MIDDLE + 66, top)], "dim")
    span(sheet, (MIDDLE + 58, top), (MIDDLE + 58, wall))


def _projection(sheet: Sheet) -> None:
    def fitting(wall: float) -> None:
        sheet.box(MIDDLE - 16, wall - 24, MIDDLE + 16, wall, "body")
        sheet.box(MIDDLE - 9, 44, MIDDLE + 9, wall - 24, "body")

    _on_wall(sheet, fitting, 44)


def _stand_out(sheet: Sheet) -> None:
    def boss(wall: float) -> None:
        sheet.line(
            [(MIDDLE - 20, wall), (MIDDLE - 14, 72), (MIDDLE + 14, 72), (MIDDLE + 20, wall)], "body", closed=True
        )

    _on_wall(sheet, boss, 72)


def _terminal(sheet: Sheet) -> None:
    """The ruler is held above, so that it touches neither."""
    sheet.box(MIDDLE - 70, 66, MIDDLE - 40, 142, "steel")
    _word(sheet, (MIDDLE - 100, 110), gettext("boiler’s wall"))
    sheet.box(MIDDLE + 30, 96, MIDDLE + 48, 104, "body")
    sheet.box(MIDDLE + 48, 90, MIDDLE + 80, 110, "edge")
    _word(sheet, (MIDDLE + 52, 128), gettext("terminal"))
    for x, y in ((MIDDLE - 40, 66), (MIDDLE + 30, 96)):
        sheet.line([(x, 44), (x, y)], "dim")
    _ruler(sheet, (MIDDLE - 40, 30), 92, upright=False)
    span(sheet, (MIDDLE - 40, 54), (MIDDLE + 30, 54))


def _bolt_circle(sheet: Sheet) -> None:
    """From above: between two bolts that face each other, over the middle."""
    middle = (MIDDLE, 75.0)
    sheet.ring(middle, 66, "body")
    sheet.ring(middle, 50, "axis")
    places = [(middle[0] + x, middle[1] + y) for x, y in (on_clock(50, one) for one in BOLTS)]
    for place in places:
        sheet.ring(place, 6, "steel")
    span(sheet, places[3], places[1])


WAYS: Mapping[str, tuple[Callable[[Sheet], None], str]] = {
    "boiler.straight_wall": (
        _straight_wall,
        marked("From the lower rim up to where the wall begins to curve; the rounding does not count."),
    ),
    "boiler.diameter": (_diameter, marked("With callipers across the boiler, at the straight part of its wall.")),
    "boiler.clearance": (_clearance, marked("From above, at the narrowest place; hoses and wires count, too.")),
    "water_path.inlet.projection": (
        _projection,
        marked("The ruler stands on the wall beside the fitting; read it at the fitting’s far end."),
    ),
    "protrusions.stand_out": (
        _stand_out,
        marked("The ruler stands on the wall beside what sticks out; read it at its highest point."),
    ),
    "heater.terminal_distance": (
        _terminal,
        marked("From the wall to the nearest bare metal of a terminal; the ruler is held above and touches neither."),
    ),
    "boiler.bolts.circle": (
        _bolt_circle,
        marked("From the middle of one bolt to the middle of the bolt opposite, across the boiler’s axis."),
    ),
}
"""By fact: how it is drawn, and the sentence beside it."""
