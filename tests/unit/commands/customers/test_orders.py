"""`guidegen fit --read` and `new variant --from`: an order text that somebody sent."""

from __future__ import annotations

import io
import json
from pathlib import Path
from typing import Any

import pytest

from guidegen import trade
from guidegen.assess import verdict
from guidegen.commands import orders
from guidegen.judge.fit.order_words import InWords
from guidegen.problems import CatalogueError
from tests.unit.commands.customers.order_texts import (
    ANSWERS,
    EDITION,
    GUIDES,
    KNOWN,
    LETTER,
    PROJECTION,
    REPOSITORY,
    Run,
    order,
    written,
)

pytestmark = pytest.mark.slow


@pytest.mark.parametrize(("keys", "names"), [(True, f"Edition: {EDITION}, rules "), (False, f" / {EDITION} / ")])
@pytest.mark.parametrize("pair", GUIDES, ids="/".join)
def test_the_text_of_every_guide_is_read_back(
    run: Run, tmp_path: Path, capsys: pytest.CaptureFixture[str], pair: tuple[str, str], keys: bool, names: str
) -> None:
    """In words, and by keys as the edition's own pages wrote it. It names its edition and is sound by that edition's
    rules; what today's questions add is reported as such."""
    file = tmp_path / "order.txt"
    file.write_text(LETTER.format(order(*pair, keys=keys)), encoding="utf-8")
    assert names in file.read_text(encoding="utf-8")
    code = run("fit", "--read", str(file))
    printed = capsys.readouterr()
    assert f"so say the rules of edition {EDITION}, too; the text is unchanged\n" in printed.out
    problems = [line for line in printed.err.splitlines() if line.startswith(str(file))]
    assert code == (1 if problems else 0)
    assert all(": T09 " in line for line in problems)


def test_it_comes_from_the_standard_input_too(
    run: Run, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """As from a mail program; the place of a mistake is then in the standard input."""
    text = written(today("bracken-c", "feed-preheater"), ANSWERS)
    line = text.split("\n").index("Outcome: fits with conditions") + 1
    for edited, code in ((text, 0), (text.replace("sticks out: 31 mm", "sticks out: 19 mm"), 1)):
        monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(edited.encode())))
        assert run("fit", "--read", "-", "--json") == code
    printed = capsys.readouterr()
    assert json.loads(printed.out)["remedies"] == ["kit:banjo-feed"]
    assert printed.err.startswith(
        f"standard-input:{line}:1: T08 the answers give “fits”, the text says “fits with conditions”"
    )


@pytest.mark.parametrize(
    ("keys", "old", "new", "says"),
    [
        (True, "2025.3", "2025.4", "order.txt:4:1: T04 there is no edition 2025.4\n  fix: did you mean 2025.3?"),
        (
            True,
            "Machine: tamsin-mk1",
            "Machine: tamsin-mk9",
            "order.txt:2:1: T05 edition 2025.3 has no guide tamsin-mk9",
        ),
        (
            True,
            "Kit: feed-preheater",
            "Kit: feet-preheater",
            "order.txt:3:1: T05 edition 2025.3 has no guide tamsin-mk1",
        ),
        (True, "2025.3, rules ", "next, rules 0", "order.txt:1:1: T01"),
        (False, "2025.3", "2025.4", "order.txt:4:46: T04 there is no edition 2025.4\n  fix: did you mean 2025.3?"),
        (False, "tamsin-mk1", "tamsin-mk9", "order.txt:4:12: T05 edition 2025.3 has no guide tamsin-mk9"),
        (False, "/ feed", "/ feet", "order.txt:4:25: T05 edition 2025.3 has no guide tamsin-mk1/feet"),
        (False, "2025.3 / ", "next / 0", "order.txt:1:1: T01"),
    ],
)
def test_a_foreign_text_is_reported_with_its_place(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str],
    keys: bool, old: str, new: str, says: str,
) -> None:  # fmt: skip
    """Exit code 1, and the nearest edition or guide where there is one."""
    text = order("tamsin-mk1", "feed-preheater", ANSWERS, keys=keys)
    assert old in text
    monkeypatch.chdir(tmp_path)
    Path("order.txt").write_text(text.replace(old, new), encoding="utf-8")
    assert run("fit", "--read", "order.txt") == 1
    assert says in capsys.readouterr().err


@pytest.mark.parametrize(
    ("data", "says"),
    [(b"Edition: \xff", "a.txt:1:10: R01"), (b"x" * 1_000_001, "a.txt:1:1: R12"), (None, "a.txt:1:1: F06")],
)
def test_what_is_no_text_is_reported(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str],
    data: bytes | None, says: str,
) -> None:  # fmt: skip
    """Bytes of something else, far too many of them, or no file at all."""
    monkeypatch.chdir(tmp_path)
    if data is not None:
        Path("a.txt").write_bytes(data)
    assert run("fit", "--read", "a.txt") == 1
    assert capsys.readouterr().err.startswith(says)


