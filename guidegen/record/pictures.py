"""Photographs as pages show them: the words of each, and by which bytes it is known.

A record holds no pixels. `digest` is a hash of the photograph's file; whoever has a photograph with these bytes can
show it, and whoever has not says what it showed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Protocol

from guidegen.record.base import Record


class PictureCallout(Record):
    """A number in a picture, its place from the left and from the top as shares of 1, and what it leads to."""

    number: int
    at: tuple[float, float]
    says: str
    of: str | None = None


class Picture(Record):
    """One photograph. `words` are for those who cannot see it; `taken_on` is the id of the variant it was taken on."""

    id: str
    digest: str
    words: str
    caption: str | None
    by: str
    date: str | None
    taken_on: str | None
    taken_on_name: str | None
    callouts: tuple[PictureCallout, ...] = ()


class PictureCopy(Protocol):
    """One copy of a photograph for the site: its file's name, `webp` or `jpg`, width and height in pixels."""

    @property
    def name(self) -> str:
        """Return the file's name."""

    @property
    def kind(self) -> str:
        """Return `webp` or `jpg`."""

    @property
    def width(self) -> int:
        """Return the width in pixels."""

    @property
    def height(self) -> int:
        """Return the height in pixels."""


class PictureShelf(Protocol):
    """Where copies of photographs come from."""

    def copies(self, digest: str) -> Sequence[PictureCopy]:
        """Return the copies of a photograph, narrow ones first; none where nobody has it."""

    def copy_bytes(self, name: str) -> bytes | None:
        """Return what a copy holds; None where there is none of that name."""

    def names(self) -> Iterator[str]:
        """Yield the name of every copy."""
