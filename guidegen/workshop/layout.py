"""Where every node of a document begins and ends, in characters, so that one of them can be replaced.

The reader keeps what was written and where it starts; an edit also needs the ends, the quotes and the braces. A layout
is made of text that the reader has accepted, so it meets no tags, no merge keys and one document.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any, Literal

import yaml

_Loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@dataclass(slots=True)
class Laid:
    """One node: what it is, and from which character to which it stands.

    A block mapping or list ends where its last value ends; an empty value stands where it would be written. `flow`
    is True in braces and brackets; `style` is the quote or block mark of a scalar, empty for a plain one. Item
    `index` of a list, or the value of `keys[index]`, is `values[index]`.
    """

    kind: Literal["scalar", "mapping", "sequence", "alias"]
    start: int
    end: int
    anchor: str | None = None
    flow: bool = False
    style: str = ""
    text: str = ""
    keys: list[Laid] = field(default_factory=list)
    values: list[Laid] = field(default_factory=list)

    @property
    def is_block(self) -> bool:
        """Return whether this is a mapping or list that is written on lines of its own."""
        return self.kind in ("mapping", "sequence") and not self.flow

    @property
    def is_multiline_text(self) -> bool:
        """Return whether this is a text in block style, whose end depends on the lines after it."""
        return self.style in ("|", ">")

    def names(self) -> list[str]:
        """Return the keys of a mapping, or the ids of a list's items (empty for an item without one)."""
        if self.kind == "mapping":
            return [key.text for key in self.keys]
        return [item.value("id") for item in self.values]

    def value(self, key: str) -> str:
        """Return the text of a mapping's scalar, or an empty text."""
        for name, node in zip(self.keys, self.values, strict=False):
            if name.text == key and node.kind == "scalar":
                return node.text
        return ""

    def last(self) -> Laid:
        """Return the node that is written last in a block mapping or list; itself where it is none."""
        node = self
        while node.is_block:
            node = node.values[-1]
        return node

    def everything(self) -> Iterator[Laid]:
        """Yield the node and all that is in it."""
        waiting = [self]
        while waiting:
            node = waiting.pop()
            yield node
            waiting += [*node.keys, *node.values]


def laid_out(text: str) -> Laid:
    """Return the layout of a document that the reader has accepted; `text` has no mark at its start and `\\n` only."""
    loader = _Loader(text)
    try:
        return _composed(loader)
    finally:
        loader.dispose()


def _composed(loader: Any) -> Laid:
    stack: list[Laid] = []
    while True:
        event = loader.get_event()
        start, end = event.start_mark.index, event.end_mark.index
        if isinstance(event, yaml.CollectionStartEvent):
            kind: Literal["mapping", "sequence"] = (
                "mapping" if isinstance(event, yaml.MappingStartEvent) else "sequence"
            )
            stack.append(Laid(kind, start, end, event.anchor, bool(event.flow_style)))
            continue
        if isinstance(event, yaml.CollectionEndEvent):
            node = stack.pop()
            node.end = end if node.flow else node.values[-1].end
        elif isinstance(event, yaml.ScalarEvent):
            node = Laid("scalar", start, end, event.anchor, style=event.style or "", text=event.value)
        elif isinstance(event, yaml.AliasEvent):
            node = Laid("alias", start, end, event.anchor)
        else:
            continue
        if not stack:
            return node
        parent = stack[-1]
        if parent.kind == "mapping" and len(parent.keys) == len(parent.values):
            parent.keys.append(node)
        else:
            parent.values.append(node)
