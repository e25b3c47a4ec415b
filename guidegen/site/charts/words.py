"""Where words stand in a drawing: beside what they name, over no other word, and over no line while there is room."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cache, lru_cache
from itertools import pairwise
from math import ceil
from typing import Literal

from matplotlib import ft2font
from matplotlib.font_manager import FontProperties, findfont

from guidegen.site.charts.frame import WIDTH, Frame
from guidegen.site.charts.layers import Band, Curve, Label, Layer, Lead, Point, Side, shown

LETTERS = 13.0
"""Size of the letters in units of the drawing, as in the style sheet."""
RISE, FALL = 10.0, 3.0
"""Units above and below the line on which letters stand."""
STEP = 4.0
"""Side of the squares in which lines are looked for, in units of the drawing."""
OUTSIDE, ON_WORDS, ON_LINE = 1000.0, 100.0, 2.5
"""What it costs to stand outside the frame, on other words, and on a square with a line."""

ANCHORS: tuple[tuple[Literal["start", "middle", "end"], float], ...] = (("start", 8.0), ("end", -8.0), ("middle", 0.0))
"""How words stand to a point, and by how far they keep off it."""
Box = tuple[float, float, float, float]
"""Left, top, right and bottom in units of the drawing."""


@cache
def _letters(strong: bool) -> ft2font.FT2Font:
    """Matplotlib's own font: wider than most that readers have, and the same on every machine."""
    font = ft2font.FT2Font(findfont(FontProperties(family="DejaVu Sans", weight="bold" if strong else "normal")))
    font.set_size(LETTERS, 72)
    return font


@lru_cache(maxsize=4096)
def width(text: str, strong: bool = False) -> float:
    """How wide words are, in units of the drawing."""
    font = _letters(strong)
    font.set_text(text, 0.0, flags=ft2font.LoadFlags.NO_HINTING)
    return float(font.get_width_height()[0]) / 64


def box(label: Label, frame: Frame) -> Box:
    """What a label covers."""
    wide = width(label.text, label.side is not None)
    left = frame.across(label.x) + label.right - {"start": 0.0, "middle": wide / 2, "end": wide}[label.anchor]
    foot = frame.down(label.y) + label.below
    return left, foot - RISE, left + wide, foot + FALL


def around(text: str, x: float, y: float, side: Side | None = None, *, above: bool = True) -> list[Label]:
    """Places round a point, the nearest first; `above` or below it as long as there is room."""
    near = (-9.0, 17.0) if above else (17.0, -9.0)
    heights = [*near, 4.5, *(one + more * (1 if one > 0 else -1) for more in (14.0, 28.0, 42.0, 56.0) for one in near)]
    return [
        Label(text, x, y, side, anchor, right, below)
        for below in heights
        for anchor, right in ANCHORS
        if below != 4.5 or anchor != "middle"
    ]  # fmt: skip


def settled(frame: Frame, layers: Sequence[Layer], wanted: Sequence[Sequence[Label]]) -> list[Label]:
    """One of the places of each label, those given first choosing first; `layers` are the lines to keep clear of."""
    lines = _grid(line for layer in layers for line in _lines(layer, frame))
    taken: list[Box] = [box(layer, frame) for layer in layers if isinstance(layer, Label)]
    found: list[Label] = []
    for places in wanted:
        best: tuple[float, Label] | None = None
        for i, label in enumerate(places):
            if best is not None and best[0] <= i:
                break  # those that follow are farther away
            cost = i + _cost(box(label, frame), frame, taken, lines)
            if best is None or cost < best[0]:
                best = (cost, label)
        if best is not None:
            found.append(best[1])
            taken.append(box(best[1], frame))
    return found


def overlap(one: Box, other: Box) -> bool:
    """Whether two boxes share a part of the paper."""
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _cost(here: Box, frame: Frame, taken: Sequence[Box], lines: Mapping[int, int]) -> float:
    left, top, right, bottom = here
    end = frame.right if frame.y.ticks else WIDTH - 2.0
    outside = left < frame.left + 2 or right > end or top < frame.top - 8 or bottom > frame.bottom - 1
    words = sum(overlap(here, one) for one in taken)
    first, last = (max(int(edge / STEP), 0) for edge in (top, bottom))
    rows = (1 << (last + 1)) - (1 << first)
    columns = range(int((left - 2) / STEP), int((right + 2) / STEP) + 1)
    on_line = sum((lines.get(column, 0) & rows).bit_count() for column in columns)
    return OUTSIDE * outside + ON_WORDS * words + ON_LINE * on_line


def _lines(layer: Layer, frame: Frame) -> Iterator[list[Point]]:
    """The lines of a layer in units of the drawing."""
    match layer:
        case Curve(points=points) | Lead(points=points):
            lines: tuple[Sequence[Point], ...] = (points,)
        case Band(lower=lower, upper=upper):
            lines = (lower, upper)
        case _:
            lines = ()
    for line in lines:
        yield [(frame.across(x), frame.down(y)) for x, y in shown(line, frame)]


def _grid(lines: Iterable[Sequence[Point]]) -> dict[int, int]:
    """Which squares of the paper lines pass: for each column of squares its rows as the bits of a number."""
    found: dict[int, int] = {}
    for line in lines:
        for (x, y), (next_x, next_y) in pairwise(line):
            count = max(1, ceil(max(abs(next_x - x), abs(next_y - y)) / STEP))
            for i in range(count):
                column = int((x + (next_x - x) * i / count) / STEP)
                found[column] = found.get(column, 0) | 1 << int((y + (next_y - y) * i / count) / STEP)
    return found
