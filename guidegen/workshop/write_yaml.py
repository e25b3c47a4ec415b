"""How a value is written as YAML: plain where the reader reads it back so, in one line where it fits."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from functools import cache

from guidegen.problems import CatalogueError
from guidegen.workshop.nodes import Mapping as MappingNode
from guidegen.workshop.nodes import Node, Scalar
from guidegen.workshop.nodes import Sequence as SequenceNode
from guidegen.workshop.reader import read

WIDTH = 120
STEP = 2
GIVEN = "what was given"
"""What messages call a value that stands in no file yet."""

Value = str | None | Mapping[str, "Value"] | Sequence["Value"]
"""What can be written: a text (numbers too: the field that takes it resolves it), None for `null`, and their nests."""


def check(value: Value) -> None:
    """Raise `CatalogueError` where a text holds what no file may hold, as characters that cannot be seen."""
    if isinstance(value, str):
        read(f"value: {_quoted(value)}\n".encode("utf-8", "surrogatepass"), GIVEN)
    elif isinstance(value, Mapping):
        for key, one in value.items():
            check(key)
            check(one)
    elif value is not None:
        for one in value:
            check(one)


def scalar(text: str, in_flow: bool, style: str = "") -> str:
    """Return a text as a YAML scalar, in the quotes of `style` where it has some, else plain where that reads back.

    >>> scalar("520 g ± 5 g", in_flow=True), scalar("null", in_flow=False), scalar("a, b", in_flow=True)
    ('520 g ± 5 g', '"null"', '"a, b"')
    """
    if style == "'" and "\n" not in text:
        return "'" + text.replace("'", "''") + "'"
    if style == '"' or not _reads_back(text, in_flow):
        return _quoted(text)
    return text


def key(text: str, in_flow: bool) -> str:
    """Return a text as a key."""
    written = _node(f"{{{text}: x}}") if in_flow else _root(f"{text}: x")
    plain = isinstance(written, MappingNode) and list(written.entries) == [text]
    return text if plain and _reads_back(text, in_flow) else _quoted(text)


def flow(value: Value, style: str = "", in_flow: bool = True) -> str:
    """Return a value in one line; a text outside braces and brackets needs fewer quotes.

    >>> flow({"is": "520 g", "evidence": "measured"}), flow([]), flow(None)
    ('{is: 520 g, evidence: measured}', '[]', 'null')
    """
    if value is None:
        return "null"
    if isinstance(value, str):
        return scalar(value, in_flow, style)
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{key(name, True)}: {flow(one)}" for name, one in value.items()) + "}"
    return "[" + ", ".join(map(flow, value)) + "]"


def entry(name: str, value: Value, indent: int) -> list[str]:
    """Return the lines of one key of a block mapping: one where it fits, else the value on lines of its own.

    >>> entry("mass", {"is": "520 g"}, 2)
    ['  mass: {is: 520 g}']
    """
    head = " " * indent + key(name, False) + ":"
    line = f"{head} {flow(value, in_flow=False)}"
    return [line] if fits(line, value) else [head, *block(value, indent + STEP)]


def block(value: Value, indent: int) -> list[str]:
    """Return the lines of a mapping or list, each on its own; `indent` is the column of its keys or dashes."""
    if isinstance(value, Mapping):
        return [line for name, one in value.items() for line in entry(name, one, indent)]
    assert value is not None
    return [line for one in value for line in item(one, indent)]


def item(value: Value, indent: int) -> list[str]:
    """Return the lines of one item of a block list."""
    line = f"{' ' * indent}- {flow(value, in_flow=False)}"
    if fits(line, value):
        return [line]
    first, *rest = block(value, indent + STEP)
    return [f"{' ' * indent}- {first[indent + STEP :]}", *rest]


def fits(line: str, value: Value) -> bool:
    """Return whether a value stands in one line: what is no nest always does, a nest where the line is short enough."""
    return value is None or isinstance(value, str) or not value or len(line) <= WIDTH


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


@cache
def _reads_back(text: str, in_flow: bool) -> bool:
    """Return whether a text without quotes is read as that text wherever it may stand, and by nobody as null."""
    # In braces some readers take every question mark for the sign of a key.
    if "\n" in text or text.lower() in ("", "~", "null") or (in_flow and "?" in text):
        return False
    if not in_flow:
        return _is_text(_node(text), text)
    # Before a comma, a brace and a bracket, with a space before it and without.
    everywhere = (f"[{{k: {text}{gap}, z: z}}, {{k: {text}{gap}}}, {text}{gap}]" for gap in ("", " "))
    return all(_stands_in_braces(_node(places), text) for places in everywhere)


def _stands_in_braces(node: Node | None, text: str) -> bool:
    match node:
        case SequenceNode(items=[MappingNode() as first, MappingNode() as second, last]):
            return (
                list(first.entries) == ["k", "z"]
                and list(second.entries) == ["k"]
                and all(_is_text(one, text) for one in (first.entries["k"], second.entries["k"], last))
            )
    return False


def _is_text(node: Node | None, text: str) -> bool:
    return isinstance(node, Scalar) and node.plain and node.text == text


def _node(text: str) -> Node | None:
    """What stands behind a key that has this text as its value, or None where that is no document."""
    root = _root(f"k: {text}")
    return root.entries["k"] if root is not None and list(root.entries) == ["k"] else None


def _root(text: str) -> MappingNode | None:
    try:
        return read(f"{text}\n".encode("utf-8", "surrogatepass"), GIVEN)
    except CatalogueError:
        return None
