"""The sensor drop in a first drink after switching on, minute by minute."""

from __future__ import annotations

from markupsafe import Markup

from guidegen.language import gettext, marked
from guidegen.record import Assessment, Figure
from guidegen.site.charts.axes import (
    COLD_MINUTES,
    DROP_UP,
    origin,
)
from guidegen.site.charts.drops import MAIN
from guidegen.site.charts.figure import (
    Curve,
    Label,
    Layer,
    Point,
    Side,
    Table,
    chart,
)
from guidegen.site.charts.frame import frame
from guidegen.site.charts.quantity import both, shown_as

MINUTE = 60.0

FROM_TO = {
    "without": marked("without the kit from {early} kelvin after {start} minutes to {late} after {end}"),
    "with": marked("with the kit from {early} kelvin after {start} minutes to {late} after {end}"),
}

# --- the first drink ---------------------------------------------------------------------------------


def first_drink(record: Assessment) -> Markup | None:
    """The drop of a first main drink against the minutes since switching on; None where only thermostats control."""
    cold, drink = record.from_cold, record.drinks[MAIN]
    curves = {
        "without": _drops(record, "without"),
        "with": _drops(record, "with"),
    }
    if not any(curves.values()):
        return None
    layers: list[Layer] = []
    sides: tuple[Side, ...] = ("without", "with")
    for side in sides:
        if points := curves[side]:
            layers.append(Curve(side, points))
            x, y = points[-1]
            name = gettext("without the kit") if side == "without" else gettext("with the kit")
            layers.append(Label(name, x, y, side, "end", below=-8))
    kelvin = shown_as("k")

    def cell(side: Side, i: int) -> Markup:
        value = (cold.without if side == "without" else cold.with_).drop_k[i]
        return both(Figure(value=value), kelvin) if value is not None else Markup("{}").format(gettext("not ready"))

    return chart(
        "chart-first",
        frame(COLD_MINUTES, DROP_UP),
        layers,
        says=_says_first(record, curves["with"]),
        title=gettext("The drop of a first {drink} after switching on").format(drink=drink.name),
        description="; ".join(
            gettext(FROM_TO[side]).format(
                early=f"{points[0][1]:.1f}",
                start=f"{points[0][0]:g}",
                late=f"{points[-1][1]:.1f}",
                end=f"{points[-1][0]:g}",
            )
            for side, points in curves.items()
            if points
        ),
        caption=" ".join(
            (gettext("No line: the boiler is not ready, or a thermostat's cycle decides."), origin(record))
        ),
        table=Table(
            (gettext("After"), gettext("Without"), gettext("With the kit")),
            [
                (f"{minute} min", cell("without", i), cell("with", i))
                for i, minute in enumerate(cold.drop_minutes)
                if minute <= 5 or minute % 5 == 0
            ],
        ),
    )


def _drops(record: Assessment, side: Side) -> list[Point]:
    found = record.from_cold.without if side == "without" else record.from_cold.with_
    return [
        (float(minute), drop)
        for minute, drop in zip(record.from_cold.drop_minutes, found.drop_k, strict=True)
        if drop is not None
    ]


def _says_first(record: Assessment, points: list[Point]) -> str:
    drink = record.drinks[MAIN]
    if not points:
        words = gettext("With the kit a first {drink} depends on when in the thermostat's cycle you pull.")
        return words.format(drink=drink.name)
    early, late = points[0], points[-1]
    if abs(early[1] - late[1]) < 0.1 * late[1]:
        words = gettext("With the kit a first {drink} is as steady after {minutes} min as later.")
        return words.format(drink=drink.name, minutes=f"{early[0]:g}")
    words = marked(
        "With the kit a first {drink} drops the sensor by {early} K after {start} min and by {late} K after {end} min."
    )
    if record.coil is not None:
        words = marked(
            "With the kit a first {drink} drops the sensor by {early} K after {start} min and by {late} K after {end} "
            "min: the coil takes its time."
        )
    return gettext(words).format(
        drink=drink.name, early=f"{early[1]:.1f}", start=f"{early[0]:g}", late=f"{late[1]:.1f}", end=f"{late[0]:g}"
    )
