"""From nothing kept and nothing compiled: the first page of the preview, and `make site` with every draw.

Each has a copy of the repository of its own, without its environment: installing that is not counted. What the build
computed is kept in this repository's `.guidegen/`, where the other parts look for it.
"""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

from guidegen.assess import DRAWS
from tests.bench._aims import ENVIRONMENT, PYTHON, Aim, run, say, seconds
from tests.bench.edits import GUIDE, page_with, preview
from tests.bench.synthetic import ROOT, lay_down

FIRST_S, SITE_S = 20.0, 120.0


def copied(folder: Path) -> Path:
    """Program and workshop as a clone has them."""
    lay_down(folder, 0)
    shutil.copytree(ROOT / "guidegen", folder / "guidegen", ignore=shutil.ignore_patterns("__pycache__"))
    return folder


def first_page(root: Path) -> None:
    """Start the preview and wait for a guide with its stated values."""
    with preview(root, program=root) as address:
        page_with(address, f"{GUIDE}/index.html", "gg-")


def make_site(root: Path) -> None:
    """What `make site` runs."""
    environment = {**ENVIRONMENT, "PYTHONPATH": str(root)}
    for words in (("build",), ("editions", "--anew", "-q")):
        run([PYTHON, "-m", "guidegen", *words], root, environment)


def main() -> Iterator[Aim]:
    """Both, once each."""
    with tempfile.TemporaryDirectory() as folder:
        spent = seconds(lambda: first_page(copied(Path(folder) / "first")))
        yield Aim("a cold preview's first guide, stated values", spent, FIRST_S, "s",
                  "compiling the kernels, anew in each clone, and reading and judging")  # fmt: skip
        root = copied(Path(folder) / "site")
        spent = seconds(lambda: make_site(root))
        say("cold", f"make site with {DRAWS} draws in {spent:.0f} s on {os.cpu_count()} processors")
        yield Aim("a cold make site", spent, SITE_S, "s", "the draws: most of it is stepping networks through time")
        for kind in ("numbers", "records"):
            shutil.copytree(root / ".guidegen" / kind, ROOT / ".guidegen" / kind, dirs_exist_ok=True)
