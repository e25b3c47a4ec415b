"""The command line: exit codes, what is said where, and that a mistake of the author never shows a traceback."""

from __future__ import annotations

import argparse
import contextlib
import importlib.metadata
import io
import json
import re
import shutil
import socket
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from guidegen.commands import main, parser
from guidegen.trade.schema import KINDS
from guidegen.writing import lock

REPOSITORY = Path(__file__).parents[3]
VARIANT, KIT = "first-family-first-variant", "first-kit"
Run = Callable[..., int]


@pytest.fixture(scope="module")
def assessed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The starter's workshop, assessed and built once with few draws."""
    root = tmp_path_factory.mktemp("cli") / "workshop"
    assert main(["new", "workshop", str(root), "-q"]) == 0
    assert main(["--root", str(root), "check", "-q"]) == 0
    assert main(["--root", str(root), "build", "--draws", "8", "-q"]) == 0
    return root


@pytest.fixture
def root(assessed: Path, tmp_path: Path) -> Path:
    """The same, to write into."""
    return Path(shutil.copytree(assessed, tmp_path / "workshop"))


@pytest.fixture
def run(root: Path) -> Run:
    """Run one command in the workshop and return its exit code."""
    return lambda *words: main(["--root", str(root), *words])


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        """Say so."""
        return True


@pytest.fixture
def on_terminal(run: Run, monkeypatch: pytest.MonkeyPatch) -> Callable[..., str]:
    """Run one command as on a terminal that can show colours, and return what it showed on the error stream."""
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.delenv("NO_COLOR", raising=False)

    def shown(*words: str) -> str:
        stream = Terminal()
        with contextlib.redirect_stderr(stream):
            run(*words)
        return stream.getvalue()

    return shown


def spoil(root: Path) -> None:
    """Forget the unit of a mass."""
    path = root / "machines" / "first-family" / "first-variant.yml"
    text = path.read_text(encoding="utf-8")
    assert "  mass: unknown  # weigh the empty boiler" in text
    path.write_text(text.replace("  mass: unknown  # weigh the empty boiler", "  mass: 520"), encoding="utf-8")


def commands() -> dict[str, argparse.ArgumentParser]:
    """Return every command by its words, those of `new` too."""

    def below(one: argparse.ArgumentParser) -> dict[str, argparse.ArgumentParser]:
        actions = [action for action in one._actions if isinstance(action, argparse._SubParsersAction)]
        return dict(actions[0].choices) if actions else {}

    top = below(parser())
    found = {name: one for name, one in top.items() if not below(one)}
    return found | {f"{name} {what}": one for name, outer in top.items() for what, one in below(outer).items()}


# --- what each command does --------------------------------------------------------------------------


