"""The what-if: computed points as rows of a table; the script only shows the row that the select boxes name."""

from __future__ import annotations

from itertools import product
from typing import Any

from markupsafe import Markup

from guidegen.charts.quantity import both, shown_as
from guidegen.record import Assessment, Figure

MINUTE = 60.0


def what_if(record: Assessment) -> dict[str, Any]:
    """Choices per question and a row per combination; `at` of a row is the chosen options' values joined by `-`."""
    points = record.what_if
    thermostat = record.variant.control == "thermostat"
    setpoint = record.variant.setpoint_degc
    choices = [
        ("Drink", [f"{record.drinks[name].name}, {record.drinks[name].beverage_g:.0f} g" for name in points.drinks]),
        ("Setpoint", [_setpoint(change, setpoint, thermostat) for change in points.setpoint_changes_k]),
        ("Feed water", [_celsius(feed) for feed in points.feeds_degc]),
        ("Last drink", ["long ago" if wait is None else f"{wait / MINUTE:g} min ago" for wait in points.waits_s]),
    ]
    places = list(product(*(range(len(options)) for _, options in choices)))
    drops = zip(places, points.without_drop_k, points.with_drop_k, points.drop_ratio, strict=True)
    return {
        "choices": [{"name": name, "options": options} for name, options in choices],
        "start": [points.drinks.index(record.shot.drink), 0, _nearest(points.feeds_degc, _stated_feed(record)), 0],
        "thermostat": thermostat,
        "rows": [
            {
                "at": "-".join(map(str, place)),
                "names": [choices[i][1][index] for i, index in enumerate(place)],
                "without": _shown(without, "k"),
                "with": _shown(with_kit, "k"),
                "ratio": _shown(ratio, "ratio"),
            }
            for place, without, with_kit, ratio in drops
        ],
    }


def _setpoint(change: float, setpoint: float, thermostat: bool) -> str:
    if change == 0:
        return "as it is" if thermostat else f"as it is, {_celsius(setpoint)}"
    return f"{abs(change):g} K lower" if thermostat else f"{abs(change):g} K lower, {_celsius(setpoint + change)}"


def _celsius(value: float) -> str:
    """Both systems at once: an option of a select box cannot hold markup for the switch."""
    return f"{value:.0f} °C / {value * 9 / 5 + 32:.0f} °F"


def _stated_feed(record: Assessment) -> float:
    return next((one.value - 273.15 for one in record.inputs if one.id == "feed"), 20.0)


def _nearest(values: tuple[float, ...], wanted: float) -> int:
    return min(range(len(values)), key=lambda i: abs(values[i] - wanted))


def _shown(value: float | None, key: str) -> Markup:
    return both(Figure(value=value), shown_as(key)) if value is not None else Markup("–")
