"""What every document of the catalogue is made of: the base model and its table of places.

Scalars arrive from the reader as `Text`: the characters as written, with their place. Nothing is resolved
before the field is known, so `revision: 1.10` stays "1.10" and `answer: no` stays "no". `Model` resolves
a plain scalar by the type of the field it stands in: `int`, `float`, `bool` and `date` fields read it, text
fields keep it.
"""

from __future__ import annotations

import datetime
import hashlib
import json
import re
import types
import typing
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, cached_property
from typing import Annotated, Any, Protocol

from pydantic import AfterValidator, BaseModel, ConfigDict, PrivateAttr, StringConstraints, model_validator
from pydantic_core import PydanticCustomError

from guidegen.problems import Code

Loc = tuple[str | int, ...]

FINGERPRINT_DIGITS = 12
"""Digits of a hash that shows whether a text was changed: 48 bits, for some thousand texts."""

#: A name that becomes part of an address.
ID = re.compile(r"[a-z0-9-]{1,40}")


@dataclass(frozen=True, order=True)
class Place:
    """Where something was written; line and column count from 1."""

    path: str
    line: int
    column: int

    def __str__(self) -> str:
        """Return `path:line:col`."""
        return f"{self.path}:{self.line}:{self.column}"


class Text(str):
    """A scalar as written, with its place. `plain` is False where it stood in quotes or in a block."""

    __slots__ = ("place", "plain")
    place: Place
    plain: bool

    def __new__(cls, text: str, place: Place, plain: bool = True) -> Text:
        """Make the text and remember where it stood."""
        made = super().__new__(cls, text)
        made.place, made.plain = place, plain
        return made


def refused(code: Code, message: str, fix: str = "", inner: Loc = ()) -> PydanticCustomError:
    """Return the error that a validator raises; `inner` leads to a mistake deeper in the value."""
    words = {"message": message, "fix": fix, "inner": inner}
    # The message is passed as data: a brace that somebody wrote must not be read as a placeholder.
    return PydanticCustomError(code, "{message}", words)


def quoted(value: object) -> str:
    """Return a value for a message: in quotes, on one line, shortened."""
    if isinstance(value, dict):
        return "a mapping"
    if isinstance(value, tuple | list):
        return "a list"
    words = " ".join(str(value).split())
    return f'"{words[:60]}…"' if len(words) > 60 else f'"{words}"'


def _whole(text: str) -> object:
    return int(text) if re.fullmatch(r"[+-]?[0-9]{1,18}", text) else text


def _decimal(text: str) -> object:
    if re.fullmatch(r"[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+-]?[0-9]{1,2})?", text) and len(text) < 40:
        return float(text)
    return text


def _truth(text: str) -> object:
    return text == "true" if text in ("true", "false") else text


def _day(text: str) -> object:
    try:
        return datetime.date.fromisoformat(text) if re.fullmatch(r"[0-9]{4}-[0-9][0-9]-[0-9][0-9]", text) else text
    except ValueError:
        return text


#: What reads a plain scalar for a field of this type. Other text stays, and the field refuses it.
_RESOLVERS = {bool: _truth, int: _whole, float: _decimal, datetime.date: _day}


def _resolver(annotation: Any) -> Any:
    """Return what reads a scalar for this annotation, or None where text stays text."""
    if annotation in _RESOLVERS:
        return _RESOLVERS[annotation]
    origin = typing.get_origin(annotation)
    if origin is Annotated:
        return _resolver(typing.get_args(annotation)[0])
    if origin in (types.UnionType, typing.Union):
        found = [_resolver(inner) for inner in typing.get_args(annotation) if inner is not type(None)]
        return found[0] if len(found) == 1 else None
    if origin is tuple:
        inner = _resolver(typing.get_args(annotation)[0])
        return None if inner is None else _Each(inner)
    return None


@dataclass(frozen=True)
class _Each:
    """Reads every item of a list; items that are no text are left to the model's own check."""

    inner: Any

    def __call__(self, value: Any) -> object:
        if not isinstance(value, tuple):
            return value
        return tuple(self.inner(item) if isinstance(item, Text) and item.plain else item for item in value)


