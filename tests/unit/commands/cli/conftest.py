"""The starter's workshop, assessed and built once, and commands run in a copy of it."""

from __future__ import annotations

import contextlib
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from guidegen.commands import main
from tests.unit.commands.cli.starter import Run, Terminal


@pytest.fixture(scope="session")
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
