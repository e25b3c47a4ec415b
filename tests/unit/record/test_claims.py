"""When a figure may be claimed of a machine: by hand-made shares, and by counting."""

from __future__ import annotations

import pytest

from guidegen.record import Assessment
from guidegen.record.claims import COUNTED, claimed, wanted
from guidegen.record.stated import Input
from tests.fixtures.records import record as filled

PLACE = "drinks.double.drop_ratio.sensor"
OTHER = "energy.day_ratio"


def put(name: str, stated: bool) -> Input:
    """An input that somebody wrote, or that something stands in for."""
    return Input(id=name, name=name, value=1.0, low=0.5, high=1.5, unit="", text="1", evidence="assumed", source=None,
                 settles=f"measure {name}", place="", stated=stated)  # fmt: skip


def record(known: dict[str, bool], ranks: dict[str, dict[str, float]] | None = None) -> Assessment:
    """A record with these inputs and these rank correlations."""
    inputs = tuple(put(name, stated) for name, stated in known.items())
    return filled().model_copy(update={"inputs": inputs, "influence": ranks or {}})


@pytest.mark.parametrize(
    ("ranks", "may"),
    [
        ({"a": 0.7, "b": -0.7}, True),  # 0.49 of 0.98 is half, and half is not most
        ({"a": 0.71, "b": -0.70}, False),  # 0.5041 of 0.9941
        ({"a": 0.2, "b": 0.3, "c": 0.0}, True),  # 0.04 of 0.13
        ({"a": -0.9}, False),
        ({"a": 0.3, "model.phase": 0.9}, False),  # when you pull is no input; of what can be known, all is not
        ({"model.phase": 0.9}, True),
        ({}, True),
    ],
)
def test_more_than_half_of_what_moves_it_must_be_known(ranks: dict[str, float], may: bool) -> None:
    """The shares are squares of rank correlations; `a` is a stand-in, `b` and `c` are stated."""
    one = record({"a": False, "b": True, "c": True}, {PLACE: ranks})
    assert claimed(one, PLACE) is may
    assert claimed(one, OTHER)
    assert claimed(one, OTHER, PLACE) is may


def test_without_draws_the_inputs_that_count_are_counted() -> None:
    """Half of them unknown may pass, one more may not; other inputs are not counted, and the kit's mass never is."""
    names = [name for name in COUNTED if name not in ("control.opens", "control.closes", "control.lag")][:10]
    half = {name: index >= 5 for index, name in enumerate(names)}
    assert claimed(record(half | {"boiler.to_water": False, "mixing": False}), PLACE)
    more = half | {names[5]: False}
    assert not claimed(record(more), PLACE)
    assert claimed(record(more), "budget.added_kg", "coil.dry_kg")


def test_a_coil_that_cannot_be_laid_out_claims_nothing() -> None:
    """How much of it touches the boiler decides what it does."""
    one = record({"kit.tube.outside": True})
    assert claimed(one, PLACE)
    assert not claimed(one.model_copy(update={"coil": None}), PLACE)
    assert claimed(record({"heater.power": True}).model_copy(update={"coil": None}), PLACE)


def test_the_measurement_that_moves_it_most_is_wanted_first() -> None:
    """Only what nobody knows is wanted; without ranks in the order in which inputs are counted."""
    known = {"group.mass": False, "sensor.metal_share": False, "boiler.mass": False, "feed": True}
    one = record(known, {PLACE: {"sensor.metal_share": -0.4, "group.mass": 0.1, "feed": 0.9}})
    assert [put.id for put in wanted(one, PLACE)] == ["sensor.metal_share", "group.mass", "boiler.mass"]
    assert [put.id for put in wanted(record(known), PLACE)] == ["boiler.mass", "group.mass", "sensor.metal_share"]
