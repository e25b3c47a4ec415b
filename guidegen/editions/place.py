"""The site's folder on disk. `versions.json` is the only point at which an edition exists.

An edition is written beside the site's others under a name nobody follows, brought to the disk, renamed, and only
then listed. What stands there unlisted is the rest of a crash and is taken away by the next command.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from pathlib import Path
from typing import Any

from guidegen.editions import lines
from guidegen.editions.edition import ANEW, DRAFT, FILE, LATEST, NAME, SUMS, Edition
from guidegen.problems import EnvironmentProblem
from guidegen.reading import bytes_of, opened
from guidegen.site.output import is_inside
from guidegen.writing import Operations, is_unfinished, replace

VERSIONS = "versions.json"
_PREPARED = ".prepared-"
_DISCARDED = ".discarded-"
_SUMS_READ: ContextVar[dict[Path, str] | None] = ContextVar("sums read", default=None)
_SUM = re.compile(r"([0-9a-f]{64})  ([^\x00-\x1f\x7f]+)")


def site_of(root: Path) -> Path:
    """The folder that holds the draft and the editions."""
    return root / "site"


def listed(site: Path) -> tuple[dict[str, Any], ...]:
    """The entries of `versions.json`, newest first; none where there is no such file."""
    path = site / VERSIONS
    try:
        data = bytes_of(path)
    except FileNotFoundError:
        return ()
    except OSError as error:
        raise EnvironmentProblem(f"{path.as_posix()} cannot be read: {reason(error)}") from error
    return list_of(data, path.as_posix(), "; recover repairs it")


def list_of(data: bytes, called: str, fix: str = "") -> tuple[dict[str, Any], ...]:
    """The entries of such a list; `called` is what messages call it."""
    try:
        held = lines.loads(data)
    except ValueError as error:
        raise EnvironmentProblem(f"{called} is damaged: {reason(error)}{fix}") from error
    if not isinstance(held, list) or not all(isinstance(one, dict) and _is_folder(one.get("version")) for one in held):
        raise EnvironmentProblem(f"{called} does not hold a list of versions{fix}")
    return tuple(held)


def _is_folder(name: object) -> bool:
    """Whether a list may name a folder so: what leads out of the site is no edition."""
    return isinstance(name, str) and NAME.fullmatch(name.removesuffix(ANEW)) is not None and ".." not in name


def published(site: Path) -> tuple[str, ...]:
    """The names of the editions that exist, newest first."""
    return names_in(listed(site))


def names_in(entries: Sequence[Mapping[str, Any]]) -> tuple[str, ...]:
    """The editions among the entries of a list."""
    names = (str(one["version"]) for one in entries)
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
    return "draft" if name == DRAFT else name.removesuffix(ANEW)


def digest(data: bytes) -> str:
    """The SHA-256 of bytes, in hexadecimal."""
    return hashlib.sha256(data).hexdigest()


@contextmanager
def each_read_once() -> Iterator[None]:
    """Inside, a file is read once for its sum, whoever asks for it."""
    token = _SUMS_READ.set({})
    try:
        yield
    finally:
        _SUMS_READ.reset(token)


def digest_of(path: Path) -> str:
    """The SHA-256 of a file, however large it is."""
    read = _SUMS_READ.get()
    if read is not None and path in read:
        return read[path]
    with opened(path) as file:
        total = hashlib.file_digest(file, "sha256").hexdigest()
    if read is not None:
        read[path] = total
    return total


def sums_of(files: Mapping[str, bytes]) -> bytes:
    """The sums in the form that `sha256sum --check` reads, sorted by path; one file is held at a time."""
    return "".join(f"{digest(files[path])}  {path}\n" for path in sorted(files)).encode()


def read_sums(data: bytes) -> dict[str, str]:
    """The sum of each path. Raises ValueError for what is not exactly of that form, or leads out of its folder."""
    if b"\r\n" in data:
        raise ValueError(
            "its line ends were changed, as git does with core.autocrlf; commit or stash what is yours, then: "
            "git config core.autocrlf false && git rm -r -q --cached . && git reset -q --hard"
        )
    found: dict[str, str] = {}
    for number, line in enumerate(data.decode().removesuffix("\n").split("\n"), 1):
        match = _SUM.fullmatch(line)
        if match is None or not is_inside(match[2]) or match[2] in found:
            raise ValueError(f"line {number} is no sum of a file of this folder")
        found[match[2]] = match[1]
    return found


def sums_at(folder: Path) -> dict[str, str]:
    """The sum of each path of an edition in a folder. Raises EnvironmentProblem where they cannot be read."""
    try:
        return read_sums(bytes_of(folder / SUMS))
    except (OSError, ValueError) as error:
        raise EnvironmentProblem(
            f"{(folder / SUMS).as_posix()} cannot be read ({reason(error)}); `guidegen recover` brings it back"
        ) from error


def reason(error: Exception) -> str:
    """Why a file could not be read, without its path."""
    return getattr(error, "strerror", None) or " ".join(str(error).split())


def edition_at(folder: Path) -> Edition:
    """The facts of the edition that lies in a folder."""
    try:
        return lines.validated(Edition, folder / FILE)
    except FileNotFoundError as error:
        raise EnvironmentProblem(f"{(folder / FILE).as_posix()} cannot be read: it is not there") from error


def commit(
    site: Path,
    folder: str,
    files: Mapping[str, bytes],
    versions: bytes,
    operations: Operations | None = None,
    sums: bytes | None = None,
) -> None:
    """Make a folder of the site exist: bring its files to the disk, rename their folder, list it.

    `versions` is the `versions.json` that lists it; `sums` are those of the files, where they are known.
    Dying anywhere leaves the editions as they were, but for dying after the last rename: then there is one more.
    """
    do = operations or Operations()
    if folder in [one["version"] for one in listed(site)]:
        raise ValueError(f"{folder} exists; nothing may write into it")
    site.mkdir(exist_ok=True)
    clear(site, do)
    prepared, target = site / f"{_PREPARED}{folder}", site / folder
    do.make_folder(prepared)
    totals = sums_of(files) if sums is None else sums
    folders = sorted({parent for path in files for parent in Path(path).parents if parent.parts})
    for inner in folders:
        do.make_folder(prepared / inner)
    for path in sorted((*files, SUMS)):
        # One at a time: an edition that is brought back is not held as a whole.
        do.write(prepared / path, totals if path == SUMS else files[path])
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
        if path.is_symlink():
            continue
        if path.is_dir() and (is_rest(path.name) or _is_replaced(path)):
            do.remove_tree(path)
        elif path.is_file() and is_rest(path.name):
            do.remove(path)


def is_rest(name: str) -> bool:
    """Whether the name is one that only a command which died can have left."""
    return name.startswith((_PREPARED, _DISCARDED)) or is_unfinished(name)


def _is_replaced(folder: Path) -> bool:
    """Whether these are pages made anew beside the original that has come back."""
    name = folder.name.removesuffix(ANEW)
    return name != folder.name and name in published(folder.parent)
