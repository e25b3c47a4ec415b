"""A serial number is given once, whoever else writes it then; what is kept of a customer is nobody else's."""

from __future__ import annotations

import json
import os
import shutil
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from guidegen.commands import main
from guidegen.editions import commands
from guidegen.problems import RefusedProblem, UsageProblem
from guidegen.writing import write_private
from tests.unit.editions.conftest import Publish, git
from tests.unit.editions.test_units_sold import unit

pytestmark = pytest.mark.slow

OPTIONS = ("--variant", "plain-one", "--kit", "collar", "--revision", "A", "--edition", "1")


def test_of_two_who_keep_one_serial_at_once_one_is_refused(root: Path, publish: Publish) -> None:
    """Ten times: never do both say that it is kept, and what stands there is whole and of one of them."""
    publish("1")
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    for turn in range(10):
        command = [sys.executable, "-m", "guidegen", "--root", str(root), "unit", "add", f"K-{turn}", *OPTIONS]
        both = [
            subprocess.Popen(
                [*command, "--customer", name], env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE
            )
            for name in ("one", "two")
        ]
        said = [(process.communicate()[0].startswith(b"kept in"), process.returncode) for process in both]
        assert sorted(said) == [(False, 4), (True, 0)]
        held = json.loads((root / "units" / f"K-{turn}.json").read_bytes())
        assert held["customer"] == ("one", "two")[said.index((True, 0))]


def test_the_file_itself_is_made_once(tmp_path: Path) -> None:
    """Also where the lock is not held, as by another program."""
    write_private(tmp_path / "units" / "K.json", b"one", new=True)
    with pytest.raises(FileExistsError):
        write_private(tmp_path / "units" / "K.json", b"two", new=True)
    assert (tmp_path / "units" / "K.json").read_bytes() == b"one"
    assert [path.name for path in (tmp_path / "units").iterdir()] == ["K.json"]


def test_a_disk_without_hard_links_holds_it_as_well(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A stick or a card, as many workshops carry theirs."""

    def refuse(source: str, target: str) -> None:
        raise OSError(95, "Operation not supported")

    monkeypatch.setattr(os, "link", refuse)
    write_private(tmp_path / "K.json", b"one", new=True)
    with pytest.raises(FileExistsError):
        write_private(tmp_path / "K.json", b"two", new=True)
    assert (tmp_path / "K.json").read_bytes() == b"one"


def test_upper_and_lower_case_make_no_other_serial(root: Path, publish: Publish) -> None:
    """On some disks they are one file."""
    publish("1")
    commands.add_unit(root, unit("X-1"))
    with pytest.raises(RefusedProblem, match=r"X-1\.json is there already"):
        commands.add_unit(root, unit("x-1"))


@pytest.mark.parametrize("serial", ["CON", "con", "nul", "Aux.1", "COM1", "lpt9", "K.", "", "-K", "K/1", "K 1", "é"])
def test_what_some_computer_cannot_keep_as_a_file_is_no_serial(root: Path, publish: Publish, serial: str) -> None:
    """Windows takes the first part of such a name for a device."""
    publish("1")
    with pytest.raises(UsageProblem, match="is no serial number"):
        commands.add_unit(root, unit(serial))


def test_a_fact_that_is_given_twice_is_refused(
    root: Path, publish: Publish, capsys: pytest.CaptureFixture[str]
) -> None:
    """One of the two would be lost."""
    publish("1")
    twice = ("--fact", "inlet=straight", "--fact", "inlet=bent")
    assert main(["--root", str(root), "unit", "add", "K-1", *OPTIONS, *twice]) == 2
    assert "--fact: inlet is given twice" in capsys.readouterr().err
    assert not (root / "units").exists()


def test_only_the_owner_reads_what_is_kept_of_a_customer(root: Path, publish: Publish) -> None:
    """Whatever the umask says, and also where the folder was open before."""
    publish("1")
    (root / "units").mkdir(mode=0o755)
    before = os.umask(0)
    try:
        commands.add_unit(root, unit("K-1"))
        commands.label_unit(root, "K-1")
    finally:
        os.umask(before)
    modes = {path.relative_to(root).as_posix(): stat.S_IMODE(path.stat().st_mode)
             for path in (root / "units", *(root / "units").rglob("*"))}  # fmt: skip
    assert modes == {"units": 0o700, "units/K-1.json": 0o600, "units/labels": 0o700, "units/labels/K-1.pdf": 0o600}


def test_units_are_refused_without_git_where_git_would_take_them_in_later(
    root: Path, publish: Publish, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Somebody may begin a history later, or git may be missing on this machine alone."""
    publish("1")
    shutil.rmtree(root / ".git")
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(root.parent))
    commands.add_unit(root, unit("K-1"))
    (root / ".gitignore").write_text("/site/\n", encoding="utf-8")
    with pytest.raises(RefusedProblem, match=r"echo '/units/' >> \.gitignore"):
        commands.add_unit(root, unit("K-2"))
    monkeypatch.setenv("PATH", "")
    with pytest.raises(RefusedProblem, match=r"echo '/units/' >> \.gitignore"):
        commands.add_unit(root, unit("K-2"))


def test_units_that_stand_in_the_history_already_are_refused(root: Path, publish: Publish) -> None:
    """What git ignores it still keeps where it was taken in before."""
    publish("1")
    commands.add_unit(root, unit("K-1"))
    git(root, "add", "--force", "units")
    with pytest.raises(RefusedProblem, match="git rm -r --cached units"):
        commands.add_unit(root, unit("K-2"))
