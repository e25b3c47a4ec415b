"""Loading, inheritance, facts and where they come from."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest
from pydantic import ValidationError

from guidegen import trade
from guidegen.problems import CatalogueError, Code, nearest
from guidegen.trade.listing import listing, show, values
from guidegen.trade.paths import COMPUTED, known_facts
from guidegen.workshop.facts import UnknownFact
from guidegen.workshop.fields import Choice, Fact
from guidegen.workshop.walk import everything, facts

SMALL = Path(__file__).parents[2] / "fixtures" / "catalogue_min"


@pytest.fixture(scope="module")
def known() -> trade.Catalogue:
    """The small catalogue."""
    return trade.load(SMALL)


@pytest.fixture
def workshop(tmp_path: Path) -> Path:
    """A workshop that a test may write into."""
    shutil.copytree(SMALL, tmp_path / "workshop")
    return tmp_path / "workshop"


def with_variant(root: Path, text: str) -> Any:
    """Return the variant that is the family with `text` laid over it."""
    (root / "machines/plain/nine.yml").write_text(f"name: Nine\nstatus: seen\nmarks: []\n{text}", encoding="utf-8")
    return trade.load(root).machine("plain-nine")


def test_variants_and_kits_come_in_the_order_of_their_ids(known: trade.Catalogue) -> None:
    """Whatever order the disk has."""
    assert list(known.machines) == ["plain-one", "plain-two"]
    assert list(known.kits) == ["collar"]
    assert (known.machine("plain-one").family, known.machine("plain-one").family_name) == ("plain", "Plain")


def test_a_name_that_is_not_there_gets_the_nearest(known: trade.Catalogue) -> None:
    """For whoever mistypes it on the command line."""
    with pytest.raises(CatalogueError, match="write plain-one"):
        known.machine("plain-on")
    with pytest.raises(CatalogueError, match="write collar"):
        known.kit("colar")


def test_a_catalogue_cannot_be_changed(known: trade.Catalogue) -> None:
    """Frozen, down to the facts."""
    machine = known.machine("plain-one")
    with pytest.raises(ValidationError):
        machine.boiler.mass = machine.group.mass  # type: ignore[misc]
    with pytest.raises(AttributeError):
        machine.boiler.mass.known = False  # type: ignore[misc]
    with pytest.raises(TypeError):
        known.machines["x"] = machine  # type: ignore[index]


def test_a_leaf_knows_its_file_after_inheritance(known: trade.Catalogue) -> None:
    """Line and column of the family, of the variant it is based on, and of the variant itself."""
    machine = known.machine("plain-two")
    assert machine.boiler.mass.value == pytest.approx(0.52)
    assert str(machine.places[("boiler", "mass")]) == "machines/plain/two.yml:7:3"
    assert str(machine.boiler.mass.place) == "machines/plain/two.yml:7:14"
    assert str(machine.places[("boiler", "water")]) == "machines/plain/family.yml:14:10"


def test_a_variant_based_on_a_variant_takes_its_values_but_not_its_status(workshop: Path) -> None:
    """Status and name are each variant's own."""
    (workshop / "machines/plain/one.yml").write_text(
        "name: One\nstatus: built\nmarks: []\nboiler: {mass: 550 g}\n", encoding="utf-8"
    )
    machine = with_variant(workshop, "based_on: one\n")
    assert machine.boiler.mass.value == pytest.approx(0.55)
    assert machine.status == "seen"


def test_mappings_merge_and_lists_merge_by_id(workshop: Path) -> None:
    """Only what differs is written."""
    machine = with_variant(
        workshop,
        "boiler:\n  protrusions:\n    - {id: drain-boss, width: 20 mm}\n"
        "    - {id: ear, name: ear, kind: ear, band: {from: 2 mm, to: 6 mm}, stands_out: 9 mm, width: 12 mm,"
        " carries: fuse, metal_left: 3 mm, function: seat}\n"
        "safety_devices:\n  - {id: fuse, seat: ear}\n",
    )
    boss, ear = machine.boiler.protrusions
    assert (boss.id, boss.width.value, boss.stands_out.value) == ("drain-boss", 0.02, 0.006)
    assert (ear.id, machine.safety_devices[0].rating.value) == ("ear", "10 A, 184 °C")
    assert machine.fact("protrusions.stand_out").value == pytest.approx(0.009)
    assert machine.fact("protrusions.carry_device").value == "yes"


