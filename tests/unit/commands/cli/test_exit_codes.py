"""The command line: exit codes, and that a mistake of the author never shows a traceback."""

from __future__ import annotations

import importlib.metadata
import io
import socket
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from guidegen.commands import main, parser
from guidegen.problems import CatalogueError, Code, EnvironmentProblem, Problem, RefusedProblem, UsageProblem
from guidegen.writing import lock
from tests.unit.commands.cli.starter import KIT, VARIANT, Run

pytestmark = pytest.mark.slow


@pytest.mark.parametrize(
    ("words", "near"),
    [
        (("assess", "first-family-first-varian", KIT), VARIANT),
        (("assess", VARIANT, "first-kid"), KIT),
        (("show", "first-family-first-varian"), VARIANT),
        (("check", "--states", "first-family-first-varian"), VARIANT),
    ],
)
def test_an_unknown_id_is_reported_with_the_nearest(
    run: Run, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], near: str
) -> None:
    """It is a mistake like any other: exit code 1."""
    assert run(*words) == 1
    assert near in capsys.readouterr().err


@pytest.mark.parametrize(
    "words",
    [
        (),
        ("buidl",),
        ("new",),
        ("build", "--draws", "3"),
        ("build", "--draws", "many"),
        ("build", "--workers", "0"),
        ("publish", "2026.1", "--workers", "all"),
        ("build", "--cluster", "nowhere"),
        ("build", "--cluster", "tcp://127.0.0.1:8786", "--workers", "2"),
        ("serve", "--port", "65536"),
        ("serve", "--port", "-1"),
        ("build", "--engine", "other"),
    ],
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
    message = capsys.readouterr().err
    assert message.startswith("guidegen: ")
    assert says in message
    assert message.count("\n") == 1


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
    """Exit code 4: refused, and nothing was changed."""
    with lock(root):
        assert run("build") == 4
    message = capsys.readouterr().err
    assert message.startswith("guidegen: another guidegen is working in ")
    assert message.count("\n") == 1


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
    message = capsys.readouterr().err
    assert "zensical" in message
    assert message.count("\n") == 1


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


def test_a_fault_of_ours_is_kept_and_its_place_is_reported(
    run: Run, root: Path, faulty: Callable[[BaseException], None], capsys: pytest.CaptureFixture[str]
) -> None:
    """Exit code 70; the traceback lies in a file that can be sent to us, not on the terminal."""
    faulty(ZeroDivisionError("of ours"))
    assert run("check") == 70
    note = root / ".guidegen" / "last-error.txt"
    message = capsys.readouterr().err
    assert note.as_posix() in message
    assert "Traceback" not in message
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


def test_an_interrupt_says_that_nothing_is_half_done(
    run: Run, faulty: Callable[[BaseException], None], capsys: pytest.CaptureFixture[str]
) -> None:
    """With the shell's code for it, 128 + SIGINT (2)."""
    faulty(KeyboardInterrupt())
    assert run("check") == 130
    assert capsys.readouterr().err == "guidegen: stopped; every file is whole, and what was computed is kept\n"


@pytest.mark.parametrize(
    ("problem", "code"),
    [
        (CatalogueError([Problem("a.yml", 1, 1, Code.MISSING_KEY, "message")]), 1),
        (UsageProblem("message"), 2),
        (EnvironmentProblem("message"), 3),
        (RefusedProblem("message"), 4),
        (RuntimeError("message"), 70),
    ],
)
def test_a_script_knows_by_the_exit_code_what_to_do(
    problem: Exception,
    code: int,
    run: Run,
    faulty: Callable[[BaseException], None],
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Correct the data, the call or the machine; do as the rule says; report a fault. The help lists them all."""
    faulty(problem)
    assert run("check") == code
    message = capsys.readouterr().err
    assert "message" in message
    assert "Traceback" not in message
    assert f"{code} " in (parser().epilog or "")
