"""Numbers that point into a drawing: in two columns beside it, sorted by height, so that no two leaders cross or lie on
each other's numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from guidegen.language import gettext
from guidegen.site.drawings.marks import Lettering, Mark, Point, Ring, Stroke
from guidegen.site.drawings.view import WIDTH

RADIUS = 9.0
"""Units; of the ring round a number."""
APART = 21.0
"""Units between the middles of two numbers in a column."""
EDGE = 13.0
"""Units from the drawing's edge to the middle of a column."""
DOT = 2.2
"""Units; of the dot at the end of a leader."""


@dataclass(frozen=True)
class Listed:
    """Something that a drawing points out: its number, its name, and where it is; None where nobody has stated it."""

    number: int
    name: str
    at: Point | None


def not_stated() -> str:
    """What the list says of something that the drawing has no place for."""
    return gettext("where it is, nobody has stated")


@dataclass(frozen=True)
class Callout:
    """A number at a place in a column, and the point that its leader ends at."""

    number: int
    at: Point
    target: Point


def placed(targets: Sequence[tuple[int, Point]], height: float) -> list[Callout]:
    """Place the numbers of targets beside a drawing of a height: each in the nearer column while there is room.

    Both columns are sorted as their targets are. Where two targets lie on one another, the smaller number is above.
    """
    room = max(1, int((height - 2 * RADIUS) // APART))
    middle = WIDTH / 2
    by_side = sorted(targets, key=lambda one: (one[1][0], one[1][1], one[0]))
    left = [one for one in by_side if one[1][0] <= middle]
    right = [one for one in by_side if one[1][0] > middle]
    # What finds no room on its side goes to the other: the ones nearest to the middle first.
    while len(left) > room and len(right) < room:
        right.insert(0, left.pop())
    while len(right) > room and len(left) < room:
        left.append(right.pop(0))
    return [*_column(left, EDGE, height), *_column(right, WIDTH - EDGE, height)]


def callouts(listed: Sequence[Listed], height: float) -> list[Callout]:
    """The places of what a drawing of a height points out and has a place for."""
    return placed([(one.number, one.at) for one in listed if one.at is not None], height)


def callout_marks(placed: Sequence[Callout]) -> list[Mark]:
    """Numbers in rings beside a drawing, each with a leader to a dot on what it names."""
    leaders, dots, numbers = list[Mark](), list[Mark](), list[Mark]()
    for one in placed:
        x, y = one.at
        start = (x + (RADIUS if one.target[0] > x else -RADIUS), y)
        leaders.append(Stroke(start, (one.target,), "leader"))
        dots.append(Ring(one.target, DOT, DOT, "dot"))
        numbers += [Ring(one.at, RADIUS, RADIUS, "number"), Lettering((x, y + 4), str(one.number), style="strong")]
    return [*leaders, *dots, *numbers]


def _column(targets: Sequence[tuple[int, Point]], x: float, height: float) -> Iterator[Callout]:
    """The numbers of a column: each as near to its target's height as the others let it."""
    sorted_ = sorted(targets, key=lambda one: (one[1][1], one[0]))
    apart = min(APART, (height - 2 * RADIUS) / max(1, len(sorted_) - 1)) if len(sorted_) > 1 else APART
    ys = [min(max(y, RADIUS + 1), height - RADIUS - 1) for _, (_, y) in sorted_]
    for index in range(1, len(ys)):
        ys[index] = max(ys[index], ys[index - 1] + apart)
    limit = height - RADIUS - 1
    for index in range(len(ys) - 1, -1, -1):
        ys[index] = min(ys[index], limit)
        limit = ys[index] - apart
    for (number, target), y in zip(sorted_, ys, strict=True):
        yield Callout(number, (x, y), target)