@cache
def _resolvers(model: type[BaseModel]) -> dict[str, Any]:
    pairs = {info.alias or name: _resolver(info.annotation) for name, info in model.model_fields.items()}
    return {name: resolve for name, resolve in pairs.items() if resolve is not None}


class Model(BaseModel):
    """Base of every typed document and its parts: strict, frozen, closed.

    A field whose name is a Python keyword takes an alias; YAML uses the alias.
    """

    model_config = ConfigDict(strict=True, frozen=True, extra="forbid", arbitrary_types_allowed=True)

    @model_validator(mode="before")
    @classmethod
    def _resolve_scalars(cls, data: Any) -> Any:
        if not isinstance(data, dict):
            raise refused(Code.WRONG_TYPE, f"got {quoted(data)}, a mapping is wanted", "write key: value")
        resolvers = _resolvers(cls)
        if not resolvers:
            return data
        changed = dict(data)
        for name, resolve in resolvers.items():
            value = data.get(name)
            if isinstance(value, tuple) == isinstance(resolve, _Each) and (
                isinstance(value, tuple) or (isinstance(value, Text) and value.plain)
            ):
                changed[name] = resolve(value)
        return changed


class Places:
    """For each loc (keys and list indices from the root) the place where its value was written, and what was."""

    def __init__(self, table: dict[Loc, Place], names: dict[Loc, Place], written: Any = None) -> None:
        """Keep the places of the values and of their keys, and the whole document as it was written."""
        self._table, self._names, self._written = table, names, written

    def __getitem__(self, loc: Loc) -> Place:
        """Return the place of a value; of the nearest thing around it where the value was not written."""
        while loc not in self._table:
            loc = loc[:-1]
        return self._table[loc]

    def __contains__(self, loc: Loc) -> bool:
        """Return whether anything was written at a loc."""
        return loc in self._table

    def key(self, loc: Loc) -> Place:
        """Return the place of the key that leads to a value; of the value where it has no key."""
        return self._names.get(loc) or self[loc]

    def items(self) -> Iterator[tuple[Loc, Place]]:
        """Yield every loc and the place of its value, in the order of the document."""
        return iter(self._table.items())

    def fingerprint(self, *loc: str | int) -> str:
        """Return a short hash of what was written at a loc, whatever the program makes of it.

        Comments, line breaks and the order of keys do not count, and no model takes part: so it stays while the
        program learns to read something more.
        """
        part = self._written
        for step in loc:
            part = _below(part, step)
        return hashlib.sha256(json.dumps(part, sort_keys=True).encode()).hexdigest()[:FINGERPRINT_DIGITS]


def _below(part: Any, step: str | int) -> Any:
    if isinstance(part, tuple) and isinstance(step, int):
        return part[step] if step < len(part) else None
    return part.get(step) if isinstance(part, dict) else None


class HasPlaces(Protocol):
    """Anything that knows where each part of it was written."""

    @property
    def places(self) -> Places:
        """Return the table of places."""


class Document(Model):
    """A whole file (or a variant joined with its family), which remembers where each leaf was written."""

    _places: Places = PrivateAttr(default_factory=lambda: Places({(): Place("", 1, 1)}, {}))

    @property
    def places(self) -> Places:
        """Return the table of places."""
        return self._places

    @cached_property
    def digest(self) -> bytes:
        """Return a hash of all that the document says."""
        return hashlib.sha256(repr(self).encode()).digest()

    @cached_property
    def digest_of_places(self) -> bytes:
        """Return a hash of where the document says it: another line above is another one."""
        return hashlib.sha256(repr(list(self._places.items())).encode()).digest()


def shaped(pattern: str, example: str) -> AfterValidator:
    """Make a text field refuse what does not match a pattern, with an example instead of the pattern."""

    def check(text: str) -> str:
        if not re.fullmatch(pattern, text):
            raise refused(Code.OUT_OF_BOUNDS, f"got {quoted(text)}, which has another form", f"write it like {example}")
        return text

    return AfterValidator(check)


Id = Annotated[str, StringConstraints(pattern=r"^[a-z0-9-]{1,40}$")]
Line = Annotated[str, StringConstraints(min_length=1, max_length=300)]
Prose = Annotated[str, StringConstraints(min_length=1, max_length=4000)]