def test_null_removes(workshop: Path) -> None:
    """A whole item of a list, or a field that need not be there."""
    machine = with_variant(workshop, "boiler:\n  protrusions:\n    - drain-boss: null\n")
    assert machine.boiler.protrusions == ()
    assert machine.fact("protrusions.stand_out").value == 0
    assert machine.fact("protrusions.carry_device").value == "no"


def test_the_evidence_of_an_old_value_does_not_hold_for_a_new_one(workshop: Path) -> None:
    """`{is: ..., evidence: measured}` is replaced whole."""
    (workshop / "machines/plain/one.yml").write_text(
        "name: One\nstatus: seen\nmarks: []\nboiler: {mass: {is: 550 g, evidence: measured, source: bench-1}}\n",
        encoding="utf-8",
    )
    machine = with_variant(workshop, "based_on: one\nboiler: {mass: {is: 540 g}}\n")
    assert (machine.boiler.mass.evidence, machine.boiler.mass.source) == ("assumed", None)


def test_a_mapping_of_another_kind_starts_afresh(workshop: Path) -> None:
    """The gains of a controller mean nothing to a thermostat."""
    machine = with_variant(
        workshop,
        "control: {kind: thermostat, opens: 105 °C, closes: 96 °C, lag: 5 s}\nsafety_devices:\n"
        "  - {id: brew, name: brew thermostat, kind: thermostat, class: control, rating: 16 A, seat: boiler top}\n",
    )
    assert machine.control.kind == "thermostat"
    assert machine.fact("control.setpoint") is None
    assert machine.fact("control.opens").value == pytest.approx(378.15)
    assert machine.fact("control.kind").value == "thermostat"


def test_a_family_sets_the_evidence_of_its_files(workshop: Path) -> None:
    """For every value that does not say otherwise; `unknown` stays assumed."""
    family = workshop / "machines/plain/family.yml"
    text = family.read_text(encoding="utf-8").replace("  mass: 500 g ± 5 g", "  mass: unknown")
    family.write_text(f"evidence: measured\nsource: bench-1\n{text}", encoding="utf-8")
    machine = with_variant(workshop, "heater: {power: {is: 900 W, evidence: assumed}}\n")
    assert (machine.boiler.water.evidence, machine.boiler.water.source) == ("measured", "bench-1")
    assert machine.heater.power.evidence == "assumed"
    assert (machine.boiler.mass.evidence, machine.boiler.mass.known) == ("assumed", False)


def test_a_variant_file_has_an_evidence_of_its_own(workshop: Path) -> None:
    """It holds for the values of this file, not for those of the family."""
    machine = with_variant(workshop, "evidence: maker-document\nsource: bench-1\nheater: {power: 900 W}\n")
    assert machine.heater.power.evidence == "maker-document"
    assert machine.boiler.mass.evidence == "assumed"


def test_the_plausible_range_stands_in_for_what_nobody_knows(workshop: Path) -> None:
    """The middle, give or take half the range: 0.40 to 0.65 kg of physics' table."""
    mass = with_variant(workshop, "boiler: {mass: unknown}\n").boiler.mass
    assert (mass.value, mass.plus_minus) == (pytest.approx(0.525), pytest.approx(0.125))
    assert (mass.known, mass.quantity, mass.settles) == (False, None, "weigh the empty boiler")


def test_some_units_span_what_there_is(workshop: Path) -> None:
    """A factory spread is never known, whatever its options."""
    inlet = with_variant(
        workshop,
        "water_path:\n  inlet:\n    fitting: {some_units: [straight, banjo]}\n"
        "    projection: {some_units: [18 mm ± 1 mm, 31 mm ± 1 mm]}\n    thread: some units\n",
    ).water_path.inlet
    assert (inlet.fitting.spread, inlet.fitting.known, inlet.fitting.options) == (True, False, ("straight", "banjo"))
    assert (inlet.projection.low, inlet.projection.high) == (pytest.approx(0.017), pytest.approx(0.032))
    with pytest.raises(UnknownFact):
        _ = inlet.thread.value


