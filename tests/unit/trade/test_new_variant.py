"""A new variant from what somebody reported."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from guidegen import trade
from guidegen.problems import CatalogueError
from guidegen.trade.draft_lines import Reported
from guidegen.trade.new_variant import ASKED, draft, given_from
from guidegen.workshop.facts import Choice, Fact
from guidegen.workshop.walk import facts

SMALL = Path(__file__).parents[2] / "fixtures" / "catalogue_min"
GIVEN = {"name": "Plain Nine", "years.from": "1988", "mains.voltage": "120 V~", "control.kind": "thermostat"}


@pytest.fixture
def workshop(tmp_path: Path) -> Path:
    """A workshop that a test may write into."""
    shutil.copytree(SMALL, tmp_path / "workshop")
    return tmp_path / "workshop"


def lay_down(root: Path, family: str, given: dict[str, str]) -> trade.Catalogue:
    """Write a draft into the workshop and load the whole."""
    for path, text in draft(trade.load(root), family, "nine", given).files.items():
        (root / path).parent.mkdir(parents=True, exist_ok=True)
        (root / path).write_text(text, encoding="utf-8")
    return trade.load(root)


@pytest.mark.parametrize("kind", ["pid", "thermostat"])
@pytest.mark.parametrize("family", ["plain", "fresh"])
def test_a_draft_passes_the_check_and_knows_only_what_was_given(workshop: Path, family: str, kind: str) -> None:
    """In a family that exists and in a new one; nothing is taken over in silence."""
    given = {**GIVEN, "control.kind": kind, "boiler.mass": "520 g ± 10 g"}
    machine = lay_down(workshop, family, given).machine(f"{family}-nine")
    known = {".".join(map(str, loc)) for loc, fact in facts(machine) if fact.known}
    assert known == {"mains.voltage", "boiler.mass"}
    assert machine.status == "reported"
    assert machine.boiler.mass.value == pytest.approx(0.52)
    assert machine.boiler.mass.evidence == "assumed"


def test_what_a_family_lists_is_not_handed_down(workshop: Path) -> None:
    """The drain boss of the family is no fact about a machine that nobody has seen."""
    machine = lay_down(workshop, "plain", GIVEN).machine("plain-nine")
    assert [one.id for one in machine.boiler.protrusions] == ["not-looked-at"]
    assert "fuse" not in [one.id for one in machine.safety_devices]


def test_what_decides_about_a_kit_is_measured_first() -> None:
    """The kit of the fixture asks for the straight wall, the inlet, the check valve and the boiler's metal."""
    wanted = draft(trade.load(SMALL), "plain", "nine", GIVEN).next
    first = [one.name for one in wanted if one.needed_by]
    assert first == [one.name for one in wanted[: len(first)]]
    asked = {"inlet.fitting", "inlet.projection", "check_valve"}
    assert set(first) == {"boiler.straight_wall", "boiler.material", *(f"water_path.{one}" for one in asked)}
    assert all(one.how for one in wanted)


@pytest.mark.parametrize(
    "text", ["<b>x</b>", "a: b", "no", '"', "{{ 7*7 }}", "# x", "1.10", "- x", "null", "*a", "ü ± 3"]
)
def test_any_name_comes_back_as_it_was_given(workshop: Path, text: str) -> None:
    """Whatever YAML would make of it."""
    assert lay_down(workshop, "plain", {**GIVEN, "name": text}).machine("plain-nine").name == text


@pytest.mark.parametrize("name", ASKED)
def test_what_must_be_given_is_asked_for(name: str) -> None:
    """One problem for each."""
    given = {key: value for key, value in GIVEN.items() if key != name}
    with pytest.raises(CatalogueError) as caught:
        draft(trade.load(SMALL), "plain", "nine", given)
    assert [problem.message for problem in caught.value.problems] == [f"{name}: is missing"]


@pytest.mark.parametrize(
    ("family", "stem", "more", "code"),
    [
        ("plain", "one", {}, "X05"),
        ("plain", "Nine", {}, "F01"),
        ("plain", "x" * 36, {}, "F01"),
        ("../x", "nine", {}, "F01"),
        ("plain", "nine", {"boiler.mas": "5 g"}, "X03"),
        ("plain", "nine", {"boiler.mass": "5 mm"}, "Q04"),
        ("plain", "nine", {"years.from": "soon"}, "S05"),
        ("plain", "nine", {"years.from": "1988\nname: x"}, "S05"),
        ("plain", "nine", {"control.kind": "pids"}, "S04"),
        ("plain", "nine", {"name": "a\u0007"}, "R04"),
    ],
)
def test_what_cannot_be_right_is_refused(family: str, stem: str, more: dict[str, str], code: str) -> None:
    """With the same codes as in a file."""
    with pytest.raises(CatalogueError) as caught:
        draft(trade.load(SMALL), family, stem, {**GIVEN, **more})
    assert code in {problem.code for problem in caught.value.problems}


def test_the_first_variant_needs_no_catalogue() -> None:
    """Without a workshop around it, a draft brings its family file."""
    assert set(draft(None, "fresh", "nine", GIVEN).files) == {"machines/fresh/nine.yml", "machines/fresh/family.yml"}


def test_what_is_known_can_come_from_a_file(tmp_path: Path) -> None:
    """With dotted names or nested; a list is refused at its place."""
    file = tmp_path / "letter.yml"
    file.write_text(
        "name: Plain Nine\nboiler: {mass: 520 g}\nmains.voltage: 120 V~\nyears: {from: 1988}\n", encoding="utf-8"
    )
    assert given_from(file.read_bytes(), file.name) == {
        "name": "Plain Nine",
        "boiler.mass": "520 g",
        "mains.voltage": "120 V~",
        "years.from": "1988",
    }
    file.write_text("name: [a, b]\n", encoding="utf-8")
    with pytest.raises(CatalogueError, match=r"letter.yml:1:7: S03 name: got a list"):
        given_from(file.read_bytes(), file.name)


@pytest.mark.parametrize(
    ("out", "device", "stand_out", "carries"),
    [
        ("0 mm", "no", 0.0, "no"),
        ("0.0 mm ± 0.3 mm", None, 0.0, "no"),
        ("3.0 mm ± 0.3 mm", "no", 0.003, "no"),
        ("3.0 mm", "yes", 0.003, "yes"),
        ("0 mm", "yes", 0.0, "yes"),
        ("3.0 mm", None, 0.003, None),
        (None, "no", None, "no"),
    ],
)
def test_what_is_reported_of_the_wall_as_a_whole_is_written_again(
    workshop: Path, out: str | None, device: str | None, stand_out: float | None, carries: str | None
) -> None:
    """The family's own protrusions are not taken over; what nobody reported stays unknown, no device is made up."""
    given = {"protrusions.stand_out": out, "protrusions.carry_device": device}
    reported = {name: Reported(text, "by letter") for name, text in given.items() if text is not None}
    machine = lay_down(workshop, "plain", {**GIVEN, **reported}).machine("plain-nine")
    height, device_fact = machine.fact("protrusions.stand_out"), machine.fact("protrusions.carry_device")
    assert isinstance(height, Fact)
    assert isinstance(device_fact, Choice)
    assert (height.value if height.known else None) == stand_out
    assert (device_fact.word if device_fact.known else None) == carries
    assert height.evidence == "assumed"
