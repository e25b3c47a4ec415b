"""A copy of the package with a recipe applied, and commands that run in it."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

from tests.recipes.apply import apply, recipes

REPOSITORY = Path(__file__).parents[2]
COPIED = ("guidegen", "tests", "machines", "content", "mkdocs.yml", "pyproject.toml", "DEVELOPERS.md", "README.md")
"""What the package's tests need; nothing that a run has left behind."""


def copy(folder: Path, recipe: str) -> Path:
    """Copy the package with its tests and its demonstration into a folder, and follow a recipe there."""
    for name in COPIED:
        source = REPOSITORY / name
        if source.is_dir():
            shutil.copytree(source, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            folder.mkdir(parents=True, exist_ok=True)
            shutil.copy(source, folder / name)
    apply(recipes()[recipe], folder)
    return folder


def run(copied: Path, *words: str, root: Path | None = None) -> str:
    """Run a module of the copy, or a tool on it, and return what it prints; a failure shows all that it said."""
    environment = {**os.environ, "PYTHONPATH": str(copied), "PYTHONSAFEPATH": "1"}
    done = subprocess.run(
        [sys.executable, "-m", *words], cwd=root or copied, env=environment, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, f"{' '.join(words)}\n{done.stdout}\n{done.stderr}"
    return done.stdout
