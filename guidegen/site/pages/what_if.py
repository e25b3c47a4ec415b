"""The what-if: computed points as rows of a table; the script only shows the row that the select boxes name."""

from __future__ import annotations

from itertools import product
from typing import Any

from markupsafe import Markup

from guidegen.language import gettext, marked
from guidegen.record import Assessment, Figure
from guidegen.record.claims import SETPOINTS, stated
from guidegen.record.drinks import Drink
from guidegen.site.charts.change import over
from guidegen.site.charts.quantity import both, shown_as
from guidegen.units import UNITS

MINUTE = 60.0
SAME = 0.05
"""K; closer than that two setpoints are one."""


def what_if(record: Assessment) -> dict[str, Any]:
    """Choices per question and a row per combination; `at` of a row is the chosen options' values joined by `-`.

    A question with one answer is none: it is left out of boxes and table.
    """
    points = record.what_if
    changes = points.setpoint_changes_k
    asked = [
        (gettext("Drink"), [_drink(record.drinks[name]) for name in points.drinks]),
        (_setpoint_name(record), [_setpoint(change, record) for change in changes]),
        (gettext("Feed water"), [_celsius(feed) for feed in points.feeds_degc]),
        (gettext("Last drink"), [_ago(wait) for wait in points.waits_s]),
    ]
    begins = (points.drinks.index(record.shot.drink), _nearest(changes, 0.0),
              _nearest(points.feeds_degc, _stated_feed(record)), 0)  # fmt: skip
    shown = [i for i, (_, options) in enumerate(asked) if len(options) > 1]
    drops = zip(
        product(*(range(len(options)) for _, options in asked)),
        points.without_drop_k,
        points.with_drop_k,
        points.drop_ratio,
        strict=True,
    )
    return {
        "choices": [{"name": asked[i][0], "options": asked[i][1]} for i in shown],
        "start": [begins[i] for i in shown],
        "thermostat": record.variant.control == "thermostat",
        "fixed": len(changes) == 1,
        "none_above": len(changes) > 1 and max(changes) <= 0.0,
        "rows": [
            {
                "at": "-".join(str(place[i]) for i in shown),
                "names": [asked[i][1][place[i]] for i in shown],
                "without": _shown(without, "k"),
                "with": _shown(with_kit, "k"),
                "change": over([Figure(value=ratio)]) if ratio is not None else "–",
            }
            for place, without, with_kit, ratio in drops
        ],
    }


def _drink(drink: Drink) -> str:
    return f"{drink.name}, {drink.beverage_g:.0f} g"


def _setpoint_name(record: Assessment) -> str:
    thermostat = record.variant.control == "thermostat"
    return gettext("Setpoint of the kit's controller") if thermostat else gettext("Setpoint")


def _ago(wait: float | None) -> str:
    return gettext("long ago") if wait is None else gettext("{minutes} min ago").format(minutes=f"{wait / MINUTE:g}")


def _setpoint(change: float, record: Assessment) -> str:
    """A change in words, with the temperature where both sides are set to the same."""
    words = marked("{change} °C lower") if change < 0.0 else marked("{change} °C higher")
    words = marked("as it is") if change == 0.0 else words
    words = gettext(words).format(change=f"{abs(change):g}")
    with_kit, own = record.display.before_degc.value, record.variant.setpoint_degc
    one = record.variant.control == "thermostat" or with_kit is None or abs(with_kit - own) < SAME
    setpoint = with_kit if record.variant.control == "thermostat" and with_kit is not None else own
    known = stated(record, (f"kit.{name}" if record.variant.control == "thermostat" else name for name in SETPOINTS))
    return f"{words}, {_celsius(setpoint + change)}" if one and known else words


def _celsius(value: float) -> str:
    """Both systems at once: an option of a select box cannot hold markup for the switch."""
    return f"{value:.0f} °C / {value * 9 / 5 + 32:.0f} °F"


def _stated_feed(record: Assessment) -> float:
    return next((one.value - UNITS["temperature"]["°C"][1] for one in record.inputs if one.id == "feed"), 20.0)


def _nearest(values: tuple[float, ...], wanted: float) -> int:
    return min(range(len(values)), key=lambda i: abs(values[i] - wanted))


def _shown(value: float | None, key: str) -> Markup:
    return both(Figure(value=value), shown_as(key)) if value is not None else Markup("–")
