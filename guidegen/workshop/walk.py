"""Walks a document: every model, every fact, every value, with its loc as it was written."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from pydantic import BaseModel

from guidegen.workshop.base import Loc
from guidegen.workshop.facts import Choice, Fact


def everything(value: Any, loc: Loc = ()) -> Iterator[tuple[Loc, Any]]:
    """Yield each value of a document with its loc, models and lists before what they hold."""
    yield loc, value
    if isinstance(value, BaseModel):
        for name, info in type(value).model_fields.items():
            yield from everything(getattr(value, name), (*loc, info.alias or name))
    elif isinstance(value, tuple):
        for index, item in enumerate(value):
            yield from everything(item, (*loc, index))
    elif isinstance(value, dict):
        for key, item in value.items():
            yield from everything(item, (*loc, str(key)))


def facts(value: Any) -> Iterator[tuple[Loc, Fact | Choice]]:
    """Yield every fact of a document with its loc."""
    for loc, one in everything(value):
        if isinstance(one, Fact | Choice):
            yield loc, one


def name_of(document: object, loc: Loc) -> str:
    """Return a loc as people read it, with the ids of list items in place of their numbers."""
    words = ""
    node: Any = document
    for part in loc:
        if isinstance(part, int):
            node = node[part] if isinstance(node, tuple) and part < len(node) else None
            name = getattr(node, "id", None)
            words += f".{name}" if name else f"[{part + 1}]"
        else:
            node = node.get(part) if isinstance(node, dict) else _field(node, part)
            words += f".{part}"
    return words.lstrip(".")


def _field(node: Any, part: str) -> Any:
    return getattr(node, part, getattr(node, f"{part}_", None))
