"""The sensor drop in a first drink after switching on, minute by minute."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from markupsafe import Markup

from guidegen.language import gettext, marked
from guidegen.record import Assessment, Figure
from guidegen.record.curves import ColdSide, FromCold
from guidegen.site.charts.axes import (
    COLD_MINUTES,
    DROP_UP,
    of_one_machine,
)
from guidegen.site.charts.figure import Table, chart
from guidegen.site.charts.frame import frame
from guidegen.site.charts.layers import Curve, Dots, Label, Layer, Point, Side
from guidegen.site.charts.quantity import both, shown_as
from guidegen.site.charts.words import around, settled
from guidegen.units import NARROW_SPACE

MINUTE = 60.0

FROM_TO = {
    "without": marked("without the kit from {early} degrees after {start} minutes to {late} after {end}"),
    "with": marked("with the kit from {early} degrees after {start} minutes to {late} after {end}"),
}

# --- the first drink ---------------------------------------------------------------------------------


def first_drink(record: Assessment) -> Markup | None:
    """The drop of a first main drink against the minutes since switching on; None where only thermostats control."""
    sides: tuple[Side, ...] = ("without", "with")
    curves = {side: points for side in sides if (points := _drops(record, side))}
    if not curves:
        return None
    layers: list[Layer] = [Curve(side, points) for side, points in curves.items()]
    spoken = _spoken(curves.get("with", []))
    layers.append(Dots("with", spoken, large=True))
    axes = frame(COLD_MINUTES, DROP_UP)
    layers += settled(axes, layers, list(_labels(curves, spoken)))
    return chart(
        "chart-first",
        axes,
        layers,
        says=_says_first(record, curves.get("with", [])),
        title=gettext("The drop of a first {drink} after switching on").format(drink=record.main.name),
        description="; ".join(
            gettext(FROM_TO[side]).format(
                early=f"{points[0][1]:.1f}",
                start=f"{points[0][0]:g}",
                late=f"{points[-1][1]:.1f}",
                end=f"{points[-1][0]:g}",
            )
            for side, points in curves.items()
        ),
        caption=" ".join(
            (gettext("No line: the boiler is not ready, or a thermostat's cycle decides."), of_one_machine(record))
        ),
        table=_table(record.from_cold),
    )


def _spoken(points: list[Point]) -> list[Point]:
    """The points that the sentence speaks of: the first minute and the last."""
    return [points[0], points[-1]] if points else []


def _labels(curves: Mapping[Side, list[Point]], spoken: list[Point]) -> Iterator[list[Label]]:
    """The drops that the sentence names, and whose line each is: the higher one's words above both, else below."""
    higher = max(curves, key=lambda side: curves[side][-1][1])
    for x, y in spoken:
        yield around(f"{y:.1f}{NARROW_SPACE}°C", x, y, "with", above=higher == "with")
    for side, points in curves.items():
        name = gettext("without the kit") if side == "without" else gettext("with the kit")
        yield around(name, *points[len(points) * 2 // 3], side, above=side == higher)


def _table(cold: FromCold) -> Table:
    """The first minutes, then every fifth."""
    kelvin = shown_as("k")
    drops = [Figure(value=one) for side in (cold.without, cold.with_) for one in side.drop_k if one is not None]

    def cell(side: ColdSide, i: int) -> Markup:
        value = side.drop_k[i]
        return (
            both(Figure(value=value), kelvin, like=drops)
            if value is not None
            else Markup("{}").format(gettext("not ready"))
        )

    return Table(
        (gettext("After"), gettext("Without"), gettext("With the kit")),
        [
            (f"{minute} min", cell(cold.without, i), cell(cold.with_, i))
            for i, minute in enumerate(cold.drop_minutes)
            if minute <= 5 or minute % 5 == 0
        ],
    )


def _drops(record: Assessment, side: Side) -> list[Point]:
    found = record.from_cold.without if side == "without" else record.from_cold.with_
    return [
        (float(minute), drop)
        for minute, drop in zip(record.from_cold.drop_minutes, found.drop_k, strict=True)
        if drop is not None
    ]


def _says_first(record: Assessment, points: list[Point]) -> str:
    drink = record.main
    if not points:
        words = gettext("With the kit a first {drink} depends on when in the thermostat's cycle you pull.")
        return words.format(drink=drink.name)
    early, late = points[0], points[-1]
    if abs(early[1] - late[1]) < 0.1 * late[1]:
        words = gettext("With the kit a first {drink} is as steady after {minutes} min as later.")
        return words.format(drink=drink.name, minutes=f"{early[0]:g}")
    words = marked(
        "With the kit a first {drink} drops the sensor by {early} °C after {start} min and by {late} °C after {end} "
        "min."
    )
    if record.coil is not None:
        words = marked(
            "With the kit a first {drink} drops the sensor by {early} °C after {start} min and by {late} °C after "
            "{end} min: the coil takes its time."
        )
    return gettext(words).format(
        drink=drink.name, early=f"{early[1]:.1f}", start=f"{early[0]:g}", late=f"{late[1]:.1f}", end=f"{late[0]:g}"
    )
