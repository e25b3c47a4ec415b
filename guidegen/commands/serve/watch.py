"""Noticing edits: what a workshop is made of is looked at twenty times a second.

Polled, because that works for every editor and every file system, a mounted one too.
"""

from __future__ import annotations

import os
import threading
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

WATCHED = ("machines", "content", "mkdocs.yml")
LOOK_EVERY_S = 0.05
"""Between two looks at the files; a look at a thousand files costs a few milliseconds."""

Snapshot = Mapping[str, tuple[int, int]]


def snapshot(root: Path, names: tuple[str, ...] = WATCHED) -> Snapshot:
    """Every watched file with what changes when it is written: time and size."""
    found: dict[str, tuple[int, int]] = {}
    for name in names:
        for path, status in _files(str(root / name)):
            if not path.endswith(("~", ".swp", ".part")):
                found[path] = (status.st_mtime_ns, status.st_size)
    return found


def _files(place: str) -> Iterator[tuple[str, os.stat_result]]:
    """A file, or every file below a folder; what goes away meanwhile is left out."""
    try:
        with os.scandir(place) as entries:
            below = list(entries)
    except NotADirectoryError:
        yield place, Path(place).stat()
        return
    except OSError:
        return
    for entry in below:
        try:
            if entry.is_dir(follow_symlinks=False):
                yield from _files(entry.path)
            elif entry.is_file():
                yield entry.path, entry.stat()
        except OSError:
            continue


def watch(root: Path, refresh: Callable[[], bool], stop: threading.Event, before: Snapshot) -> None:
    """Refresh whenever a watched file differs from what was seen before, or what failed is to be tried again."""
    again = False
    while not stop.wait(LOOK_EVERY_S):
        now = snapshot(root)
        if now != before or again:
            before = now
            again = refresh()
