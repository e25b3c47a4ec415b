"""`guidegen doctor` names what a machine lacks, what it is for and how to get it, and writes nothing."""

from __future__ import annotations

import re
import shutil
import sys
from pathlib import Path

import pytest

from guidegen.commands import doctor, main

REPOSITORY = Path(__file__).parents[3]


def states(root: Path) -> dict[str, str]:
    """What was found, by name."""
    return {one.name: one.state for one in doctor.findings(root)}


def test_a_machine_without_anything_hears_how_to_get_it(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Only what stops commands makes it fail; nothing is left in the folder."""
    monkeypatch.setattr(shutil, "which", lambda name: "/usr/bin/apt-get" if name == "apt-get" else None)
    monkeypatch.delenv("GUIDEGEN_CHROMIUM", raising=False)
    assert main(["--root", str(tmp_path), "doctor"]) == 0
    printed = capsys.readouterr().out
    for name, package in (("git", "git"), ("ssh-keygen", "openssh-client"), ("Chromium", "chromium")):
        assert re.search(rf"^without +{name}: .*\n +fix: sudo apt-get install {package}$", printed, re.M)
    assert "without  workshop: this folder is none" in printed
    assert printed.endswith("0 missing, 4 that only some commands want\n")
    assert not list(tmp_path.iterdir())


def test_what_stops_commands_is_missing(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Another Python, a package that is gone, a folder that nobody can write into."""
    monkeypatch.setattr(sys, "version_info", (3, 10, 4, "final", 0))
    monkeypatch.setattr(doctor, "_is_installed", lambda name: name not in ("numba", "distributed"))
    assert main(["--root", str(tmp_path / "none"), "doctor"]) == 3
    printed = capsys.readouterr().out
    assert "missing  Python: 3.10.4, guidegen is tested with 3.11 to 3.13\n" in printed
    assert "missing  packages: not installed: numba\n" in printed
    assert "missing  folder: " in printed
    assert re.search(r"^without  cluster: .*\n +fix: .* -m pip install '\.\[cluster\]' ", printed, re.M)
    assert printed.count("missing  ") == 3


def test_who_commits_is_looked_for(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """And whether there is a history to commit to."""
    monkeypatch.setenv("GIT_CONFIG_GLOBAL", str(tmp_path / "config"))
    monkeypatch.setenv("GIT_CONFIG_NOSYSTEM", "1")
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(tmp_path.parent))
    found = states(tmp_path)
    assert (found["git"], found["git identity"], found["history"]) == ("ok", "without", "without")
    (tmp_path / "config").write_text("[user]\n\tname = A. N.\n\temail = a@example.org\n", encoding="utf-8")
    assert states(tmp_path)["git identity"] == "ok"


def test_the_versions_of_python_are_those_of_the_package() -> None:
    """They are written twice, for whoever runs it on another has no package."""
    text = (REPOSITORY / "pyproject.toml").read_text(encoding="utf-8")
    bounds = f'requires-python = ">={doctor.OLDEST[0]}.{doctor.OLDEST[1]},<{doctor.NEWEST[0]}.{doctor.NEWEST[1] + 1}"'
    assert bounds in text
