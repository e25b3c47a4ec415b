"""An instruction that cannot be written because nobody knows something: withheld, with the fact and its line."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from guidegen import pipeline, trade
from guidegen.assess import guiding, verdict
from guidegen.commands.starting import new_variant
from guidegen.problems import CatalogueError, Problem
from guidegen.trade import Catalogue
from guidegen.trade.machine import Machine
from tests.fixtures.unknowns import Loc, facts_of, put, unknown
from tests.mutants.draft import COMPUTED, catalogue
from tests.whole import some

pytestmark = pytest.mark.slow

GIVEN = {"name": "Tamsin Mark 9", "years.from": "1999", "mains.voltage": "230 V~", "control.kind": "thermostat"}


def guided(known: Catalogue, machine: Machine, kit: str) -> guiding.Guided:
    """The guide of a pair, its computed values made up."""
    one = known.kits[kit]
    pair = verdict.judged(known, machine, one, "next")
    values = {name: value for name, value in COMPUTED.items() if not name.startswith("coil.")}
    if machine.boiler.diameter.known and machine.boiler.straight_wall.known:
        values = COMPUTED
    return guiding.guide(known, machine, one, verdict.fit_part(pair.check), pair, values, "next")


def without(variant: str, *loc: str | int) -> Machine:
    """A variant of the demonstration of which one fact is not known."""
    machine = catalogue().machines[variant]
    return put(machine, loc, unknown(dict(facts_of(machine))[loc]))  # type: ignore[no-any-return]


@pytest.mark.parametrize(
    ("variant", "kit", "loc", "name"),
    [
        ("tamsin-mk2", "feed-preheater", ("boiler", "bolts", "torque"), "boiler.bolts.torque"),
        ("tamsin-mk2", "banjo-feed", ("mains", "voltage"), "mains.voltage"),
        ("tamsin-mk2", "feed-preheater", ("mains", "connection"), "mains.connection"),
        ("tamsin-mk2", "feed-preheater", ("boiler", "bolts", "count"), "boiler.bolts.count"),
        ("tamsin-mk2", "feed-preheater", ("boiler", "diameter"), "boiler.diameter"),
        ("tamsin-mk1", "loop-controller", ("safety_devices", 0, "rating"), "safety_devices.brew-thermostat.rating"),
    ],
)
def test_one_unknown_fact_withholds_one_instruction(variant: str, kit: str, loc: Loc, name: str) -> None:
    """The fact is named, and the line where the catalogue has it; no finding of the lint is left of it."""
    machine = without(variant, *loc)
    found = guided(catalogue(), machine, kit)
    assert found.procedure is None
    assert found.lint == ()
    assert found.withheld
    assert name in [one.name for one in found.missing]
    fact = dict(facts_of(machine))[loc]
    assert {one.place for one in found.missing if one.name == name} == {str(fact.place)}
    (shown,) = [
        one for one in guiding.unknown([(f"{variant} with {kit}", found.missing)]) if one.message.startswith(name)
    ]
    assert shown.severity == "warning"
    assert (shown.path, shown.line, shown.column) == (fact.place.path, fact.place.line, fact.place.column)  # type: ignore[union-attr]
    assert "step" not in shown.message


@pytest.mark.parametrize(("part", "rating"), [
    ("feed-hose", "pressure"), ("banjo", "temperature"), ("banjo-bolt", "drinking_water"),
])  # fmt: skip
def test_a_part_without_a_rating_withholds_the_instruction(part: str, rating: str) -> None:
    """Nobody fits what may burst; the line of the kit is named."""
    known, (index,) = catalogue(), [
        number for number, one in enumerate(catalogue().kits["banjo-feed"].wetted) if one.part == part
    ]  # fmt: skip
    kit = known.kits["banjo-feed"]
    fact = getattr(kit.wetted[index], rating)
    bare = put(kit, ("wetted", index, rating), unknown(fact))
    found = guided(replace(known, kits={**known.kits, kit.id: bare}), known.machines["tamsin-mk1"], kit.id)
    assert found.procedure is None
    assert found.lint == ()
    assert {(one.name, one.place) for one in found.missing} == {(f"wetted.{part}.{rating}", str(fact.place))}


@pytest.mark.parametrize("loc", [("water_path", "pump_pressure"), ("water_path", "relief_opens")])
def test_an_unknown_pressure_withholds_what_is_wet(loc: Loc) -> None:
    """Of pump or relief valve: nobody can say whether the parts bear it."""
    found = guided(catalogue(), without("tamsin-mk1", *loc), "banjo-feed")
    assert found.procedure is None
    assert ".".join(map(str, loc)) in [one.name for one in found.missing]


def test_where_the_wall_under_it_is_not_known_the_boiler_is_exchanged() -> None:
    """What cannot be cut for want of a figure leaves the kit's other way, which the instruction then takes."""
    machine = without("tamsin-mk1", "boiler", "protrusions", 0, "metal_left")
    pair = verdict.judged(catalogue(), machine, catalogue().kits["feed-preheater"], "next")
    assert pair.decisions[0].protrusion.id == "lifting-web"
    assert pair.decisions[0].action.value == "cannot"
    assert pair.ways["wall.way"].text == "exchanged"
    assert guided(catalogue(), machine, "feed-preheater").procedure is not None


