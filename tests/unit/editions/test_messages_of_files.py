"""What is wrong in the small files about editions is said with the line, and not at more length than anybody reads."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from pydantic import BaseModel

from guidegen.editions import branch, commands, history, lines, units_sold, withdrawals
from guidegen.problems import EnvironmentProblem, Problem
from tests.unit.editions.conftest import Publish
from tests.unit.editions.test_units_sold import unit


class Inner(BaseModel):
    """A part."""

    count: int


class Outer(BaseModel):
    """A small file."""

    name: str
    parts: list[Inner]


TEXT = '{\n "name": "a",\n "parts": [\n  {"count": 1},\n  {"count": "many"}\n ]\n}\n'


def test_a_wrong_value_is_named_with_its_line(tmp_path: Path) -> None:
    """Line 5 of the text above, counted by hand."""
    path = tmp_path / "a.json"
    path.write_text(TEXT, encoding="utf-8")
    with pytest.raises(EnvironmentProblem, match=r"a\.json:5: parts\.1\.count: Input should be a valid integer"):
        lines.validated(Outer, path)
    path.write_text(TEXT.replace('"name": "a",\n ', ""), encoding="utf-8")
    with pytest.raises(EnvironmentProblem, match=r"a\.json:1: name: Field required"):
        lines.validated(Outer, path)
    path.write_text("{\n", encoding="utf-8")
    with pytest.raises(EnvironmentProblem, match=r"Invalid JSON: .*line 2"):
        lines.validated(Outer, path)


def test_the_files_about_editions_say_it_so(root: Path, publish: Publish) -> None:
    """Withdrawals, facts and units."""
    publish("1")
    commands.add_unit(root, unit("K-1"))
    withdrawn = root / "content" / "editions" / "withdrawn.json"
    withdrawn.write_text('{"format": 1,\n "withdrawn": [\n  {"edition": "1"}]}\n', encoding="utf-8")
    with pytest.raises(EnvironmentProblem, match=r"withdrawn\.json:3: withdrawn\.0\.guide: Field required"):
        withdrawals.read(root)
    path = root / "units" / "K-1.json"
    path.write_text('{\n "serial": 5}\n', encoding="utf-8")
    with pytest.raises(EnvironmentProblem, match=r"K-1\.json:2: serial: Input should be a valid string"):
        units_sold.read_one(path)


def test_a_name_of_two_hundred_thousand_signs_is_not_repeated_in_full() -> None:
    """Its beginning is enough to find it."""
    text = str(Problem("a.yml", 1, 1, "X01", f'no "{"x" * 200_000}" here', "y" * 200_000))
    assert len(text) < 5_000
    assert "…" in text


def test_what_no_edition_is_made_of_may_lie_there_uncommitted(root: Path, publish: Publish) -> None:
    """A note, a delivered folder, a unit that git is let see: none of its business; a hook that it names is."""
    publish("1")
    (root / "notes.txt").write_text("a", encoding="utf-8")
    (root / "hook.py").write_text("", encoding="utf-8")
    history.refuse_uncommitted(root, "content/editions/2")
    (root / "mkdocs.yml").write_text("site_name: A\nhooks: [hook.py]\n", encoding="utf-8")
    with pytest.raises(history.Uncommitted, match=r"not committed: hook\.py, mkdocs\.yml"):
        history.refuse_uncommitted(root, "content/editions/2")


def test_copies_that_a_killed_delivery_of_an_older_program_left_go(root: Path, publish: Publish) -> None:
    """Today's makes none."""
    publish("1")
    left = root / ".guidegen" / "deliver" / "tmpabc"
    left.mkdir(parents=True)
    shutil.copy(root / "mkdocs.yml", left)
    commands.deliver_to(root, "published", None)
    assert not left.exists()
    assert branch.is_there(root, "published")
