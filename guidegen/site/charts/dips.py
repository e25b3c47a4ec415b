"""The two dips of the main drink side by side, as in an engineering drawing: depths to scale, the shape is not.

A curve belongs to one machine, and with a thermostat to one moment; the depths are those of the whole record.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from markupsafe import Markup

from guidegen.language import gettext, marked
from guidegen.record import Assessment, Figure
from guidegen.record.places import HEADLINES, undecided
from guidegen.site.charts.axes import fahrenheit_difference, origin
from guidegen.site.charts.figure import chart
from guidegen.site.charts.frame import Axis, frame
from guidegen.site.charts.layers import Band, Curve, Dots, Label, Layer, Lead, Point, Side
from guidegen.site.charts.quantity import in_unit, shown_as

HEIGHT = 206.0
DEEPEST = 20.0
"""°C; as far as the axes of the other charts of drops."""
DOWN = Axis("°C", -DEEPEST, 0, (-20, -10, 0), None, "°F", fahrenheit_difference, (-30, -20, -10, 0))
ACROSS = Axis("", 0, 2, ())
NOTCH = ((0.08, 0.0), (0.24, 0.0), (0.46, 1.0), (0.9, 0.0), (0.94, 0.0))
"""Level, down while water flows, slowly up again: shares of a side's width, and of the depth."""
LOWEST = NOTCH[2][0]
PARTS = 12
PLACES = (
    *(
        (x + (next_x - x) * i / PARTS, share + (next_share - share) * i / PARTS)
        for (x, share), (next_x, next_share) in pairwise(NOTCH)
        for i in range(PARTS if share != next_share else 1)
    ),
    NOTCH[-1],
)
"""The same places on every line, so close that one cut off at the drawing's foot keeps its corners."""
NAMES: dict[Side, str] = {"without": marked("without the kit"), "with": marked("with the kit")}


def dips(record: Assessment) -> Markup | None:
    """The drawing; None where there is no dip on one of the sides."""
    drink = record.main
    sides: tuple[tuple[Side, Figure], ...] = (
        ("without", drink.without.sensor_drop_k),
        ("with", drink.with_.sensor_drop_k),
    )
    if any(one.value is None for _, one in sides):
        return None
    alone = undecided(HEADLINES[0].place, drink.drop_ratio.sensor)
    found = [one for _, one in sides]
    without, with_kit = deep = [_deep(one, alone, found) for one in found]
    layers = [layer for at, (side, dip) in enumerate(sides) for layer in _notch(side, dip, float(at), deep[at], alone)]
    return chart(
        "chart-dips",
        frame(ACROSS, DOWN, height=HEIGHT),
        layers,
        title=gettext("The dip in a {drink}, without and with the kit").format(drink=drink.name),
        description=gettext("Without the kit {without}, with the kit {with_kit}.").format(
            without=without, with_kit=with_kit
        ),
        caption=" ".join(
            (
                gettext("How far the boiler's sensor dips: depths to scale, shapes not; bands are ranges."),
                origin(record),
            )
        ),
    )


def _notch(side: Side, dip: Figure, at: float, words: str, alone: bool) -> Iterator[Layer]:
    """One dip: its range as a band, its depth as a line with the number at its lowest point."""
    if dip.low is not None and dip.high is not None:
        yield Band(side, _line(at, dip.high), _line(at, dip.low))
    depth = dip.value if dip.value is not None and not (alone and dip.ranged) else None
    if depth is not None:
        yield Curve(side, _line(at, depth))
        yield Lead([(at + LOWEST, 0.0), (at + LOWEST, -depth)], side)
        yield Dots(side, [(at + LOWEST, -depth)], large=True)
    beside = depth if depth is not None else ((dip.low or 0.0) + (dip.high or DEEPEST)) / 2
    yield Label(
        words,
        at + LOWEST,
        -min(beside, DEEPEST),
        side,
        right=12 if depth is not None else 5,
        below=14 if depth is not None else 4,
    )
    yield Label(gettext(NAMES[side]), at + 0.5, DOWN.low, side, anchor="middle", below=20)


def _line(at: float, depth: float) -> list[Point]:
    """A dip so deep; what lies deeper than the drawing is cut off at its foot."""
    return [(at + x, -min(depth * share, DEEPEST)) for x, share in PLACES]


def _deep(dip: Figure, alone: bool, both: Sequence[Figure]) -> str:
    """How deep it is: the range by itself where nobody can tell which of the two is deeper."""
    how = shown_as("k")
    return in_unit(dip, how, how.metric, only_range=alone and dip.ranged, like=both)