def test_a_range_need_not_be_even(known: trade.Catalogue) -> None:
    """`from` and `to` are the ends; the value lies where it was written."""
    mixing = known.machine("plain-one").mixing
    assert (mixing.value, mixing.low, mixing.high) == (2, 1, 10)


def test_computed_names_are_no_facts() -> None:
    """A name means one thing."""
    assert not set(COMPUTED) & set(known_facts())


def test_a_condition_knows_its_bound(known: trade.Catalogue) -> None:
    """A computed name with its margin in SI, a word, a quantity."""
    wall, inlet, *_ = known.kit("collar").requirements
    bound = wall.bound(known_facts())
    assert bound is not None
    assert (wall.comparison, bound.computed, bound.margin) == ("at_least", "coil.height", pytest.approx(0.002))
    words, length = (branch.bound(known_facts()) for branch in inlet.any_)
    assert words is not None
    assert words.words == ("banjo",)
    assert length is not None
    assert length.quantity is not None
    assert length.quantity.value == pytest.approx(0.02)
    assert (wall.unmet, [one.part for one in inlet.unmet]) == ((), ["elbow"])


def test_a_variant_is_shown_with_where_each_value_comes_from(known: trade.Catalogue) -> None:
    """Every leaf once, inherited ones marked."""
    rows = {row.name: row for row in values(known.machine("plain-two"))}
    assert (rows["boiler.mass"].inherited, rows["boiler.mass"].evidence) == (False, "measured")
    assert (rows["boiler.water"].inherited, rows["boiler.water"].place.path) == (True, "machines/plain/family.yml")
    machine = known.machine("plain-two")
    leaves = [loc for loc, _ in facts(machine)]
    assert {".".join(map(str, loc)) for loc in leaves if len(loc) < 3} <= set(rows)
    text = show(known, "plain-two")
    assert "boiler.mass" in text
    assert "machines/plain/two.yml:7" in text
    assert "machines/plain/family.yml:14 (inherited)" in text


def test_the_listing_names_every_variant_and_kit(known: trade.Catalogue) -> None:
    """With what distinguishes them."""
    lines = listing(known).splitlines()
    assert lines[1].split() == ["plain-one", "Plain", "One", "1990–", "230", "V~", "brass", "pid", "seen"]
    assert any(line.startswith("collar") and "1.10" in line for line in lines)


def test_walking_yields_every_fact(known: trade.Catalogue) -> None:
    """As many as there are, models and lists included."""
    machine = known.machine("plain-one")
    assert sum(isinstance(value, Fact | Choice) for _, value in everything(machine)) == len(list(facts(machine)))
    assert (("boiler", "protrusions", 0, "band", "from") in dict(facts(machine))) is True


def test_every_code_is_explained() -> None:
    """In a whole sentence, and under one value only."""
    assert all(code.explanation.endswith(".") and len(code.explanation) > 20 for code in Code)
    assert len({code.value for code in Code}) == len(Code)


def test_the_nearest_name_is_near_or_none() -> None:
    """A far-fetched proposal is worse than a list."""
    assert nearest("strait_wall", ["straight_wall", "wall"]) == "straight_wall"
    assert nearest("zzz", ["straight_wall", "wall"]) is None


def test_a_folder_that_is_no_workshop_is_reported_as_such(tmp_path: Path) -> None:
    """An empty folder, one that is not there, and one whose machines are a link to somewhere else."""
    (tmp_path / "other" / "machines").mkdir(parents=True)
    (tmp_path / "linked").mkdir()
    (tmp_path / "linked" / "machines").symlink_to(tmp_path / "other" / "machines")
    codes = {}
    for name in ("empty", "linked"):
        (tmp_path / name).mkdir(exist_ok=True)
        codes[name] = {problem.code for problem in trade.look(tmp_path / name)[1]}
    codes["absent"] = {problem.code for problem in trade.look(tmp_path / "absent")[1]}
    assert codes == {"empty": {"F04"}, "linked": {"F03", "F04"}, "absent": {"F04"}}
