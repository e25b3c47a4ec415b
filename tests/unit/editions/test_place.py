"""Committing an edition: whatever dies, the site is the old one or the new one, and the next commit does the rest."""

from __future__ import annotations

import hashlib
import itertools
import json
import os
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from guidegen.editions import place
from guidegen.writing import Operations

pytestmark = pytest.mark.slow


@pytest.fixture(autouse=True)
def quick_disk(monkeypatch: pytest.MonkeyPatch) -> None:
    """These tests let the program die, not the power: nothing has to be waited for."""
    monkeypatch.setattr(os, "fsync", lambda descriptor: None)


class Died(Exception):
    """The machine stopped."""


class Dying(Operations):
    """Operations that stop working before the one with this number, and after it for good."""

    def __init__(self, number: int) -> None:
        self.left = number

    def _live(self) -> None:
        if self.left <= 0:
            raise Died
        self.left -= 1

    def __getattribute__(self, name: str) -> Any:
        found = object.__getattribute__(self, name)
        if name.startswith("_") or name == "left":
            return found

        def alive(*given: Any) -> Any:
            self._live()
            return found(*given)

        return alive


def files(word: str, count: int = 50) -> dict[str, bytes]:
    """Small files in a few folders."""
    return {f"folder-{number % 7}/deep/{number}.html": f"{word} {number}\n".encode() for number in range(count)}


def held(folder: Path) -> dict[str, bytes]:
    """Every file of a folder."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def committed(site: Path, name: str, word: str, operations: Operations | None = None) -> None:
    """Commit an edition of fifty files."""
    place.commit(site, name, files(word), place.versions_bytes([name, *place.published(site)]), operations)


def assert_is(site: Path, name: str, word: str) -> None:
    """The edition holds exactly its files and their sums."""
    inside = held(site / name)
    sums = inside.pop("SHA256SUMS").decode()
    assert inside == files(word)
    expected = sorted(f"{hashlib.sha256(data).hexdigest()}  {path}" for path, data in inside.items())
    assert sorted(sums.splitlines()) == expected


def test_an_edition_is_there_when_it_is_listed(tmp_path: Path) -> None:
    """Newest first, with the alias that the theme's selector knows the newest by."""
    site = tmp_path / "site"
    committed(site, "1", "one")
    committed(site, "2", "two")
    assert json.loads((site / "versions.json").read_bytes()) == [
        {"version": "2", "title": "2", "aliases": ["latest"]},
        {"version": "1", "title": "1", "aliases": []},
    ]
    assert_is(site, "1", "one")
    assert_is(site, "2", "two")
    assert sorted(path.name for path in site.iterdir()) == ["1", "2", "versions.json"]


def test_the_sums_are_those_of_a_common_tool(tmp_path: Path) -> None:
    """`sha256sum --check` agrees, without guidegen."""
    committed(tmp_path, "1", "one")
    done = subprocess.run(["sha256sum", "--check", "--quiet", "SHA256SUMS"], cwd=tmp_path / "1", capture_output=True)
    assert done.returncode == 0, done.stdout


def test_nothing_writes_into_an_edition(tmp_path: Path) -> None:
    """Not even the same bytes."""
    committed(tmp_path, "1", "one")
    with pytest.raises(ValueError, match="nothing may write into it"):
        committed(tmp_path, "1", "one")


def test_dying_before_any_operation_leaves_the_old_site_or_the_new(tmp_path: Path) -> None:
    """Every operation once: until the list is renamed there is no edition 2, from then on it is whole."""
    seen: dict[str, int] = {"old": 0, "new": 0}
    for number in itertools.count():
        site = tmp_path / str(number)
        committed(site, "1", "one")
        before = (site / "versions.json").read_bytes()
        try:
            committed(site, "2", "two", Dying(number))
            died = False
        except Died:
            died = True
        names = place.published(site)
        assert names in (("1",), ("2", "1"))
        assert ((site / "versions.json").read_bytes() == before) == (names == ("1",))
        assert_is(site, "1", "one")
        if "2" in names:
            assert_is(site, "2", "two")
        seen["new" if "2" in names else "old"] += 1
        # Whoever comes next finds a site that works, and takes the rests away.
        if "2" not in names:
            committed(site, "2", "two")
        place.clear(site)
        assert_is(site, "2", "two")
        assert sorted(path.name for path in site.iterdir()) == ["1", "2", "versions.json"]
        if not died:
            break
    # Fifty files, their sums, fifteen folders made and synced, and the renames at the end.
    assert seen["old"] > 80
    assert seen["new"] >= 2


def test_dying_again_during_the_repair_harms_nothing(tmp_path: Path) -> None:
    """The rest of a crash is in the way, and the next attempt dies too, anywhere."""
    for number in itertools.count():
        site = tmp_path / str(number)
        committed(site, "1", "one")
        _ignoring(lambda site=site: committed(site, "2", "torn", Dying(75)))
        assert (site / ".prepared-2").is_dir()
        died = _ignoring(lambda site=site, number=number: committed(site, "2", "two", Dying(number)))
        assert_is(site, "1", "one")
        if "2" in place.published(site):
            assert_is(site, "2", "two")
        if not died:
            break


def _ignoring(act: Callable[[], None]) -> bool:
    try:
        act()
    except Died:
        return True
    return False


def test_what_crashed_before_it_was_listed_is_replaced(tmp_path: Path) -> None:
    """A folder of that name which no list names was never an edition."""
    (tmp_path / "1").mkdir()
    (tmp_path / "1" / "half.html").write_bytes(b"half")
    committed(tmp_path, "1", "one")
    assert_is(tmp_path, "1", "one")


def test_a_damaged_list_is_reported_and_not_written_over(tmp_path: Path) -> None:
    """It may name editions that nobody would find again."""
    (tmp_path / "versions.json").write_bytes(b"[{")
    with pytest.raises(Exception, match=r"versions\.json is damaged"):
        committed(tmp_path, "1", "one")
    assert (tmp_path / "versions.json").read_bytes() == b"[{"
