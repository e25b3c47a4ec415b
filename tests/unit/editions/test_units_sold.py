"""Units sold stay private, and those whose owners must be written to are found."""

from __future__ import annotations

import datetime
import shutil
from pathlib import Path

import pikepdf
import pytest
import segno

from guidegen.editions import commands, units_sold
from guidegen.editions.labels import address, label_data
from guidegen.editions.units_sold import Unit
from guidegen.problems import RefusedProblem, UsageProblem
from guidegen.site.pages.paper.frame import code
from guidegen.site.pages.qr import qr
from tests.unit.editions.conftest import Publish, git
from tests.unit.editions.small import record

pytestmark = pytest.mark.slow

CUSTOMER = "Planted Customername"


def unit(serial: str, edition: str = "1", variant: str = "plain-one", revision: str = "A") -> Unit:
    """A unit that was sold."""
    return Unit(
        serial=serial,
        variant=variant,
        kit="collar",
        revision=revision,
        edition=edition,
        tube_batch="T-7",
        pressure_test="16 bar, 10 min, no drop",
        facts={"inlet": "straight"},
        customer=CUSTOMER,
    )


@pytest.fixture
def sold(root: Path, publish: Publish) -> Path:
    """Three editions; the second changed a torque on one variant; units by each edition."""
    new = record("plain-one")
    new["torques"][0]["nominal_n_m"] = 4.0
    publish("1")
    publish("2", "1", [new, record("plain-two")], note="Tighten to the new torque.")
    publish("3", "2", [new, record("plain-two")])
    for number, (edition, variant) in enumerate(
        [("1", "plain-one"), ("1", "plain-two"), ("2", "plain-one"), ("3", "plain-one")]
    ):
        commands.add_unit(root, unit(f"K-{number}", edition, variant))
    return root


def test_those_are_affected_who_fitted_before_by_a_guide_that_changed(sold: Path) -> None:
    """Not the other variant, and not who had the new torque already."""
    assert list(commands.affected(sold, "1", "2")) == [
        "K-0  plain-one/collar, edition 1: 4 bolts: 5 ± 0.5 N·m, M5, dry → 4 ± 0.5 N·m, M5, dry"
    ]
    assert [row.split()[0] for row in commands.affected(sold, "1", "3")] == ["K-0"]
    assert list(commands.affected(sold, "2", "3")) == []


def test_those_are_affected_whose_guide_was_withdrawn(sold: Path) -> None:
    """Whatever else changed."""
    commands.withdraw(sold, "2", "plain-one/collar", "It leaks.", datetime.date(2025, 5, 1))
    assert list(commands.affected(sold, "1", "3"))[1] == (
        "K-2  plain-one/collar, edition 2: withdrawn on 2025-05-01: It leaks."
    )


def test_those_are_affected_who_fitted_by_the_newest_edition_when_it_is_withdrawn(sold: Path) -> None:
    """By itself, and at the end of a span; the withdrawal itself names them, and where else to look."""
    message = commands.withdraw(sold, "3", "plain-one/collar", "It leaks.", datetime.date(2025, 5, 1))
    assert "write to the owners of: K-3" in message
    assert "  1: plain-one/collar\n  2: plain-one/collar\n" in message
    row = "K-3  plain-one/collar, edition 3: withdrawn on 2025-05-01: It leaks."
    assert list(commands.affected(sold, "3", "3")) == [row]
    assert [text.split()[0] for text in commands.affected(sold, "1", "3")] == ["K-0", "K-3"]
    assert CUSTOMER not in message


def test_the_order_of_editions_matters(sold: Path) -> None:
    """Backwards nobody is affected; it is a slip."""
    with pytest.raises(UsageProblem, match="3 does not come before 1"):
        list(commands.affected(sold, "3", "1"))


