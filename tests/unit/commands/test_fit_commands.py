"""`guidegen fit`, `answer` and `new variant --from ORDER` on the demonstration: what is said, with which exit code."""

from __future__ import annotations

import io
import json
import re
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from guidegen import trade
from guidegen.assess import verdict
from guidegen.commands import main, orders
from guidegen.editions import kept
from guidegen.site.pages.replies import TOPICS
from guidegen.trade import Catalogue
from tests.fixtures.order_texts import written

REPOSITORY = Path(__file__).parents[3]
EDITION = "2025.3"
KNOWN = trade.load(REPOSITORY)
PAIRS = [(variant, kit) for variant in KNOWN.machines for kit in KNOWN.kits]
GUIDES = {(one["variant"]["id"], one["kit"]["id"]): one for one in kept.records(REPOSITORY, EDITION)}
PROJECTION = "water_path.inlet.projection"
ANSWERS = {"water_path.inlet.fitting": "straight", PROJECTION: "31 mm"}
LETTER = "Dear workshop,\n\n{}\nMany thanks, Jo Longlast of 1 Somewhere Lane\n"

Run = Callable[..., int]


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch) -> Run:
    """Run one command in the demonstration, whose catalogue is read once."""
    loaded = trade.load

    def load(root: Path) -> Catalogue:
        return KNOWN if root == REPOSITORY else loaded(root)

    read = kept.records

    def records(root: Path, name: str) -> tuple[Any, ...]:
        return tuple(GUIDES.values()) if (root, name) == (REPOSITORY, EDITION) else read(root, name)

    monkeypatch.setattr(trade, "load", load)
    monkeypatch.setattr(kept, "records", records)
    return lambda *words, root=REPOSITORY: main(["--root", str(root), *words])


@pytest.fixture
def workshop(tmp_path: Path) -> Path:
    """A copy of the demonstration's data, to write into."""
    for name in ("machines", "content"):
        shutil.copytree(REPOSITORY / name, tmp_path / "workshop" / name)
    return tmp_path / "workshop"


def order(variant: str, kit: str, given: dict[str, str] | None = None, choice: int = 0) -> str:
    """The text that the page of the edition writes; where nothing is given, the first answer to every question."""
    return written(GUIDES[variant, kit]["self_check"], given or {}, choice)


# --- fit ---------------------------------------------------------------------------------------------


