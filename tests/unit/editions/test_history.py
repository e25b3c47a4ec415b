"""Nothing is published that is not in the workshop's history; the fix that is printed works."""

from __future__ import annotations

import datetime
import subprocess
from pathlib import Path

import pytest

from guidegen.editions import history
from tests.unit.editions.conftest import commit, git


def fix_of(root: Path) -> str:
    """The command that is printed."""
    with pytest.raises(history.Uncommitted) as caught:
        history.refuse_uncommitted(root, besides="content/editions/2026.1")
    return str(caught.value).split("fix: ")[1]


@pytest.mark.parametrize("count", [1, 3, 40])
def test_the_fix_that_is_printed_works(root: Path, count: int) -> None:
    """Changed, new and deleted files, with spaces and quotes in their names, few or many."""
    (root / "mkdocs.yml").write_text("site_name: Other\n", encoding="utf-8")
    (root / "content" / "workshop.yml").unlink()
    for number in range(count):
        (root / "content" / f"it's file {number}.yml").write_text("a: 1\n", encoding="utf-8")
    subprocess.run(fix_of(root), shell=True, check=True, capture_output=True)
    history.refuse_uncommitted(root, besides="content/editions/2026.1")
    assert history.changed(root) == ()


def test_a_folder_without_a_history_shows_how_to_begin_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With the whole command."""
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(tmp_path))
    for name in ("AUTHOR", "COMMITTER"):
        monkeypatch.setenv(f"GIT_{name}_NAME", "A Test")
        monkeypatch.setenv(f"GIT_{name}_EMAIL", "test@workshop.example")
    root = tmp_path / "a workshop"
    root.mkdir()
    (root / "mkdocs.yml").write_text("site_name: One\n", encoding="utf-8")
    subprocess.run(fix_of(root), shell=True, check=True, capture_output=True)
    history.refuse_uncommitted(root, besides="content/editions/2026.1")


def test_the_snapshot_of_the_edition_itself_may_be_uncommitted(root: Path) -> None:
    """So that publishing may be tried again; that of another edition may not."""
    for name in ("2026.1", "2026.10"):
        (root / "content" / "editions" / name).mkdir(parents=True)
        (root / "content" / "editions" / name / "shared.json").write_text("{}", encoding="utf-8")
    assert "content/editions/2026.10 &&" in fix_of(root)
    git(root, "add", "content/editions/2026.10")
    git(root, "commit", "--quiet", "--message", "Keep", "--", "content/editions/2026.10")
    history.refuse_uncommitted(root, besides="content/editions/2026.1")


def test_what_lies_beside_the_workshop_does_not_matter(tmp_path: Path, root: Path) -> None:
    """A workshop may be one folder of a larger repository."""
    inner = root / "content"
    (root / "mkdocs.yml").write_text("site_name: Other\n", encoding="utf-8")
    history.refuse_uncommitted(inner, besides="x")
    (inner / "workshop.yml").write_text("contact: x\n", encoding="utf-8")
    assert history.changed(inner) == ("workshop.yml",)


def test_the_day_is_that_of_the_last_commit(root: Path) -> None:
    """As its author's calendar had it."""
    commit(root, datetime.date(2025, 12, 31))
    assert history.last_commit_date(root) == datetime.date(2025, 12, 31)
