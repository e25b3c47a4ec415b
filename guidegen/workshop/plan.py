"""A plan of edits: computed first, shown as a diff, then written whole or not at all."""

from __future__ import annotations

import stat
from dataclasses import dataclass
from difflib import unified_diff
from pathlib import Path

from guidegen.problems import EnvironmentProblem
from guidegen.workshop.editor import NOTHING, EditedFile
from guidegen.writing import Operations, clear_unfinished, lock


@dataclass(frozen=True)
class Plan:
    """Edited files, each once; `diff` shows what is to change, `apply` changes it."""

    files: tuple[EditedFile, ...]

    def __post_init__(self) -> None:
        """Two edits of one file would undo one another; an edit can go on from another instead."""
        paths = [one.path for one in self.files]
        if len(set(paths)) < len(paths):
            raise ValueError(f"a file stands twice in a plan: {sorted(paths)}")

    @property
    def changed(self) -> tuple[EditedFile, ...]:
        """The files whose bytes change, sorted by path."""
        return tuple(sorted((one for one in self.files if one.after != one.before), key=lambda one: one.path))

    @property
    def bytes_by_path(self) -> dict[str, bytes]:
        """What the files that change will hold."""
        return {one.path: one.after for one in self.changed}

    def diff(self) -> str:
        """Return the changes as a unified diff, with the paths as they lie in the workshop; empty for none."""
        lines: list[str] = []
        for one in self.changed:
            old, new = _lines(one.before), _lines(one.after)
            for line in unified_diff(old, new, f"a/{one.path}", f"b/{one.path}"):
                lines.append(line if line.endswith("\n") else f"{line}\n\\ No newline at end of file\n")
        return "".join(lines)

    def apply(self, root: Path, operations: Operations | None = None) -> None:
        """Write every file, or none.

        Raises `EnvironmentProblem` where a file is gone, is a link, is write-protected, or no longer holds the bytes
        that the edits began with, and where one that is to be new is there. What fails half-way is taken back. Only
        where the machine stops between two renames can some files be new and some old; each of them is whole.
        """
        do = operations or Operations()
        if not self.changed:
            return
        with lock(root):
            for one in self.changed:
                _refuse_unless_as_read(root, one)
            clear_unfinished((root / one.path).parent for one in self.changed)
            _write_all([(root / one.path, one) for one in self.changed], do)


def _write_all(files: list[tuple[Path, EditedFile]], do: Operations) -> None:
    parts = [(target, target.with_name(f".{target.name}.part")) for target, _ in files]
    renamed: list[tuple[Path, EditedFile]] = []
    try:
        for (target, one), (_, part) in zip(files, parts, strict=True):
            do.write(part, one.after)
            if one.before != NOTHING:
                do.keep_mode(part, target)
        for (target, one), (_, part) in zip(files, parts, strict=True):
            renamed.append((target, one))
            do.rename(part, target)
        for folder in sorted({target.parent for target, _ in files}):
            do.sync_folder(folder)
    except BaseException:
        # The interruption itself is what the caller sees; whatever was renamed gets its bytes back first.
        for target, one in renamed:
            _take_back(target, one, do)
        for _, part in parts:
            if part.exists():
                do.remove(part)
        raise


def _take_back(target: Path, one: EditedFile, do: Operations) -> None:
    if one.before == NOTHING:
        target.unlink(missing_ok=True)
    elif target.read_bytes() != one.before:
        part = target.with_name(f".{target.name}.part")
        do.write(part, one.before)
        do.keep_mode(part, target)
        do.rename(part, target)


def _refuse_unless_as_read(root: Path, one: EditedFile) -> None:
    target = root / one.path
    for path in (target, *target.parents):
        if path == root:
            break
        if path.is_symlink():
            shown = path.relative_to(root).as_posix()
            raise EnvironmentProblem(f"{shown} is a link; edit the file that it leads to. Nothing was written")
    if one.before == NOTHING:
        if target.exists():
            raise EnvironmentProblem(f"{one.path} was made since it was looked for. Nothing was written; try again")
        return
    try:
        found, mode = target.read_bytes(), target.stat().st_mode
    except OSError as error:
        raise EnvironmentProblem(f"{one.path}: {error.strerror}. Nothing was written") from error
    if not mode & (stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH):
        raise EnvironmentProblem(
            f"{one.path} is write-protected; allow writing it, then try again. Nothing was written"
        )
    if found != one.before:
        raise EnvironmentProblem(f"{one.path} was changed since it was read. Nothing was written; try again")


def _lines(data: bytes) -> list[str]:
    """The lines of a file as a diff shows them; `\\r` before a line break is kept, so that it still shows."""
    return data.decode("utf-8-sig").splitlines(keepends=True)
