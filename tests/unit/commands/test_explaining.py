"""What a field is, for whoever fills it in: in words, with an example that the program reads, and what it moves."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidegen.assess.fields import fields
from guidegen.commands import main
from guidegen.record.fields import FieldPart
from guidegen.trade.field_walk import walk
from guidegen.trade.load import load
from guidegen.trade.paths import known_facts
from guidegen.trade.schema import KINDS
from guidegen.units import parse

ROOT = Path(__file__).parents[3]


@pytest.fixture(scope="module")
def known() -> dict[str, FieldPart]:
    """Every field of the demonstration by its name."""
    return {one.name: one for section in fields(load(ROOT)) for one in section.fields}


def explained(capsys: pytest.CaptureFixture[str], root: Path, *name: str) -> str:
    """What the command prints, its lines joined as they are read."""
    assert main(["--root", str(root), "explain", *name]) == 0
    return " ".join(capsys.readouterr().out.split())


def test_a_field_is_explained_with_all_that_its_filler_needs(capsys: pytest.CaptureFixture[str]) -> None:
    """What, how written, how measured and drawn where, an example, what depends on it, and what machines state."""
    text = explained(capsys, ROOT, "boiler.clearance")
    for words in (
        "Free room between the boiler's wall and the nearest thing round it",
        "a length, in mm, cm, m, in",
        "plausible 5 mm to 60 mm",
        "feeler or ruler, narrowest place",
        "From above, at the narrowest place",
        "fields.html#boiler.clearance",
        "There is room for the coil round the boiler. (content/kits/feed-preheater.yml:171)",
        "the self-check asks it (content/questions.yml:",
        "tamsin-mk1: 26 mm ± 1 mm, measured (machines/tamsin/mk1.yml:21)",
    ):
        assert words in text


def test_it_is_explained_in_any_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Without a workshop nothing of one is said."""
    text = explained(capsys, tmp_path, "boiler.clearance")
    assert "Free room between" in text
    assert "machines/tamsin" not in text
    assert "what depends" not in text


def test_a_name_with_fields_below_it_lists_them(capsys: pytest.CaptureFixture[str]) -> None:
    """A thing of a machine, an effect of a kit, and a kind of file."""
    assert "boiler.bolts The bolts that hold the boiler's two parts together. (9 below)" in explained(
        capsys, ROOT, "boiler"
    )
    assert "kit.effects.feed_coil.turns How many turns it has" in explained(capsys, ROOT, "kit.effects.feed_coil")
    assert "kit.effects.feed_coil" in explained(capsys, ROOT, "kit.effects")
    assert "offers (content/offers.yml)" in explained(capsys, ROOT, "offers")
    assert "boiler The boiler" in explained(capsys, ROOT, "machine")
    assert "procedure How a kit is fitted" in explained(capsys, ROOT)


def test_an_unknown_name_gets_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    """By its spelling, or by how it ends."""
    assert main(["--root", str(ROOT), "explain", "boiler.clearence"]) == 2
    assert "did you mean boiler.clearance?" in capsys.readouterr().err
    assert main(["--root", str(ROOT), "explain", "relief_branch"]) == 2
    assert "did you mean water_path.relief_branch?" in capsys.readouterr().err


def test_every_fact_and_every_field_is_there(known: dict[str, FieldPart]) -> None:
    """Those that requirements can name, and those of every model, each with a sentence of its own."""
    assert set(known_facts()) <= set(known)
    assert {one.name for kind in KINDS for one in walk(kind)} <= set(known)
    assert [name for name, one in known.items() if not one.says.rstrip("`").endswith((".", ")", "`.", ","))] == []


def test_an_example_of_a_quantity_is_plausible_itself(known: dict[str, FieldPart]) -> None:
    """It is read by the program, and lies between the ends that such machines have."""
    dimensions = {one.name: one.dimension for kind in KINDS for one in walk(kind) if one.dimension}
    tried = 0
    for name, dimension in dimensions.items():
        one = known[name]
        written = one.example.partition(": ")[2].removeprefix("{is: ").partition(", evidence")[0]
        value = parse(written, dimension)
        if one.plausible:
            low, high = (parse(end, dimension).value for end in one.plausible)
            assert low <= value.low <= value.high <= high, name
            tried += 1
    assert tried > 60


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("boiler.mass", "every computed figure"),
        ("boiler.diameter", "all that is computed of a coil"),
        ("boiler.bolts.circle", "bolts.key_circle"),
        ("kit.effects.feed_coil.holds", "every computed figure"),
        ("water_path.check_valve", "content/procedures/feed-preheater.yml:"),
    ],
)
def test_what_depends_on_a_field(known: dict[str, FieldPart], name: str, words: str) -> None:
    """Runs, sizes, computed names, and the steps whose condition asks it."""
    assert any(words in line for line in known[name].needed_by)


def test_what_depends_on_nothing_says_nothing(known: dict[str, FieldPart]) -> None:
    """As the words of a summary."""
    assert known["summary"].needed_by == ()


def test_what_is_said_elsewhere_leads_there(known: dict[str, FieldPart]) -> None:
    """The way back has phases like the way there."""
    assert "Its parts are those of `procedure.phases`." in known["procedure.restore.phases"].says
