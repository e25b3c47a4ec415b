"""The engine, as a program that is not started."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest


@pytest.fixture
def starts(monkeypatch: pytest.MonkeyPatch) -> list[list[str]]:
    """The commands that would have been started; none is."""
    seen: list[list[str]] = []

    def run(command: list[str], **more: object) -> subprocess.CompletedProcess[str]:
        seen.append(command)
        root = Path(str(more["cwd"]))
        (root / ".guidegen" / "engine" / "site").mkdir(exist_ok=True)
        return subprocess.CompletedProcess(command, 0, "", "")

    monkeypatch.setattr(subprocess, "run", run)
    return seen
