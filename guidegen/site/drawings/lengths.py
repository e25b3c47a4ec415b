"""Dimension lines and lengths, in both systems of units."""

from __future__ import annotations

import math

from guidegen.site.drawings.marks import Lettering, Point, Sheet
from guidegen.units import NARROW_SPACE, in_unit

ARROW = 5.0
"""Length of an arrow head, units of the drawing."""


def length_texts(value_mm: float) -> tuple[str, str]:
    """A length as drawings print it, in millimetres to a tenth and in inches to a hundredth.

    >>> [text.replace(NARROW_SPACE, " ") for text in length_texts(44.5)]
    ['44.5 mm', '1.75 in']
    """
    inches = in_unit(value_mm / 1e3, "length", "in")
    return f"{round(value_mm, 1):g}{NARROW_SPACE}mm", f"{inches:.2f}{NARROW_SPACE}in"


def span(sheet: Sheet, first: Point, last: Point) -> None:
    """A line between two points with an arrow at either end."""
    sheet.line([first, last], "dim")
    length = math.dist(first, last)
    along = ((last[0] - first[0]) / length, (last[1] - first[1]) / length)
    for tip, way in ((first, 1.0), (last, -1.0)):
        for slope in (1.6, -1.6):
            x, y = way * ARROW * along[0] - slope * along[1], way * ARROW * along[1] + slope * along[0]
            sheet.line([tip, (tip[0] + x, tip[1] + y)], "dim")


def dimension(sheet: Sheet, first: Point, last: Point, value_mm: float, *, lead: str = "", beside: float = 6.0) -> None:
    """A dimension line with its arrows and its length; level, or upright with the text turned along it.

    `lead` stands before the number; `beside` is how far the text stands from the line: above it, or to its left.
    """
    span(sheet, first, last)
    upright = abs(first[0] - last[0]) < 1e-9
    middle = ((first[0] + last[0]) / 2, (first[1] + last[1]) / 2)
    metric, imperial = length_texts(value_mm)
    at = (middle[0] - beside, middle[1]) if upright else (middle[0], middle[1] - beside)
    sheet.words(Lettering(at, metric, imperial, turned=90.0 if upright else 0.0, lead=lead))


def scale_bar(sheet: Sheet, at: Point, scale: float, length_mm: float) -> None:
    """A bar of a round length, from a point to the right."""
    end = (at[0] + length_mm * scale, at[1])
    sheet.line([at, end], "dim")
    for x, y in (at, end):
        sheet.line([(x, y - 3), (x, y + 3)], "dim")
    metric, imperial = length_texts(length_mm)
    sheet.words(Lettering((end[0] + 6, end[1] + 4), metric, imperial, anchor="start", style="muted"))
