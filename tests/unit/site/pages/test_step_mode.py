"""The data of one step at a time: places that lead somewhere, waits with their kind, facts that a report may name."""

from __future__ import annotations

import re
from importlib import resources
from typing import Any

import pytest

from guidegen.judge.safety.measure import measured
from guidegen.site.pages.pair import pair_page
from guidegen.site.pages.step_mode import LOADER, SCRIPTS, STYLE, step_data, unit_rows
from guidegen.trade.paths import known_facts
from tests.fixtures.records import fitting_data, record, site


def rows_of(data: dict[str, Any]) -> list[dict[str, Any]]:
    """The steps of all groups."""
    return [row for group in data["groups"] for row in group["steps"]]


def keys(data: dict[str, Any]) -> list[str]:
    """Their keys, which begin with the id of their group."""
    return [f"{group['id']}/{row['k']}" for group in data["groups"] for row in group["steps"]]


@pytest.mark.parametrize("kind", ["install", "restore"])
def test_places_are_those_of_the_steps_in_the_page(kind: str) -> None:
    """Phases first, then remedies: in the order in which the page has them."""
    one = record()
    course = one.procedure.fitting if kind == "install" else one.procedure.restoring  # type: ignore[union-attr]
    assert course is not None
    data = step_data(one, course)
    rows = rows_of(data)
    assert keys(data) == [step.key for step in course.steps]
    body = pair_page(one, kind, site(one)).body
    assert f'data-ticks="{data["guide"]["ticks"]}"' in body
    ids = re.findall(r'<li class="gg-step[^"]*" id="([^"]*)"', body)
    assert ids == [step.anchor for step in course.steps]
    for row, step in zip(rows, course.steps, strict=True):
        if step.hold is not None and step.hold.on_fail is not None:
            aim = step.hold.on_fail.anchor
            assert row["h"]["f"] == (ids.index(aim) if aim else -1)


def test_the_way_back_is_kept_apart_and_asks_for_no_report() -> None:
    """Under a name of its own on the device, with nothing to measure for the maker."""
    one = record()
    fitting, back = fitting_data(one), step_data(one, one.procedure.restoring)  # type: ignore[union-attr, arg-type]
    assert fitting["guide"]["ticks"] != back["guide"]["ticks"]
    assert (fitting["report"], back["report"], back["facts"]) == (True, False, [])
    assert "report to copy" in fitting["words"]["lead"]
    assert "report to copy" not in back["words"]["lead"]


def test_it_is_not_offered_where_a_condition_names_no_case() -> None:
    """As in an edition of before cases: steps that exclude each other would all be asked for."""
    one = record()
    (phase, *others) = one.procedure.fitting.phases  # type: ignore[union-attr]
    step = phase.steps[0].model_copy(update={"only_if": "it is warm", "cases": ()})
    phases = (phase.model_copy(update={"steps": (step, *phase.steps[1:])}), *others)
    fitting = one.procedure.fitting.model_copy(update={"phases": phases})  # type: ignore[union-attr]
    old = one.model_copy(update={"procedure": one.procedure.model_copy(update={"fitting": fitting})})  # type: ignore
    whole, page = pair_page(one, "install", site(one)), pair_page(old, "install", site(one))
    for mark in ('class="gs-intro"', 'class="gs-foot"', 'class="gs"'):
        assert mark in whole.body
        assert mark not in page.body
    for mark in (LOADER, STYLE):
        assert mark in whole.head
        assert mark not in page.head


def test_what_comes_again_is_what_the_record_says() -> None:
    """A row without the list has that of the row before it."""
    one = record()
    rows = rows_of(fitting_data(one))
    names, again = keys(fitting_data(one)), []
    for step, row in zip(one.procedure.fitting.steps, rows, strict=True):  # type: ignore[union-attr]
        again = row.get("a", again)
        assert (None if again is None else tuple(names[place] for place in again)) == step.after_night
    assert again is not None


@pytest.mark.parametrize(
    ("step", "waits"),
    [
        # Seconds worked out by hand from what the step prints.
        ("cool/wait", [(4 * 3600, "safety")]),
        ("heat/watch", [(10 * 60, "least"), (3 * 60, "most")]),
        ("cold-test/prime", [(180, "most")]),
        ("take-out/boiler-out", []),
    ],
)
def test_a_stated_time_is_a_clock(step: str, waits: list[tuple[int, str]]) -> None:
    """A wait for safety, one that may not take longer, and one that takes at least so long."""
    data = fitting_data(record())
    (row,) = [row for name, row in zip(keys(data), rows_of(data), strict=True) if name == step]
    assert [(seconds, kind) for seconds, _, kind in row.get("w", [])] == waits


def test_every_spelling_of_a_unit_is_read_as_the_rules_read_it() -> None:
    """The first row of a spelling against `measured`; no dimension is asked twice for one spelling."""
    first: dict[str, list] = {}
    for row in unit_rows():
        first.setdefault(row[0], row)
    assert len(first) > 60
    for unit, (_, dimension, factor, offset) in first.items():
        found = measured(f"2 {unit}")
        if found is None or re.search("[0-9]", unit):
            continue
        assert (found.dimension, found.in_si) == (dimension, pytest.approx(2 * factor + offset, rel=1e-12))


@pytest.mark.parametrize("pair", [("tamsin-mk2", "feed-preheater"), ("bracken-a", "loop-controller")])
def test_facts_that_can_be_measured_are_facts_of_a_machine(pair: tuple[str, str]) -> None:
    """By a name that a report may use, in a unit that its fact has."""
    known = known_facts()
    one = record(*pair)
    stated = {"boiler.mass": "580 g ± 5 g", "control.setpoint": "103 °C ± 0.5 K", "boiler.water": "105 ml ± 2 ml",
              "water_path.relief_opens": "12 bar ± 1 bar", "heater.power": "1150 W", "boiler.to_water": "18 W/K",
              "steam.overshoot": "8 K ± 4 K", "sensor.metal_share": "70 %", "kit.holds": "58 ml"}  # fmt: skip
    inputs = tuple(one.inputs[0].model_copy(update={"id": name, "text": text}) for name, text in stated.items())
    facts = {each["fact"]: each for each in fitting_data(one.model_copy(update={"inputs": inputs}))["facts"]}
    # What a scale, a thermometer, a jug, a gauge and a power meter show, and no conductance, difference or share.
    assert {*facts} & {*stated} == {*list(stated)[:5]}
    assert any("words" in each for each in facts.values())
    assert not any(name.startswith("unit.") for name in facts)
    for name, each in facts.items():
        for word, _ in each.get("words", ()):
            assert word in known[name].words or measured(word) is not None
        if "unit" in each:
            found = measured(f"1 {each['unit']}")
            assert found is not None
            assert known[name].dimension == found.dimension


def test_the_scripts_are_there() -> None:
    """Every address that the page names, whether or not a browser asks for it by itself."""
    assets = resources.files("guidegen.site.web") / "assets"
    for place in (LOADER, STYLE, *SCRIPTS):
        assert assets.joinpath(place.rpartition("/")[2]).is_file()
    one = record()
    body = pair_page(one, "install", site(one)).body
    assert f'data-scripts="{" ".join("../../../" + place for place in SCRIPTS)}"' in body