def edit(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert text.count(old) == 1
    path.write_text(text.replace(old, new), encoding="utf-8")


def test_what_changed_since_is_reported_and_stops_the_order(
    run: Run, workshop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The wall was measured again and is lower than the coil: the order was sound, and is not carried out."""
    machine = workshop / "machines/tamsin/mk1.yml"
    edit(machine, "straight_wall: {is: 43 mm", "straight_wall: {is: 23 mm")
    edit(machine, "band: {from: 26 mm ± 0.5 mm, to: 40 mm", "band: {from: 6 mm ± 0.5 mm, to: 20 mm")
    (workshop / "order.txt").write_text(order("tamsin-mk1", "feed-preheater", ANSWERS), encoding="utf-8")
    assert run("fit", "--read", str(workshop / "order.txt"), root=workshop) == 1
    printed = capsys.readouterr()
    assert "outcome: fits with conditions then, does not fit today\n" in printed.out
    assert " height of the straight wall 23.00 ± 0.50\u202fmm, at least" in printed.out
    assert "to order, then: 1 × ring gauge" in printed.out
    assert "T09 by today's rules the answers give “does not fit”" in printed.err


def test_another_wording_is_no_change(monkeypatch: pytest.MonkeyPatch) -> None:
    """The program of today may say the same in other words, and a number with another zero at its end."""
    text = order("bracken-b", "feed-preheater")
    received = orders.receive(REPOSITORY, KNOWN, text, "order.txt")
    assert received.now is not None
    assert not [line for line in orders.changes(received) if line.startswith("reason")]
    wall = next(one for one in received.now["conditions"] if one["id"] == "wall-tall-enough")
    assert wall["detail"] is not None
    monkeypatch.setitem(wall, "detail", wall["detail"].replace("24.00", "23.00"))
    assert [line for line in orders.changes(received) if line.startswith(f"reason, today: {wall['says']}")]


def test_another_list_of_parts_is_reported_and_stops_nothing(
    run: Run, workshop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Another revision and another seal, in a workshop that asks no more than it asked then."""
    room = "clearance: {}30 mm ± 1 mm{}"
    measured = room.format("{is: ", ", evidence: measured, source: bench-20}")
    edit(workshop / "machines/bracken/family.yml", room.format("", ""), measured)
    questions = workshop / "content/questions.yml"
    asked, remedies = questions.read_text(encoding="utf-8").split("\nremedies:")
    kept = [one for one in asked.split("\n  - fact: ") if "\n    holds: " not in one]
    questions.write_text("\n  - fact: ".join(kept) + "\nremedies:" + remedies, encoding="utf-8")
    kit = workshop / "content/kits/feed-preheater.yml"
    for end in ("female", "male"):
        seal = f"id: {end}-seal, name: flat seal, size: 10 × 14 × {{}} mm, material: PTFE"
        edit(kit, seal.format("1.5"), seal.format("2"))
    edit(kit, "revision: B", "revision: C")
    (workshop / "order.txt").write_text(order("bracken-c", "feed-preheater", ANSWERS), encoding="utf-8")
    assert run("fit", "--read", str(workshop / "order.txt"), root=workshop) == 0
    printed = capsys.readouterr().out
    assert "  kit: revision B then, C today\n" in printed
    assert "  to order, then: seal: 1 × flat seal, 10 × 14 × 1.5 mm, PTFE\n" in printed
    assert "  to order, today: seal: 1 × flat seal, 10 × 14 × 2 mm, PTFE\n" in printed


def today(variant: str, kit: str) -> Any:
    """Rules and words of today."""
    return verdict.checked(KNOWN, KNOWN.machine(variant), KNOWN.kit(kit), "next").payload


def test_an_order_carries_what_only_the_owner_knows() -> None:
    """Socket, repairs, water and safety devices are in the text, and each of them is held against the rules."""
    rules = today("tamsin-mk1", "feed-preheater")
    text, words = written(rules, ANSWERS), InWords(rules)
    received = orders.receive(REPOSITORY, KNOWN, text, "order.txt")
    assert received.problems == ()
    said = {name: value for name, value in received.order.answers.items() if name.startswith("unit.")}
    assert said == {
        "unit.repairs": "nothing", "unit.water": "soft", "unit.descaling": "mild", "unit.socket_earth": "tested",
        "unit.residual_current_device": "trips", "unit.thermal_devices": "as-made", "unit.relief_valve": "as-made",
        "unit.check_valve": "as-made",
    }  # fmt: skip
    assert received.order.answers["mains.connection"] == "corded"
    for name, bad in (("unit.socket_earth", "none"), ("unit.thermal_devices", "bridged"), ("unit.repairs", "other-kit"),
                      ("unit.water", "not-sure"), ("mains.connection", "hard-wired")):  # fmt: skip
        good, other = (words.said(name, one) for one in (received.order.answers[name], bad))
        edited = text.replace(f"{words.titles[name]}: {good}", f"{words.titles[name]}: {other}")
        assert edited != text
        with pytest.raises(CatalogueError, match=r"T07|T08"):
            orders.receive(REPOSITORY, KNOWN, edited, "order.txt")
    assert not set(said) & set(orders.reported(received, KNOWN))


def test_an_order_from_before_a_question_is_not_carried_out() -> None:
    """The published edition did not ask for the socket: its text is sound, and today it is asked."""
    received = orders.receive(REPOSITORY, KNOWN, order("tamsin-mk1", "feed-preheater", ANSWERS), "order.txt")
    assert received.sound is not None
    assert received.sound.problems == ()
    (problem,) = received.problems
    assert (problem.code, problem.message) == ("T09", "today “earlier repairs and other kits” must be answered, too")


def test_a_size_that_no_such_machine_has_is_asked_again() -> None:
    """An older page took it where somebody insisted; the range is named."""
    answers = {**ANSWERS, "water_path.inlet.projection": "300 mm"}
    received = orders.receive(REPOSITORY, KNOWN, order("tamsin-mk1", "feed-preheater", answers), "order.txt")
    (problem,) = received.problems
    assert problem.code == "T09"
    assert "300 mm is not plausible: such machines have 5 mm to 60 mm" in problem.message


def test_a_draft_that_changed_is_held_against_today_with_a_warning(tmp_path: Path) -> None:
    """There is no edition to look it up in."""
    payload = today("tamsin-mk1", "feed-preheater")
    text = written(payload, ANSWERS)
    assert orders.receive(REPOSITORY, KNOWN, text, "order.txt").warnings == ()
    other = orders.receive(REPOSITORY, KNOWN, text.replace(payload["pair"]["rules"], "01234567"), "order.txt")
    assert [one.severity for one in other.warnings] == ["warning"]
    assert (other.sound, other.problems) == (None, ())


# --- a variant that somebody reported ----------------------------------------------------------------


def test_an_order_begins_a_field_variant(run: Run, workshop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """It passes the check, says by whose word what is reported otherwise than it was measured on the variant that it is
    based on, keeps the rest of that, and holds nothing else of the letter."""
    text = order("tamsin-mk1", "feed-preheater", {**ANSWERS, PROJECTION: "36 mm"})
    (workshop / "order.txt").write_text(LETTER.format(text), encoding="utf-8")
    assert run("new", "variant", "--from", str(workshop / "order.txt"), root=workshop) == 0
    assert capsys.readouterr().out.startswith("wrote machines/tamsin/mk1-reported.yml\nwhat decides whether a kit fits")
    known = trade.load(workshop)
    machine = known.machine("tamsin-mk1-reported")
    fact: Any = machine.fact("water_path.inlet.projection")
    assert (machine.status, fact.evidence, fact.source) == ("reported", "assumed", None)
    assert (fact.value, fact.plus_minus) == pytest.approx((0.036, 0.001))
    assert fact.note == f"an owner's answer in the self-check of edition {EDITION}"
    wall = machine.fact("boiler.straight_wall")
    assert wall is not None
    assert wall == known.machine("tamsin-mk1").fact("boiler.straight_wall")
    written = "".join(path.read_text(encoding="utf-8") for name in ("machines", "content") for path in
                      (workshop / name).rglob("*.yml"))  # fmt: skip
    for word in ("Longlast", "Somewhere", "Dear workshop"):
        assert word not in written


def test_name_file_and_facts_can_still_be_given(run: Run, workshop: Path) -> None:
    """What the maker gives beside the order counts before it."""
    (workshop / "order.txt").write_text(order("tamsin-mk1", "feed-preheater", ANSWERS), encoding="utf-8")
    words = ("--from", str(workshop / "order.txt"), "--name", "Tamsin of spring", "--set", "years.from=1979")
    assert run("new", "variant", "spring", *words, root=workshop) == 0
    machine = trade.load(workshop).machine("tamsin-spring")
    assert (machine.name, machine.years.from_) == ("Tamsin of spring", 1979)


def test_an_order_that_was_edited_begins_nothing(run: Run, workshop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The same place and fix as where it is read; nothing is written."""
    text = order("tamsin-mk1", "feed-preheater", ANSWERS).replace("31 mm", "19 mm")
    (workshop / "order.txt").write_text(text, encoding="utf-8")
    assert run("new", "variant", "--from", str(workshop / "order.txt"), root=workshop) == 1
    assert ": T08 " in capsys.readouterr().err
    assert not (workshop / "machines/tamsin/mk1-reported.yml").exists()
