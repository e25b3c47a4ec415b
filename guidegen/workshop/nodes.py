"""What the reader returns: mappings, lists and scalars, each with the place where it was written."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from guidegen.workshop.base import Loc, Place, Places, Text


@dataclass(slots=True)
class Scalar:
    """The characters of one value; `plain` without quotes. Nothing is resolved yet."""

    text: str
    plain: bool
    place: Place

    @property
    def is_null(self) -> bool:
        """Return whether an explicit `null` was written."""
        return self.plain and self.text == "null"


@dataclass(slots=True)
class Mapping:
    """Keys in the order of the file, each with its own place."""

    entries: dict[str, Node]
    keys: dict[str, Place]
    place: Place

    def text(self, key: str) -> str | None:
        """Return the text of a scalar entry, or None."""
        node = self.entries.get(key)
        return node.text if isinstance(node, Scalar) else None


@dataclass(slots=True)
class Sequence:
    """Items in the order of the file."""

    items: list[Node]
    place: Place


Node = Scalar | Mapping | Sequence


def to_data(root: Mapping) -> tuple[dict[str, Any], Places]:
    """Return what the models read (dicts, tuples, `Text`, None for null) and the table of places."""
    table: dict[Loc, Place] = {}
    names: dict[Loc, Place] = {}

    def convert(node: Node, loc: Loc) -> Any:
        table[loc] = node.place
        if isinstance(node, Scalar):
            return None if node.is_null else Text(node.text, node.place, node.plain)
        if isinstance(node, Sequence):
            return tuple(convert(item, (*loc, index)) for index, item in enumerate(node.items))
        made = {}
        for key, value in node.entries.items():
            names[(*loc, key)] = node.keys[key]
            made[key] = convert(value, (*loc, key))
            if not isinstance(value, Scalar):
                # A block under a key starts on a line of its own; the key is what people look for.
                table[(*loc, key)] = node.keys[key]
        return made

    made = convert(root, ())
    return made, Places(table, names, made)


def dotted(root: Node, loc: Loc) -> str:
    """Return a loc as people read it: `boiler.protrusions.drain-boss.width`, a number for want of an id."""
    words = ""
    node: Node | None = root
    for part in loc:
        if isinstance(part, int):
            node = node.items[part] if isinstance(node, Sequence) and part < len(node.items) else None
            name = node.text("id") if isinstance(node, Mapping) else None
            words += f".{name}" if name else f"[{part + 1}]"
        else:
            node = node.entries.get(part) if isinstance(node, Mapping) else None
            words += f".{part}"
    return words.lstrip(".")


def written(root: Node, loc: Loc) -> Loc:
    """Return a pydantic loc without the parts that are no keys of the document (tags of a union)."""
    kept: list[str | int] = []
    node: Node | None = root
    for number, part in enumerate(loc):
        if isinstance(node, Sequence) and isinstance(part, int) and part < len(node.items):
            node = node.items[part]
        elif isinstance(node, Mapping) and isinstance(part, str) and part in node.entries:
            node = node.entries[part]
        elif number < len(loc) - 1 or isinstance(part, int) or not isinstance(node, Mapping):
            continue
        kept.append(part)
    return tuple(kept)
