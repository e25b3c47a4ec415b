"""The what-if's questions: what has one answer is not asked, and no temperature stands there that nobody sets."""

from __future__ import annotations

from itertools import product

import pytest

from guidegen.record import Assessment, Figure
from guidegen.site.pages.what_if import what_if
from tests.fixtures.records import record


def asked(changes: tuple[float, ...], control: str = "pid", own: float = 103.0, kit: float = 103.0) -> Assessment:
    """A record with these changes of the setpoint; each drop names its place in the list."""
    one = record()
    points = one.what_if
    count = len(list(product(points.drinks, changes, points.feeds_degc, points.waits_s)))
    drops = {name: tuple(map(float, range(count))) for name in ("without_drop_k", "with_drop_k", "drop_ratio")}
    return one.model_copy(
        update={
            "what_if": points.model_copy(update={"setpoint_changes_k": changes, **drops}),
            "variant": one.variant.model_copy(update={"control": control, "setpoint_degc": own}),
            "display": one.display.model_copy(update={"before_degc": Figure(value=kit)}),
        }
    )


def options(one: Assessment, name: str) -> list[str]:
    """The options of a question."""
    return next(list(choice["options"]) for choice in what_if(one)["choices"] if choice["name"] == name)


def test_it_starts_at_the_present_setpoint() -> None:
    """Wherever 0 stands in the list; 103 °C is 217.4 °F."""
    made = what_if(asked((3.0, 0.0, -3.0)))
    assert made["start"][1] == 1
    assert options(asked((3.0, 0.0, -3.0)), "Setpoint") == [
        "3 °C higher, 106 °C / 223 °F", "as it is, 103 °C / 217 °F", "3 °C lower, 100 °C / 212 °F",
    ]  # fmt: skip
    assert not made["none_above"]
    assert what_if(asked((0.0, -3.0)))["none_above"]


def test_a_thermostat_is_not_asked_for_a_setpoint() -> None:
    """Neither box nor column, and every row is still named once."""
    made = what_if(asked((0.0,), "thermostat"))
    assert [choice["name"] for choice in made["choices"]] == ["Drink", "Feed water", "Last drink"]
    assert made["fixed"]
    places = [row["at"] for row in made["rows"]]
    assert len(set(places)) == len(places) == 2 * 2 * 2
    assert all(len(row["names"]) == 3 for row in made["rows"])


@pytest.mark.parametrize(
    ("control", "kit", "name", "words"),
    [
        ("thermostat", 102.0, "Setpoint of the kit's controller", "as it is, 102 °C / 216 °F"),
        # Without and with are set to different temperatures, so neither is named.
        ("pid", 102.0, "Setpoint", "as it is"),
    ],
)
def test_the_temperature_is_that_of_what_is_set(control: str, kit: float, name: str, words: str) -> None:
    """With a thermostat only the kit has a setpoint."""
    assert options(asked((3.0, 0.0), control, 103.0, kit), name)[1] == words
