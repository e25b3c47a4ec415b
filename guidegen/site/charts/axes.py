"""Axes that several kinds of chart share, with the same limits on every guide, and numbers as tables show them."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from guidegen.language import gettext, marked
from guidegen.record import Assessment, Figure
from guidegen.site.charts.frame import Axis
from guidegen.site.charts.quantity import Shown, both, in_unit, shown_as


def fahrenheit(celsius: float) -> float:
    """A temperature in the second unit of an axis."""
    return celsius * 9 / 5 + 32


def fahrenheit_difference(kelvin: float) -> float:
    """A difference in the second unit of an axis."""
    return kelvin * 9 / 5


SHOT_SECONDS = Axis("seconds from the start of the shot", 0, 60, (0, 10, 20, 30, 40, 50, 60))
"""A drink fills about half of it; how long the sensor takes to come back stands in the tables."""
SHOT_HEIGHT = 380.0
"""Units: a drop of 2 °C can be seen on a telephone."""
SHOT_TEMPERATURE = Axis(
    "°C", 80, 115, (80, 85, 90, 95, 100, 105, 110, 115), None, "°F", fahrenheit, (180, 190, 200, 210, 220, 230)
)
WARMING_TEMPERATURE = Axis(
    "°C", 0, 120, (0, 20, 40, 60, 80, 100, 120), None, "°F", fahrenheit, (50, 100, 150, 200, 250)
)
COLD_MINUTES = Axis("minutes from switching on, in a cold room", 0, 30, (0, 5, 10, 15, 20, 25, 30))
WAITED_MINUTES = Axis("minutes since the last drink", 0, 20, (0, 2, 5, 10, 15, 20))
DROP_UP = Axis("°C", 0, 20, (0, 5, 10, 15, 20), None, "°F", fahrenheit_difference, (0, 10, 20, 30))
DROP_ACROSS = Axis("°C", 0, 20, (0, 5, 10, 15, 20), None, "°F", fahrenheit_difference, (0, 10, 20, 30))
ENERGY_ACROSS = Axis("Wh a day", 0, 300, (0, 50, 100, 150, 200, 250, 300))
SHARE_ACROSS = Axis("% of the whole", 0, 100, (0, 20, 40, 60, 80, 100))
CORRELATION_ACROSS = Axis("rank correlation", -1, 1, (-1, -0.5, 0, 0.5, 1))


def rows_of(count: int) -> Axis:
    """An axis without ticks for so many rows of bars; the first stands at the top, at the highest number."""
    return Axis("", 0, count, ())


def shown_value(figure: Figure | None, key: str, like: Sequence[Figure] = ()) -> Markup:
    """A figure with its range as a cell of a table, in both systems, to as many decimals as those beside it."""
    if figure is None:
        return Markup("—")
    how = shown_as(key)
    value = both(figure, how, like=like) if figure.value is not None else Markup("{}").format(figure.reason or "—")
    return Markup("{} ({})").format(value, both(figure, how, only_range=True, like=like)) if figure.ranged else value


def short(figure: Figure, key: str) -> str:
    """A figure as a label on a drawing: in the first system, as the axis below it."""
    how: Shown = shown_as(key)
    return in_unit(figure, how, how.metric)


def origin(record: Assessment) -> str:
    """The end of every caption: which machine and edition, and what the ranges are."""
    return gettext("Computed for {variant} with {kit}, {edition}; {basis}.").format(
        variant=record.variant.name, kit=record.kit.name, edition=edition(record), basis=gettext(BASES[record.basis])
    )


def of_one_machine(record: Assessment) -> str:
    """The end of a curve's caption: whose curve it is."""
    if not record.typical:
        return origin(record)
    return " ".join((gettext("Curves: one machine from the draws, close to the medians."), origin(record)))


BASES = {
    "nominal": marked("no ranges yet"),
    "range from our assumptions": marked("ranges from our assumptions"),
    "95 % interval": marked("95 % intervals from measured inputs"),
}


def edition(record: Assessment) -> str:
    """How pages and charts name their edition."""
    if record.edition == "next":
        return gettext("draft of the next edition")
    return gettext("edition {edition}").format(edition=record.edition)