def test_the_oldest_tamsin_fits_with_conditions(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    """The web stands out by 9 mm and 0.5 mm may, the fitting by 31 mm and 20 mm may: both are in the YAML."""
    assert run("fit", "tamsin-mk1", "feed-preheater") == 0
    said = capsys.readouterr().out
    assert said.startswith("Tamsin Mark 1 with Feed Preheater, revision B\nfits with conditions, if the machine is as")
    assert re.search(r"at most 0\.50*\smm [a-z]+: too much by 8\.50*\smm", said)
    assert re.search(r"at most 20(\.0)?\smm [a-z]+: too much by 11(\.0)?\smm", said)
    exchange, trim = (line for line in said.splitlines() if line.startswith(("  1. ", "  2. ")))
    assert "trim what stands out" in trim.lower()
    assert "cuts something that does not grow back" in trim
    assert "exchange boiler" in exchange.lower()
    assert "cuts" not in exchange
    assert "    seal: 1 × seal above the banjo, 10 × 14 × 1.5 mm, copper" in said
    assert "--answer water_path.inlet.fitting=…" in said


def test_answers_are_told_with_the_tolerance_of_their_question(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    """20 mm ± 1 mm is too close to a limit of 20 mm to tell; 21 mm ± 1 mm as well, 22 mm is surely too much."""
    said = {}
    for given in ("19", "20", "21", "22"):
        words = ("--answer", "water_path.inlet.fitting=straight", "--answer", f"water_path.inlet.projection={given} mm")
        assert run("fit", "bracken-a", "feed-preheater", *words, "--json") == 0
        said[given] = json.loads(capsys.readouterr().out)
    assert [one["outcome"] for one in said.values()] == [
        "fits", "cannot-tell-yet", "cannot-tell-yet", "fits-with-conditions",
    ]  # fmt: skip
    assert said["21"]["reasons"][0]["numbers"] == [
        "how far the inlet fitting stands out: 21 mm ± 1 mm. "
        "At most 20 mm is allowed: too close to tell, measure better."
    ]
    assert said["21"]["to_order"] == ["Nothing to order on this outcome."]
    assert said["22"]["remedies"][0]["remedies"] == ["kit:banjo-feed"]
    assert all(one["finished"] for one in said.values())


def test_what_would_decide_is_told(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    """ "Not sure" everywhere: the cheapest thing to find out."""
    machine, kit = KNOWN.machine("tamsin-mk1-120"), KNOWN.kit("feed-preheater")
    asked = [one["fact"] for one in verdict.checked(KNOWN, machine, kit, "next").payload["rules"]["facts"]]
    words = [word for name in asked for word in ("--answer", f"{name}=not-sure")]
    assert run("fit", "tamsin-mk1-120", "feed-preheater", *words) == 0
    said = capsys.readouterr().out
    assert "\ncannot tell yet, on these answers" in said
    assert "what would decide, the best start first:\n  " in said


@pytest.mark.parametrize("pair", PAIRS, ids="/".join)
def test_without_answers_it_says_what_the_guide_says(
    run: Run, capsys: pytest.CaptureFixture[str], pair: tuple[str, str]
) -> None:
    """The same outcome and the same requirements that are not met, with the same numbers, on every pair."""
    variant, kit = pair
    assert run("fit", variant, kit, "--json") == 0
    said = json.loads(capsys.readouterr().out)
    fit = verdict.fit_part(verdict.checked(KNOWN, KNOWN.machine(variant), KNOWN.kit(kit), "next"))
    assert said["outcome"] == fit.outcome
    told = {one["id"]: one["numbers"] for one in said["reasons"] if "/" not in one["id"]}
    assert told.keys() <= {one.id for one in fit.reasons if one.met is not True}
    for one in fit.reasons:
        if one.met is False:
            assert told[one.id] == [one.detail]


COIL = ("tamsin-mk1", "feed-preheater", "--answer")
USAGE = [
    ((*COIL, "water_path.inlet.fiting=straight"), "write water_path.inlet.fitting"),
    ((*COIL, "boiler.material=brass"), "the variant's data settle it"),
    (("bracken-b", "feed-preheater", "--answer", "boiler.material=brass"), "nothing is asked here"),
    ((*COIL, "water_path.inlet.projection=31"), "write it like 32 mm or 1.28 in"),
    ((*COIL, "water_path.inlet.projection=3.14 mm"), "is finer than this is read"),
    ((*COIL, "water_path.inlet.fitting=banana"), "write straight, banjo, something-else, not-sure or photo"),
    ((*COIL, "water_path.inlet.fitting"), "wants FACT=VALUE"),
    ((*COIL, "water_path.inlet.fitting=banjo", "--answer", "water_path.inlet.fitting=banjo"), "answered twice"),
    (("tamsin-mk1",), "fit wants VARIANT and KIT, or --read ORDER"),
    (("tamsin-mk1", "feed-preheater", "--read", "order.txt"), "give it alone"),
]


@pytest.mark.parametrize(("words", "says"), USAGE)
def test_wrong_usage_names_the_way_out(
    run: Run, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], says: str
) -> None:
    """Exit code 2, one sentence."""
    assert run("fit", *words) == 2
    said = capsys.readouterr().err
    assert says in said
    assert said.count("\n") == 1


# --- an order that was received ----------------------------------------------------------------------


@pytest.mark.parametrize("pair", GUIDES, ids="/".join)
def test_the_text_of_every_guide_is_read_back(
    run: Run, tmp_path: Path, capsys: pytest.CaptureFixture[str], pair: tuple[str, str]
) -> None:
    """It names its edition and is sound by that edition's rules; what the questions of today add is told as such."""
    file = tmp_path / "order.txt"
    file.write_text(LETTER.format(order(*pair)), encoding="utf-8")
    assert f"Edition: {EDITION}, rules " in file.read_text(encoding="utf-8")
    code = run("fit", "--read", str(file))
    said = capsys.readouterr()
    assert f"so say the rules of edition {EDITION}, too; the text is unchanged\n" in said.out
    told = [line for line in said.err.splitlines() if line.startswith(str(file))]
    assert code == (1 if told else 0)
    assert all(": T09 " in line for line in told)


def test_it_comes_from_the_standard_input_too(
    run: Run, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """As from a mail program; the place of a mistake is then in the standard input."""
    text = order("bracken-c", "feed-preheater", ANSWERS)
    for edited, code in ((text, 0), (text.replace("31 mm", "19 mm"), 1)):
        monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(edited.encode())))
        assert run("fit", "--read", "-", "--json") == code
    said = capsys.readouterr()
    assert json.loads(said.out)["remedies"] == ["kit:banjo-feed"]
    assert said.err.startswith("standard-input:10:1: T08 the answers give “fits”, the text says “fits with conditions”")


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("2025.3", "2025.4", "order.txt:4:1: T04 there is no edition 2025.4\n  fix: did you mean 2025.3?"),
        ("Machine: tamsin-mk1", "Machine: tamsin-mk9", "order.txt:2:1: T05 edition 2025.3 has no guide tamsin-mk9"),
        ("Kit: feed-preheater", "Kit: feet-preheater", "order.txt:3:1: T05 edition 2025.3 has no guide tamsin-mk1"),
        ("2025.3, rules ", "next, rules 0", "order.txt:1:1: T01"),
    ],
)
def test_a_foreign_text_is_told_with_its_place(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str],
    old: str, new: str, says: str,
) -> None:  # fmt: skip
    """Exit code 1, and the nearest edition or guide where there is one."""
    text = order("tamsin-mk1", "feed-preheater", ANSWERS)
    assert old in text
    monkeypatch.chdir(tmp_path)
    Path("order.txt").write_text(text.replace(old, new), encoding="utf-8")
    assert run("fit", "--read", "order.txt") == 1
    assert says in capsys.readouterr().err


