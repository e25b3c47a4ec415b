"""What a drawing is made of: outlines, circles and texts, each with a style by name; x to the right, y down.

A style says what a line means, not its colour: pages take colours from their style sheet, files from `colours`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Literal

Point = tuple[float, float]
Style = Literal[
    "body", "edge", "fine", "hidden", "axis", "kit", "kit-shade", "kit-edge", "cut", "hatch", "steel", "dim", "open",
    "water", "scribe", "kit-line", "kit-loop", "tube-edge", "tube-shade", "tube-light", "leader", "dot", "number",
]  # fmt: skip
Anchor = Literal["start", "middle", "end"]
CURVE_STEPS = 40
"""Straight pieces of half a turn where a file knows no arcs."""


@dataclass(frozen=True)
class Arc:
    """On to a point along an ellipse whose axes lie along x and y; `large` and `clockwise` as seen on the page."""

    rx: float
    ry: float
    end: Point
    clockwise: bool = True
    large: bool = False


@dataclass(frozen=True)
class Bend:
    """On to a point along a cubic curve with two control points."""

    first: Point
    second: Point
    end: Point


@dataclass(frozen=True)
class Stroke:
    """A line through points and along arcs, beginning at `start`; closed ones may be filled by their style.

    `width` is that of a tube, which is a broad line; other lines have the width of their style.
    """

    start: Point
    parts: tuple[Point | Arc | Bend, ...]
    style: Style
    closed: bool = False
    width: float | None = None

    def points(self) -> list[Point]:
        """The outline as points, arcs and bends as short straight pieces."""
        made = [self.start]
        for part in self.parts:
            match part:
                case Arc():
                    made += _along(made[-1], part)
                case Bend():
                    made += _bent(made[-1], part)
                case _:
                    made.append(part)
        return made


@dataclass(frozen=True)
class Ring:
    """A whole ellipse with axes along x and y; a circle where both radii are the same."""

    centre: Point
    rx: float
    ry: float
    style: Style


@dataclass(frozen=True)
class Lettering:
    """A text; `other` is the same in imperial units, for the reader's switch. Turned counter-clockwise by degrees.

    `lead` stands before either; `stacked`: where both are read, the second stands below the first, not beside it.
    """

    at: Point
    text: str
    other: str = ""
    anchor: Anchor = "middle"
    turned: float = 0.0
    small: bool = False
    lead: str = ""
    stacked: bool = False
    style: Literal["text", "muted", "strong"] = "text"


Mark = Stroke | Ring | Lettering


@dataclass
class Sheet:
    """What has been drawn so far, in order: what comes later lies above."""

    marks: list[Mark] = field(default_factory=list)

    def line(self, points: Sequence[Point], style: Style, *, closed: bool = False) -> None:
        """A line through points."""
        self.marks.append(Stroke(points[0], tuple(points[1:]), style, closed))

    def path(
        self,
        start: Point,
        parts: Sequence[Point | Arc | Bend],
        style: Style,
        *,
        closed: bool = False,
        width: float | None = None,
    ) -> None:
        """A line through points, along arcs and bends."""
        self.marks.append(Stroke(start, tuple(parts), style, closed, width))

    def ring(self, centre: Point, radius: float, style: Style, ry: float | None = None) -> None:
        """A circle, or an ellipse."""
        self.marks.append(Ring(centre, radius, radius if ry is None else ry, style))

    def box(self, left: float, top: float, right: float, bottom: float, style: Style) -> None:
        """A rectangle."""
        self.line([(left, top), (right, top), (right, bottom), (left, bottom)], style, closed=True)

    def words(self, text: Lettering) -> None:
        """A text."""
        self.marks.append(text)

    def hatched(self, corners: Sequence[Point], apart: float = 4.0) -> None:
        """A convex area that is cut away: dashed round, with lines across at 45°."""
        self.line(corners, "cut", closed=True)
        for piece in hatching(corners, apart):
            self.line(piece, "hatch")


def hatching(corners: Sequence[Point], apart: float) -> Iterator[list[Point]]:
    """Lines at 45° across a convex area, so far apart."""
    rises = [x + y for x, y in corners]
    step = apart * math.sqrt(2)
    level = (math.floor(min(rises) / step) + 1) * step
    while level < max(rises):
        crossed = []
        for (x1, y1), (x2, y2) in zip(corners, [*corners[1:], corners[0]], strict=True):
            one, other = x1 + y1, x2 + y2
            if (one - level) * (other - level) < 0:
                share = (level - one) / (other - one)
                crossed.append((x1 + share * (x2 - x1), y1 + share * (y2 - y1)))
        if len(crossed) == 2:
            yield crossed
        level += step


def _along(start: Point, arc: Arc) -> Iterator[Point]:
    """The points of an arc behind its first, by the conversion of SVG 1.1, appendix F.6."""
    x1, y1 = start[0] / arc.rx, start[1] / arc.ry
    x2, y2 = arc.end[0] / arc.rx, arc.end[1] / arc.ry
    half = min(1.0, math.hypot(x2 - x1, y2 - y1) / 2)
    away = math.sqrt(max(0.0, 1.0 - half * half))
    side = 1.0 if arc.large != arc.clockwise else -1.0
    length = math.hypot(x2 - x1, y2 - y1) or 1.0
    cx = (x1 + x2) / 2 - side * away * (y2 - y1) / length
    cy = (y1 + y2) / 2 + side * away * (x2 - x1) / length
    first, last = math.atan2(y1 - cy, x1 - cx), math.atan2(y2 - cy, x2 - cx)
    turn = (last - first) % (2 * math.pi) if arc.clockwise else -((first - last) % (2 * math.pi))
    steps = max(2, math.ceil(abs(turn) / math.pi * CURVE_STEPS))
    for number in range(1, steps + 1):
        angle = first + turn * number / steps
        yield (cx + math.cos(angle)) * arc.rx, (cy + math.sin(angle)) * arc.ry


def _bent(start: Point, bend: Bend) -> Iterator[Point]:
    """The points of a cubic curve behind its first."""
    for number in range(1, CURVE_STEPS // 2 + 1):
        t = number * 2 / CURVE_STEPS
        shares = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t), t**3)
        four = (start, bend.first, bend.second, bend.end)
        yield (
            sum(share * one[0] for share, one in zip(shares, four, strict=True)),
            sum(share * one[1] for share, one in zip(shares, four, strict=True)),
        )
