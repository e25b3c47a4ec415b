"""The frame of a chart: axes, ticks and grid, drawn once per kind with the same limits on every guide.

Matplotlib costs a tenth of a second for a chart; a curve set into a frame that stands already costs a
millisecond. Equal limits make guides comparable, so nothing is lost by it.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache
from typing import Any, Literal

import matplotlib as mpl
from matplotlib.backends.backend_svg import FigureCanvasSVG
from matplotlib.figure import Figure

from guidegen.language import gettext

WIDTH, HEIGHT = 480, 320
"""Size of a chart in its own units, bars may be lower; at 390 px of screen the labels are still about 10 px high."""

_INK, _FAINT = "#0a0b0c", "#0d0e0f"
_VARIABLES = {_INK: "currentColor", _FAINT: "var(--gg-rule)"}

_STYLE: dict[Any, Any] = {
    "svg.fonttype": "none",
    "svg.hashsalt": "guidegen",
    "font.size": 13,
    "axes.linewidth": 0.8,
    "axes.edgecolor": _INK,
    "axes.labelcolor": _INK,
    "xtick.color": _INK,
    "ytick.color": _INK,
    "text.color": _INK,
    "grid.color": _FAINT,
    "grid.linewidth": 0.6,
}


@dataclass(frozen=True)
class Axis:
    """One axis: its label, the same round limits on every guide, and where the ticks stand."""

    label: str
    low: float
    high: float
    ticks: tuple[float, ...]
    names: tuple[str, ...] | None = None
    second_label: str | None = None
    to_second: Callable[[float], float] | None = None
    second_ticks: tuple[float, ...] = ()


@dataclass(frozen=True)
class Frame:
    """The drawn axes as SVG, and where a value lies in it."""

    svg: str
    x: Axis
    y: Axis
    left: float
    right: float
    top: float
    bottom: float
    height: float = HEIGHT

    def across(self, value: float) -> float:
        """The horizontal place of a value of the x axis, held inside the frame."""
        return self.left + (self.right - self.left) * _share(value, self.x)

    def down(self, value: float) -> float:
        """The vertical place of a value of the y axis, held inside the frame."""
        return self.bottom - (self.bottom - self.top) * _share(value, self.y)

    def holds(self, value: float) -> bool:
        """Whether a value of the y axis lies inside the frame."""
        return self.y.low <= value <= self.y.high


def _share(value: float, axis: Axis) -> float:
    return min(max((value - axis.low) / (axis.high - axis.low), 0.0), 1.0)


def frame(x: Axis, y: Axis, grid: Literal["x", "y"] = "y", height: float = HEIGHT, aside: float = 14.0) -> Frame:
    """The axes, labelled in the language in use; drawn once and kept."""
    return _drawn(replace(x, label=gettext(x.label)), replace(y, label=gettext(y.label)), grid, height, aside)


@cache
def _drawn(x: Axis, y: Axis, grid: Literal["x", "y"], height: float, aside: float) -> Frame:
    """Draw the axes.

    Fixed margins instead of a layout engine: the place of a value must not depend on the fonts of a machine. An axis
    without ticks is not drawn; bars carry their names above them. `aside` is room on the right for a column of values.
    """
    left = 52.0 if y.ticks else 18.0
    right = WIDTH - (52.0 if y.second_label else aside)
    top, bottom = 46.0 if x.second_label else 14.0, height - 44.0
    with mpl.rc_context(_STYLE):
        figure = Figure(figsize=(WIDTH / 72, height / 72), dpi=72)
        FigureCanvasSVG(figure)
        axes = figure.add_axes((left / WIDTH, 1 - bottom / height, (right - left) / WIDTH, (bottom - top) / height))
        figure.patch.set_visible(False)
        axes.set_xlim(x.low, x.high)
        axes.set_ylim(y.low, y.high)
        axes.set_xticks(x.ticks, x.names)
        axes.set_yticks(y.ticks, y.names)
        axes.set_xlabel(x.label)
        axes.set_ylabel(y.label)
        axes.spines[["top", "right"]].set_visible(False)
        axes.grid(axis=grid)
        axes.set_axisbelow(True)
        if y.second_label and y.to_second:
            second = axes.twinx()
            second.set_ylim(y.to_second(y.low), y.to_second(y.high))
            second.set_yticks(y.second_ticks)
            second.set_ylabel(y.second_label)
            second.spines["top"].set_visible(False)
        if x.second_label and x.to_second:
            second = axes.twiny()
            second.set_xlim(x.to_second(x.low), x.to_second(x.high))
            second.set_xticks(x.second_ticks)
            second.set_xlabel(x.second_label)
            second.spines["right"].set_visible(False)
        for part in figure.axes:
            part.patch.set_visible(False)
        text = io.StringIO()
        figure.savefig(text, format="svg", metadata={"Date": None, "Creator": None, "Format": None, "Type": None})
    return Frame(_cleaned(text.getvalue()), x, y, left, right, top, bottom, height)


def _cleaned(svg: str) -> str:
    """The drawing's inside, fit to stand in a page: no head, no page-wide style, colours by variable.

    Matplotlib writes a style for every element of the document and ids that two charts would share.
    """
    inside = svg[svg.index(">", svg.index("<svg")) + 1 : svg.rindex("</svg>")]
    inside = re.sub(r"\s*<metadata>.*?</metadata>", "", inside, flags=re.S)
    inside = re.sub(r"\s*<defs>\s*<style.*?</style>\s*</defs>", "", inside, flags=re.S)
    inside = re.sub(r' clip-path="url\([^)]*\)"', "", inside)
    inside = re.sub(r"\s*<defs>\s*<clipPath.*?</clipPath>\s*</defs>", "", inside, flags=re.S)
    inside = re.sub(r" font-family: [^;]*;", "", inside)
    inside = re.sub(r' transform="rotate\(-0 [^)]*\)"', "", inside)
    inside = re.sub(r"<!--.*?-->", "", inside, flags=re.S)
    for colour, variable in _VARIABLES.items():
        inside = inside.replace(colour, variable)
    inside = _without_ids(inside)
    inside = re.sub(r"</?g>", "", inside)
    return re.sub(r"\s*\n\s*", " ", inside).replace("> <", ">\n<").strip()


def _without_ids(inside: str) -> str:
    """Draw every tick mark in place instead of by reference, so that no id is left to clash."""
    marks = dict(re.findall(r'<path id="(\w+)" d="([^"]*)"[^>]*/>', inside))
    inside = re.sub(
        r'<use xlink:href="#(\w+)" x="([0-9.-]+)" y="([0-9.-]+)" style="([^"]*)"/>',
        lambda m: f'<path d="{marks[m[1]]}" transform="translate({m[2]} {m[3]})" style="{m[4]}"/>',
        inside,
    )
    inside = re.sub(r"\s*<defs>.*?</defs>", "", inside, flags=re.S)
    return re.sub(r' id="[^"]*"', "", inside)
