"""How space is seen in the picture: parallel projection from the front and above, and bodies of revolution in it.

A point is turned about the boiler's axis, then seen from `TILT` above the level: what is near lies lower on the sheet.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from guidegen.site.drawings.marks import Arc, Point, Sheet, Style
from guidegen.site.drawings.view import WIDTH

TILT = math.radians(30)
"""Seen from so far above the level."""
Across = tuple[float, float]
"""A place on the level: mm to the right of the axis, and towards the one who looks."""


@dataclass(frozen=True)
class Space:
    """A sheet with a point of view: `scale` units a mm, `zero` units down to the level, `turned` degrees clockwise."""

    sheet: Sheet
    scale: float
    zero: float
    turned: float

    def seen(self, right: float, near: float, z: float) -> Point:
        """Where a point lies on the sheet: mm to the right, towards the one who looks, and up."""
        return WIDTH / 2 + right * self.scale, self.zero + (near * math.sin(TILT) - z * math.cos(TILT)) * self.scale

    def across(self, radius: float, degrees: float) -> Across:
        """The place on the level so far from the axis in a direction, once the boiler is turned."""
        angle = math.radians(degrees + self.turned)
        return radius * math.sin(angle), -radius * math.cos(angle)

    def near(self, degrees: float) -> float:
        """How far a direction points towards the one who looks, from -1 to 1."""
        return self.across(1.0, degrees)[1]

    def flat(self, radius: float) -> tuple[float, float]:
        """The half axes on the sheet of a level circle."""
        return radius * self.scale, radius * math.sin(TILT) * self.scale

    def can(self, centre: Across, radius: float, bottom: float, top: float, style: Style) -> None:
        """An upright cylinder: its side, then its top."""
        rx, ry = self.flat(radius)
        corners = [self.seen(centre[0] + side * radius, centre[1], z) for side, z in
                   ((-1, top), (-1, bottom), (1, bottom), (1, top))]  # fmt: skip
        side: list[Point | Arc] = [corners[1], Arc(rx, ry, corners[2], clockwise=False), corners[3]]
        self.sheet.path(corners[0], side, style, closed=True)
        self.sheet.ring(self.seen(*centre, top), rx, style, ry)

    def shoulder(self, radius: float, bottom: float, narrow: float, top: float, style: Style) -> None:
        """What rises from a wide level circle to a narrow one, both about the axis."""
        left, right = self.seen(-radius, 0, bottom), self.seen(radius, 0, bottom)
        up_left, up_right = self.seen(-narrow, 0, top), self.seen(narrow, 0, top)
        outline: list[Point | Arc] = [up_left, Arc(*self.flat(narrow), up_right), right, Arc(*self.flat(radius), left)]
        self.sheet.path(left, outline, style, closed=True)
        self.sheet.ring(self.seen(0, 0, top), self.flat(narrow)[0], style, self.flat(narrow)[1])
