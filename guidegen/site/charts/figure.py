"""A finished chart: curves and labels set into a frame, with a text alternative and a data table.

The same numbers draw the curve and fill the table. Colour repeats what the line style says: with the kit is
copper and solid, without it is slate and dashed, in every chart.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from markupsafe import Markup, escape

from guidegen.language import gettext
from guidegen.site.charts.frame import WIDTH, Frame

Side = Literal["with", "without"]
BarSide = Literal["with", "without", "plain"]
Point = tuple[float, float]


@dataclass(frozen=True)
class Curve:
    """A line of one side; `fine` for a quantity that only a further measurement can settle."""

    side: Side
    points: Sequence[Point]
    fine: bool = False


@dataclass(frozen=True)
class Band:
    """The range between a lower and an upper line of one side."""

    side: Side
    lower: Sequence[Point]
    upper: Sequence[Point]


@dataclass(frozen=True)
class Dots:
    """Marks at computed points of a side, so that nobody takes the line between them for computed."""

    side: Side
    points: Sequence[Point]


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


@dataclass(frozen=True)
class Table:
    """The numbers of the drawing for readers who cannot see it, or want them."""

    heads: Sequence[str]
    rows: Sequence[Sequence[str | Markup]]


Layer = Curve | Band | Dots | Bar | Label | Reach


def chart(
    identity: str,
    frame: Frame,
    layers: Sequence[Layer],
    *,
    says: str,
    title: str,
    description: str,
    caption: str,
    table: Table,
) -> Markup:
    """The whole figure as HTML: what to see, the drawing, its caption and its table.

    `identity` makes the ids of this chart unlike those of every other chart on the page.
    """
    drawn = Markup("\n").join(_layer(layer, frame) for layer in layers)
    head = Markup("").join(Markup('<th scope="col">{}</th>').format(name) for name in table.heads)
    rows = Markup("\n").join(
        Markup('<tr><th scope="row">{}</th>{}</tr>').format(
            row[0], Markup("").join(Markup("<td>{}</td>").format(cell) for cell in row[1:])
        )
        for row in table.rows
    )
    return Markup(
        '<figure class="gg-chart" id="{id}">\n<p class="gg-chart__says">{says}</p>\n'
        '<svg role="img" aria-labelledby="{id}-t {id}-d" viewBox="0 0 {width} {height}">\n'
        '<title id="{id}-t">{title}</title>\n<desc id="{id}-d">{description}</desc>\n'
        "{frame}\n{drawn}\n</svg>\n<figcaption>{caption}</figcaption>\n"
        '<details class="gg-data"><summary>{numbers}</summary>\n'
        '<div class="gg-scroll" tabindex="0" role="region" aria-label="{as_table}"><table>\n'
        "<thead><tr>{head}</tr></thead>\n<tbody>\n{rows}\n</tbody></table></div></details>\n</figure>"
    ).format(
        id=identity,
        numbers=gettext("The numbers of this chart"),
        as_table=gettext("{title}: table").format(title=title),
        says=says,
        title=title,
        description=description,
        width=WIDTH,
        height=_n(frame.height),
        frame=Markup(frame.svg),
        drawn=drawn,
        caption=caption,
        head=head,
        rows=rows,
    )


def _layer(layer: Layer, frame: Frame) -> Markup:
    match layer:
        case Reach(start, end):
            left, right = frame.across(start), frame.across(end)
            return Markup('<rect class="gg-span" x="{}" y="{}" width="{}" height="{}"/>').format(
                _n(left), _n(frame.top), _n(right - left), _n(frame.bottom - frame.top)
            )
        case Band(lower=[]) | Curve(points=[]):
            return Markup("")  # a path of nothing is an error in a browser
        case Band(side, lower, upper):
            path = _path([*lower, *reversed(upper)], frame)
            return Markup('<path class="gg-band gg-{}" d="{}z"/>').format(side, path)
        case Curve(side, points, fine):
            kind = "gg-line gg-line--fine" if fine else "gg-line"
            return Markup('<path class="{} gg-{}" d="{}"/>').format(kind, side, _path(points, frame))
        case Dots(side, points):
            marks = (
                Markup('<circle class="gg-dot gg-{}" cx="{}" cy="{}" r="3"/>').format(
                    side, _n(frame.across(x)), _n(frame.down(y))
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
    return drawn + Markup('<path class="gg-whisker" d="M{} {}H{}{}"/>').format(_n(low), _n(middle), _n(high), caps)


def _path(points: Sequence[Point], frame: Frame) -> str:
    """The points as one path; a tenth of a unit is finer than any screen shows it."""
    return "".join(f"{'L' if i else 'M'}{_n(frame.across(x))} {_n(frame.down(y))}" for i, (x, y) in enumerate(points))


def _n(number: float) -> str:
    return f"{number:.1f}".removesuffix(".0")
