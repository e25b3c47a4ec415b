"""The output folder: only changed bytes are written, only our own files go, and a crash loses nothing.

Which files are ours stands in a manifest outside the folder. Before anything is touched the manifest names
the files of the last build and of this one together, so that after a crash at any moment the next build still
knows what it may delete; at the end it names this build's files alone.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from guidegen.problems import RefusedProblem
from guidegen.reading import bytes_of
from guidegen.writing import clear_unfinished, write_atomically

PLAIN, LINK, EMPTY, OTHER = "file", "a link", "an empty folder", "neither file nor folder"
"""What can lie in a folder; only the first is ever read or published."""


@dataclass(frozen=True)
class Changes:
    """What a write did, as sorted posix paths."""

    written: tuple[str, ...]
    deleted: tuple[str, ...]
    unchanged: tuple[str, ...]

    def __str__(self) -> str:
        """Return what the terminal shows.

        >>> str(Changes(("a.html",), (), ("b.html", "c.html")))
        '1 written, 0 deleted, 2 unchanged'
        """
        return f"{len(self.written)} written, {len(self.deleted)} deleted, {len(self.unchanged)} unchanged"


def manifest_path(root: Path, name: str) -> Path:
    """Where the manifest of ``site/<name>`` lies."""
    return root / ".guidegen" / "manifests" / f"{name}.json"


class OutputTree:
    """A folder that holds what builds put there, and possibly files of others, which stay as they are."""

    def __init__(self, folder: Path, manifest: Path, durable: bool = True) -> None:
        """Without `durable` the disk is not waited for: fit for what the next build compares and writes again."""
        self.folder = folder
        self.manifest = manifest
        self.durable = durable

    def write(self, files: Mapping[str, bytes]) -> Changes:
        """Make the folder hold ``files``, given by posix path, and no older file of ours."""
        _refuse_clashes(files)
        before = self._ours()
        if before != set(files):
            self._note(before | set(files))
        clear_unfinished(self._place(path).parent for path in before | set(files))
        deleted = sorted(path for path in before - set(files) if self._delete(path))
        written = []
        for path in sorted(files):
            target = self._place(path)
            # One file is held at a time: `files` may read each when it is asked for.
            data = files[path]
            if not _same(target, data):
                write_atomically(target, data, self.durable)
                written.append(path)
        if before != set(files):
            self._note(set(files))
        changed = set(written)
        return Changes(tuple(written), tuple(deleted), tuple(sorted(set(files) - changed)))

    def owns(self, path: str) -> bool:
        """Whether a build put the file there, as far as the manifest says."""
        return path in self._ours()

    def _ours(self) -> set[str]:
        try:
            names = json.loads(bytes_of(self.manifest))["files"]
            return {name for name in names if is_inside(name)}
        except (OSError, ValueError, KeyError, TypeError, RecursionError):
            # Without a manifest nothing is known to be ours, and so nothing is deleted.
            return set()

    def _note(self, names: set[str]) -> None:
        text = json.dumps({"files": sorted(names)}, ensure_ascii=False, indent=0)
        write_atomically(self.manifest, text.encode())

    def _place(self, path: str) -> Path:
        """The file's place; no folder on the way may be a link that leads elsewhere."""
        if not is_inside(path):
            raise ValueError(f"not a path inside the output folder: {path!r}")
        place = self.folder
        for part in PurePosixPath(path).parts[:-1]:
            place = place / part
            if place.is_symlink():
                raise RefusedProblem(f"{place.as_posix()} is a link; the output is never written through one")
        return self.folder / path

    def _delete(self, path: str) -> bool:
        target = self._place(path)
        if not (target.is_file() or target.is_symlink()):
            return False
        target.unlink()
        for folder in target.parents:
            if folder == self.folder or any(folder.iterdir()):
                break
            folder.rmdir()
        return True


def _same(target: Path, data: bytes) -> bool:
    try:
        return not target.is_symlink() and target.stat().st_size == len(data) and target.read_bytes() == data
    except (FileNotFoundError, NotADirectoryError, IsADirectoryError):
        return False


def is_inside(path: object) -> bool:
    """Whether something is the posix path of a file within a folder, whatever the folder is."""
    if not isinstance(path, str) or not path or "\\" in path or path.startswith("/"):
        return False
    return all(part not in ("", ".", "..") for part in path.split("/"))


def _refuse_clashes(files: Mapping[str, bytes]) -> None:
    """Two names that some file systems hold for one would overwrite each other there."""
    seen: dict[str, str] = {}
    for path in sorted(files):
        other = seen.setdefault(path.casefold(), path)
        if other != path:
            raise ValueError(f"{other} and {path} differ in upper and lower case only")


def walked(folder: Path) -> Iterator[tuple[str, str]]:
    """Every path below a folder that is no filled folder, with what it is. No link is followed."""
    waiting = [""]
    while waiting:
        above = waiting.pop()
        entries = sorted(os.scandir(folder / above), key=lambda one: one.name)
        if not entries and above:
            yield above.rstrip("/"), EMPTY
        for entry in entries:
            path = f"{above}{entry.name}"
            if entry.is_symlink():
                yield path, LINK
            elif entry.is_dir():
                waiting.append(f"{path}/")
            else:
                yield path, PLAIN if entry.is_file() else OTHER
