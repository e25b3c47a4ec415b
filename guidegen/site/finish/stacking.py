"""Wide tables on a phone: each cell says what its column says, so that a row can stand as a block (`gg-stacked`)."""

from __future__ import annotations

import html
import re

NARROW = 3
"""A table of fewer columns is read beside each other on a phone as well."""

_PART = re.compile(r'<details class="gg-data".*?</details>|<table(?P<of>[^>]*)>(?P<body>.*?)</table>', re.DOTALL)
_HEAD = re.compile(
    r"\s*<thead>\s*<tr>(?P<cells>(?:\s*<th scope=\"col\">(?:(?!</tr>).)*?</th>)+)\s*</tr>\s*</thead>", re.DOTALL
)
_NAME = re.compile(r"<th scope=\"col\">(.*?)</th>", re.DOTALL)
_ROW = re.compile(r"<tr\b.*?</tr>", re.DOTALL)
_CELL = re.compile(r"<(?P<kind>t[hd])(?P<of>[^>]*)>")
_SPAN = re.compile(r'\bcolspan="([0-9]+)"')
_TAGS = re.compile(r"<[^>]*>")


def stack_tables(page: str) -> str:
    """Give the cells of each wide table the name of their column; what is folded away keeps its columns.

    A table whose columns are not named one by one stays as it is, and scrolls; so does one that a script fills.
    """
    return _PART.sub(_stacked, page)


def _stacked(found: re.Match[str]) -> str:
    of, body = found["of"], found["body"]
    filled = body is not None and "<td" in body and "rowspan" not in body
    head = _HEAD.match(body) if filled and "gg-stacked" not in of else None
    if head is None:
        return found[0]
    names = [_words(one) for one in _NAME.findall(head["cells"])]
    if len(names) < NARROW:
        return found[0]
    made = re.sub(r'class="', 'class="gg-stacked ', of, count=1) if "class=" in of else f'{of} class="gg-stacked"'
    rest = body[head.end() :]
    return f"<table{made}>{head[0]}{_ROW.sub(lambda row: _named(row[0], names), rest)}</table>"


def _named(row: str, names: list[str]) -> str:
    """A row whose cells have the names of their columns; one that spans several is of neither alone."""
    column = 0

    def named(cell: re.Match[str]) -> str:
        nonlocal column
        at, span = column, _SPAN.search(cell["of"])
        column += int(span[1]) if span else 1
        if cell["kind"] == "th" or span or "data-head" in cell["of"] or at >= len(names) or not names[at]:
            return cell[0]
        return f'<td{cell["of"]} data-head="{names[at]}">'

    return _CELL.sub(named, row)


def _words(head: str) -> str:
    """A column's name for an attribute."""
    return html.escape(" ".join(html.unescape(_TAGS.sub(" ", head)).split()))
