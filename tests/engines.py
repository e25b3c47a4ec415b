"""Build the demonstration with each engine, every other one in an environment of its own, and compare the texts.

Run by `make engines`; not a test of every day, because it installs things. An engine that cannot be installed is
skipped with its reason, which under CI=true counts as a failure.
"""

from __future__ import annotations

import argparse
import html
import os
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

REPOSITORY = Path(__file__).parents[1]
OTHERS = ("properdocs", "zensical")


class Skipped(Exception):
    """An engine that cannot be tried here, and why."""


def environment_of(engine: str) -> str:
    """The interpreter of the engine's own environment, made when it is not there."""
    folder = REPOSITORY / f".venv-{engine}"
    python = folder / ("Scripts" if os.name == "nt" else "bin") / "python"
    if not (folder / ".ready").exists():
        pinned = (REPOSITORY / "requirements" / "engines.txt").read_text(encoding="utf-8")
        wanted = next(line for line in pinned.splitlines() if line.startswith(f"{engine}=="))
        quiet = ["--quiet", "--disable-pip-version-check"]
        steps = [
            [sys.executable, "-m", "venv", str(folder)],
            [str(python), "-m", "pip", "install", *quiet, "--require-hashes", "-r", "requirements/run.txt"],
            [str(python), "-m", "pip", "install", *quiet, wanted],
        ]
        for step in steps:
            done = subprocess.run(step, cwd=REPOSITORY, capture_output=True, text=True, check=False)
            if done.returncode:
                last = (done.stderr.strip().splitlines() or ["no reason given"])[-1]
                raise Skipped(f"its environment cannot be made: {last}")
        (folder / ".ready").touch()
    return str(python)


def build(python: str, engine: str, folder: Path) -> dict[str, bytes]:
    """The demonstration's site, built by that engine in a folder of its own."""
    folder.mkdir()
    for name in ("machines", "content", "mkdocs.yml"):
        source = REPOSITORY / name
        (shutil.copytree if source.is_dir() else shutil.copy)(source, folder / name)
    command = [python, "-m", "guidegen", "--root", str(folder), "build", "--engine", engine]
    environment = {**os.environ, "PYTHONPATH": str(REPOSITORY)}
    done = subprocess.run(command, env=environment, capture_output=True, text=True, check=False)
    if done.returncode:
        raise SystemExit(f"{engine}: the build ended with {done.returncode}\n{done.stderr}")
    site = folder / "site" / "next"
    return {path.relative_to(site).as_posix(): path.read_bytes() for path in site.rglob("*") if path.is_file()}


def text_of(page: bytes) -> str:
    """The article's text without markup, spaces joined."""
    article = re.search(r"<article.*?</article>", page.decode(), re.DOTALL)
    silent = re.sub(r"<(script|style|title)\b.*?</\1>", " ", article.group() if article else "", flags=re.DOTALL)
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", silent)).split())


def differences(ours: dict[str, bytes], theirs: dict[str, bytes]) -> list[str]:
    """Pages that only one of the two has, or whose texts differ."""
    mine, other = ({path for path in files if path.endswith(".html")} for files in (ours, theirs))
    found = [f"{path}: only one of the two has it" for path in sorted(mine ^ other)]
    return found + [
        f"{path}: the text differs" for path in sorted(mine & other) if text_of(ours[path]) != text_of(theirs[path])
    ]


def main() -> int:
    """Build with every engine and say what came of it."""
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("--python", help="an interpreter that has every engine already")
    python = arguments.parse_args().python
    failed = False
    with tempfile.TemporaryDirectory() as place:
        ours = build(sys.executable, "mkdocs", Path(place) / "mkdocs")
        for engine in OTHERS:
            try:
                theirs = build(python or environment_of(engine), engine, Path(place) / engine)
            except Skipped as reason:
                print(f"{engine}: skipped, {reason}")
                failed |= os.environ.get("CI") == "true"
                continue
            found = differences(ours, theirs)
            failed |= bool(found)
            pages = sum(path.endswith(".html") for path in theirs)
            print(f"{engine}: " + ("\n  ".join(found) if found else f"the same text on all {pages} pages"))
    return int(failed)


if __name__ == "__main__":
    sys.exit(main())
