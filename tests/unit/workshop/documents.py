"""Random YAML documents as people write them: comments, odd spaces, quotes, braces, blocks, line breaks of any kind."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

WORDS = (
    "520 g ± 5 g",
    "a",
    "yes",
    "12",
    "1.10",
    "x: y",
    "it's",
    "a #b",
    "- z",
    "é",
    "[",
    "{a}",
    "null",
    "",
    "~",
    "b, c",
    "Ω:",
)
TEXTS = st.one_of(st.sampled_from(WORDS), st.text("ab :#,-'\"{}[]é&*!|>%@`?", max_size=8).map(str.strip))
KEYS = st.sampled_from(("mass", "is", "id", "band", "a b", "x-1", "é", "on", "class"))
COMMENTS = st.sampled_from(("", "", "", " # why", "   #", "  # é: {x}, [y] 'z"))
ABOVE = st.sampled_from(((), (), (), ("",), ("# above",), ("", "# one", "# two"), ("# apart", "")))


def values(depth: int = 3) -> st.SearchStrategy[Any]:
    """Values to write: texts, None, and short mappings and lists of values."""
    if depth == 0:
        return st.one_of(TEXTS, st.none())
    return st.one_of(TEXTS, TEXTS, st.none(), nests(depth))


def nests(depth: int = 3) -> st.SearchStrategy[Any]:
    """Short mappings and lists of values."""
    inner = values(depth - 1)
    return st.one_of(st.dictionaries(KEYS, inner, max_size=3), st.lists(inner, max_size=3))


def quoted(draw: Any, text: str) -> str:
    """A text in quotes or without; without them only where it has letters, digits and spaces alone."""
    forms = ['"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"', "'" + text.replace("'", "''") + "'"]
    if (text and text.replace(" ", "").isalnum() and text.strip() == text) or text == "520 g ± 5 g":
        forms += [text] * 4
    return str(draw(st.sampled_from(forms)))


def in_braces(draw: Any, depth: int) -> str:
    """A value in one line."""
    kind = draw(st.sampled_from(("text", "mapping", "list") if depth else ("text",)))
    gap, comma = draw(st.sampled_from(("", " "))), draw(st.sampled_from((", ", " ,  ")))
    if kind == "text":
        return quoted(draw, draw(TEXTS))
    if kind == "list":
        inner = comma.join(in_braces(draw, depth - 1) for _ in range(draw(st.integers(0, 3))))
        return f"[{gap}{inner}{gap}]"
    names = draw(st.lists(KEYS, max_size=3, unique=True))
    inner = comma.join(f"{name}: {in_braces(draw, depth - 1)}" for name in names)
    return f"{{{gap}{inner}{gap}}}"


def block(draw: Any, indent: int, depth: int) -> list[str]:
    """The lines of a mapping or a list."""
    pad = " " * indent
    lines: list[str] = []
    step = draw(st.integers(1, 4))
    if draw(st.booleans()) or depth == 3:
        for name in draw(st.lists(KEYS, min_size=1, max_size=4, unique=True)):
            lines += [pad + line if line else "" for line in draw(ABOVE)]
            lines += _entry(draw, f"{pad}{name}:", indent + step, indent, depth)
        return lines
    for _ in range(draw(st.integers(1, 3))):
        lines += [pad + line if line else "" for line in draw(ABOVE)]
        if depth and draw(st.booleans()):
            space = draw(st.integers(1, 3))
            first, *rest = block(draw, indent + 1 + space, depth - 1)
            while not first.strip() or first.strip().startswith("#"):
                first, *rest = rest
            lines += [f"{pad}-{' ' * space}{first[indent + 1 + space :]}", *rest]
        else:
            lines += _entry(draw, f"{pad}-", indent + step, indent, 0)
    return lines


def _entry(draw: Any, head: str, inner: int, indent: int, depth: int) -> list[str]:
    comment = draw(COMMENTS)
    kind = draw(st.sampled_from(("text", "text", "braces", "empty", "below", "literal", "block")))
    if kind == "empty":
        return [head + comment]
    if kind == "below":
        return [head + comment, " " * inner + quoted(draw, draw(TEXTS)) + draw(COMMENTS)]
    if kind == "literal":
        mark = draw(st.sampled_from(("|", ">", "|-", "|+", ">+")))
        body = draw(st.sampled_from((["one"], ["one", "", "two"], ["one # no comment", ""], ["one", "  more", "", ""])))
        return [f"{head} {mark}{comment}", *(" " * inner + line if line else "" for line in body)]
    if kind == "block" and depth and not head.endswith("-"):
        return [head + comment, *block(draw, inner, depth - 1)]
    gap = draw(st.sampled_from((" ", "   ")))
    return [head + gap + (in_braces(draw, 2) if kind == "braces" else quoted(draw, draw(TEXTS))) + comment]


@st.composite
def documents(draw: st.DrawFn) -> bytes:
    """The bytes of a document: a mapping, with a comment before or after it, or none."""
    lines = [*draw(st.sampled_from(([], ["# the file"], ["", "# the file", ""]))), *block(draw, 0, 3)]
    lines += draw(st.sampled_from(([], ["# the end"], ["", "  # the end", ""])))
    breaks = draw(st.sampled_from(("lf", "crlf", "mixed")))
    text = ""
    for line in lines:
        crlf = breaks == "crlf" or (breaks == "mixed" and draw(st.booleans()))
        text += line + ("\r\n" if crlf else "\n")
    if draw(st.booleans()):
        text = text.rstrip("\r\n")
    return (b"\xef\xbb\xbf" if draw(st.booleans()) else b"") + text.encode()
