"""A plan of edits: it shows what will change, and changes every file or none, whatever fails."""

from __future__ import annotations

import itertools
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from guidegen.problems import EnvironmentProblem, RefusedProblem
from guidegen.workshop.editor import EditedFile
from guidegen.workshop.plan import Plan
from guidegen.writing import Operations, lock

OLD = {"a.yml": b"# of a\na: 1  # one\n", "machines/b.yml": b"\xef\xbb\xbfb: 1\r\nc: 2"}
NEW = {"a.yml": b"# of a\na: 3  # one\n", "machines/b.yml": b"\xef\xbb\xbfb: 3\r\nc: 2"}


@pytest.fixture(autouse=True)
def quick_disk(monkeypatch: pytest.MonkeyPatch) -> None:
    """These tests let the program die, not the power: nothing has to be waited for."""
    monkeypatch.setattr(os, "fsync", lambda descriptor: None)


class Failed(Exception):
    """One operation could not be done."""


class Failing(Operations):
    """Operations of which the one with this number fails: once, or from then on for good as when the machine stops."""

    def __init__(self, number: int, for_good: bool) -> None:
        self.left, self.for_good = number, for_good

    def __getattribute__(self, name: str) -> Any:
        found = object.__getattribute__(self, name)
        if not isinstance(found, Callable):  # type: ignore[arg-type]
            return found

        def tried(*given: Any) -> Any:
            self.left -= 1
            if self.left == -1 or (self.for_good and self.left < 0):
                raise Failed
            return found(*given)

        return tried


def laid_down(root: Path) -> Path:
    """The old files."""
    for path, data in OLD.items():
        (root / path).parent.mkdir(parents=True, exist_ok=True)
        (root / path).write_bytes(data)
    return root


def plan() -> Plan:
    """Both files with another value each."""
    a, b = (EditedFile.of(path, data) for path, data in OLD.items())
    return Plan((b.set(("b",), "3"), a.set(("a",), "3")))


def held(root: Path) -> dict[str, bytes]:
    """Every file outside `.guidegen/`."""
    paths = (path for path in root.rglob("*") if path.is_file() and ".guidegen" not in path.parts)
    return {path.relative_to(root).as_posix(): path.read_bytes() for path in paths}


def test_the_diff_names_the_files_and_shows_the_lines() -> None:
    """As common tools write and read it; a line without a break at its end says so."""
    assert plan().diff() == (
        "--- a/a.yml\n+++ b/a.yml\n@@ -1,2 +1,2 @@\n # of a\n-a: 1  # one\n+a: 3  # one\n"
        "--- a/machines/b.yml\n+++ b/machines/b.yml\n@@ -1,2 +1,2 @@\n-b: 1\r\n+b: 3\r\n"
        " c: 2\n\\ No newline at end of file\n"
    )


def test_a_plan_changes_every_file_and_keeps_their_permissions(tmp_path: Path) -> None:
    """Nothing else is left in the folders."""
    root = laid_down(tmp_path)
    (root / "a.yml").chmod(0o640)
    plan().apply(root)
    assert held(root) == NEW
    assert (root / "a.yml").stat().st_mode & 0o777 == 0o640


def test_what_a_killed_command_left_half_written_goes(tmp_path: Path) -> None:
    """In the folders that a plan writes into; a file of the maker's own stays."""
    root = laid_down(tmp_path)
    for name in (".abc.part", "machines/.def.part", "machines/a part"):
        (root / name).write_bytes(b"half")
    plan().apply(root)
    assert held(root) == {**NEW, "machines/a part": b"half"}


