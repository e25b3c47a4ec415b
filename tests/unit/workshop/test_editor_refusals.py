"""What the editor refuses, with the place and what to do instead, and how it finds faults of its own."""

from __future__ import annotations

from typing import Any

import pytest

from guidegen.problems import CatalogueError
from guidegen.workshop import editor
from guidegen.workshop.editor import EditFault
from tests.unit.workshop.test_editor import Edit, edited

REFUSED: dict[str, tuple[str, Edit, str]] = {
    "a key that is not there": (
        "boiler:\n  mass: 1\n",
        lambda file: file.set(("boiler", "mas"), "2"),
        'a.yml:2:3: S01 boiler: holds no "mas"\n  fix: write mass',
    ),
    "an item that is not there": (
        "a:\n  - {id: drain}\n",
        lambda file: file.set(("a", "drian"), "2"),
        'a.yml:2:3: S01 a: holds no "drian"\n  fix: write drain',
    ),
    "an item past the end": (
        "a: [1]\n",
        lambda file: file.set(("a", 1), "2"),
        "a.yml:1:4: S01 a: holds no item 2\n  fix: name what is there",
    ),
    "a key that is taken": (
        "a: 1\nb: 2\n",
        lambda file: file.add((), "b", "3"),
        "a.yml:2:1: R05 b: is there already\n  fix: set its value",
    ),
    "an id that is taken": (
        "a:\n  - id: x\n",
        lambda file: file.append(("a",), {"id": "x"}),
        "a.yml:2:5: X05 a: has an item x already\n  fix: give it another id",
    ),
    "a key for what is no mapping": (
        "a: 1\n",
        lambda file: file.add(("a",), "b", "3"),
        "a.yml:1:4: S03 a: is no mapping, it cannot hold b\n  fix: name a mapping",
    ),
    "an item for what is no list": (
        "a: 1\n",
        lambda file: file.append(("a",), "3"),
        "a.yml:1:4: S03 a: is no list\n  fix: name a list",
    ),
    "an item anew in brackets": (
        "a: [{id: x}, {id: y}]\n",
        lambda file: file.rewrite(("a", "x"), {"id": "z"}),
        "a.yml:1:5: F08 a.x: stands in brackets\n  fix: write the list one item per line",
    ),
    "an item anew that does not begin its line": (
        "a:\n  - - {id: x}\n",
        lambda file: file.rewrite(("a", 0, 0), {"id": "z"}),
        "a.yml:2:5: F08 a.1.1: an item that does not begin its line is in the way\n  fix: edit the file by hand",
    ),
    "a value with an anchor": (
        "a: &x {b: 1}\nc: *x\n",
        lambda file: file.set(("a", "b"), "2"),
        "a.yml:1:4: F08 a.b: &x shares this value with another place\n  fix: write the values out",
    ),
    "a value behind an alias": (
        "a: &x {b: 1}\nc: *x\n",
        lambda file: file.set(("c", "b"), "2"),
        "a.yml:2:4: F08 c.b: *x shares this value with another place\n  fix: write the values out",
    ),
    "a value that holds an anchor": (
        "a: {b: &x 1}\nc: *x\n",
        lambda file: file.remove(("a",)),
        "a.yml:1:8: F08 a: &x shares this value with another place\n  fix: write the values out",
    ),
    "a text that would take in the empty line after what goes": (
        "a: |+\n  one\nb: 1\n\nc: 2\n",
        lambda file: file.remove(("b",)),
        "a.yml:1:4: F08 b: a text that would take in the lines after it is in the way\n  fix: edit the file by hand",
    ),
    "a text that ends the file": (
        "a: |\n  one",
        lambda file: file.add((), "b", "2"),
        "a.yml:1:4: F08 the file: a text over several lines without a line break at its end is in the way\n"
        "  fix: edit the file by hand",
    ),
    "a text over several lines": (
        "a: 1\nb: >\n  one\n  two\n",
        lambda file: file.set(("b",), "2"),
        "a.yml:2:4: F08 b: a text over several lines is in the way\n  fix: edit the file by hand",
    ),
    "a plain text over several lines": (
        "a: one\n  two\n",
        lambda file: file.set(("a",), "2"),
        "a.yml:1:4: F08 a: a text over several lines is in the way\n  fix: edit the file by hand",
    ),
    "a key with a question mark": (
        "? a\n: 1\n",
        lambda file: file.set(("a",), "2"),
        "a.yml:1:3: F08 a: a key that is marked with ? is in the way\n  fix: edit the file by hand",
    ),
    "the last key of the file": (
        "a: 1\n",
        lambda file: file.remove(("a",)),
        "a.yml:1:4: F08 a: is all that the file holds\n  fix: delete the file",
    ),
    "a character that nobody sees": (
        "a: 1\n",
        lambda file: file.set(("a",), "2\u200b"),
        "what was given:1:10: R04 the invisible character U+200B\n  fix: delete it",
    ),
}


@pytest.mark.parametrize(("before", "edit", "message"), REFUSED.values(), ids=REFUSED)
def test_what_cannot_be_edited_is_refused_with_its_place(before: str, edit: Edit, message: str) -> None:
    """File, line, column, and what to do instead."""
    with pytest.raises(CatalogueError) as refused:
        edited(before, edit)
    assert str(refused.value) == message


def test_an_edit_that_says_something_else_is_a_fault_of_ours(monkeypatch: pytest.MonkeyPatch) -> None:
    """The self-check reads what was made; here the splice changes the neighbour."""
    made = editor.Splicer.replace

    def wrong(self: Any, parent: Any, index: int, value: Any) -> Any:
        return made(self, parent, 1 - index, value)

    monkeypatch.setattr(editor.Splicer, "replace", wrong)
    with pytest.raises(EditFault, match="does not say what was intended"):
        edited("a: 1\nb: 2\n", lambda file: file.set(("a",), "3"))


def test_an_edit_that_is_no_yaml_is_a_fault_of_ours(monkeypatch: pytest.MonkeyPatch) -> None:
    """A splice with an open bracket."""
    monkeypatch.setattr(editor.Splicer, "replace", lambda *given: [editor.Splice(3, 4, "[")])
    with pytest.raises(EditFault, match="no YAML any more"):
        edited("a: 1\nb: 2\n", lambda file: file.set(("a",), "3"))