@pytest.mark.parametrize(
    ("data", "says"),
    [(b"Edition: \xff", "a.txt:1:10: R01"), (b"x" * 1_000_001, "a.txt:1:1: R12"), (None, "a.txt:1:1: F06")],
)
def test_what_is_no_text_is_told(
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


def test_what_changed_since_is_told_and_stops_the_order(
    run: Run, workshop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The wall was measured again and is lower than the coil: the order was sound, and is not carried out."""
    machine = workshop / "machines/tamsin/mk1.yml"
    edit(machine, "straight_wall: {is: 43 mm", "straight_wall: {is: 23 mm")
    edit(machine, "band: {from: 26 mm ± 0.5 mm, to: 40 mm", "band: {from: 6 mm ± 0.5 mm, to: 20 mm")
    (workshop / "order.txt").write_text(order("tamsin-mk1", "feed-preheater", ANSWERS), encoding="utf-8")
    assert run("fit", "--read", str(workshop / "order.txt"), root=workshop) == 1
    said = capsys.readouterr()
    assert "outcome: fits with conditions then, does not fit today\n" in said.out
    assert "  reason, today: wall-tall-enough height of the straight wall 23.00 ± 0.50\u202fmm, at least" in said.out
    assert "to order, then: 1 × ring gauge" in said.out
    assert "T09 by today's rules the answers give “does not fit”" in said.err


def test_another_wording_is_no_change(monkeypatch: pytest.MonkeyPatch) -> None:
    """The program of today may say the same in other words, and a number with another zero at its end."""
    text = order("bracken-b", "feed-preheater")
    received = orders.receive(REPOSITORY, KNOWN, text, "order.txt")
    assert received.now is not None
    assert not [line for line in orders.changes(received) if line.startswith("reason")]
    wall = next(one for one in received.now["conditions"] if one["id"] == "wall-tall-enough")
    assert wall["detail"] is not None
    monkeypatch.setitem(wall, "detail", wall["detail"].replace("24.00", "23.00"))
    assert [line for line in orders.changes(received) if line.startswith("reason, today: wall-tall-enough")]


def test_another_list_of_parts_is_told_and_stops_nothing(
    run: Run, workshop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Another revision and another seal."""
    kit = workshop / "content/kits/feed-preheater.yml"
    edit(kit, "size: 10 × 14 × 1.5 mm, material: PTFE", "size: 10 × 14 × 2 mm, material: PTFE")
    edit(kit, "revision: B", "revision: C")
    (workshop / "order.txt").write_text(order("bracken-c", "feed-preheater", ANSWERS), encoding="utf-8")
    assert run("fit", "--read", str(workshop / "order.txt"), root=workshop) == 0
    said = capsys.readouterr().out
    assert "  kit: revision B then, C today\n" in said
    assert "  to order, then: seal: 1 × flat seal, 10 × 14 × 1.5 mm, PTFE\n" in said
    assert "  to order, today: seal: 1 × flat seal, 10 × 14 × 2 mm, PTFE\n" in said


def test_a_draft_that_changed_is_held_against_today_with_a_warning(tmp_path: Path) -> None:
    """There is no edition to look it up in."""
    machine, kit = KNOWN.machine("tamsin-mk1"), KNOWN.kit("feed-preheater")
    payload = verdict.checked(KNOWN, machine, kit, "next").payload
    text = written(payload, ANSWERS)
    assert orders.receive(REPOSITORY, KNOWN, text, "order.txt").warnings == ()
    other = orders.receive(REPOSITORY, KNOWN, text.replace(payload["pair"]["rules"], "01234567"), "order.txt")
    assert [one.severity for one in other.warnings] == ["warning"]
    assert (other.sound, other.problems) == (None, ())


# --- a variant that somebody reported ----------------------------------------------------------------


def test_an_order_begins_a_field_variant(run: Run, workshop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """It passes the check, says what was reported and by whose word, and holds nothing else of the letter."""
    (workshop / "order.txt").write_text(LETTER.format(order("tamsin-mk1", "feed-preheater", ANSWERS)), encoding="utf-8")
    assert run("new", "variant", "--from", str(workshop / "order.txt"), root=workshop) == 0
    assert capsys.readouterr().out.startswith("wrote machines/tamsin/mk1-reported.yml\nwhat decides whether a kit fits")
    known = trade.load(workshop)
    machine = known.machine("tamsin-mk1-reported")
    fact: Any = machine.fact("water_path.inlet.projection")
    assert (machine.status, fact.evidence, fact.source) == ("reported", "assumed", None)
    assert (fact.value, fact.plus_minus) == pytest.approx((0.031, 0.001))
    assert fact.note == f"an owner's answer in the self-check of edition {EDITION}"
    wall = machine.fact("boiler.straight_wall")
    assert wall is not None
    assert not wall.known
    checked = verdict.checked(known, machine, known.kit("feed-preheater"), "next")
    assert checked.evaluation.outcome == "cannot-tell-yet"
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
    """The same place and mend as where it is read; nothing is written."""
    text = order("tamsin-mk1", "feed-preheater", ANSWERS).replace("31 mm", "19 mm")
    (workshop / "order.txt").write_text(text, encoding="utf-8")
    assert run("new", "variant", "--from", str(workshop / "order.txt"), root=workshop) == 1
    assert ": T08 " in capsys.readouterr().err
    assert not (workshop / "machines/tamsin/mk1-reported.yml").exists()


# --- a reply -----------------------------------------------------------------------------------------


def test_without_a_topic_all_are_listed(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("answer", "tamsin-mk1") == 0
    listed = [line.split()[0] for line in capsys.readouterr().out.splitlines()[1:]]
    assert listed == list(TOPICS)


@pytest.mark.parametrize("topic", TOPICS)
def test_a_reply_comes_from_the_newest_edition_and_links_to_it(
    run: Run, capsys: pytest.CaptureFixture[str], topic: str
) -> None:
    """Numbers and link are of the same edition; the address is that of mkdocs.yml."""
    assert run("answer", "tamsin-mk2", topic, "--kit", "feed-preheater") == 0
    said = capsys.readouterr()
    *_, name, link = said.out.splitlines()
    assert name == f"More, with every number (edition {EDITION}):"
    start = f"https://guides.kettleby.example/{EDITION}/guides/tamsin-mk2/feed-preheater/"
    assert link.startswith(start)
    assert said.err == ""


def test_the_draft_has_no_public_page(
    run: Run, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Its reply has no link, and the maker is told beside it; the text itself can be piped."""
    from guidegen import pipeline
    from guidegen.record import Assessment

    made = Assessment.model_validate(GUIDES["tamsin-mk2", "feed-preheater"])
    monkeypatch.setattr(pipeline, "assess_kept", lambda *words: made)
    assert run("answer", "tamsin-mk2", "noise", "--kit", "feed-preheater", "--edition", "next") == 0
    said = capsys.readouterr()
    assert "http" not in said.out
    assert "no public page" in said.err


@pytest.mark.parametrize(
    ("words", "code", "says"),
    [
        (("tamsin-mk1", "gian", "--kit", "feed-preheater"), 2, 'there is no topic "gian"; write gain'),
        (("tamsin-mk1", "gain"), 2, "--kit is missing; the kits are banjo-feed, feed-preheater, loop-controller"),
        (("tamsin-mk1", "gain", "--kit", "feed-preheter"), 1, "fix: write feed-preheater"),
        (("tamsin-mk", "gain", "--kit", "feed-preheater"), 1, "fix: write tamsin-mk"),
        (("tamsin-mk1", "gain", "--kit", "feed-preheater", "--edition", "2024.1"), 3, "there is no snapshot"),
    ],
)
def test_what_cannot_be_answered_names_the_way_out(
    run: Run, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], code: int, says: str
) -> None:
    assert run("answer", *words) == code
    assert says in capsys.readouterr().err


def test_a_guide_that_was_withdrawn_is_not_quoted(run: Run, workshop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The maker is told why, and how to answer from today's data."""
    guide = "tamsin-mk1/feed-preheater"
    entry = {"edition": EDITION, "guide": guide, "date": "2026-01-31", "because": "A wrong torque."}
    path = workshop / "content/editions/withdrawn.json"
    path.write_text(json.dumps({"format": 1, "withdrawn": [entry]}), encoding="utf-8")
    assert run("answer", "tamsin-mk1", "gain", "--kit", "feed-preheater", root=workshop) == 4
    said = capsys.readouterr()
    assert said.out == ""
    assert "was withdrawn on 2026-01-31: A wrong torque.; --edition next answers" in said.err


def test_the_price_is_told_with_the_day_it_ends(run: Run, workshop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """From the offers of the day, which are never part of an edition; a site without an address gets no link."""
    offers = {"valid_until": "2026-12-31", "kits": {"feed-preheater": {"price": "148 EUR"}}}
    (workshop / "content/offers.json").write_text(json.dumps(offers), encoding="utf-8")
    assert run("answer", "tamsin-mk1", "cost", "--kit", "feed-preheater", root=workshop) == 0
    said = capsys.readouterr()
    assert said.out.splitlines()[-1] == "The kit's price is 148 EUR, valid until 2026-12-31."
    assert "no site_url" in said.err
