"""The text of a letter that somebody sent, in lines and words that know where they stand.

A mail program may quote a text, wrap a line or change a space; what was sent must come through.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from guidegen.problems import CatalogueError, Code, Problem

MOST_BYTES = 1_000_000

Spot = tuple[int, int]
"""Line and column, from 1."""


@dataclass(frozen=True)
class Word:
    """One word of the text and where it stands."""

    text: str
    spot: Spot


@dataclass(frozen=True)
class Line:
    """One line without marks of quotation, its words with plain spaces between."""

    words: tuple[Word, ...]

    @property
    def text(self) -> str:
        """Return the line as the page wrote it."""
        return " ".join(word.text for word in self.words)

    @property
    def spot(self) -> Spot:
        """Return where it begins."""
        return self.words[0].spot


def text_of(data: bytes, path: str, what: str) -> str:
    """The text of a file that was received; what is no text, or too long for `what`, is reported with its place."""
    if len(data) > MOST_BYTES:
        words, fix = f"{len(data)} bytes are no {what}", "save the text of the mail alone"
        raise CatalogueError([Problem(path, 1, 1, Code.TOO_LARGE, words, fix)])
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        before = data[: fault.start]
        line, column = before.count(b"\n") + 1, fault.start - (before.rfind(b"\n") + 1) + 1
        words, fix = "the bytes are not UTF-8", "save the file as UTF-8"
        raise CatalogueError([Problem(path, line, column, Code.NOT_UTF8, words, fix)]) from None


def lines_of(text: str) -> list[Line]:
    """Return the lines that are not empty."""
    plain = text.replace("\r\n", "\n").replace("\r", "\n")
    found = []
    for number, raw in enumerate(plain.split("\n"), 1):
        quoted = re.match(r"[\s>|]*", raw)
        begin = quoted.end() if quoted is not None else 0
        words = tuple(_words(raw, begin, number))
        if words:
            found.append(Line(words))
    return found


def _words(raw: str, begin: int, number: int) -> Iterator[Word]:
    at = begin
    for word in raw[begin:].split():
        at = raw.index(word, at)
        yield Word(word, (number, at + 1))
        at += len(word)
