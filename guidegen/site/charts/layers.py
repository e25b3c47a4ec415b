"""What is set into a frame: curves, bands, bars, marks and words, and how each is drawn.

With and without the kit differ by more than colour everywhere: solid or dashed, full or hollow, tinted or hatched.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from markupsafe import Markup, escape

from guidegen.site.charts.frame import Frame

Side = Literal["with", "without"]
BarSide = Literal["with", "without", "plain"]
Point = tuple[float, float]

HATCH_STEP = 7.0
"""Units between two lines of the hatching."""
HEAD = 4.0
"""Units of an arrow's head."""


@dataclass(frozen=True)
class Curve:
    """A line of one side; `fine` for a quantity that only a further measurement can settle."""

    side: Side
    points: Sequence[Point]
    fine: bool = False


@dataclass(frozen=True)
class Band:
    """The range between a lower and an upper line of one side, at the same places; hatched without the kit."""

    side: Side
    lower: Sequence[Point]
    upper: Sequence[Point]


@dataclass(frozen=True)
class Dots:
    """Marks at points of a side, full with the kit and hollow without; large where a sentence speaks of them."""

    side: Side
    points: Sequence[Point]
    large: bool = False


@dataclass(frozen=True)
class Lead:
    """A thin line that shows how far apart two things are; `ends` with an arrow's head at both."""

    points: Sequence[Point]
    side: Side | None = None
    ends: bool = False


@dataclass(frozen=True)
class Spread:
    """The range of one point as an upright whisker, moved to the right so that two sides stand beside each other."""

    side: Side
    x: float
    low: float
    high: float
    right: float = 0.0


@dataclass(frozen=True)
class Bar:
    """A horizontal bar from `start`, with its range as a whisker; `y` is its middle.

    `plain` is a bar that belongs to neither side. Without the kit a bar is hollow, and so is any that is asked to be.
    """

    side: BarSide
    y: float
    thickness: float
    value: float
    low: float | None = None
    high: float | None = None
    start: float = 0.0
    hollow: bool = False


@dataclass(frozen=True)
class Label:
    """Words on the drawing itself, in place of a legend."""

    text: str
    x: float
    y: float
    side: Side | None = None
    anchor: Literal["start", "middle", "end"] = "start"
    right: float = 0.0
    below: float = 0.0
    """Moved by so many units of the drawing, where a value of an axis cannot say it."""


@dataclass(frozen=True)
class Reach:
    """A stretch of the x axis, shaded: the time in which water flows."""

    start: float
    end: float


Layer = Curve | Band | Dots | Lead | Spread | Bar | Label | Reach


def drawn_in(layer: Layer, frame: Frame) -> Markup:
    """One layer as SVG; a path of nothing, which is an error in a browser, as nothing."""
    match layer:
        case Reach(start, end):
            left, right = frame.across(start), frame.across(end)
            return Markup('<rect class="gg-span" x="{}" y="{}" width="{}" height="{}"/>').format(
                _n(left), _n(frame.top), _n(right - left), _n(frame.bottom - frame.top)
            )
        case Band():
            return _band(layer, frame)
        case Curve(side, points, fine):
            kind = "gg-line gg-line--fine" if fine else "gg-line"
            path = _path(shown(points, frame), frame)
            return Markup('<path class="{} gg-{}" d="{}"/>').format(kind, side, path) if path else Markup("")
        case Lead(points, lead_side, ends):
            kind = f"gg-lead gg-{lead_side}" if lead_side else "gg-lead"
            heads = "".join(_heads(points, frame)) if ends else ""
            return Markup('<path class="{}" d="{}{}"/>').format(kind, _path(points, frame), heads)
        case Spread(side, x, low, high, right):
            return _spread(side, frame.across(x) + right, frame.down(low), frame.down(high), frame.holds(high))
        case Dots(side, points, large):
            kind, radius = ("gg-dot gg-dot--large", "4.5") if large else ("gg-dot", "3")
            marks = (
                Markup('<circle class="{} gg-{}" cx="{}" cy="{}" r="{}"/>').format(
                    kind, side, _n(frame.across(x)), _n(frame.down(y)), radius
                )
                for x, y in points
            )
            return Markup("").join(marks)
        case Bar():
            return _bar(layer, frame)
        case Label(text, x, y, label_side, anchor, right, below):
            kind = f"gg-label gg-{label_side}" if label_side else "gg-label"
            return Markup('<text class="{}" x="{}" y="{}" text-anchor="{}">{}</text>').format(
                kind, _n(frame.across(x) + right), _n(frame.down(y) + below), anchor, escape(text)
            )


