"""The demonstration with its procedures in words, before and after the command."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from guidegen.commands import main
from tests.fixtures.in_words import DEMONSTRATION, IN_WORDS, NAMES


@pytest.fixture(scope="module")
def in_words(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demonstration with its procedures in words."""
    root = tmp_path_factory.mktemp("in-words")
    for name in ("machines", "content"):
        shutil.copytree(DEMONSTRATION / name, root / name, ignore=shutil.ignore_patterns("editions"))
    for name in NAMES:
        shutil.copy(IN_WORDS / f"{name}.yml", root / "content/procedures")
    return root


@pytest.fixture(scope="module")
def converted(in_words: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same after the command."""
    root = tmp_path_factory.mktemp("converted") / "workshop"
    shutil.copytree(in_words, root)
    assert main(["--root", str(root), "-q", "convert", "--yes"]) == 0
    return root


@pytest.fixture
def root(in_words: Path, tmp_path: Path) -> Path:
    """The workshop in words, to write into."""
    shutil.copytree(in_words, tmp_path / "workshop")
    return tmp_path / "workshop"
