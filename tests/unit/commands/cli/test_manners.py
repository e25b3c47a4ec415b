"""The command line: what is said where, in a pipe and on a terminal; and that the documents name it all."""

from __future__ import annotations

import argparse
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from guidegen.commands import parser
from tests.unit.commands.cli.starter import REPOSITORY, VARIANT, Run, spoil

pytestmark = pytest.mark.slow


def commands() -> dict[str, argparse.ArgumentParser]:
    """Return every command by its words, those of `new` too."""

    def below(one: argparse.ArgumentParser) -> dict[str, argparse.ArgumentParser]:
        actions = [action for action in one._actions if isinstance(action, argparse._SubParsersAction)]
        return dict(actions[0].choices) if actions else {}

    top = below(parser())
    found = {name: one for name, one in top.items() if not below(one)}
    return found | {f"{name} {what}": one for name, outer in top.items() for what, one in below(outer).items()}


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
        printed = started.stderr.read()
    assert (started.returncode, printed) == (0, b"")


def test_output_in_a_pipe_is_utf8_whatever_the_locale(root: Path) -> None:
    """A sign that the locale lacks is no error."""
    command = [sys.executable, "-m", "guidegen", "--root", str(root), "show", VARIANT]
    environment = {"LC_ALL": "C", "PYTHONIOENCODING": "ascii", "PATH": "/usr/bin:/bin", "PYTHONPATH": str(REPOSITORY)}
    done = subprocess.run(command, cwd=REPOSITORY, env=environment, capture_output=True, check=True)
    assert "230 V~" in done.stdout.decode("utf-8")
    assert done.stderr == b""


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
    printed = " ".join(parser().format_help().split())
    assert all(f"{code} " in printed for code in (0, 1, 2, 3, 70))


def test_help_names_as_many_draws_as_an_assessment_makes() -> None:
    """The number is written twice, for help must not load numpy."""
    from guidegen.assess import DRAWS
    from guidegen.commands.parsing import DEFAULT_DRAWS

    assert DEFAULT_DRAWS == DRAWS
