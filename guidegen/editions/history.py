"""The workshop's history in git: is everything committed, and when was the last commit."""

from __future__ import annotations

import datetime
import shlex
import subprocess
from collections.abc import Sequence
from pathlib import Path

from guidegen.problems import CatalogueError, EnvironmentProblem, RefusedProblem
from guidegen.site.engine.settings import read_settings

PATHS_SHOWN = 6
MADE_OF, SETTINGS = ("machines/", "content/"), "mkdocs.yml"


class Uncommitted(RefusedProblem):
    """What is to be published is not in the workshop's history."""


def git(root: Path, *words: str) -> bytes:
    """What git prints; a refusal becomes a sentence."""
    try:
        done = subprocess.run(["git", "-C", str(root), *words], capture_output=True, check=False)
    except FileNotFoundError as error:
        raise EnvironmentProblem("git is not installed, and editions stand on the workshop's history") from error
    if done.returncode:
        output = " ".join(done.stderr.decode(errors="replace").split())
        raise EnvironmentProblem(f"git {words[0]} was refused: {output}")
    return done.stdout


def has(root: Path) -> bool:
    """Whether git is here and keeps a history of this folder."""
    return allows(root, "rev-parse", "--git-dir")


def allows(root: Path, *words: str) -> bool:
    """Whether git says yes."""
    try:
        git(root, *words)
    except EnvironmentProblem:
        return False
    return True


def refuse_uncommitted(root: Path, besides: str) -> None:
    """Raise where anything that an edition is made of is not committed, with the command that fixes it.

    `besides` is a folder that may be: the snapshot of the very edition that is being published.
    """
    try:
        git(root, "rev-parse", "--git-dir")
    except EnvironmentProblem as error:
        if "not installed" in str(error):
            raise
        before = f"git init {_quoted(root)} && git -C {_quoted(root)} add . && "
        raise Uncommitted(
            f"{root.resolve().as_posix()} has no history yet, so nobody could find out later what an edition was made "
            f"from\n  fix: {before}git -C {_quoted(root)} commit -m 'Begin'"
        ) from error
    paths = [path for path in changed(root) if not path.startswith(f"{besides}/") and _is_published(root, path)]
    if not paths:
        return
    folders = _folders(paths)
    shown = ", ".join(folders[:PATHS_SHOWN]) + (", …" if len(folders) > PATHS_SHOWN else "")
    names = " ".join(_quoted(path) for path in folders)
    where = f"git -C {_quoted(root)}"
    kept = all(path.startswith("content/editions/") for path in paths)
    message = "Keep what was published" if kept else "Say here what changed and why"
    raise Uncommitted(
        f"not committed: {shown}\n  fix: {where} add -- {names} && {where} commit -m {_quoted(message)} -- {names}"
    )


def _is_published(root: Path, path: str) -> bool:
    """Whether an edition is made of it: the catalogue, the pages, the settings and the hooks that they name."""
    if path.startswith(MADE_OF) or path == SETTINGS:
        return True
    try:
        return path in map(str, read_settings(root / SETTINGS).get("hooks") or ())
    except CatalogueError:
        return False


def changed(root: Path) -> tuple[str, ...]:
    """Every path below `root` that differs from the last commit, seen from there; what git ignores does not count."""
    prefix = git(root, "rev-parse", "--show-prefix").decode().strip()
    output = git(root, "status", "--porcelain", "-z", "--untracked-files=all", "--no-renames", "--", ".")
    paths = (entry[3:] for entry in output.decode(errors="surrogateescape").split("\0") if entry)
    return tuple(sorted(path.removeprefix(prefix) for path in paths))


def last_commit_date(root: Path) -> datetime.date:
    """The day of the last commit, as its author's clock and time zone had it."""
    text = git(root, "log", "-1", "--format=%ad", "--date=format:%Y-%m-%d").decode().strip()
    return datetime.date.fromisoformat(text)


def _folders(paths: Sequence[str]) -> list[str]:
    """The paths; an edition that is kept goes as a whole, and where there are many files, their folders go."""
    whole = {"/".join(path.split("/")[:3]) if path.startswith("content/editions/") else path for path in paths}
    if len(whole) <= PATHS_SHOWN:
        return sorted(whole)
    return sorted({path if path.startswith("content/editions/") else path.split("/")[0] for path in whole})


def _quoted(text: str | Path) -> str:
    return shlex.quote(text.as_posix() if isinstance(text, Path) else text)