def test_a_plan_that_changes_nothing_touches_nothing(tmp_path: Path) -> None:
    """Not even the lock, and there is nothing to show."""
    nothing = Plan((EditedFile.of("gone.yml", b"a: 1\n").set(("a",), "1"),))
    assert (nothing.diff(), nothing.changed) == ("", ())
    nothing.apply(tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_two_edits_of_one_file_are_no_plan() -> None:
    """One would undo the other."""
    one = EditedFile.of("a.yml", OLD["a.yml"])
    with pytest.raises(ValueError, match="stands twice"):
        Plan((one.set(("a",), "2"), one.set(("a",), "3")))


def test_what_fails_once_is_taken_back(tmp_path: Path) -> None:
    """Each operation in turn: all files are old, nothing is left over, and the next attempt succeeds."""
    failed = 0
    for number in itertools.count():
        root = laid_down(tmp_path / str(number))
        try:
            plan().apply(root, Failing(number, for_good=False))
        except Failed:
            failed += 1
            assert held(root) == OLD
            plan().apply(root)
            assert held(root) == NEW
        else:
            assert held(root) == NEW
            break
    # Two files: each written, given its permissions, renamed; two folders synced.
    assert failed == 8


def test_a_machine_that_stops_leaves_whole_files(tmp_path: Path) -> None:
    """Each operation in turn and everything after it: every file is old or new, and what is left over hides nothing."""
    mixed = 0
    for number in itertools.count():
        root = laid_down(tmp_path / str(number))
        try:
            plan().apply(root, Failing(number, for_good=True))
        except Failed:
            found = {path: data for path, data in held(root).items() if not path.endswith(".part")}
            assert all(data in (OLD[path], NEW[path]) for path, data in found.items())
            mixed += found not in (OLD, NEW)
            files = tuple(EditedFile.of(path, data) for path, data in found.items())
            Plan(tuple(one.set(("a",) if one.has(("a",)) else ("b",), "3") for one in files)).apply(root)
            assert {path: held(root)[path] for path in NEW} == NEW
        else:
            break
    assert mixed == 1, "only between the two renames"


def test_an_interruption_is_taken_back_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C between the renames."""
    root = laid_down(tmp_path)
    renamed = Operations.rename
    done: list[Path] = []

    def interrupted(self: Operations, old: Path, new: Path) -> None:
        done.append(new)
        if len(done) == 2:
            raise KeyboardInterrupt
        renamed(self, old, new)

    monkeypatch.setattr(Operations, "rename", interrupted)
    with pytest.raises(KeyboardInterrupt):
        plan().apply(root)
    assert held(root) == OLD


def spoilt_by_editing(root: Path) -> None:
    """Somebody saved the file meanwhile."""
    (root / "machines/b.yml").write_bytes(b"b: 5\n")


def spoilt_by_removing(root: Path) -> None:
    """Somebody deleted it."""
    (root / "machines/b.yml").unlink()


def spoilt_by_link(root: Path) -> None:
    """It is a link to a file elsewhere."""
    (root / "machines/b.yml").rename(root / "elsewhere.yml")
    (root / "machines/b.yml").symlink_to(root / "elsewhere.yml")


def spoilt_by_linked_folder(root: Path) -> None:
    """Its folder is a link."""
    (root / "machines").rename(root / "elsewhere")
    (root / "machines").symlink_to(root / "elsewhere")


def spoilt_by_protection(root: Path) -> None:
    """Nobody may write it."""
    (root / "machines/b.yml").chmod(0o444)


@pytest.mark.parametrize(
    ("spoil", "message"),
    [
        (spoilt_by_editing, "machines/b.yml was changed since it was read"),
        (spoilt_by_removing, "machines/b.yml: No such file or directory"),
        (spoilt_by_link, "machines/b.yml is a link"),
        (spoilt_by_linked_folder, "machines is a link"),
        (spoilt_by_protection, "machines/b.yml is write-protected"),
    ],
)
def test_a_file_that_is_not_as_it_was_read_stops_the_plan(
    tmp_path: Path, spoil: Callable[[Path], None], message: str
) -> None:
    """Before any file of the plan is touched."""
    root = laid_down(tmp_path)
    spoil(root)
    before = held(root)
    with pytest.raises(EnvironmentProblem, match=message):
        plan().apply(root)
    assert held(root) == before


def test_another_guidegen_at_work_stops_the_plan(tmp_path: Path) -> None:
    """A build must not read one file old and one new."""
    root = laid_down(tmp_path)
    with lock(root), pytest.raises(RefusedProblem, match="another guidegen is working"):
        plan().apply(root)
    assert held(root) == OLD


def test_a_new_file_is_made_whole_or_not_at_all(tmp_path: Path) -> None:
    """Whatever operation fails, it is not there, and a file beside it has its old bytes."""
    (tmp_path / "machines").mkdir()
    (tmp_path / "a.yml").write_bytes(OLD["a.yml"])
    new = EditedFile.new("machines/new.yml", b"# of it\nlist: []\n").append(("list",), {"id": "one"})
    plan = Plan((EditedFile.of("a.yml", OLD["a.yml"]).set(("a",), "3"), new))
    assert "+++ b/machines/new.yml" in plan.diff()
    for number in range(7):  # two writes, one mode, two renames, two folders
        with pytest.raises(Failed):
            plan.apply(tmp_path, Failing(number, for_good=False))
        assert (tmp_path / "a.yml").read_bytes() == OLD["a.yml"]
        assert [path.name for path in (tmp_path / "machines").iterdir()] == []
    plan.apply(tmp_path)
    assert (tmp_path / "machines/new.yml").read_bytes() == b"# of it\nlist: [{id: one}]\n"


def test_a_file_that_is_there_is_not_taken_for_new(tmp_path: Path) -> None:
    """Somebody made it meanwhile: it stays as it is."""
    (tmp_path / "new.yml").write_bytes(b"a: 1\n")
    with pytest.raises(EnvironmentProblem, match=r"new\.yml was made since it was looked for"):
        Plan((EditedFile.new("new.yml", b"b: 2\n"),)).apply(tmp_path)
    assert (tmp_path / "new.yml").read_bytes() == b"a: 1\n"