def sweep(variant: str) -> list[str]:
    """Which single unknown facts leave an error on some kit of a variant."""
    known, machine = catalogue(), catalogue().machines[variant]
    known_ones = [loc for loc, fact in facts_of(machine) if fact.known]
    first = list(known.machines).index(variant)  # each begins elsewhere, so that nearly every fact has its turn
    return [
        f"{'.'.join(map(str, loc))} with {kit}"
        for loc in some(known_ones[first:] + known_ones[:first], len(known.machines))
        for kit in known.kits
        if any(one.blocks for one in guided(known, without(variant, *loc), kit).lint)
    ]


@pytest.mark.slow
@pytest.mark.parametrize("variant", catalogue().machines)
def test_no_single_unknown_fact_stops_the_build(variant: str) -> None:
    """Each fact of every variant of the demonstration, with every kit; `make test` tries one in eight."""
    assert sweep(variant) == []


def test_a_device_that_is_not_listed_is_named_where_it_would_be_listed() -> None:
    """`safety_devices` without a relief valve: absent is not unknown, but nothing can be written of it either."""
    machine = catalogue().machines["tamsin-mk2"]
    left = tuple(one for one in machine.safety_devices if one.kind != "relief-valve")
    found = guided(catalogue(), machine.model_copy(update={"safety_devices": left}), "feed-preheater")
    (one,) = found.missing
    assert (one.name, one.title, one.absent) == ("safety_devices", "The relief valve", True)
    assert one.place == str(machine.places.key(("safety_devices",)))


@pytest.fixture
def workshop(tmp_path: Path, lay_down_workshop: Callable[[Path], Path]) -> Path:
    """One variant of the demonstration, and one of which nothing is known but voltage and control."""
    root = lay_down_workshop(tmp_path / "workshop")
    shutil.rmtree(root / "machines/bracken")
    for path in (root / "machines/tamsin").glob("mk*.yml"):
        if path.stem != "mk2":
            path.unlink()
    (root / "content/pictures.yml").unlink()
    (root / "machines/tamsin/builds.yml").unlink()
    shutil.rmtree(root / "machines/tamsin/runs")
    new_variant(root, None, "tamsin", GIVEN)
    return root


def withheld(root: Path) -> list[Problem]:
    """What `check` says about facts that keep instructions from being written."""
    return [one for one in pipeline.check(root).warnings if one.code == "P05"]


def test_a_variant_of_which_nothing_is_known_stops_nothing(workshop: Path) -> None:
    """All is checked; each missing fact of the new file is a warning at a line that says `unknown`, or at its list."""
    mine = [one for one in withheld(workshop) if one.path == "machines/tamsin/mark-9.yml"]
    assert len(mine) > 10
    lines = (workshop / "machines/tamsin/mark-9.yml").read_text("utf-8").splitlines()
    for one in mine:
        text = lines[one.line - 1][one.column - 1 :]
        assert text.startswith("unknown" if "safety_devices:" not in one.message else "safety_devices:"), one


def test_a_name_that_no_machine_has_is_the_authors_mistake(workshop: Path) -> None:
    """It stops the build although an instruction is withheld; what is not known does not appear beside it."""
    path = workshop / "content/procedures/banjo-feed.yml"
    text = path.read_text("utf-8")
    assert "{water_path.inlet.thread}" in text
    path.write_text(text.replace("{water_path.inlet.thread}", "{water_path.inlet.threads}"), "utf-8")
    with pytest.raises(CatalogueError) as error:
        pipeline.check(workshop)
    errors = [one for one in error.value.problems if one.severity == "error"]
    assert {one.path for one in errors} == {"content/procedures/banjo-feed.yml"}
    assert all("water_path.inlet.threads" in one.message for one in errors)


def test_the_guides_of_another_variant_are_as_before(workshop: Path) -> None:
    """A variant without facts takes no instruction from one that has them."""
    known = trade.load(workshop)
    for kit in known.kits:
        before = guided(catalogue(), catalogue().machines["tamsin-mk2"], kit)
        after = guided(known, known.machines["tamsin-mk2"], kit)
        # That workshop has no photographs, since most of them are of other variants.
        was, now = (without_pictures(one.procedure and one.procedure.model_dump()) for one in (before, after))
        assert was == now
        assert before.missing == after.missing


def without_pictures(part: Any) -> Any:
    """The same without what is shown of photographs."""
    if isinstance(part, dict):
        return {name: without_pictures(one) for name, one in part.items() if name != "pictures"}
    return [without_pictures(one) for one in part] if isinstance(part, list | tuple) else part
