"""Editing YAML as people wrote it: what changes is what was asked, and how it is written fits where it stands."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
import yaml

from guidegen.workshop.editor import EditedFile

Edit = Callable[[EditedFile], EditedFile]
LONG = "a sentence that goes on for so long that no line of a hundred and twenty characters could hold it in braces"


def edited(text: str, edit: Edit) -> str:
    """The text after an edit."""
    return edit(EditedFile.of("a.yml", text.encode())).after.decode()


def read_by_another(text: str) -> Any:
    """What PyYAML's own loader makes of a text, every scalar as text."""
    return yaml.load(text, Loader=yaml.BaseLoader)


CASES: dict[str, tuple[str, Edit, str]] = {
    "a value, and the comment behind it stays": (
        "a: 1\nmass: 520 g   # weighed\nb: 2\n",
        lambda file: file.set(("mass",), "530 g"),
        "a: 1\nmass: 530 g   # weighed\nb: 2\n",
    ),
    "a value keeps its quotes": (
        "a: 'it''s'\nb: \"x\"\n",
        lambda file: file.set(("a",), "isn't").set(("b",), 'say "y"'),
        "a: 'isn''t'\nb: \"say \\\"y\\\"\"\n",
    ),
    "a value gets quotes where it needs them": (
        "a: 1\nb: {c: 1}\nd: 1\n",
        lambda file: file.set(("a",), "x: y").set(("b", "c"), "x, y").set(("d",), "null"),
        'a: "x: y"\nb: {c: "x, y"}\nd: "null"\n',
    ),
    "a dash before a bracket": (
        "a: [x ]\n",
        lambda file: file.append(("a",), "-").append(("a",), "?"),
        'a: [x, "-", "?" ]\n',
    ),
    "what needs quotes in braces needs none outside": (
        "a: 1\n",
        lambda file: file.set(("a",), "x, y [z]"),
        "a: x, y [z]\n",
    ),
    "a scalar becomes a mapping in its line": (
        "b:\n  mass: 520 g  # weighed\n",
        lambda file: file.set(("b", "mass"), {"is": "520 g ± 5 g", "evidence": "measured", "source": "run-3"}),
        "b:\n  mass: {is: 520 g ± 5 g, evidence: measured, source: run-3}  # weighed\n",
    ),
    "and back": (
        "b:\n  mass: {is: 520 g ± 5 g, evidence: measured, source: run-3}  # weighed\n",
        lambda file: file.set(("b", "mass"), "520 g"),
        "b:\n  mass: 520 g  # weighed\n",
    ),
    "a mapping that is too long for the line goes on lines of its own": (
        "b:\n  mass: 520 g  # weighed\n  c: 1\n",
        lambda file: file.set(("b", "mass"), {"is": "520 g", "note": LONG}),
        f"b:\n  mass:  # weighed\n    is: 520 g\n    note: {LONG}\n  c: 1\n",
    ),
    "and back into one line": (
        f"b:\n  mass:  # weighed\n    is: 520 g\n    note: {LONG}  # long\n  # c\n  c: 1\n",
        lambda file: file.set(("b", "mass"), "520 g"),
        "b:\n  mass: 520 g  # weighed\n  # c\n  c: 1\n",
    ),
    "a value on a line of its own": (
        "a:\n  520 g # weighed\nb: 1\n",
        lambda file: file.set(("a",), {"is": "520 g", "note": LONG}),
        f"a:\n  is: 520 g\n  note: {LONG} # weighed\nb: 1\n",
    ),
    "an empty value": (
        "a:  # later\nb: {c: , d}\ne:\n-\n",
        lambda file: file.set(("a",), "1").set(("b", "c"), "2").set(("b", "d"), "3").set(("e", 0), "4"),
        "a: 1  # later\nb: {c: 2, d: 3}\ne:\n- 4\n",
    ),
    "an item of a list becomes a mapping on lines of its own": (
        "a:\n  - x  # first\n  - y\n",
        lambda file: file.set(("a", 0), {"is": "x", "note": LONG}),
        f"a:\n  - is: x\n    note: {LONG}  # first\n  - y\n",
    ),
    "a list in its key's column gives way to a long mapping": (
        "a:\n- x\n- y\nb: 1\n",
        lambda file: file.set(("a",), {"is": "x", "note": LONG}),
        f"a:\n  is: x\n  note: {LONG}\nb: 1\n",
    ),
    "a key at the end, before comments that follow": (
        "b:\n    c: 1  # one\n    # later: 2\n\n# next\nd: 3\n",
        lambda file: file.add(("b",), "e", "4"),
        "b:\n    c: 1  # one\n    e: 4\n    # later: 2\n\n# next\nd: 3\n",
    ),
    "a key behind another": (
        "a: 1\nb:\n  - x\n\n  - {y: 1}\nc: 3\n",
        lambda file: file.add((), "e", {"f": "4"}, after="b"),
        "a: 1\nb:\n  - x\n\n  - {y: 1}\ne: {f: 4}\nc: 3\n",
    ),
    "a key in braces": (
        "a: {b: 1, c: 2 }\nd: {}\ne: {f: 1,}\n",
        lambda file: file.add(("a",), "x", "9", after="b").add(("d",), "x", "9").add(("e",), "x", "9"),
        "a: {b: 1, x: 9, c: 2 }\nd: {x: 9}\ne: {f: 1, x: 9,}\n",
    ),
    "a key in an item of a list": (
        "a:\n  - id: x\n    b: 1\n  - id: y\n",
        lambda file: file.add(("a", "x"), "c", "2"),
        "a:\n  - id: x\n    b: 1\n    c: 2\n  - id: y\n",
    ),
    "a key that needs quotes": (
        "a: 1\n",
        lambda file: file.add((), "b: c", "2").add((), "12", "3"),
        'a: 1\n"b: c": 2\n"12": 3\n',
    ),
    "a key behind a text over several lines": (
        "a: |\n  one\n\n  two\n\nb: 1\n",
        lambda file: file.add((), "c", "2", after="a"),
        "a: |\n  one\n\n  two\nc: 2\n\nb: 1\n",
    ),
    "a key goes with the comments directly above it": (
        "# the file\na: 1\n\n# apart\n\n# of b\n# too\nb: 2 # and this\n# of c\nc: 3\n",
        lambda file: file.remove(("b",)),
        "# the file\na: 1\n\n# apart\n\n# of c\nc: 3\n",
    ),
    "what begins the file speaks of all of it": (
        "# the file\na: 1\nb: 2\n",
        lambda file: file.remove(("a",)),
        "# the file\nb: 2\n",
    ),
    "a comment in another column is somebody else's": (
        "a:\n  b: 1\n# of c\n  c: 2\n  d: 3\n",
        lambda file: file.remove(("a", "c")),
        "a:\n  b: 1\n# of c\n  d: 3\n",
    ),
    "the last key leaves braces": (
        "a:\n  b: 1\nc: 2\n",
        lambda file: file.remove(("a", "b")),
        "a: {}\nc: 2\n",
    ),
    "keys in braces": (
        "a: {b: 1, c: 2, d: 3}\n",
        lambda file: file.remove(("a", "b")).remove(("a", "d")),
        "a: {c: 2}\n",
    ),
    "keys in braces over several lines keep the comments of others": (
        "a: {b: 1, # of b\n    c: 2, # of c\n    d: 3}\n",
        lambda file: file.remove(("a", "d")),
        "a: {b: 1, # of b\n    c: 2, # of c\n    }\n",
    ),
    "the key behind a dash": (
        "a:\n  - id: x  # gone\n    b: 1\n  - id: y\n    # of c\n    c: 1\n",
        lambda file: file.remove(("a", "x", "id")).remove(("a", "y", "id")),
        "a:\n  - b: 1\n  -\n    # of c\n    c: 1\n",
    ),
    "an item by its id": (
        "a:\n  - id: x\n    b: 1\n  # of y\n  - {id: y}\n  - id: z\n",
        lambda file: file.remove(("a", "y")),
        "a:\n  - id: x\n    b: 1\n  - id: z\n",
    ),
    "an item at the end of a list": (
        "a:\n- x\n-  y # last\n# after\nb: [1, 2]\n",
        lambda file: file.append(("a",), "z").append(("b",), "3"),
        "a:\n- x\n-  y # last\n- z\n# after\nb: [1, 2, 3]\n",
    ),
    "the first item": (
        "a: []  # none yet\nb: {c: []}\n",
        lambda file: file.append(("a",), {"id": "x"}).append(("b", "c"), "y").append(("d",), "z"),
        "a: [{id: x}]  # none yet\nb: {c: [y]}\nd: [z]\n",
    ),
    "the first item, too long for the line": (
        "a: []  # none yet\nb: 1\n",
        lambda file: file.append(("a",), {"id": "x", "note": LONG}),
        f"a:  # none yet\n  - id: x\n    note: {LONG}\nb: 1\n",
    ),
    "a file without a line break at its end": (
        "a: 1\nb: 2",
        lambda file: file.add((), "c", "3"),
        "a: 1\nb: 2\nc: 3",
    ),
    "line breaks of two characters, and a mark at the start": (
        "\ufeffa: 1 # x\r\nb: 2\r\n",
        lambda file: file.set(("b",), {"is": "2", "note": LONG}).add((), "c", "ü", after="a"),
        f"\ufeffa: 1 # x\r\nc: ü\r\nb:\r\n  is: 2\r\n  note: {LONG}\r\n",
    ),
    "an item anew, and the comments inside stand above it": (
        'a:\n  # of x\n  - id: x  # first\n    # why\n    b: "no # sign"\n    c: |\n      # text\n  - id: y # own\n',
        lambda file: file.rewrite(("a", 0), {"id": "x", "act": "z"}),
        "a:\n  # of x\n  # first\n  # why\n  - {id: x, act: z}\n  - id: y # own\n",
    ),
    "an item in braces anew, and the comment behind it stays there": (
        "a:\n  - {id: x, b: 1}  # of x\n  - c\n",
        lambda file: file.rewrite(("a", "x"), {"id": "x", "act": "z"}),
        "a:\n  - {id: x, act: z}  # of x\n  - c\n",
    ),
    "one item anew in place of two, and the comments of both stay": (
        "a:\n- id: x\n  # in x\n  b: 1\n\n# of the second\n- id: x\n  b: 2 # in it\n- c\n",
        lambda file: file.rewrite(("a", 0), {"id": "x", "act": "z"}, also=1),
        "a:\n# in x\n# of the second\n# in it\n- {id: x, act: z}\n- c\n",
    ),
}


@pytest.mark.parametrize(("before", "edit", "after"), CASES.values(), ids=CASES)
def test_an_edit_gives_exactly_this_text(before: str, edit: Edit, after: str) -> None:
    """Byte for byte, as written by hand; and PyYAML's own loader agrees with what the editor says it holds."""
    assert edited(before, edit) == after
    made = edit(EditedFile.of("a.yml", before.encode()))
    assert read_by_another(after.removeprefix("\ufeff")) == plain(made.data)


def plain(data: Any) -> Any:
    """Data as PyYAML's loader of texts gives it."""
    if isinstance(data, dict):
        return {key: plain(one) for key, one in data.items()}
    if isinstance(data, tuple):
        return [plain(one) for one in data]
    return "null" if data is None else str(data)


def test_nothing_changes_where_the_value_is_the_same() -> None:
    """Not even the quotes, however odd they are."""
    file = EditedFile.of("a.yml", b'a: "1"\nb:   {c:   2}\n')
    assert file.set(("a",), "1").set(("b",), {"c": "2"}) is file
