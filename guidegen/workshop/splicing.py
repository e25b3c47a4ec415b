"""Which characters of a YAML document give way to which, so that one value is other than before.

Each function returns splices for one edit of a laid-out document. What a value brings along:

* the comment behind a value on its line stays when the value is replaced, and goes when its key or item goes;
* comment lines directly above a key or item, in its column, with no blank line between, belong to it and go with
  it; not those that begin the file, which speak of the whole of it;
* comments inside a value that is replaced go with it; inside an item that is written anew they move above it;
* a new key or item stands on the line after the one it follows, so comments further down stay where they are.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from guidegen.workshop import write_yaml
from guidegen.workshop.layout import Laid
from guidegen.workshop.source_text import Splice
from guidegen.workshop.write_yaml import STEP, Value

_COMMENT = re.compile(r"(?<=\s)#[^\n]*")


class NotPlain(Exception):
    """A form that no edit can change without changing more than was asked; `at` is the character where it stands."""

    def __init__(self, at: int, reason: str) -> None:
        """Keep the place and the reason, a sentence without its end."""
        super().__init__(reason)
        self.at = at


@dataclass(frozen=True)
class Splicer:
    """Makes the splices of edits of one text; `parent` and `index` name the value that an edit is about."""

    text: str

    # --- one value in place of another -------------------------------------------------------------------

    def replace(self, parent: Laid, index: int, value: Value) -> list[Splice]:
        """Another value for a key of a mapping or an item of a list."""
        old = parent.values[index]
        if old.kind == "scalar" and (old.is_multiline_text or "\n" in self.text[old.start : old.end]):
            raise NotPlain(old.start, "a text over several lines")
        line = write_yaml.flow(value, old.style, in_flow=parent.flow)
        if parent.flow:
            return [Splice(old.start, old.end, self._apart(parent, index, line))]
        head = self._head(parent, index)
        on_line = "\n" not in self.text[head : old.start]
        column = self._column(old.start) if on_line and old.end > old.start else self._column(head) + 1
        if write_yaml.fits(" " * column + line, value):
            return self._one_line(old, head, line, on_line)
        return self._own_lines(parent, old, head, value, on_line)

    def _apart(self, parent: Laid, index: int, line: str) -> str:
        """What takes the place of a value in braces; an empty one may lack the colon or the space before it."""
        old = parent.values[index]
        if old.end > old.start:
            return line
        bare = parent.kind == "mapping" and ":" not in self.text[parent.keys[index].end : old.start]
        return f": {line}" if bare else line if self.text[old.start - 1].isspace() else f" {line}"

    def _one_line(self, old: Laid, head: int, line: str, on_line: bool) -> list[Splice]:
        if old.start == old.end:
            return [Splice(head, head, f" {line}")]
        if not old.is_block:
            return [Splice(old.start, old.end, line)]
        end = self.end_of_lines(old)
        if on_line:
            return [Splice(old.start, end, line)]
        return [Splice(head, head, f" {line}"), Splice(self._line_end(head), end, "")]

    def _own_lines(self, parent: Laid, old: Laid, head: int, value: Value, on_line: bool) -> list[Splice]:
        end, inner = self.end_of_lines(old), self._column(parent.start) + STEP
        if not on_line and old.is_block:
            column = max(self._column(old.start), inner) if parent.kind == "mapping" else self._column(old.start)
            return [Splice(self._line_start(old.start), end, "\n".join(write_yaml.block(value, column)))]
        if on_line and parent.kind == "mapping":
            return [Splice(head, old.end, ""), Splice(end, end, "\n" + "\n".join(write_yaml.block(value, inner)))]
        empty = old.start == old.end
        column = self._column(head) + 1 if empty else self._column(old.start)
        lines = "\n".join(write_yaml.block(value, column)).lstrip(" ")
        return [Splice(old.start, end if old.is_block else old.end, f" {lines}" if empty else lines)]

    def rewrite(self, sequence: Laid, index: int, value: Value, also: int = 0) -> list[Splice]:
        """Another item of a list in place of one and of `also` items after it; the comments inside stand above it."""
        items = sequence.values[index : index + also + 1]
        dash, end = self._dash(sequence, index), self.end_of_lines(items[-1])
        start, column = self._line_start(dash), self._column(dash)
        if self.text[start:dash].strip():
            raise NotPlain(dash, "an item that does not begin its line")
        stop = end if also or items[-1].is_block else items[-1].end
        lines = [" " * column + comment for comment in self._comments(items, dash, stop)]
        return [Splice(start, stop, "\n".join([*lines, *write_yaml.item(value, column)]))]

    def _comments(self, nodes: list[Laid], start: int, end: int) -> list[str]:
        """The comments from one character to another, between whatever is written there."""
        texts = [one for node in nodes for one in node.everything() if one.kind == "scalar"]
        found = (one for one in _COMMENT.finditer(self.text, start, end))
        return [one[0].rstrip() for one in found if not any(text.start <= one.start() < text.end for text in texts)]

    # --- more, and less ----------------------------------------------------------------------------------

    def add(self, mapping: Laid, name: str, value: Value, after: int) -> list[Splice]:
        """A new key behind the one with the index `after`."""
        if mapping.flow:
            return self._into_braces(mapping, f"{write_yaml.key(name, True)}: {write_yaml.flow(value)}", after)
        lines = write_yaml.entry(name, value, self._key_column(mapping))
        return [self._lines_after(mapping.values[after], lines)]

    def append(self, sequence: Laid, value: Value) -> list[Splice]:
        """A new item at the end of a list."""
        if sequence.flow:
            return self._into_braces(sequence, write_yaml.flow(value), len(sequence.values) - 1)
        lines = write_yaml.item(value, self._column(sequence.start))
        return [self._lines_after(sequence.values[-1], lines)]

    def _into_braces(self, collection: Laid, words: str, after: int) -> list[Splice]:
        if not collection.values:
            inside = self.text[collection.start + 1 : collection.end - 1]
            # A comment in empty braces stays.
            kept = f" {inside}" if inside.strip() else ""
            return [Splice(collection.start + 1, collection.end - 1, words + kept)]
        at = collection.values[after].end
        return [Splice(at, at, f", {words}")]

    def _lines_after(self, node: Laid, lines: list[str]) -> Splice:
        end = self.end_of_lines(node)
        if node.last().is_multiline_text and end == len(self.text):
            raise NotPlain(node.last().start, "a text over several lines without a line break at its end")
        return Splice(end, end, "\n" + "\n".join(lines))

    def remove(self, parent: Laid, index: int) -> list[Splice]:
        """One key or item less, of several; the comment lines that belong to it go too."""
        if parent.flow:
            return self._out_of_braces(parent, index)
        if parent.kind == "mapping":
            self._key_column(parent)
        first = parent.keys[index].start if parent.kind == "mapping" else self._dash(parent, index)
        end = self.end_of_lines(parent.values[index])
        start = self._line_start(first)
        before = parent.values[index - 1].last() if index else None
        if before is not None and before.is_multiline_text and self._would_take_in(before, end + 1):
            raise NotPlain(before.start, "a text that would take in the lines after it")
        if self.text[start:first].strip():
            return [self._off_the_dash(parent, first, end)]
        start = self._with_comments(start, self._column(first))
        if end < len(self.text):
            return [Splice(start, end + 1, "")]
        kept = before is not None and before.is_multiline_text
        return [Splice(start if kept or not start else start - 1, end, "")]

    def _would_take_in(self, node: Laid, index: int) -> bool:
        """Return whether a text over several lines would go on with what stands from a character on."""
        gap = len(self.text[index:]) - len(self.text[index:].lstrip("\n "))
        if self._keeps_its_end(node):
            return "\n" in self.text[index : index + gap]
        body = self.text[self._line_end(node.start) : node.end].split("\n")
        indent = min((len(line) - len(line.lstrip(" ")) for line in body if line.strip()), default=0)
        # A comment in the columns of the text would be its next line.
        return self.text.startswith("#", index + gap) and self._column(index + gap) >= indent

    def _off_the_dash(self, parent: Laid, first: int, end: int) -> Splice:
        """The first key of an item stands behind its dash; the next one takes its place, or the dash stands alone."""
        following = parent.keys[1].start if parent.kind == "mapping" else self._dash(parent, 1)
        if self.text[end:following].strip():
            return Splice(len(self.text[:first].rstrip(" ")), end, "")
        return Splice(first, following, "")

    def _out_of_braces(self, parent: Laid, index: int) -> list[Splice]:
        names = parent.keys or parent.values
        start, end = names[index].start, parent.values[index].end
        before = parent.values[index - 1].end if index else start
        if index and "#" not in self.text[before:start]:
            return [Splice(before, end, "")]
        if index == len(names) - 1:
            return [Splice(start, end, "")]
        following = names[index + 1].start
        if "#" not in self.text[end:following]:
            return [Splice(start, following, "")]
        rest = self.text[end:following]
        if not rest.lstrip(" ").startswith(","):
            raise NotPlain(end, "a comment stands between a value and its comma")
        return [Splice(start, end + rest.index(",") + 1, "")]

    # --- places ------------------------------------------------------------------------------------------

    def end_of_lines(self, node: Laid) -> int:
        """Where the last line of a node ends, its comment included: before the line break, or at the file's end."""
        last = node.last()
        if not last.is_multiline_text:
            return self._line_end(last.end)
        if self._keeps_its_end(last):
            return last.end - 1 if self.text[last.end - 1] == "\n" else last.end
        return self._line_end(len(self.text[: last.end].rstrip()))

    def _keeps_its_end(self, node: Laid) -> bool:
        """Return whether a text takes in the empty lines after it."""
        return node.is_multiline_text and "+" in self.text[node.start : node.start + 3]

    def _key_column(self, mapping: Laid) -> int:
        """The column of a block mapping's keys."""
        for name in mapping.keys:
            if self.text[: name.start].rstrip(" ").endswith("?"):
                raise NotPlain(name.start, "a key that is marked with ?")
        return self._column(mapping.keys[0].start)

    def _head(self, parent: Laid, index: int) -> int:
        """Where a value may begin: behind the colon of its key, or behind its dash."""
        if parent.kind == "sequence":
            return self._dash(parent, index) + 1
        self._key_column(parent)
        return self.text.index(":", parent.keys[index].end) + 1

    def _dash(self, sequence: Laid, index: int) -> int:
        """Where the dash of an item stands: in the list's column, on the item's line or on one above it."""
        column, start = self._column(sequence.start), self._line_start(sequence.values[index].start)
        while self.text[start + column : start + column + 1] != "-" or self.text[start : start + column].strip(" -"):
            start = self._line_start(start - 1)
        return start + column

    def _with_comments(self, start: int, column: int) -> int:
        """The start of the comment lines directly above a line, in a column; of the line itself where none belong."""
        first = start
        while first:
            above = self._line_start(first - 1)
            if not self.text.startswith(" " * column + "#", above):
                return first
            first = above
        return start

    def _column(self, index: int) -> int:
        return index - self._line_start(index)

    def _line_start(self, index: int) -> int:
        return self.text.rfind("\n", 0, index) + 1

    def _line_end(self, index: int) -> int:
        end = self.text.find("\n", index)
        return end if end >= 0 else len(self.text)
