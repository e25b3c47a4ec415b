"""The reader: bytes of a YAML file become nodes with places, or a refusal with a code.

A thin wrapper over the events of PyYAML's C parser. It builds no Python objects, resolves nothing, and
refuses what YAML has and a catalogue does not need: tags, merge keys, several documents, keys that are no
words, deep nesting, alias bombs. Text stays text: a `<`, a brace or a backtick in a field is a character that
the templates escape later. Only characters that cannot be seen are refused: they can hide what a text says.
"""

from __future__ import annotations

import errno
import re
import time
from pathlib import Path
from typing import Any, NoReturn

import yaml

from guidegen import reading
from guidegen.problems import CatalogueError, Code, Problem
from guidegen.workshop.base import Place
from guidegen.workshop.nodes import Mapping, Node, Scalar, Sequence

MAX_BYTES = 1_000_000
MAX_DEPTH = 20
MAX_ALIASES = 100
MAX_NODES = 50_000
LOOKS_AGAIN, MOMENT_S = 4, 0.05
"""So often, and after so long, an empty file is read again before it is called empty."""

_Loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_TAB = re.compile("\t")
#: Control characters, marks that turn the direction of the text, invisible spaces, foreign line breaks.
_HIDDEN = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u00ad\u061c\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff0-\uffff]"
    "|[\U000e0000-\U000e0fff\ud800-\udfff]"
)
_NO_WORD = re.compile(r"null|true|false|[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+-]?[0-9]+)?|")
_FIXES = (
    ("mapping values are not allowed", "put the text in quotes, or correct the indentation"),
    ("could not find expected ':'", "write key: value, with a space after the colon"),
    ("while scanning a quoted scalar", "close the quote"),
    ("found unexpected end of stream", "close the quote"),
    ("did not find expected ',' or ']'", "close the bracket with ]"),
    ("did not find expected ',' or '}'", "close the brace with }"),
    ("cannot start any token", "put the text in quotes"),
    ("did not find expected key", "align the keys of one mapping in one column"),
    ("did not find expected '-' indicator", "align the items of one list in one column"),
)


def bytes_of(file: Path, path: str, plain: bool = True) -> bytes:
    """Return what stands in a file; `path` is what messages call it. Raises `CatalogueError`, never anything else.

    Without `plain` it may be a pipe that somebody named.
    """
    try:
        data = reading.bytes_of(file, MAX_BYTES, plain)
        for _ in range(LOOKS_AGAIN if plain else 0):
            if data.strip():
                break
            # Many an editor empties a file before it writes it.
            time.sleep(MOMENT_S)
            data = reading.bytes_of(file, MAX_BYTES, plain)
        return data
    except (OSError, ValueError) as error:
        if getattr(error, "errno", None) == errno.EFBIG:
            _refuse(Code.TOO_LARGE, Place(path, 1, 1), *_too_large(file.stat().st_size))
        reason = getattr(error, "strerror", None) or "not a usable name"
        _refuse(Code.UNREADABLE, Place(path, 1, 1), f"cannot be opened: {reason}", "look at its permissions")


def read_file(file: Path, path: str) -> Mapping:
    """Read one file. Raises `CatalogueError`, never anything else."""
    return read(bytes_of(file, path), path)


def read(data: bytes, path: str) -> Mapping:
    """Read the bytes of one document. Raises `CatalogueError`, never anything else."""
    if len(data) > MAX_BYTES:
        _refuse(Code.TOO_LARGE, Place(path, 1, 1), *_too_large(len(data)))
    text = _decoded(data, path)
    _refuse_hidden(text, path)
    if not text.strip():
        _refuse(Code.EMPTY_FILE, Place(path, 1, 1), "the file is empty", "write it, or delete it")
    return _DocumentReader(text, path).compose()


def _too_large(size: int) -> tuple[str, str]:
    # A pipe has no size; it was read until it was too much.
    words = f"{max(size, MAX_BYTES) / 1e6:.1f} MB, a document has at most {MAX_BYTES / 1e6:.0f} MB"
    return words, "keep logged runs in CSV files"


def _refuse(code: Code, place: Place, message: str, fix: str) -> NoReturn:
    raise CatalogueError([Problem(place.path, place.line, place.column, code, message, fix)])


