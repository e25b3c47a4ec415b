"""The site's folder on disk. `versions.json` is the only point at which an edition exists.

An edition is written beside the site's others under a name nobody follows, brought to the disk, renamed, and only
then listed. What stands there unlisted is the rest of a crash and is taken away by the next command.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from guidegen.editions.edition import ANEW, DRAFT, FILE, LATEST, SUMS, Edition
from guidegen.problems import EnvironmentProblem
from guidegen.writing import Operations, replace

VERSIONS = "versions.json"
_PREPARED = ".prepared-"
_DISCARDED = ".discarded-"


def site_of(root: Path) -> Path:
    """The folder that holds the draft and the editions."""
    return root / "site"


def listed(site: Path) -> tuple[dict[str, Any], ...]:
    """The entries of `versions.json`, newest first; none where there is no such file."""
    try:
        held = json.loads((site / VERSIONS).read_bytes())
    except FileNotFoundError:
        return ()
    except ValueError as error:
        raise EnvironmentProblem(f"{(site / VERSIONS).as_posix()} is damaged: {error}; recover repairs it") from error
    if not isinstance(held, list) or not all(isinstance(one, dict) and "version" in one for one in held):
        raise EnvironmentProblem(f"{(site / VERSIONS).as_posix()} does not hold a list of versions; recover repairs it")
    return tuple(held)


def published(site: Path) -> tuple[str, ...]:
    """The names of the editions that exist, newest first."""
    names = (str(one["version"]) for one in listed(site))
    return tuple(name for name in names if name != DRAFT and not name.endswith(ANEW))


def versions_bytes(newest_first: Sequence[str]) -> bytes:
    """`versions.json` in the form that the theme's selector reads: version, title, aliases.

    Entries are folders of the site: an edition, an edition made anew from its snapshot, or the draft, which is last.
    """
    entries = [
        {"version": name, "title": _title(name), "aliases": [LATEST] if index == 0 and name != DRAFT else []}
        for index, name in enumerate(sorted(newest_first, key=lambda name: name == DRAFT))
    ]
    return (json.dumps(entries, indent=1) + "\n").encode()


def _title(name: str) -> str:
    """What the selector shows."""
    if name.endswith(ANEW):
        return f"{name.removesuffix(ANEW)} (made anew)"
    return "draft" if name == DRAFT else name


def digest(data: bytes) -> str:
    """The SHA-256 of bytes, in hexadecimal."""
    return hashlib.sha256(data).hexdigest()


def sums_of(files: Mapping[str, bytes]) -> bytes:
    """The sums in the form that `sha256sum --check` reads, sorted by path."""
    return "".join(f"{digest(data)}  {path}\n" for path, data in sorted(files.items())).encode()


def read_sums(data: bytes) -> dict[str, str]:
    """The sum of each path."""
    pairs = (line.split("  ", 1) for line in data.decode().splitlines())
    return {path: total for total, path in pairs}


def edition_at(folder: Path) -> Edition:
    """The facts of the edition that lies in a folder."""
    try:
        return Edition.model_validate_json((folder / FILE).read_bytes())
    except (OSError, ValueError) as error:
        raise EnvironmentProblem(f"{(folder / FILE).as_posix()} cannot be read: {error}") from error


def commit(
    site: Path, folder: str, files: Mapping[str, bytes], versions: bytes, operations: Operations | None = None
) -> None:
    """Make a folder of the site exist: bring its files to the disk, rename their folder, list it.

    `versions` is the `versions.json` that lists it. Dying anywhere leaves the editions as they were, but for dying
    after the last rename: then there is one more.
    """
    do = operations or Operations()
    if folder in [one["version"] for one in listed(site)]:
        raise ValueError(f"{folder} exists; nothing may write into it")
    site.mkdir(exist_ok=True)
    clear(site, do)
    prepared, target = site / f"{_PREPARED}{folder}", site / folder
    do.make_folder(prepared)
    complete = {**files, SUMS: sums_of(files)}
    folders = sorted({parent for path in complete for parent in Path(path).parents if parent.parts})
    for inner in folders:
        do.make_folder(prepared / inner)
    for path, data in sorted(complete.items()):
        do.write(prepared / path, data)
    for inner in (*folders, Path()):
        do.sync_folder(prepared / inner)
    if target.exists():
        # What is not listed is the rest of a crash.
        do.rename(target, site / f"{_DISCARDED}{folder}")
    do.rename(prepared, target)
    do.sync_folder(site)
    replace(site / VERSIONS, versions, do)
    clear(site, do)


def clear(site: Path, operations: Operations | None = None) -> None:
    """Take away what a crash left behind: prepared, replaced and unfinished things; never a listed edition."""
    do = operations or Operations()
    if not site.is_dir():
        return
    for path in sorted(site.iterdir()):
        if path.is_dir() and path.name.startswith((_PREPARED, _DISCARDED)):
            do.remove_tree(path)
        elif path.is_file() and path.name.startswith(".") and path.name.endswith(".part"):
            do.remove(path)