def shown(points: Sequence[Point], frame: Frame) -> list[Point]:
    """The points that the x axis reaches; a curve that goes on ends at the frame."""
    return [(x, y) for x, y in points if frame.x.low <= x <= frame.x.high]


def _band(band: Band, frame: Frame) -> Markup:
    lower, upper = shown(band.lower, frame), shown(band.upper, frame)
    if not lower or not upper:
        return Markup("")
    path = _path([*lower, *reversed(upper)], frame)
    drawn = Markup('<path class="gg-band gg-{}" d="{}z"/>').format(band.side, path)
    edges = _path(lower, frame) + _path(upper, frame)
    drawn += Markup('<path class="gg-edge gg-{}" d="{}"/>').format(band.side, edges)
    hatch = "".join(_hatch(lower, upper, frame)) if band.side == "without" else ""
    return drawn + Markup('<path class="gg-hatch" d="{}"/>').format(hatch) if hatch else drawn


def _hatch(lower: Sequence[Point], upper: Sequence[Point], frame: Frame) -> Iterator[str]:
    """Upright lines between the two edges; in place, because a pattern would need an id on the page."""
    at = frame.across(lower[0][0]) + HATCH_STEP
    for (one, other), (top, next_top) in zip(pairwise(lower), pairwise(upper), strict=True):
        left, right = frame.across(one[0]), frame.across(other[0])
        while at < right:
            share = (at - left) / (right - left)
            ends = [frame.down(a[1] + share * (b[1] - a[1])) for a, b in ((one, other), (top, next_top))]
            yield f"M{_n(at)} {_n(ends[0])}V{_n(ends[1])}"
            at += HATCH_STEP


def _heads(points: Sequence[Point], frame: Frame) -> Iterator[str]:
    """The heads of a level line's two ends."""
    (first, y), (last, _) = points[0], points[-1]
    height = frame.down(y)
    for x, towards in ((frame.across(first), HEAD), (frame.across(last), -HEAD)):
        yield f"M{_n(x + towards)} {_n(height - HEAD)}L{_n(x)} {_n(height)}L{_n(x + towards)} {_n(height + HEAD)}"


def _spread(side: Side, x: float, low: float, high: float, ends_inside: bool) -> Markup:
    caps = "".join(f"M{_n(x - 3)} {_n(y)}h6" for y in ((low, high) if ends_inside else (low,)))
    stem = f"M{_n(x)} {_n(low)}V{_n(high)}"
    return Markup('<path class="gg-spread gg-{}" d="{}{}"/>').format(side, stem, caps)


def _bar(bar: Bar, frame: Frame) -> Markup:
    top, bottom = frame.down(bar.y + bar.thickness / 2), frame.down(bar.y - bar.thickness / 2)
    left, right = sorted((frame.across(bar.start), frame.across(bar.value)))
    kind = f"gg-bar gg-{bar.side}" + (" gg-bar--hollow" if bar.hollow else "")
    drawn = Markup('<rect class="{}" x="{}" y="{}" width="{}" height="{}"/>').format(
        kind, _n(left), _n(top), _n(right - left), _n(bottom - top)
    )
    if bar.low is None or bar.high is None:
        return drawn
    middle, end = (top + bottom) / 2, min(3.0, (bottom - top) / 2)
    low, high = frame.across(bar.low), frame.across(bar.high)
    caps = "".join(
        f"M{_n(place)} {_n(middle - end)}V{_n(middle + end)}"
        for place, value in ((low, bar.low), (high, bar.high))
        if frame.x.low <= value <= frame.x.high
    )
    line = f"M{_n(low)} {_n(middle)}H{_n(high)}{caps}"
    # A whisker over a full bar is read by the paper round it.
    return drawn + Markup('<path class="gg-whisker-halo" d="{}"/><path class="gg-whisker" d="{}"/>').format(line, line)


def _path(points: Sequence[Point], frame: Frame) -> str:
    """The points as one path; a tenth of a unit is finer than any screen shows it."""
    return "".join(f"{'L' if i else 'M'}{_n(frame.across(x))} {_n(frame.down(y))}" for i, (x, y) in enumerate(points))


def _n(number: float) -> str:
    return f"{number:.1f}".removesuffix(".0")
