"""Every output is declared once, in the record, and whatever speaks of it finds it there."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import fields
from typing import Annotated, Any

import numpy as np
import pytest

from guidegen.assess.figures import Figures
from guidegen.heat.after import SteamRecovery
from guidegen.heat.shot import AT, Shots
from guidegen.heat.study import Study
from guidegen.record.base import Both, Figure, Record
from guidegen.record.outputs import UNITS, Output, ending
from guidegen.record.places import figures, headlines, key
from guidegen.record.table import chapters, declared, output_at, outputs
from guidegen.site.pages import downloads
from guidegen.site.pages.terms import nomenclature
from guidegen.units import UNITS as BY_DIMENSION
from tests.fixtures.records import record

COUNTED = {"turns", "sensor", "water", "outlet", "session_cost"}
"""Keys that end in no unit: counts, ratios by what they are of, and money in the record's own currency."""


def test_every_output_says_what_it_is() -> None:
    """A name and a meaning of its own, and a key that ends in its unit."""
    found = outputs()
    assert len(found) > 70
    for place, one in found.items():
        assert one.name, place
        assert one.meaning.endswith("."), place
        assert key(place) in COUNTED or key(place).endswith(ending(key(place))), place
    every = set(found.values())
    assert len({one.name for one in every}) == len({one.meaning for one in every}) == len(every) == len(nomenclature())


def test_every_source_is_a_result_of_the_computation() -> None:
    """The name under which `guidegen.heat` gives it; a result that was renamed would be read by nothing."""
    results = {*Shots._fields, *(one.name for kind in (Study, SteamRecovery) for one in fields(kind))}
    sources = {one.source for one in outputs().values() if one.source is not None}
    assert len(sources) > 10
    assert sources <= results


def test_results_have_columns_of_their_own() -> None:
    """By name, each once, from the first on: a kernel and its reader cannot mean different ones."""
    assert AT._asdict() == {name: column for column, name in enumerate(Shots._fields)}


def test_a_record_holds_no_other_figures_and_misses_none() -> None:
    """The place of every figure leads to its output, and every output is somewhere in a whole record."""
    held = {place for place, _ in figures(record())}
    assert {id(output_at(place)) for place in held} == {id(one) for one in outputs().values()}
    assert set(headlines("double")) <= held
    with pytest.raises(KeyError):
        output_at("drinks.double.with.sensor_colour")


def test_every_part_with_figures_is_a_chapter_of_the_numbers_page() -> None:
    """Each at its own turn, so that a new part cannot be left out or change places."""
    assert set(chapters()) == {place.partition(".")[0] for place in outputs()}
    orders = [one.order for one in chapters().values()]
    assert orders == sorted(set(orders))


def test_a_figure_that_nobodydeclared_is_refused() -> None:
    """The record cannot hold a number that pages have no words for."""

    class Undeclared(Record):
        lost_k: Figure

    with pytest.raises(TypeError, match=r"part\.lost_k: a figure of the record without an Output"):
        dict(declared(Undeclared, "part", None))


def test_the_schema_names_and_explains_every_output() -> None:
    """Title and description of each property are those of the table."""

    def properties(node: Any) -> Iterator[tuple[str, str]]:
        if isinstance(node, dict):
            if "title" in node and "description" in node:
                yield node["title"], node["description"]
            for one in node.values():
                yield from properties(one)

    printed = set(properties(json.loads(downloads.schema())))
    assert {(one.name, one.meaning) for one in outputs().values()} <= printed


# --- filling -----------------------------------------------------------------------------------------


class Tried(Record):
    """A part with one output of each kind."""

    low_degc: Annotated[Figure, Output("Low", "The lowest.", "shot", "sensor_drop")]
    used_wh: Annotated[Figure, Output("Used", "Energy used.", "shot", "water_drop", "nothing was used")]
    given_k: Annotated[Figure, Output("Given", "Worked out elsewhere.", "shot")]


class TriedBoth(Record):
    """An output on both sides."""

    drop_k: Annotated[Both, Output("Drop", "How far.", "shot", "sensor_drop")]


def shots(**rows: list[float]) -> Shots[np.ndarray[Any, Any]]:
    """Results with these rows, and nan in the others."""
    return Shots(*(np.array(rows.get(name, [np.nan] * 4)) for name in Shots._fields))


def made() -> Figures:
    """What makes figures of a nominal row and three draws."""
    return Figures({}, 3)


def test_a_part_is_read_from_the_results_that_its_outputs_name() -> None:
    """300 K is 26.85 °C, 7,200 J are 2 Wh; the first row is the value, the others give the range."""
    found = shots(sensor_drop=[300.0, 299.0, 300.0, 301.0], water_drop=[7200.0, 3600.0, 7200.0, 10800.0])
    part = made().part(Tried, found, given_k=Figure(value=1.0))
    assert part.low_degc.value == pytest.approx(26.85)
    assert (part.low_degc.low, part.low_degc.high) == pytest.approx((25.9, 27.8))
    assert part.used_wh.value == pytest.approx(2.0)
    assert part.given_k.value == 1.0


def test_a_result_without_a_value_says_why() -> None:
    """As the output declares it, or as the machine at hand has it."""
    found = shots(sensor_drop=[300.0] * 4)
    assert made().part(Tried, found, given_k=Figure(value=1.0)).used_wh.reason == "nothing was used"
    here = made().part(Tried, found, {"used_wh": "no heater"}, given_k=Figure(value=1.0))
    assert here.used_wh.reason == "no heater"


def test_what_is_not_given_and_names_no_result_is_missed() -> None:
    """A part cannot be made with a hole in it."""
    with pytest.raises(ValueError, match="given_k"):
        made().part(Tried, shots())


def test_a_part_of_both_sides_has_each_in_its_place() -> None:
    """Without the kit from the first, with it from the second."""
    one, other = shots(sensor_drop=[5.0] * 4), shots(sensor_drop=[2.0] * 4)
    part = made().part_of_both(TriedBoth, one, other)
    assert (part.drop_k.without.value, part.drop_k.with_.value) == (5.0, 2.0)


def test_every_ending_has_a_unit_of_its_dimension() -> None:
    """So that a number is converted into it by the one table of units."""
    for dimension, unit in UNITS.values():
        assert unit in BY_DIMENSION[dimension]
