"""Writing files so that a crash loses nothing: one operation at a time, whole files only, under the workshop's lock.

`Operations` is one small layer over the disk, so that a test can let it fail before every single operation.
"""

from __future__ import annotations

import contextlib
import errno
import hashlib
import os
import shutil
import tempfile
from collections.abc import Iterable, Iterator
from pathlib import Path

from guidegen.problems import RefusedProblem
from guidegen.reading import opened


class Operations:
    """What a change of several files does to the disk; each operation happened or did not, also when the power goes."""

    def make_folder(self, folder: Path) -> None:
        """Make one folder, whose parent is there."""
        folder.mkdir()

    def write(self, path: Path, data: bytes) -> None:
        """Write a new file and wait until the disk has it."""
        with path.open("wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())

    def keep_mode(self, path: Path, like: Path) -> None:
        """Give a file the permissions of another."""
        shutil.copymode(like, path)

    def sync_folder(self, folder: Path) -> None:
        """Wait until the disk has the folder's entries."""
        if os.name == "nt":  # pragma: no cover - folders cannot be opened there
            return
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)

    def rename(self, old: Path, new: Path) -> None:
        """Give a file or a folder another name in one step; a file that had that name is replaced."""
        old.replace(new)

    def remove(self, path: Path) -> None:
        """Remove one file."""
        path.unlink()

    def remove_tree(self, folder: Path) -> None:
        """Remove a folder that nobody needs; not in one step, so never one that is listed."""
        shutil.rmtree(folder)


def replace(path: Path, data: bytes, operations: Operations) -> None:
    """Put `data` at `path` for good: who looks, or looks after a crash, meets the old file or the new."""
    part = path.with_name(f".{path.name}.part")
    operations.write(part, data)
    operations.rename(part, path)
    operations.sync_folder(path.parent)


def is_unfinished(name: str) -> bool:
    """Whether the name is one that only a command which was killed while it wrote can have left."""
    return name.startswith(".") and name.endswith(".part")


def clear_unfinished(folders: Iterable[Path]) -> None:
    """Take away what killed commands left half written in folders; whoever writes there holds the workshop's lock."""
    for folder in {*folders}:
        for rest in folder.glob(".*.part") if folder.is_dir() else ():
            if rest.is_file() and not rest.is_symlink():
                rest.unlink()


def write_atomically(target: Path, data: bytes, durable: bool = True) -> None:
    """Put ``data`` at ``target`` so that a reader, or a crash, meets the old file or the new, never half.

    Without ``durable`` that holds for a crash of the program, not for one of the machine.
    """
    target.parent.mkdir(parents=True, exist_ok=True)
    with _prepared(target, data, durable) as temporary:
        temporary.chmod(0o644)
        temporary.replace(target)


def write_out(target: Path, data: bytes) -> None:
    """The same where somebody said the place: what a killed command left there, the same command takes up.

    In a folder that is not ours nothing else could tell what was left half written from what is somebody's.
    """
    target.parent.mkdir(parents=True, exist_ok=True)
    part = target.with_name(f".{digest_of_name(target)}.part")
    part.unlink(missing_ok=True)
    try:
        with part.open("xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        part.replace(target)
    finally:
        part.unlink(missing_ok=True)


def digest_of_name(path: Path) -> str:
    """What tells the names of a folder apart, and is short whatever they hold."""
    return hashlib.sha256(os.fsencode(path.name)).hexdigest()[:16]


def copy_atomically(source: Path, target: Path) -> str:
    """Copy a file of any size byte for byte, and never half of it; return the SHA-256 sum of the copy.

    Raises FileExistsError where the target is there already.
    """
    target.parent.mkdir(parents=True, exist_ok=True)
    digest = hashlib.sha256()
    with opened(source) as file, _prepared(target, b"", durable=False) as temporary:
        with temporary.open("wb") as copy:
            while data := file.read(1 << 20):
                digest.update(data)
                copy.write(data)
            copy.flush()
            os.fsync(copy.fileno())
        temporary.chmod(0o644)
        if target.exists():
            raise FileExistsError(errno.EEXIST, "there already", target.as_posix())
        temporary.replace(target)
    return digest.hexdigest()


def write_private(target: Path, data: bytes, new: bool = False) -> None:
    """The same for what is nobody else's business: only the owner reads the file, and the folder that it lies in.

    With `new` a file that is there already raises FileExistsError, whoever wrote it at the same time.
    """
    target.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    target.parent.chmod(0o700)
    with _prepared(target, data, durable=True) as temporary:
        if not new:
            temporary.replace(target)
            return
        try:
            os.link(temporary, target)
        except FileExistsError:
            raise
        except OSError:
            # A disk without hard links, as that of a camera: open it exclusively instead.
            with target.open("xb") as file:
                file.write(data)


@contextlib.contextmanager
def _prepared(target: Path, data: bytes, durable: bool) -> Iterator[Path]:
    """A file beside the target that holds the data; it is gone at the end unless it was renamed."""
    handle, name = tempfile.mkstemp(dir=target.parent, prefix=".", suffix=".part")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            if durable:
                file.flush()
                os.fsync(file.fileno())
        yield Path(name)
    finally:
        Path(name).unlink(missing_ok=True)


@contextlib.contextmanager
def lock(root: Path) -> Iterator[None]:
    """Hold the workshop's one lock; a second build meanwhile is refused, not queued.

    The operating system lets go of it when the process ends, however it ends, so no stale lock can remain. Whoever has
    it takes away what killed commands left half written in the program's own folder; what is kept below, by name, its
    keepers prune.
    """
    path = _lock_of(root)
    own = path.parent
    own.mkdir(parents=True, exist_ok=True)
    with path.open("a+b") as file:
        _hold(file.fileno(), root)
        clear_unfinished((own, *(one for one in own.iterdir() if one.is_dir() and not one.is_symlink())))
        yield


@contextlib.contextmanager
def lock_to_look(root: Path) -> Iterator[None]:
    """Keep builds away while nothing but looking is done: it writes nothing, and may be done by several at once."""
    try:
        file = _lock_of(root).open("rb")
    except OSError:
        # Nothing was ever built here, or it may not even be looked at.
        yield
        return
    with file:
        _hold(file.fileno(), root, shared=True)
        yield


def _lock_of(root: Path) -> Path:
    return root / ".guidegen" / "lock"


def _hold(descriptor: int, root: Path, shared: bool = False) -> None:
    try:
        try:
            import fcntl
        except ImportError:  # pragma: no cover - only on Windows
            import msvcrt

            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined]
        else:
            fcntl.flock(descriptor, (fcntl.LOCK_SH if shared else fcntl.LOCK_EX) | fcntl.LOCK_NB)
    except OSError as refused:
        message = f"another guidegen is working in {root.resolve().as_posix()}; wait for it or stop it"
        raise RefusedProblem(message) from refused
