"""The photographs of a workshop and the copies that its site shows: made once, kept by what they were made from.

A copy is named by its own content. What was converted lies in `.guidegen/pictures/`; a copy there that is not what its
name says is made again. One picture is decoded at a time.
"""

from __future__ import annotations

import contextlib
import hashlib
import io
import json
import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import PIL
from PIL import Image

from guidegen.reading import bytes_of
from guidegen.workshop.pictures.photograph import MOST_BYTES, pixels
from guidegen.writing import write_atomically

WIDTHS = (480, 960, 1600)
"""Pixels: a phone, a column on a screen or on paper, and whoever looks closely."""
MIDDLE = WIDTHS[1]
TALLEST = 4
"""So many times its width a copy is high at most; a taller picture becomes narrower."""
WAYS: Mapping[str, Mapping[str, Any]] = {
    "webp": {"format": "WEBP", "quality": 80, "method": 4},
    "jpg": {"format": "JPEG", "quality": 84, "optimize": True, "progressive": True},
}
VERSION = 1
"""Goes up when the same photograph is to become other copies."""
KEPT = ".guidegen/pictures"
DIGITS = 20
"""Of a hash in a name: 80 bits."""
LEAST_KEPT, TIMES_KEPT = 100, 4
"""Of so many photographs the copies always stay, and so many times of those there are; a megabyte each, about."""


@dataclass(frozen=True)
class SizedCopy:
    """One copy for the site: its file's name, its kind (`webp`, `jpg`), width and height in pixels."""

    name: str
    kind: str
    width: int
    height: int


@dataclass(frozen=True)
class Photograph:
    """One file of `content/pictures/` that could be read; `digest` is a hash of its bytes."""

    file: str
    path: Path
    digest: str
    width: int
    height: int
    has_place: bool


@dataclass(frozen=True)
class Album:
    """The photographs that content/pictures.yml lists, by the path of the file below its folder."""

    root: Path = Path()
    photographs: Mapping[str, Photograph] = field(default_factory=dict)
    _made: dict[str, tuple[SizedCopy, ...]] = field(default_factory=dict, compare=False, repr=False)

    @property
    def digest(self) -> bytes:
        """A hash of every file's name and bytes."""
        lines = (f"{name} {one.digest}\n" for name, one in sorted(self.photographs.items()))
        return hashlib.sha256("".join(lines).encode()).digest()

    def copies(self, digest: str) -> tuple[SizedCopy, ...]:
        """The copies of a photograph, narrow ones first; none where no photograph here has these bytes."""
        if digest not in self._made:
            found = next((one for one in self.photographs.values() if one.digest == digest), None)
            if found is None:
                return ()
            self._made[digest] = self._kept(digest) or self._convert(found)
        return self._made[digest]

    def copy_bytes(self, name: str) -> bytes | None:
        """What a copy holds; None where no photograph here has such a copy."""
        for digest in {one.digest: None for one in self.photographs.values()}:
            if any(one.name == name for one in self.copies(digest)):
                return self._held(digest, name)
        return None

    def names(self) -> Iterator[str]:
        """The name of every copy of every photograph."""
        for digest in {one.digest: None for one in self.photographs.values()}:
            yield from (one.name for one in self.copies(digest))

    def prune(self) -> None:
        """Remove the copies that were not used for longest, and what killed runs left half written.

        What stays are those of as many photographs as this workshop has, some times over, so that going back and forth
        between two states converts nothing.
        """
        folders: dict[Path, int] = {}
        with contextlib.suppress(OSError):
            for path in (self.root / KEPT).iterdir():
                if path.is_symlink() or not path.is_dir():
                    path.unlink()
                    continue
                for part in path.glob("*.part"):
                    part.unlink()
                folders[path] = path.stat().st_mtime_ns
            stay = max(LEAST_KEPT, TIMES_KEPT * len(self.photographs))
            for path in sorted(folders, key=lambda one: -folders[one])[stay:]:
                for one in path.iterdir():
                    one.unlink()
                path.rmdir()

    def _held(self, digest: str, name: str) -> bytes:
        try:
            data = bytes_of(self._folder(digest) / name)
        except OSError:
            data = b""
        if not name.startswith(_hash(data)):
            # Somebody cleared the cache, or a disk lost it, while this runs.
            photograph = next(one for one in self.photographs.values() if one.digest == digest)
            self._made[digest] = self._convert(photograph)
            data = bytes_of(self._folder(digest) / name)
        return data

    def _folder(self, digest: str) -> Path:
        made_by = hashlib.sha256(f"{VERSION} {WIDTHS} {PIL.__version__}".encode()).hexdigest()[:8]
        return self.root / KEPT / f"{digest}-{made_by}"

    def _kept(self, digest: str) -> tuple[SizedCopy, ...]:
        """What was made of it before, where all of it is still there as it was."""
        folder = self._folder(digest)
        try:
            rows = json.loads(bytes_of(folder / "copies.json"))
            found = tuple(
                SizedCopy(str(name), str(kind), int(width), int(height)) for name, kind, width, height in rows
            )
            whole = all(one.name.startswith(_hash(bytes_of(folder / one.name))) for one in found)
        except (OSError, ValueError, TypeError, RecursionError):
            return ()
        if not whole:
            return ()
        with contextlib.suppress(OSError):
            os.utime(folder)
        return found

    def _convert(self, photograph: Photograph) -> tuple[SizedCopy, ...]:
        """Write the copies of a photograph, and last of all their list."""
        folder = self._folder(photograph.digest)
        made = []
        for one, data in converted(bytes_of(photograph.path, MOST_BYTES)):
            write_atomically(folder / one.name, data, durable=False)
            made.append(one)
        rows = [[one.name, one.kind, one.width, one.height] for one in made]
        write_atomically(folder / "copies.json", json.dumps(rows).encode(), durable=False)
        return tuple(made)


def digest_of(data: bytes) -> str:
    """What a photograph is known by: a hash of its bytes.

    The digest is that of FIPS 180-4's first example, the text "abc", cut to 128 bits:

    >>> digest_of(b"abc")
    'ba7816bf8f01cfea414140de5dae2223'
    """
    return hashlib.sha256(data).hexdigest()[:32]


def converted(data: bytes) -> Iterator[tuple[SizedCopy, bytes]]:
    """Every copy of a photograph with its bytes, narrow ones first. Raises `PictureFault` where it cannot be shown."""
    image = pixels(data, WIDTHS[-1])
    for width, height in sizes(*image.size):
        sized = image if (width, height) == image.size else image.resize((width, height), Image.Resampling.LANCZOS)
        for kind, way in WAYS.items():
            saved = saved_as(sized, way)
            yield SizedCopy(f"{_hash(saved)}-{width}.{kind}", kind, width, height), saved


def sizes(width: int, height: int) -> list[tuple[int, int]]:
    """Width and height in pixels of each copy; none is larger than the picture.

    >>> sizes(4000, 3000)
    [(480, 360), (960, 720), (1600, 1200)]
    >>> sizes(600, 300)
    [(480, 240), (600, 300)]
    """
    widest = min(width, max(1, TALLEST * width * WIDTHS[-1] // max(height, 1)))
    widths = sorted({min(one, widest) for one in WIDTHS})
    return [(one, max(1, round(height * one / width))) for one in widths]


def saved_as(image: Image.Image, way: Mapping[str, Any]) -> bytes:
    """The image in a format, with nothing beside its pixels."""
    stream = io.BytesIO()
    image.save(stream, **way)
    return stream.getvalue()


def _hash(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()[:DIGITS]
