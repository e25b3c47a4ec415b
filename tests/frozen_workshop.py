"""Today's demonstration with the editions that it had when records were of format 1."""

from __future__ import annotations

import shutil
from pathlib import Path

REPOSITORY = Path(__file__).parents[1]
FROZEN = REPOSITORY / "tests" / "editions_frozen"
EDITIONS = ("2025.1", "2025.2", "2025.3")


def lay_down(root: Path) -> Path:
    """Copy the data of the demonstration, and the frozen editions in place of its own."""
    for name in ("machines", "content"):
        shutil.copytree(REPOSITORY / name, root / name, ignore=shutil.ignore_patterns("editions"))
    shutil.copy(REPOSITORY / "mkdocs.yml", root)
    for name in EDITIONS:
        shutil.copytree(FROZEN / name, root / "content" / "editions" / name)
    return root
