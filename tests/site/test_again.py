"""Building again: the same bytes whatever surrounds the build, and no work where nothing changed."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from guidegen import pipeline
from guidegen.site import engine
from tests.conftest import DRAWS


def held(site: Path) -> dict[str, bytes]:
    """Every file of a built site."""
    return {path.relative_to(site).as_posix(): path.read_bytes() for path in site.rglob("*") if path.is_file()}


def test_other_folder_hash_seed_time_zone_and_day_give_the_same_bytes(
    built_site: Path, tmp_path: Path, lay_down_workshop: Callable[[Path], Path]
) -> None:
    """A second build by a process of its own, elsewhere, differs in nothing."""
    other = lay_down_workshop(tmp_path / "other place")
    environment = {
        **os.environ,
        "PYTHONHASHSEED": "4711",
        "TZ": "Pacific/Kiritimati",
        "LC_ALL": "C",
        "PYTHONPATH": os.pathsep.join(sys.path),
    }
    environment.pop("SOURCE_DATE_EPOCH", None)
    command = [sys.executable, "-m", "guidegen", "--root", str(other), "build", "--draws", str(DRAWS)]
    done = subprocess.run(command, env=environment, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    ours, theirs = held(built_site), held(other / "site" / "next")
    assert sorted(ours) == sorted(theirs)
    assert [path for path in ours if ours[path] != theirs[path]] == []


def test_second_build_writes_nothing_and_starts_no_engine(
    workshop: Path, built_site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Neither in the site nor beside it does any file get a new time of writing; that of kept numbers, records
    and sheets says when they were used last.
    """

    def never(root: Path, name: str) -> None:
        raise AssertionError(f"{name} was started")

    monkeypatch.setattr(engine, "_start", never)
    files = [path for path in workshop.rglob("*") if path.is_file() and path.name != "lock"]
    files = [path for path in files if not {"numbers", "paper", "records"} & {*path.relative_to(workshop).parts}]
    before = {path: path.stat().st_mtime_ns for path in files}
    built = pipeline.build(workshop, draws=DRAWS)
    assert built.changes.written == built.changes.deleted == ()
    after = {path: path.stat().st_mtime_ns for path in files}
    assert [path for path in files if before[path] != after[path]] == []