@pytest.mark.parametrize(
    ("wrong", "refusal", "message"),
    [
        (unit("K-0"), RefusedProblem, "a serial number is given once"),
        (unit("../K"), UsageProblem, "is no serial number"),
        (unit("K-9", edition="9"), UsageProblem, "there is no edition 9"),
        (unit("K-9", variant="plain-nine"), UsageProblem, "has no guide for plain-nine"),
        (unit("K-9", revision="B"), RefusedProblem, "is for revision A of collar, not for B"),
    ],
)
def test_a_unit_that_cannot_be_is_refused(sold: Path, wrong: Unit, refusal: type[Exception], message: str) -> None:
    """Before anything is written."""
    before = sorted((sold / "units").iterdir())
    with pytest.raises(refusal, match=message):
        commands.add_unit(sold, wrong)
    assert sorted((sold / "units").iterdir()) == before


def test_units_are_refused_where_git_would_take_them_in(sold: Path) -> None:
    """Private means: not in the history either."""
    (sold / ".gitignore").write_text("/site/\n", encoding="utf-8")
    with pytest.raises(RefusedProblem, match=r"echo '/units/' >> \.gitignore"):
        commands.add_unit(sold, unit("K-9"))


def test_a_customers_name_is_nowhere_but_in_the_units_own_file(sold: Path, tmp_path: Path) -> None:
    """Not in the site, the content, any other JSON, the label, the history, nor in what is delivered."""
    pytest.importorskip("segno")
    commands.label_unit(sold, "K-0")
    commands.withdraw(sold, "1", None, "It leaks.", datetime.date(2025, 5, 1))
    list(commands.affected(sold, "1", "3", DAY))
    git(sold, "add", "--all")
    git(sold, "commit", "--quiet", "--message", "All")
    commands.deliver_to(sold, "published", None)
    commands.deliver_to(sold, "published", tmp_path / "out")
    named = [
        path.relative_to(sold).as_posix()
        for path in sorted(sold.rglob("*"))
        if path.is_file() and CUSTOMER.encode() in path.read_bytes()
    ]
    written = [f"units/letters/K-{number}-3-withdrawn.txt" for number in (0, 1)]
    assert named == [*(f"units/K-{number}.json" for number in range(4)), *written]
    assert not [path for path in (tmp_path / "out").rglob("*") if path.is_file() and CUSTOMER in path.read_text()]
    for branch in ("HEAD", "published"):
        assert CUSTOMER not in git(sold, "log", "--patch", branch)
    shutil.rmtree(tmp_path / "out")


def test_a_label_says_where_the_guide_is(sold: Path) -> None:
    """In words and as a code, with the address that stays; label and slip are a page each."""
    leads_to = "https://guides.example/k/collar-A/plain-one/"
    assert address(unit("K-0"), "https://guides.example/") == leads_to
    commands.label_unit(sold, "K-0")
    found = pikepdf.open(sold / "units" / "labels" / "K-0.pdf")
    assert len(found.pages) == 2
    assert str(found.Root.Lang) == "en"
    kept = units_sold.read_one(units_sold.path_of(sold, "K-0"))
    said = label_data(kept, "A collar", leads_to, "A Workshop", "post@workshop.example", "a4")
    assert ["Guide", f"edition 1: {leads_to}"] in said["rows"]
    assert ["Pressure test", "16 bar, 10 min, no drop"] in said["rows"]
    assert said["code"].startswith("<svg")


def test_a_code_survives_soil() -> None:
    """Level Q of ISO/IEC 18004 restores about a quarter; a quiet zone of four modules stands around it."""
    text = "https://guides.example/k/collar-A/plain-one/"
    made = segno.make_qr(text, error="q")
    assert made.error == "Q"
    width, _ = made.symbol_size(border=4)
    assert f'width="{width}"' in code(text)
    assert f'width="{4 * width}"' in str(qr(text, "Address"))