def test_check_says_what_it_read(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    """One line where all is well."""
    assert run("check") == 0
    said = capsys.readouterr()
    assert "no errors" in said.out
    assert said.err == ""


def test_check_tells_how_large_the_self_checks_are(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    """A line per pair and one for telling variants apart, only for who asks; the sizes are those of the record."""
    assert run("assess", VARIANT, KIT, "--json", "--draws", "0") == 0
    rules = json.loads(capsys.readouterr().out)["self_check"]["rules"]
    assert run("check", "-v") == 0
    lines = capsys.readouterr().out.splitlines()
    told = next(line for line in lines if line.startswith(f"self-check of {VARIANT} with {KIT}: "))
    branches = sum(len(node) - 1 for node in rules["nodes"])
    numbers = [int(word) for word in told.split() if word.isdigit()]
    assert numbers[:3] == [len(rules["facts"]), len(rules["nodes"]), branches]
    assert any(line.startswith("telling the variants apart: ") for line in lines)


def test_check_shows_every_mistake_with_its_place_and_mend(
    run: Run, root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """On the error stream, without a traceback, and nothing is kept as a fault of ours."""
    spoil(root)
    assert run("check") == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith("machines/first-family/first-variant.yml:")
    assert 'Q03 boiler.mass: got "520", a mass needs a unit\n  fix: ' in said.err
    assert said.err.endswith("1 problem to mend\n")
    assert "Traceback" not in said.err
    assert not (root / ".guidegen" / "last-error.txt").exists()


@pytest.mark.parametrize("words", [("check",), ("build",), ("assess", VARIANT, KIT)])
def test_a_requirement_that_cannot_be_judged_is_no_fault_of_ours(
    run: Run, root: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...]
) -> None:
    """It is well formed, so that only judging it on a machine shows the mistake: told like any other."""
    path = root / "content" / "kits" / f"{KIT}.yml"
    text = path.read_text(encoding="utf-8")
    part = "{id: first-part, "
    assert part in text
    path.write_text(text.replace(part, f"{part}when: {{mains.voltage: 230}}, "), encoding="utf-8")
    assert run(*words) == 1
    said = capsys.readouterr().err
    assert said.startswith(f"content/kits/{KIT}.yml:")
    assert 'X16 parts.first-part.when.mains.voltage: got "230", a voltage needs a unit\n  fix: ' in said
    assert "Traceback" not in said


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
    said = capsys.readouterr().out
    assert f"open {(root / 'site' / 'next' / 'index.html').as_posix()}" in said
    assert "0 written, 0 deleted" in said


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
    assert (record["format"], record["variant"]["id"], record["kit"]["id"]) == (1, VARIANT, KIT)
    idle = record["energy"]["without"]["idle_w"]
    assert idle["low"] < idle["high"]


def test_list_and_show(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    """All variants and kits; every value of one variant with where it stands."""
    assert run("list") == 0
    said = capsys.readouterr().out
    assert VARIANT in said
    assert KIT in said
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
    from guidegen.assess import Assessor

    pair = (VARIANT, KIT)
    commands = (("check",), ("check", "--states", *pair), ("assess", *pair, "--draws", "0"))
    first = []
    for command in commands:
        assert run(*command) == 0
        first.append(capsys.readouterr().out)
    assert first[0].startswith("1 variant, 1 kit, 1 pair")

    def refused(*parts: Any) -> Any:
        raise AssertionError("assessed again")

    monkeypatch.setattr(Assessor, "assess", refused)
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


# --- exit codes --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "near"),
    [
        (("assess", "first-family-first-varian", KIT), VARIANT),
        (("assess", VARIANT, "first-kid"), KIT),
        (("show", "first-family-first-varian"), VARIANT),
        (("check", "--states", "first-family-first-varian"), VARIANT),
    ],
)
def test_an_unknown_id_is_told_with_the_nearest(
    run: Run, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], near: str
) -> None:
    """It is a mistake like any other: exit code 1."""
    assert run(*words) == 1
    assert near in capsys.readouterr().err


@pytest.mark.parametrize(
    "words",
    [(), ("buidl",), ("new",), ("build", "--draws", "3"), ("build", "--draws", "many"), ("build", "--engine", "other")],
)
def test_wrong_words_are_wrong_usage(words: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> None:
    """Exit code 2, and the usage is shown."""
    with pytest.raises(SystemExit) as left:
        main(list(words))
    assert left.value.code == 2
    assert "usage: guidegen" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("schema", "kitt"), "write kit"),
        (("check", VARIANT), "--states"),
        (("assumed", "--draws", "4"), "at least 8"),
        (("new", "variant", "--name", "x"), "--family"),
        (("new", "variant", "--set", "boiler.mass"), "FACT=VALUE"),
        (("new", "workshop", "."), "not empty"),
    ],
)
def test_what_cannot_be_done_is_wrong_usage(
    run: Run, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...], says: str
) -> None:
    """Exit code 2 and one sentence with the way out."""
    monkeypatch.setattr(sys, "stdin", io.StringIO())
    assert run(*words) == 2
    said = capsys.readouterr().err
    assert said.startswith("guidegen: ")
    assert says in said
    assert said.count("\n") == 1


@pytest.mark.parametrize("words", [("check",), ("build",), ("serve",), ("list",), ("new", "kit", "a-kit")])
@pytest.mark.parametrize("name", ["empty", "missing"])
def test_a_folder_that_is_no_workshop_is_left_alone(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], name: str
) -> None:
    """Nothing is written there, and the way to a workshop is named."""
    (tmp_path / "empty").mkdir()
    assert main(["--root", str(tmp_path / name), *words]) == 2
    assert ("new workshop" if name == "empty" else "no folder") in capsys.readouterr().err
    assert [path.name for path in tmp_path.rglob("*")] == ["empty"]


