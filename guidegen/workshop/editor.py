"""Writing into people's YAML: one value other than before, and every byte outside it as it was.

An `EditedFile` is a value: each edit returns another one. Comments, order, quotes, blank lines, line breaks, the mark
at the start and a missing line break at the end stay. What an edit made is read again and must say exactly what was
intended; where it does not, that is a fault of ours and nothing is written. `plan` shows edits and writes them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property, partial
from typing import Any, NoReturn

from guidegen.problems import CatalogueError, Code, Problem, nearest, one_of
from guidegen.workshop import write_yaml
from guidegen.workshop.base import Loc
from guidegen.workshop.layout import Laid, laid_out
from guidegen.workshop.nodes import to_data
from guidegen.workshop.reader import read
from guidegen.workshop.source_text import SourceText, Splice
from guidegen.workshop.splicing import NotPlain, Splicer
from guidegen.workshop.write_yaml import Value

_GROWN = (Code.TOO_LARGE.value, Code.TOO_DEEP.value)
"""What a value can make of a document that was well before."""

NOTHING = b""
"""The bytes of a file that is not there: no document is empty."""


class EditFault(RuntimeError):
    """An edit that did not say what was intended: a fault of guidegen; nothing was written."""


@dataclass(frozen=True)
class EditedFile:
    """A YAML file that is being edited: its path for messages, its bytes on the disk, its bytes after the edits.

    A loc is a path as in `Document.places`: keys, and indices of list items counted from 0; an item of a list may be
    named by its `id` too. Every edit raises `CatalogueError` where the path leads nowhere (with the nearest name),
    where a key or an id is taken, or where a form is in the way that cannot be edited alone, as an anchor.
    """

    path: str
    before: bytes
    after: bytes

    @classmethod
    def of(cls, path: str, data: bytes) -> EditedFile:
        """Begin with the bytes of a file; raise `CatalogueError` where they are no document."""
        read(data, path)
        return cls(path, data, data)

    @classmethod
    def new(cls, path: str, data: bytes) -> EditedFile:
        """Begin a file that is not there yet, as it would stand before the first edit; `plan` writes over nothing."""
        read(data, path)
        return cls(path, NOTHING, data)

    @cached_property
    def data(self) -> Any:
        """What the file says now: dicts, tuples, texts, None for null."""
        return to_data(read(self.after, self.path))[0]

    def has(self, loc: Loc) -> bool:
        """Return whether anything is written at a loc."""
        try:
            self._chain(loc)
        except CatalogueError:
            return False
        return True

    def set(self, loc: Loc, value: Value) -> EditedFile:
        """Put another value in the place of the one that is there; a comment behind it stays."""
        *chain, old = self._chain(loc)
        if not chain:
            self._refuse(old, loc, "is the whole file", "name what is to be changed in it")
        self._refuse_shared((*chain, old), loc, inside=True)
        index = _index(chain[-1], old)
        if _same(_at(self.data, self._indices(loc)), value):
            return self
        return self._edited(loc, value, lambda: self._splicer.replace(chain[-1], index, value), _put(value))

    def rewrite(self, loc: Loc, value: Value, also: int = 0) -> EditedFile:
        """Put another item of a list in the place of one and of `also` items after it; comments inside stand above."""
        *chain, old = self._chain(loc)
        sequence = chain[-1]
        index = _index(sequence, old)
        for node in sequence.values[index : index + also + 1]:
            self._refuse_shared((*chain, node), loc, inside=True)
        if sequence.flow:
            self._refuse(old, loc, "stands in brackets", "write the list one item per line")

        def intended(items: Any) -> Any:
            return (*items[:index], value, *items[index + also + 1 :])

        splices = partial(self._splicer.rewrite, sequence, index, value, also)
        return self._edited(loc[:-1], value, splices, intended, loc)

    def add(self, loc: Loc, key: str, value: Value, after: str | None = None) -> EditedFile:
        """Add a key to a mapping, behind the key `after`, or at its end."""
        *above, mapping = self._chain(loc)
        self._refuse_shared((*above, mapping), loc)
        if mapping.kind != "mapping":
            self._refuse(mapping, loc, f"is no mapping, it cannot hold {key}", "name a mapping", Code.WRONG_TYPE)
        names = mapping.names()
        if key in names:
            here = mapping.keys[names.index(key)]
            self._refuse(here, (*loc, key), "is there already", "set its value", Code.DUPLICATE_KEY)
        if after is not None and after not in names:
            self._missing(mapping, loc, after)
        position = len(names) if after is None else names.index(after) + 1

        def intended(old: Any) -> Any:
            entries = list(old.items())
            return dict([*entries[:position], (key, value), *entries[position:]])

        return self._edited(loc, {key: value}, lambda: self._splicer.add(mapping, key, value, position - 1), intended)

    def append(self, loc: Loc, value: Value) -> EditedFile:
        """Append an item to a list; where its key is not there yet, the list begins with the item."""
        if loc and isinstance(loc[-1], str) and not self.has(loc):
            return self.add(loc[:-1], loc[-1], [value])
        *above, sequence = self._chain(loc)
        self._refuse_shared((*above, sequence), loc)
        if sequence.kind != "sequence":
            self._refuse(sequence, loc, "is no list", "name a list", Code.WRONG_TYPE)
        name = value.get("id") if isinstance(value, Mapping) else None
        if name is not None and name in sequence.names():
            here = sequence.values[sequence.names().index(str(name))]
            self._refuse(here, loc, f"has an item {name} already", "give it another id", Code.DUPLICATE_ID)
        if not sequence.values and not above[-1].flow:
            return self.set(loc, [value])
        return self._edited(loc, value, lambda: self._splicer.append(sequence, value), lambda old: (*old, value))

    def remove(self, loc: Loc) -> EditedFile:
        """Remove a key or an item, with the comment lines that belong to it; the last one leaves `{}` or `[]`."""
        chain = self._chain(loc)
        self._refuse_shared(chain, loc, inside=True)
        if len(chain) < 2 or (len(loc) == 1 and len(chain[-2].values) == 1):
            self._refuse(chain[-1], loc, "is all that the file holds", "delete the file")
        parent, old = chain[-2:]
        if len(parent.values) == 1:
            return self.set(loc[:-1], {} if parent.kind == "mapping" else [])
        index = _index(parent, old)

        def intended(whole: Any) -> Any:
            if isinstance(whole, dict):
                return {key: one for number, (key, one) in enumerate(whole.items()) if number != index}
            return (*whole[:index], *whole[index + 1 :])

        return self._edited(loc[:-1], None, lambda: self._splicer.remove(parent, index), intended, loc)

    # --- how -----------------------------------------------------------------------------------------------

    @cached_property
    def _source(self) -> SourceText:
        return SourceText(self.after)

    @cached_property
    def _root(self) -> Laid:
        return laid_out(self._source.text)

    @property
    def _splicer(self) -> Splicer:
        return Splicer(self._source.text)

    def _edited(
        self,
        loc: Loc,
        value: Value,
        splices: Callable[[], list[Splice]],
        intended: Callable[[Any], Any],
        named: Loc | None = None,
    ) -> EditedFile:
        """The file with splices made, once it was read again and says what is intended of the data at `loc`.

        Messages call it `named` where the edit is about something in it.
        """
        write_yaml.check(value)
        try:
            made = replace(self, after=self._source.spliced(splices()))
        except NotPlain as form:
            self._refuse_at(form.at, named or loc, f"{form} is in the way", "edit the file by hand", Code.NOT_EDITABLE)
        wanted = _changed(self.data, self._indices(loc), intended)
        try:
            found = made.data
        except CatalogueError as error:
            if error.problems[0].code in _GROWN:
                raise
            raise EditFault(f"{self.path}: the edit is no YAML any more: {error.problems[0].message}") from error
        if not _same(found, wanted):
            raise EditFault(f"{self.path}: the edit does not say what was intended")
        return made

    def _chain(self, loc: Loc) -> tuple[Laid, ...]:
        """The nodes from the root to a loc."""
        chain = [self._root]
        for number, part in enumerate(loc):
            node = chain[-1]
            if node.kind == "alias":
                self._refuse_shared((node,), loc)
            names = node.names() if node.kind in ("mapping", "sequence") else []
            if isinstance(part, int) and node.kind == "sequence" and 0 <= part < len(node.values):
                chain.append(node.values[part])
            elif isinstance(part, str) and part in names:
                chain.append(node.values[names.index(part)])
            else:
                self._missing(node, loc[:number], part)
        return tuple(chain)

    def _indices(self, loc: Loc) -> Loc:
        """A loc with the indices of items in place of their ids."""
        nodes = self._chain(loc)
        return tuple(
            _index(node, inner) if node.kind == "sequence" else part
            for node, inner, part in zip(nodes, nodes[1:], loc, strict=False)
        )

    def _missing(self, node: Laid, loc: Loc, part: str | int) -> NoReturn:
        names = [name for name in node.names() if name] if node.kind in ("mapping", "sequence") else []
        near = nearest(part, names) if isinstance(part, str) else None
        fix = f"write {near}" if near else f"use one of {one_of(names)}" if names else "name what is there"
        shown = f"item {part + 1}" if isinstance(part, int) else f'"{part[:60]}"'
        self._refuse(node, loc, f"holds no {shown}", fix, Code.UNKNOWN_KEY)

    def _refuse_shared(self, chain: tuple[Laid, ...], loc: Loc, inside: bool = False) -> None:
        """Refuse to change what stands in more than one place; with `inside`, also where something in it does."""
        for node in (*chain, *(chain[-1].everything() if inside else ())):
            if node.kind == "alias" or node.anchor:
                mark = f"{'*' if node.kind == 'alias' else '&'}{node.anchor}"
                words = f"{mark} shares this value with another place"
                self._refuse(node, loc, words, "write the values out", Code.NOT_EDITABLE)

    def _refuse(self, node: Laid, loc: Loc, words: str, fix: str, code: Code = Code.NOT_EDITABLE) -> NoReturn:
        self._refuse_at(node.start, loc, words, fix, code)

    def _refuse_at(self, index: int, loc: Loc, words: str, fix: str, code: Code) -> NoReturn:
        before = self._source.text[:index]
        line, column = before.count("\n") + 1, index - before.rfind("\n")
        name = ".".join(str(part + 1) if isinstance(part, int) else part for part in loc) or "the file"
        raise CatalogueError([Problem(self.path, line, column, code.value, f"{name}: {words}", fix)])


def _index(parent: Laid, node: Laid) -> int:
    return next(number for number, one in enumerate(parent.values) if one is node)


def _at(data: Any, loc: Loc) -> Any:
    for part in loc:
        data = data[part]
    return data


def _put(value: Value) -> Callable[[Any], Any]:
    return lambda old: value


def _changed(data: Any, loc: Loc, change: Callable[[Any], Any]) -> Any:
    """Data with a change made at a loc, and the rest as it was."""
    if not loc:
        return change(data)
    part, rest = loc[0], loc[1:]
    if isinstance(data, dict):
        return {key: _changed(one, rest, change) if key == part else one for key, one in data.items()}
    return tuple(_changed(one, rest, change) if number == part else one for number, one in enumerate(data))


def _same(one: Any, other: Any) -> bool:
    """Return whether two data say the same, in the same order."""
    if isinstance(one, Mapping) and isinstance(other, Mapping):
        return list(one) == list(other) and all(_same(one[key], other[key]) for key in one)
    if isinstance(one, tuple | list) and isinstance(other, tuple | list):
        return len(one) == len(other) and all(map(_same, one, other))
    return type(one) is type(other) is type(None) or (isinstance(one, str) and isinstance(other, str) and one == other)
