"""The same on disks that are really full or read-only, and where files may not grow or nobody listens."""

from __future__ import annotations

import io
import os
import resource
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.editions_workshop import guidegen
from tests.site.surroundings import QUICK, walk
from tests.whole import some

pytestmark = pytest.mark.slow

SIZE = 64 * 2**20
LEFT = (0, 2_000, 60_000, 500_000, 3_000_000, 12_000_000)
"""So many bytes are left on the disk, and so large may a file be: from nothing at all to most of what is needed."""
CLOSED = ("<&-", ">&-", "2>&-", "<&- >&- 2>&-", ">/dev/full", "2>/dev/full", "<&- >/dev/full 2>&1")


@pytest.fixture
def disk(tmp_path: Path) -> Iterator[Path]:
    """A small disk of its own."""
    folder = tmp_path / "disk"
    folder.mkdir()
    command = ["mount", "-t", "tmpfs", "-o", f"size={SIZE}", "guidegen-test", str(folder)]
    try:
        done = subprocess.run(command, capture_output=True, check=False)
    except FileNotFoundError:
        pytest.skip("no mount on this machine")
    if done.returncode:
        pytest.skip("nobody but root may mount a disk")
    yield folder
    subprocess.run(["umount", "--lazy", str(folder)], check=True)


@pytest.fixture
def root(whole: Path, disk: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The workshop on that disk."""
    root = Path(shutil.copytree(whole, disk / "workshop", symlinks=True))
    monkeypatch.chdir(root)
    monkeypatch.setattr(sys, "stdin", io.StringIO())
    return root


def filled(filler: Path, left: int) -> None:
    """Fill the disk but for some bytes."""
    filler.unlink(missing_ok=True)
    free = os.statvfs(filler.parent)
    with filler.open("wb") as file:
        os.posix_fallocate(file.fileno(), 0, max(1, free.f_bavail * free.f_bsize - left))


def recovered(root: Path) -> None:
    """Once there is room the commands that stopped do the rest, and nothing is torn."""
    assert guidegen(root, "build", *QUICK) == 0
    assert guidegen(root, "recover") == 0
    assert guidegen(root, "deliver") == 0
    assert guidegen(root, "verify") == 0


@pytest.mark.parametrize("left", some(LEFT, 6))
def test_a_disk_that_is_full_is_no_fault_of_ours(root: Path, capsys: pytest.CaptureFixture[str], left: int) -> None:
    """Filled again before every command."""
    filler = root.parent / "filler"
    codes = walk(capsys, lambda: filled(filler, left))
    assert codes["list"] == 0
    filler.unlink()
    recovered(root)


def test_a_disk_that_can_only_be_read_is_no_fault_of_ours(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What writes nothing works."""
    subprocess.run(["mount", "-o", "remount,ro", str(root.parent)], check=True)
    codes = walk(capsys)
    assert codes["list"] == codes["verify"] == 0
    assert codes["build --draws 0"] == 3


@pytest.mark.parametrize("most", some(LEFT[1:5], 4))
def test_files_that_may_not_grow_are_no_fault_of_ours(
    whole: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, most: int
) -> None:
    """A limit of the system on the size of a file, and afterwards none."""
    root = Path(shutil.copytree(whole, tmp_path / "workshop", symlinks=True))
    monkeypatch.chdir(root)
    monkeypatch.setattr(sys, "stdin", io.StringIO())
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (most, before[1]))
    try:
        walk(capsys)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
    recovered(root)


@pytest.mark.parametrize("where", some(CLOSED, 3))
@pytest.mark.parametrize("words", [("build", *QUICK), ("verify",), ("--help",)], ids=" ".join)
def test_nobody_who_speaks_or_listens_is_no_fault_of_ours(
    whole: Path, tmp_path: Path, where: str, words: tuple[str, ...]
) -> None:
    """As under a scheduler, or with its output on a full disk."""
    root = Path(shutil.copytree(whole, tmp_path / "workshop", symlinks=True))
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    command = ["sh", "-c", f'exec "$@" {where}', "sh", sys.executable, "-m", "guidegen", *words]
    done = subprocess.run(command, cwd=root, env=environment, capture_output=True, check=False)
    assert done.returncode in ((0,) if "full" not in where else (0, 3)), done.stderr[-500:]
    assert b"Traceback" not in done.stderr
