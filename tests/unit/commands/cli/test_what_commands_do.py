"""The command line: what each command does."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from guidegen.commands import main
from guidegen.record import FORMAT
from guidegen.trade.schema import KINDS
from tests.unit.commands.cli.starter import KIT, VARIANT, Run, Terminal, spoil

pytestmark = pytest.mark.slow


def test_check_says_what_it_read(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    """One line where all is well."""
    assert run("check") == 0
    printed = capsys.readouterr()
    assert "no errors" in printed.out
    assert printed.err == ""


def test_check_prints_how_large_the_self_checks_are(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    """A line per pair and one for distinguishing variants, only for who asks; the sizes are those of the record."""
    assert run("assess", VARIANT, KIT, "--json", "--draws", "0") == 0
    rules = json.loads(capsys.readouterr().out)["self_check"]["rules"]
    assert run("check", "-v") == 0
    lines = capsys.readouterr().out.splitlines()
    sizes = next(line for line in lines if line.startswith(f"self-check of {VARIANT} with {KIT}: "))
    branches = sum(len(node) - 1 for node in rules["nodes"])
    numbers = [int(word) for word in sizes.split() if word.isdigit()]
    assert numbers[:3] == [len(rules["facts"]), len(rules["nodes"]), branches]
    assert any(line.startswith("distinguishing the variants: ") for line in lines)


def test_check_shows_every_mistake_with_its_place_and_fix(
    run: Run, root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """On the error stream, without a traceback, and nothing is kept as a fault of ours."""
    spoil(root)
    assert run("check") == 1
    printed = capsys.readouterr()
    assert printed.out == ""
    assert printed.err.startswith("machines/first-family/first-variant.yml:")
    assert 'Q03 boiler.mass: got "520", a mass needs a unit\n  fix: ' in printed.err
    assert printed.err.endswith("1 problem to fix\n")
    assert "Traceback" not in printed.err
    assert not (root / ".guidegen" / "last-error.txt").exists()


@pytest.mark.parametrize("words", [("check",), ("build",), ("assess", VARIANT, KIT)])
def test_a_requirement_that_cannot_be_judged_is_no_fault_of_ours(
    run: Run, root: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...]
) -> None:
    """It is well formed, so that only judging it on a machine shows the mistake: reported like any other."""
    path = root / "content" / "kits" / f"{KIT}.yml"
    text = path.read_text(encoding="utf-8")
    part = "{id: first-part, "
    assert part in text
    path.write_text(text.replace(part, f"{part}when: {{mains.voltage: 230}}, "), encoding="utf-8")
    assert run(*words) == 1
    printed = capsys.readouterr().err
    assert printed.startswith(f"content/kits/{KIT}.yml:")
    assert 'X16 parts.first-part.when.mains.voltage: got "230", a voltage needs a unit\n  fix: ' in printed
    assert "Traceback" not in printed


@pytest.mark.parametrize("words", [("build",), ("assess", VARIANT, KIT), ("list",), ("show", VARIANT), ("assumed",)])
def test_every_command_that_reads_refuses_the_same_mistake(
    run: Run, root: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...]
) -> None:
    """With the same message, and the site stays as it was."""
    spoil(root)
    before = {path: path.stat().st_mtime_ns for path in (root / "site").rglob("*")}
    assert run(*words) == 1
    assert "Q03 boiler.mass" in capsys.readouterr().err
    assert {path: path.stat().st_mtime_ns for path in (root / "site").rglob("*")} == before


def test_build_says_where_to_open_the_site(run: Run, root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """And a second build writes nothing."""
    assert run("build", "--draws", "8") == 0
    printed = capsys.readouterr().out
    assert f"open {(root / 'site' / 'next' / 'index.html').as_posix()}" in printed
    assert "0 written, 0 deleted" in printed


def test_states_are_printed_for_all_or_for_a_pair(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    """The starter's kit has no procedure, and that is what is said."""
    for words in ((), (VARIANT, KIT)):
        assert run("check", "--states", *words) == 0
        assert "First Variant with First Kit: no guide" in capsys.readouterr().out