def test_what_a_killed_command_left_half_written_goes(root: Path, publish: Publish) -> None:
    """It holds a customer's name; the next unit, or the next withdrawal, takes it away."""
    publish("1")
    commands.add_unit(root, unit("K-1", "1"))
    rest = root / "units" / ".abc.part"
    rest.write_bytes(b'{"customer": "A. N.')
    commands.add_unit(root, unit("K-2", "1"))
    assert not rest.exists()
    rest.write_bytes(b"{")
    commands.withdraw(root, "1", "plain-one/collar", "It may leak.", None)
    assert not rest.exists()


# --- letters ----------------------------------------------------------------------------------------------

DAY = datetime.date(2025, 6, 1)


def test_two_people_of_one_name_get_a_letter_each(sold: Path) -> None:
    """What the one bought is not told to the other."""
    commands.add_unit(sold, unit("K-9"))
    printed = list(commands.affected(sold, "1", "2", DAY))
    assert printed[2:4] == ["wrote units/letters/K-0-2.txt", "wrote units/letters/K-9-2.txt"]
    assert "K-9" not in (sold / "units" / "letters" / "K-0-2.txt").read_text(encoding="utf-8")


def test_an_owner_gets_one_letter_with_what_concerns_him_alone(sold: Path) -> None:
    """Where the maker knows that it is one person. What changed in his guide, what the notice says to do and where the
    guide is; kept for nobody else to read.
    """
    commands.add_unit(sold, unit("K-9"))
    printed = list(commands.affected(sold, "1", "2", DAY, together=True))
    assert printed[2:] == [
        "wrote units/letters/K-0-2.txt, for K-0 and K-9: is it one person?",
        "letters to send: 1; note what becomes of each with `guidegen unit note SERIAL 2 STATE`",
    ]
    path = sold / "units" / "letters" / "K-0-2.txt"
    said = path.read_text(encoding="utf-8")
    assert f"To: {CUSTOMER}\n" in said
    assert said.count("- 4 bolts: 5 ± 0.5 N·m, M5, dry → 4 ± 0.5 N·m, M5, dry\n") == 2
    assert (
        "What to do: Tighten to the new torque.\nWhat holds today: https://guides.example/k/collar-A/plain-one/" in said
    )
    assert "Serial number: K-0, K-9.\n" in said
    assert "plain-two" not in said
    assert {one.stat().st_mode & 0o777 for one in path.parent.iterdir()} == {0o600}
    assert path.parent.stat().st_mode & 0o777 == 0o700


def test_what_became_of_a_letter_is_kept_and_nobody_is_written_to_twice(sold: Path) -> None:
    """Unless the guide is withdrawn later, which is worse than what he was told."""
    list(commands.affected(sold, "1", "2", DAY))
    assert list(commands.affected(sold, "1", "2", DAY))[1].startswith("letters to send: 0")
    week = datetime.timedelta(days=7)
    commands.note_letter(sold, "K-0", "2", "reminded", DAY + week)
    commands.note_letter(sold, "K-0", "2", "answered", DAY + 2 * week)
    told = commands.note_letter(sold, "K-0", "2", "done", DAY + 3 * week)
    states = "written 2025-06-01, reminded 2025-06-08, answered 2025-06-15, done 2025-06-22"
    assert told == f"K-0, about edition 2: {states}"
    assert next(iter(commands.affected(sold, "1", "2"))).endswith(f"  [{states}]")
    with pytest.raises(UsageProblem, match="is before 2025-06-01, the day of the letter"):
        commands.note_letter(sold, "K-0", "2", "done", DAY - week)
    with pytest.raises(UsageProblem, match="no letter about edition 2 was written to the owner of K-1"):
        commands.note_letter(sold, "K-1", "2", "done", DAY)
    commands.withdraw(sold, "1", "plain-one/collar", "It leaks.", datetime.date(2025, 5, 1))
    assert "wrote units/letters/K-0-2-withdrawn.txt" in list(commands.affected(sold, "1", "2", DAY))
