"""The texts that an author writes beside acts and numbers: what is checked for hidden acts, and what a person reads."""

from __future__ import annotations

import datetime
import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Annotated, Any, Literal

from pydantic import BaseModel

from guidegen.workshop.base import Document, Line, Loc, Model, shaped

TextKind = Literal["act", "around", "other", "number"]
"""Beside an act; around the steps, where an act could stand; what says how things are; and the words of a number,
which are checked but not read: its evidence and its bound say what it is."""
DIGITS = 32
"""Digits of the hash under which a text is confirmed."""

OF_ACTS = frozenset({"how", "why", "given"})
AROUND = frozenset({"say", "stop", "help"})
OTHER = frozenset({
    "alt", "applies_to", "because", "consequence", "criterion", "designed_out", "do", "does_not_apply",
    "how_to_avoid", "how_to_tell", "lasting", "method", "name", "only_if", "place", "record", "remains", "says",
    "target_group", "title", "type_of_hazard",
})  # fmt: skip
NUMBERS = frozenset({"amount", "is_", "limit", "state", "thread"})
NO_WORDS = frozenset({"accept", "cut", "supply", "cooling", "prove", "leak", "relief", "uses"})
"""What holds numbers and ids."""


def words_hash(words: str) -> str:
    """The hash of exactly these words.

    >>> words_hash("The plug is white.") == words_hash("The plug is  white.")
    False
    """
    return hashlib.sha256(words.encode()).hexdigest()[:DIGITS]


@dataclass(frozen=True)
class AuthorText:
    """One text as written, where it stands, and its hash."""

    words: str
    kind: TextKind
    loc: Loc
    hash: str


class ReadText(Model):
    """That somebody read a text and confirms exactly these words: their hash, in what role, on what day."""

    text: Annotated[str, shaped(rf"[0-9a-f]{{{DIGITS}}}", "the hash that `guidegen read` writes")]
    role: Line
    date: datetime.date


class ReadTexts(Document):
    """content/read.yml: every text that somebody has read; `guidegen read --confirm` writes it."""

    read: tuple[ReadText, ...] = ()

    @cached_property
    def hashes(self) -> frozenset[str]:
        """The hashes of what was read."""
        return frozenset(one.text for one in self.read)


class WithTexts(Document):
    """A document with texts that a person reads."""

    @cached_property
    def texts(self) -> tuple[AuthorText, ...]:
        """Every text of the document, in its order, the words of its numbers among them."""
        return tuple(_found(self, (), ""))

    @property
    def to_read(self) -> Iterator[AuthorText]:
        """The texts that a person reads."""
        return (one for one in self.texts if one.kind != "number")


def _found(value: Any, loc: Loc, field: str) -> Iterator[AuthorText]:
    if isinstance(value, str):
        if kind := _kind(loc, field):
            yield AuthorText(str(value), kind, loc, words_hash(value))
    elif isinstance(value, tuple):
        for index, one in enumerate(value):
            yield from _found(one, (*loc, index), field)
    elif isinstance(value, Mapping):
        for name, one in value.items():
            yield from _found(one, (*loc, name), field if isinstance(one, str) else "")
    elif isinstance(value, BaseModel):
        for name, info in type(value).model_fields.items():
            if name not in NO_WORDS:
                yield from _found(getattr(value, name), (*loc, info.alias or name), name)


def _kind(loc: Loc, field: str) -> TextKind | None:
    if field in OF_ACTS:
        return "act"
    if field in AROUND:
        return "around"
    return "other" if field in OTHER else "number" if field in NUMBERS else None
