"""Operations on files, each of which either happened or did not, also when the power goes.

One small layer, so that a test can let it die before every single operation.
"""

from __future__ import annotations

import os
import shutil
from pathlib import Path


class Operations:
    """What committing an edition does to the disk."""

    def make_folder(self, folder: Path) -> None:
        """Make one folder, whose parent is there."""
        folder.mkdir()

    def write(self, path: Path, data: bytes) -> None:
        """Write a new file and wait until the disk has it."""
        with path.open("wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())

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
