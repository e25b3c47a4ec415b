"""Whatever the bytes, the reader returns nodes or refuses with codes; it never fails in another way."""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

import pytest
import yaml
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from guidegen import trade
from guidegen.problems import CatalogueError, Code
from guidegen.workshop.nodes import Mapping, Node, Scalar, Sequence, to_data
from guidegen.workshop.reader import read

pytestmark = pytest.mark.slow

CODES = {code.value for code in Code}

WORD = st.text(
    st.characters(
        codec="utf-8",
        max_codepoint=0xDFFFF,
        exclude_characters="\ufffc\ufffd",
        exclude_categories=("Cc", "Cs", "Cf", "Cn", "Zl", "Zp"),
    ),
    min_size=1,
    max_size=12,
)
YAMLISH = st.lists(
    st.sampled_from(
        [
            *list("abc:-?[]{},&*!|>'\"%@`#~ \n\t\\"),
            "\n  ",
            ": ",
            "- ",
            "---\n",
            "...\n",
            "<<",
            "&a ",
            "*a",
            "!!int ",
            "null",
            "1.10",
            "no",
            "\r\n",
            "\ufeff",
            "\u2028",
            "\x85",
            "é",
        ]
    ),
    max_size=60,
).map("".join)
TREE = st.recursive(
    WORD, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(WORD, inner, max_size=4), max_leaves=20
)


def places_are_inside(node: Node, text: str) -> None:
    """Check that every place lies in the text."""
    lines = text.replace("\r\n", "\n").split("\n")
    assert 1 <= node.place.line <= len(lines) + 1
    if isinstance(node, Mapping):
        for key, place in node.keys.items():
            assert 1 <= place.column <= len(lines[place.line - 1]) + 1
            places_are_inside(node.entries[key], text)
    elif isinstance(node, Sequence):
        for item in node.items:
            places_are_inside(item, text)


def check_read(data: bytes) -> Mapping | None:
    """Read; return the root, or None after looking at the refusal."""
    try:
        root = read(data, "a.yml")
    except CatalogueError as error:
        problems = error.problems
    else:
        to_data(root)
        return root
    assert problems
    for problem in problems:
        assert problem.code in CODES
        assert problem.message
        assert problem.fix
        assert problem.line >= 1
        assert problem.column >= 1
    return None


@given(st.binary(max_size=200))
@example(b"\xff\xfe")
@example(b"a: \xed\xa0\x80")
@example(b'a: "\\ud800"')
@example(b"\xef\xbb\xbf")
@example(b"%YAML 1.1\n--- a: b")
@example(b"a: &x\nb: *x")
@example(b"\xef\xbb\xbfa: \xff")
def test_any_bytes_are_read_or_refused(data: bytes) -> None:
    """Bytes."""
    check_read(data)


@given(st.text(max_size=100))
@example("? ")
@example("- - - - - a")
@example("&a")
@example("a: !<x> b")
def test_any_text_is_read_or_refused(text: str) -> None:
    """Text."""
    check_read(text.encode("utf-8", "surrogatepass"))


@given(YAMLISH)
@settings(max_examples=300)
def test_text_that_looks_like_yaml_is_read_or_refused(text: str) -> None:
    """Text of the signs that mean something in YAML; and every place lies in it."""
    root = check_read(text.encode())
    if root is not None:
        places_are_inside(root, text.removeprefix("\ufeff"))


@given(st.dictionaries(WORD, TREE, min_size=1, max_size=5))
def test_what_yaml_writes_is_read_back(tree: dict[str, object]) -> None:
    """A tree of text, written by the YAML library with every scalar in quotes, is the same tree."""
    text = yaml.safe_dump(tree, allow_unicode=True, default_style='"', width=10**6)

    def plain(node: Node) -> object:
        if isinstance(node, Scalar):
            return node.text
        if isinstance(node, Sequence):
            return [plain(item) for item in node.items]
        return {key: plain(value) for key, value in node.entries.items()}

    assert plain(read(text.encode(), "a.yml")) == tree


FIXTURE = Path(__file__).parent.parent / "fixtures" / "catalogue_min"
FAMILY = (FIXTURE / "machines" / "plain" / "family.yml").read_text(encoding="utf-8")
PIECE = st.sampled_from(
    [
        "{",
        "}",
        "[",
        "]",
        ":",
        "- ",
        "\n",
        "null",
        "true",
        "1e9",
        "± ",
        "unknown",
        "some units",
        '"',
        "'",
        "&a ",
        "*a",
        "é",
        "<b>",
        "{{ x }}",
        "",
        "  ",
    ]
)


@given(st.lists(st.tuples(st.integers(0, len(FAMILY) - 1), st.integers(0, 12), PIECE), min_size=1, max_size=3))
@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_a_damaged_family_file_ends_in_problems_only(damage: list[tuple[int, int, str]]) -> None:
    """Cut and paste in a real file: the whole catalogue is read, or refused with codes; nothing else is raised."""
    text = FAMILY
    for start, length, piece in damage:
        text = text[:start] + piece + text[start + length :]
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder) / "workshop"
        shutil.copytree(FIXTURE, root)
        (root / "machines" / "plain" / "family.yml").write_text(text, encoding="utf-8")
        _, problems = trade.look(root)
    assert {problem.code for problem in problems} <= CODES