def test_a_workshop_in_use_is_no_fault_of_the_author(run: Run, root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Exit code 3: something about this machine."""
    with lock(root):
        assert run("build") == 3
    said = capsys.readouterr().err
    assert said.startswith("guidegen: another guidegen is working in ")
    assert said.count("\n") == 1


def test_a_missing_engine_is_named(
    run: Run, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Exit code 3 and one sentence."""
    there = importlib.metadata.version

    def version(package: str) -> str:
        if package == "zensical":
            raise importlib.metadata.PackageNotFoundError(package)
        return there(package)

    monkeypatch.setattr(importlib.metadata, "version", version)
    assert run("build", "--draws", "8", "--engine", "zensical") == 3
    said = capsys.readouterr().err
    assert "zensical" in said
    assert said.count("\n") == 1


def test_a_taken_port_is_named(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    """Exit code 3, with the option that helps."""
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        assert run("serve", "--port", str(taken.getsockname()[1])) == 3
    assert "--port" in capsys.readouterr().err


@pytest.fixture
def faulty(monkeypatch: pytest.MonkeyPatch) -> Callable[[BaseException], None]:
    """Let `check` run into what is raised."""
    from guidegen import pipeline

    def let(fault: BaseException) -> None:
        def check(*words: Any) -> None:
            raise fault

        monkeypatch.setattr(pipeline, "check", check)

    return let


def test_a_fault_of_ours_is_kept_and_its_place_is_told(
    run: Run, root: Path, faulty: Callable[[BaseException], None], capsys: pytest.CaptureFixture[str]
) -> None:
    """Exit code 70; the traceback lies in a file that can be sent to us, not on the terminal."""
    faulty(ZeroDivisionError("of ours"))
    assert run("check") == 70
    note = root / ".guidegen" / "last-error.txt"
    said = capsys.readouterr().err
    assert note.as_posix() in said
    assert "Traceback" not in said
    kept = note.read_text(encoding="utf-8")
    assert kept.startswith("guidegen ")
    assert "ZeroDivisionError: of ours" in kept


def test_no_right_to_write_is_no_fault_of_ours(
    run: Run, faulty: Callable[[BaseException], None], capsys: pytest.CaptureFixture[str]
) -> None:
    """Exit code 3 with the file's name."""
    faulty(PermissionError(13, "Permission denied", "site/next/index.html"))
    assert run("check") == 3
    assert capsys.readouterr().err == "guidegen: site/next/index.html: Permission denied\n"


def test_an_interrupt_ends_quietly(
    run: Run, faulty: Callable[[BaseException], None], capsys: pytest.CaptureFixture[str]
) -> None:
    """With the shell's code for it, 128 + SIGINT (2)."""
    faulty(KeyboardInterrupt())
    assert run("check") == 130
    assert capsys.readouterr().err == ""


# --- manners -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("words", [("-q", "check"), ("check", "-q"), ("build", "--draws", "8", "-q")])
def test_quiet_says_nothing_where_all_is_well(
    run: Run, capsys: pytest.CaptureFixture[str], words: tuple[str, ...]
) -> None:
    """Before the command or behind it."""
    assert run(*words) == 0
    assert capsys.readouterr() == ("", "")


def test_problems_are_coloured_on_a_terminal_only(
    run: Run, root: Path, on_terminal: Callable[..., str], capsys: pytest.CaptureFixture[str]
) -> None:
    """Without the colours both say the same."""
    spoil(root)
    coloured = on_terminal("check")
    assert "\033[31m" in coloured
    run("check")
    plain = capsys.readouterr().err
    assert "\033" not in plain
    assert re.sub(r"\r?\033\[\d*[mK]", "", coloured).endswith(plain)


@pytest.mark.parametrize(("variable", "value"), [("NO_COLOR", "1"), ("TERM", "dumb")])
def test_colours_can_be_refused(
    root: Path, on_terminal: Callable[..., str], monkeypatch: pytest.MonkeyPatch, variable: str, value: str
) -> None:
    """By the variable that all programs heed, or by a terminal that knows none."""
    monkeypatch.setenv(variable, value)
    spoil(root)
    shown = on_terminal("check")
    assert "Q03" in shown
    assert not re.search(r"\033\[\d+m", shown)


def test_progress_is_shown_on_a_terminal_and_taken_away(on_terminal: Callable[..., str]) -> None:
    """One line, overwritten; at the end it is clear. In a pipe there is none (see the first test)."""
    shown = on_terminal("check").split("\r\033[K")
    assert "reading the catalogue" in shown
    assert shown[-1] == ""


def test_a_reader_that_goes_away_is_no_error(root: Path) -> None:
    """As in `guidegen show … | head -1`."""
    command = [sys.executable, "-m", "guidegen", "--root", str(root), "show", VARIANT]
    with subprocess.Popen(command, cwd=REPOSITORY, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as started:
        assert started.stdout is not None
        assert started.stderr is not None
        started.stdout.close()
        said = started.stderr.read()
    assert (started.returncode, said) == (0, b"")


def test_output_in_a_pipe_is_utf8_whatever_the_locale(root: Path) -> None:
    """A sign that the locale lacks is no error."""
    command = [sys.executable, "-m", "guidegen", "--root", str(root), "show", VARIANT]
    environment = {"LC_ALL": "C", "PYTHONIOENCODING": "ascii", "PATH": "/usr/bin:/bin", "PYTHONPATH": str(REPOSITORY)}
    done = subprocess.run(command, cwd=REPOSITORY, env=environment, capture_output=True, check=True)
    assert "230 V~" in done.stdout.decode("utf-8")
    assert done.stderr == b""


# --- documentation -----------------------------------------------------------------------------------


@pytest.mark.parametrize("words", commands())
def test_every_command_is_documented(words: str) -> None:
    """In README.md, in one row of its table; and its help describes it and each of its options."""
    name, _, what = words.partition(" ")
    rows = (REPOSITORY / "README.md").read_text(encoding="utf-8").splitlines()
    assert any(f"`guidegen {name}" in row and what in row for row in rows)
    one = commands()[words]
    assert one.description
    assert all(action.help for action in one._actions if action.option_strings)


def test_the_exit_codes_are_in_the_help() -> None:
    """Whoever scripts it finds them there."""
    said = " ".join(parser().format_help().split())
    assert all(f"{code} " in said for code in (0, 1, 2, 3, 70))


def test_help_names_as_many_draws_as_an_assessment_makes() -> None:
    """The number is written twice, for help must not load numpy."""
    from guidegen.assess import DRAWS
    from guidegen.commands.parsing import DEFAULT_DRAWS

    assert DEFAULT_DRAWS == DRAWS