def test_assess_prints_a_screenful_or_the_record(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    """The record is the whole of the output, so that it can be piped; the draws give the ends of its figures."""
    assert run("assess", VARIANT, KIT, "--draws", "0") == 0
    assert capsys.readouterr().out.startswith("First Variant with First Kit, revision A\n")
    assert run("assess", VARIANT, KIT, "--draws", "8", "--json") == 0
    record = json.loads(capsys.readouterr().out)
    assert (record["format"], record["variant"]["id"], record["kit"]["id"]) == (FORMAT, VARIANT, KIT)
    idle = record["energy"]["without"]["idle_w"]
    assert idle["low"] < idle["high"]


def test_list_and_show(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    """All variants and kits; every value of one variant with where it stands."""
    assert run("list") == 0
    printed = capsys.readouterr().out
    assert VARIANT in printed
    assert KIT in printed
    assert run("show", VARIANT) == 0
    assert "boiler.straight_wall" in capsys.readouterr().out


def test_assumed_ranks_and_names_what_settles(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    """Falling numbers, each with a measurement."""
    assert run("assumed", "--draws", "8", "--all") == 0
    head, *rows = capsys.readouterr().out.splitlines()
    assert head.startswith("moves")
    moves = [float(row.split()[0]) for row in rows]
    assert moves == sorted(moves, reverse=True)
    assert moves[0] > 0
    assert any("weigh the empty boiler" in row for row in rows)


@pytest.mark.parametrize("kind", [None, *KINDS])
def test_schema_prints_json(run: Run, capsys: pytest.CaptureFixture[str], kind: str | None) -> None:
    """Of all kinds of files, or of one; it needs no workshop."""
    assert main(["schema", *([kind] if kind else [])]) == 0
    assert json.loads(capsys.readouterr().out)["$schema"].startswith("https://json-schema.org/")


def test_what_was_assessed_is_not_assessed_again(
    run: Run, root: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """By `check`, `check --states` and `assess`: they keep what they computed, and say the same again."""
    pair = (VARIANT, KIT)
    commands = (("check",), ("check", "--states", *pair), ("assess", *pair, "--draws", "0"))
    first = []
    for command in commands:
        assert run(*command) == 0
        first.append(capsys.readouterr().out)
    assert first[0].startswith("1 variant, 1 kit, 1 pair")

    def refused(*parts: Any) -> Any:
        raise AssertionError("assessed again")

    monkeypatch.setattr("guidegen.assess.assessor.compute", refused)
    again = []
    for command in commands:
        assert run(*command) == 0
        again.append(capsys.readouterr().out)
    assert again == first


def test_serve_serves(run: Run, root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """On the port asked for, with the engine and as many draws as asked for."""
    from guidegen.commands import serve

    seen: list[Any] = []

    def served(folder: Path, engine: str, port: int, draws: int, progress: Callable[[str], None]) -> int:
        seen.extend((folder, engine, port, draws))
        return 0

    monkeypatch.setattr(serve, "serve", served)
    assert run("serve", "--port", "8765", "--engine", "properdocs", "--draws", "16") == 0
    assert seen == [root, "properdocs", 8765, 16]


def test_new_variant_and_new_kit_pass_the_check(run: Run, root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What to find out next is listed, what decides about a kit first."""
    (root / "letter.yml").write_text("boiler: {mass: 520 g ± 10 g}\n", encoding="utf-8")
    given = ("--name", "Second One", "--set", "years.from=1990", "--set", "mains.voltage=120 V~")
    from_file = ("--from", str(root / "letter.yml"), "--set", "control.kind=pid")
    assert run("new", "variant", "--family", "first-family", *given, *from_file) == 0
    wrote, decides, first, *_ = capsys.readouterr().out.splitlines()
    assert wrote == "wrote machines/first-family/second-one.yml"
    assert decides.endswith("to find out first:")
    assert first.strip() == "mains.connection: look for a plug (First Kit)"
    assert run("new", "kit", "second-kit") == 0
    assert "wrote content/kits/second-kit.yml" in capsys.readouterr().out
    assert run("show", "first-family-second-one") == 0
    assert "520 g ± 10 g" in capsys.readouterr().out
    assert run("check") == 0


def test_new_variant_asks_on_a_terminal(run: Run, root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """For what was not given."""
    answers = iter(["first-family", "Third", "1999", "230 V~", "pid", ""])
    monkeypatch.setattr(sys, "stdin", Terminal())
    monkeypatch.setattr("builtins.input", lambda question: next(answers))
    assert run("new", "variant") == 0
    assert (root / "machines" / "first-family" / "third.yml").is_file()


def test_questions_that_are_left_write_nothing(
    run: Run, root: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The end of the input is no fault."""

    def end(question: str) -> str:
        raise EOFError

    monkeypatch.setattr(sys, "stdin", Terminal())
    monkeypatch.setattr("builtins.input", end)
    assert run("new", "variant") == 2
    assert "nothing was written" in capsys.readouterr().err
    assert [path.name for path in (root / "machines" / "first-family").iterdir()].count("family.yml") == 1
    assert len(list((root / "machines" / "first-family").iterdir())) == 2
