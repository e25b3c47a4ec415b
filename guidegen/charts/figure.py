"""A finished chart: curves and labels set into a frame, with a text alternative and a data table.

The same numbers draw the curve and fill the table. Colour repeats what the line style says: with the kit is
copper and solid, without it is slate and dashed, in every chart.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from markupsafe import Markup, escape

from guidegen.charts.frame import HEIGHT, WIDTH, Frame

Side = Literal["with", "without"]
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
class Bar:
    """A horizontal bar from the left of the frame, with its range as a whisker; `y` is its middle."""

    side: Side
    y: float
    thickness: float
    value: float
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True)
class Label:
    """Words on the drawing itself, in place of a legend."""

    text: str
    x: float
    y: float
    side: Side | None = None
    anchor: Literal["start", "middle", "end"] = "start"


@dataclass(frozen=True)
class Span:
    """A stretch of the x axis, shaded: the time in which water flows."""

    start: float
    end: float


@dataclass(frozen=True)
class Table:
    """The numbers of the drawing for readers who cannot see it, or want them."""

    heads: Sequence[str]
    rows: Sequence[Sequence[str]]


Layer = Curve | Band | Bar | Label | Span


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
        '<details class="gg-data"><summary>The numbers of this chart</summary>\n'
        '<div class="gg-scroll" tabindex="0" role="region" aria-label="{title}: table"><table>\n'
        "<thead><tr>{head}</tr></thead>\n<tbody>\n{rows}\n</tbody></table></div></details>\n</figure>"
    ).format(
        id=identity,
        says=says,
        title=title,
        description=description,
        width=WIDTH,
        height=HEIGHT,
        frame=Markup(frame.svg),
        drawn=drawn,
        caption=caption,
        head=head,
        rows=rows,
    )


def _layer(layer: Layer, frame: Frame) -> Markup:
    match layer:
        case Span(start, end):
            left, right = frame.across(start), frame.across(end)
            return Markup('<rect class="gg-span" x="{}" y="{}" width="{}" height="{}"/>').format(
                _n(left), _n(frame.top), _n(right - left), _n(frame.bottom - frame.top)
            )
        case Band(side, lower, upper):
            path = _path([*lower, *reversed(upper)], frame)
            return Markup('<path class="gg-band gg-{}" d="{}z"/>').format(side, path)
        case Curve(side, points, fine):
            kind = "gg-line gg-line--fine" if fine else "gg-line"
            return Markup('<path class="{} gg-{}" d="{}"/>').format(kind, side, _path(points, frame))
        case Bar(side, y, thickness, value, low, high):
            top, bottom = frame.down(y + thickness / 2), frame.down(y - thickness / 2)
            bar = Markup('<rect class="gg-bar gg-{}" x="{}" y="{}" width="{}" height="{}"/>').format(
                side, _n(frame.left), _n(top), _n(frame.across(value) - frame.left), _n(bottom - top)
            )
            if low is None or high is None:
                return bar
            middle = _n((top + bottom) / 2)
            return bar + Markup('<path class="gg-whisker" d="M{} {}H{}"/>').format(
                _n(frame.across(low)), middle, _n(frame.across(high))
            )
        case Label(text, x, y, label_side, anchor):
            kind = f"gg-label gg-{label_side}" if label_side else "gg-label"
            return Markup('<text class="{}" x="{}" y="{}" text-anchor="{}">{}</text>').format(
                kind, _n(frame.across(x)), _n(frame.down(y)), anchor, escape(text)
            )


def _path(points: Sequence[Point], frame: Frame) -> str:
    """The points as one path; a tenth of a unit is finer than any screen shows it."""
    return "".join(f"{'L' if i else 'M'}{_n(frame.across(x))} {_n(frame.down(y))}" for i, (x, y) in enumerate(points))


def _n(number: float) -> str:
    return f"{number:.1f}".removesuffix(".0")
