"""The demonstration, copied and built once for every test that looks at a finished site."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

REPOSITORY = Path(__file__).parents[1]
WORKSHOP = ("machines", "content", "mkdocs.yml")
DRAWS = 256
"""Fewer than by default, for time; nothing that is looked at depends on how sharp the ends of the ranges are."""


def lay_down(folder: Path) -> Path:
    """Copy what makes the demonstration a workshop, and nothing that a build left behind."""
    folder.mkdir(parents=True, exist_ok=True)
    for name in WORKSHOP:
        source = REPOSITORY / name
        (shutil.copytree if source.is_dir() else shutil.copy)(source, folder / name)
    return folder


@pytest.fixture(scope="session")
def lay_down_workshop() -> Callable[[Path], Path]:
    """Lay the demonstration down once more, elsewhere."""
    return lay_down


@pytest.fixture(scope="session")
def workshop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demonstration in a folder with a space and an accent in its name."""
    return lay_down(tmp_path_factory.mktemp("demonstration") / "a workshop é")


@pytest.fixture(scope="session")
def built_site(workshop: Path) -> Path:
    """The folder of the demonstration's draft, built."""
    from guidegen import pipeline

    pipeline.build(workshop, draws=DRAWS)
    return workshop / "site" / "next"