def _decoded(data: bytes, path: str) -> str:
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        _refuse(Code.NOT_UTF8, Place(path, 1, 1), "the file is UTF-16", "save it as UTF-8")
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode("utf-8")
        place = _place_in(before.removeprefix("\ufeff"), len(before), path)
        _refuse(Code.NOT_UTF8, place, f"byte {data[error.start]:#04x} is not UTF-8", "save the file as UTF-8")
    return text.removeprefix("\ufeff").replace("\r\n", "\n")


def _place_in(text: str, index: int, path: str) -> Place:
    before = text[:index]
    return Place(path, before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1)


def _refuse_hidden(text: str, path: str) -> None:
    found = []
    for match in _TAB.finditer(text):
        found.append((match.start(), Code.TAB, "a tab", "use spaces"))
    for match in _HIDDEN.finditer(text):
        name = f"the invisible character U+{ord(match.group()):04X}"
        found.append((match.start(), Code.CONTROL_CHARACTER, name, "delete it"))
    if found:
        problems = []
        for index, code, message, fix in found[:20]:
            place = _place_in(text, index, path)
            problems.append(Problem(path, place.line, place.column, code, message, fix))
        raise CatalogueError(problems)


class _DocumentReader:
    """Builds the nodes of one document from the parser's events, without recursion."""

    def __init__(self, text: str, path: str) -> None:
        self.path = path
        self.problems: list[Problem] = []
        self.anchors: dict[str, tuple[Node, int]] = {}
        self.stack: list[_Open] = []
        self.root: Node | None = None
        self.aliases = 0
        self.nodes = 0
        self.text = text

    def compose(self) -> Mapping:
        """Return the root mapping, or raise all that was found."""
        try:
            loader = _Loader(self.text)
            try:
                self._walk(loader)
            finally:
                loader.dispose()
        except yaml.MarkedYAMLError as error:
            self._not_yaml(error)
        except (yaml.YAMLError, UnicodeError) as error:
            place = Place(self.path, 1, 1)
            self._problem(Code.NOT_YAML, place, f"not YAML: {' '.join(str(error).split())[:80]}", "write YAML")
        if self.problems:
            raise CatalogueError(self.problems)
        root = self.root
        if root is None:
            _refuse(Code.EMPTY_FILE, Place(self.path, 1, 1), "the file is empty", "write it, or delete it")
        if not isinstance(root, Mapping):
            _refuse(Code.NOT_A_MAPPING, root.place, "no `key: value` here", "start with a key and a colon")
        return root

    def _walk(self, loader: Any) -> None:
        """Consume all events; stop where going on makes no sense."""
        try:
            while (event := loader.get_event()) is not None and not isinstance(event, yaml.StreamEndEvent):
                self._take(event, Place(self.path, event.start_mark.line + 1, event.start_mark.column + 1))
        except _Enough:
            return

    def _take(self, event: Any, place: Place) -> None:
        if isinstance(event, yaml.ScalarEvent):
            self._put(self._scalar(event, place))
        elif isinstance(event, yaml.CollectionStartEvent):
            self._open(event, place)
        elif isinstance(event, yaml.CollectionEndEvent):
            done = self.stack.pop()
            if done.anchor:
                self.anchors[done.anchor] = (done.node, self.nodes - done.before)
            self._put(done.node)
        elif isinstance(event, yaml.AliasEvent):
            self._put(self._alias(event, place), place)
        elif isinstance(event, yaml.DocumentStartEvent) and self.root is not None:
            self._problem(Code.SECOND_DOCUMENT, place, "a second document", "make it a file of its own")
            raise _Enough

    def _put(self, node: Node, place: Place | None = None) -> None:
        """Put a finished node where it belongs: into what is open, else it is the root."""
        if self.stack:
            self._place_into(self.stack[-1], node, place or node.place)
        else:
            self.root = node

    def _open(self, event: Any, place: Place) -> None:
        if len(self.stack) >= MAX_DEPTH:
            self._problem(Code.TOO_DEEP, place, f"nested deeper than {MAX_DEPTH} levels", "make it flatter")
            raise _Enough
        self._tag(event, place)
        self.nodes += 1
        opened = Mapping({}, {}, place) if isinstance(event, yaml.MappingStartEvent) else Sequence([], place)
        self.stack.append(_Open(opened, event.anchor, self.nodes - 1))

    def _scalar(self, event: yaml.ScalarEvent, place: Place) -> Scalar:
        self._tag(event, place)
        self.nodes += 1
        hidden = _HIDDEN.search(event.value) or _TAB.search(event.value)
        if hidden:
            name = f"the invisible character U+{ord(hidden.group()):04X}, written as an escape"
            self._problem(Code.CONTROL_CHARACTER, place, name, "delete it")
        # libyaml gives plain scalars the style "", the Python parser gives None.
        made = Scalar(event.value, not event.style, place)
        if event.anchor:
            self.anchors[event.anchor] = (made, 1)
        return made

    def _alias(self, event: yaml.AliasEvent, place: Place) -> Node:
        self.aliases += 1
        if event.anchor not in self.anchors:
            words = f"*{event.anchor} stands for nothing"
            self._problem(Code.UNKNOWN_ALIAS, place, words, f"write &{event.anchor} at a value before it")
            raise _Enough
        node, size = self.anchors[event.anchor]
        self.nodes += size
        if self.aliases > MAX_ALIASES or self.nodes > MAX_NODES:
            self._problem(Code.TOO_MANY_ALIASES, place, "aliases blow the document up", "write the values out")
            raise _Enough
        return node

    def _place_into(self, opened: _Open, node: Node, place: Place) -> None:
        if isinstance(opened.node, Sequence):
            opened.node.items.append(node)
        elif opened.key is None:
            opened.key = self._key(opened.node, node, place)
        else:
            name, where = opened.key
            opened.key = None
            if name is not None:
                opened.node.entries[name] = node
                opened.node.keys[name] = where

    def _key(self, mapping: Mapping, node: Node, place: Place) -> tuple[str | None, Place]:
        """Return the key as text, or None where it is refused and its value dropped."""
        if not isinstance(node, Scalar):
            self._problem(Code.KEY_NOT_TEXT, place, "a key that is a list or a mapping", "use a word")
        elif node.plain and node.text == "<<":
            self._problem(Code.MERGE_KEY, place, "the merge key <<", "write the fields out")
        elif node.plain and _NO_WORD.fullmatch(node.text):
            name = f'the key "{node.text}" is no word' if node.text else "a key is missing before the colon"
            self._problem(Code.KEY_NOT_TEXT, place, name, "use a word")
        elif node.text in mapping.entries:
            first = mapping.keys[node.text]
            words = f'the key "{node.text[:60]}" stands here and in line {first.line}'
            self._problem(Code.DUPLICATE_KEY, place, words, "delete one of the two")
        else:
            return node.text, place
        return None, place

    def _tag(self, event: yaml.NodeEvent, place: Place) -> None:
        tag = getattr(event, "tag", None)
        if tag is not None:
            self._problem(Code.TAG, place, f"the tag {_short(tag)}", "write the plain value")

    def _not_yaml(self, error: yaml.MarkedYAMLError) -> None:
        words = f"{error.context or ''} {error.problem or ''}".strip()
        fix = next((remedy for start, remedy in _FIXES if start in words), "look at quotes and indentation here")
        mark = error.problem_mark or error.context_mark
        if fix.startswith("close") and error.context_mark:
            # What was never closed is noticed much later; where it was opened is where it is to be closed.
            mark = error.context_mark
        place = Place(self.path, mark.line + 1, mark.column + 1) if mark else Place(self.path, 1, 1)
        self._problem(Code.NOT_YAML, place, f"not YAML: {error.problem or error.context}", fix)

    def _problem(self, code: Code, place: Place, message: str, fix: str) -> None:
        self.problems.append(Problem(place.path, place.line, place.column, code, message, fix))


def _short(tag: str) -> str:
    """Return a tag as it is usually written."""
    return " ".join(tag.replace("tag:yaml.org,2002:", "!!").split())[:60]


class _Enough(Exception):
    """Going on makes no sense; what is wrong stands among the problems."""


class _Open:
    """A collection that is being filled."""

    __slots__ = ("anchor", "before", "key", "node")

    def __init__(self, node: Mapping | Sequence, anchor: str | None, before: int) -> None:
        self.node, self.anchor, self.before = node, anchor, before
        self.key: tuple[str | None, Place] | None = None
