"""The text of a file as the reader sees it, and how a change of that text becomes a change of the bytes.

The reader drops the mark at the start of a file and reads every line break as `\\n`. Here both are kept: a splice names
characters of what the reader saw, and everything outside it stays as it was, byte for byte.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from dataclasses import dataclass
from functools import cached_property

_MARK = b"\xef\xbb\xbf"


@dataclass(frozen=True, order=True)
class Splice:
    """Characters from `start` to `end` give way to `text`, whose line breaks are `\\n`."""

    start: int
    end: int
    text: str


@dataclass(frozen=True)
class SourceText:
    """The bytes of one YAML file that the reader has accepted."""

    data: bytes

    @cached_property
    def raw(self) -> str:
        """Return the characters with the line breaks as they are, without the mark at the start."""
        return self.data.removeprefix(_MARK).decode("utf-8")

    @cached_property
    def text(self) -> str:
        """Return the characters as the reader sees them."""
        return self.raw.replace("\r\n", "\n")

    @cached_property
    def _wide(self) -> list[int]:
        """Where in `text` the line breaks stand that are two characters in the file."""
        return [match.start() - number for number, match in enumerate(re.finditer("\r\n", self.raw))]

    def spliced(self, splices: list[Splice]) -> bytes:
        """Return the bytes with the splices made; none may overlap another."""
        raw, mark = self.raw, _MARK if self.data.startswith(_MARK) else b""
        for splice in sorted(splices, reverse=True):
            start, end = self._index(splice.start), self._index(splice.end)
            new = splice.text.replace("\n", self._line_break(splice.start))
            raw = raw[:start] + new + raw[end:]
        return mark + raw.encode("utf-8")

    def _index(self, index: int) -> int:
        """Where a character of `text` stands in `raw`."""
        return index + bisect_left(self._wide, index)

    def _line_break(self, index: int) -> str:
        """The line break that the lines around a character have: that of its own line, or else the last before it."""
        own = self.text.find("\n", index)
        nearest = own if own >= 0 else self.text.rfind("\n")
        found = bisect_left(self._wide, nearest)
        return "\r\n" if found < len(self._wide) and self._wide[found] == nearest else "\n"
