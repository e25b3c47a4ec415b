"""How a file is written: letters, separator, decimal sign, the line of names. Inferred where one reading is left."""

from __future__ import annotations

import contextlib
import csv
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from guidegen.problems import CatalogueError, Problem
from guidegen.runs.codes import RunCode
from guidegen.runs.document import Written
from guidegen.runs.meaning import named, unit_named

SEPARATORS = {"comma": ",", "semicolon": ";", "tab": "\t"}
DECIMALS = {"point": ".", "comma": ","}
MISSING = {"", "nan", "na", "n/a", "#n/a", "null", "none", "-", "--", "---", "----", "ol", "err", "error", "open",
           "inf", "-inf", "over", "overload"}  # fmt: skip
"""What loggers write where they have no value; none of these words is a number of anything."""
LOOKED_AT, MOST_COLUMNS = 400, 200
"""Lines at the beginning from which a dialect is inferred, and columns at most."""
_NUMBER = {
    "point": re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"),
    "comma": re.compile(r"[+-]?(?:[0-9]+,?[0-9]*|,[0-9]+)(?:[eE][+-]?[0-9]+)?"),
}
CLOCK = re.compile(r"[0-9]{1,3}:[0-9]{2}:[0-9]{2}(?:[.,][0-9]+)?")
STAMP = re.compile(r"(?P<day>[0-9]{4}-[0-9]{2}-[0-9]{2})[T ](?P<clock>[0-9]{2}:[0-9]{2}:[0-9]{2}(?:[.,][0-9]+)?)"
                   r"(?P<zone>Z|[+-][0-9]{2}:?[0-9]{2})?")  # fmt: skip
_GROUPS = re.compile(r"[+-]?[1-9][0-9]{0,2}(?:[.,][0-9]{3})+")
_MIXED = re.compile(r"[+-]?[0-9]*\.[0-9]*,[0-9]*|[+-]?[0-9]*,[0-9]*\.[0-9]*|[+-]?[0-9]+(?:\.[0-9]+){2,}")


@dataclass(frozen=True)
class Head:
    """How a file is written, the names of its columns, what a line of units says of each, and its first rows."""

    written: Written
    names: tuple[str, ...]
    units: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def refusal(path: str, line: int, column: int, code: RunCode, words: str, fix: str = "") -> CatalogueError:
    """The error that refuses a file."""
    return CatalogueError([Problem(path, line, column, code.value, words, fix)])


def is_number(cell: str, decimal: str) -> bool:
    """Whether a cell is a number with that decimal sign.

    >>> is_number("93,5", "comma"), is_number("93,5", "point")
    (True, False)
    """
    return _NUMBER[decimal].fullmatch(cell.strip()) is not None


def cells_of(line: str, separator: str) -> list[str]:
    """The cells of one line; quotes around a cell hold its separators together.

    >>> cells_of('"a;b";c', "semicolon"), cells_of('\\r";c', "semicolon")
    (['a;b', 'c'], ['\\r"', 'c'])
    """
    sign = SEPARATORS[separator]
    if '"' in line:
        # A line with the sign of an old line end in it is none that quotes hold together.
        with contextlib.suppress(csv.Error):
            return next(csv.reader([line], delimiter=sign), [])
    return line.split(sign)


def begin_of(cells: Sequence[str], at: int) -> int:
    """The sign of its line, from 1, at which a cell begins that is written without quotes."""
    return sum(len(cell) + 1 for cell in cells[:at]) + 1


def decoded(head: bytes, path: str, given: Mapping[str, str]) -> tuple[str, str]:
    """The text of the first bytes, and by which letters it was read."""
    if head[:2] in (b"\xff\xfe", b"\xfe\xff") or b"\0" in head:
        raise refusal(path, 1, 1, RunCode.ENCODING, "no UTF-8, but two bytes for each letter", "save it as UTF-8")
    asked = given.get("encoding", "")
    for name in (asked,) if asked else ("utf-8", "cp1252"):
        try:
            return head.decode("utf-8-sig" if name == "utf-8" else name), name
        except UnicodeDecodeError as error:
            before = head[: error.start]
            line, column = before.count(b"\n") + 1, error.start - before.rfind(b"\n")
    raise refusal(path, line, column, RunCode.ENCODING, f"byte {head[error_at(head)]:#04x} is neither UTF-8 nor CP1252",
                  "save it as UTF-8")  # fmt: skip


def error_at(head: bytes) -> int:
    """Where the first byte stands that CP1252 has no letter for."""
    return next((at for at, one in enumerate(head) if one in (0x81, 0x8D, 0x8F, 0x90, 0x9D)), 0)


def head_of(head: bytes, path: str, given: Mapping[str, str]) -> Head:
    """How a file is written, from its first bytes, which end with a whole line, and from what was answered.

    Raises CatalogueError where no reading or more than one is left, with the option that answers it.
    """
    text, encoding = decoded(head, path, given)
    lines = text.replace("\r\n", "\n").split("\n")[:LOOKED_AT]
    while lines and not lines[-1].strip():
        lines.pop()
    asked = given.get("separator")
    found = {
        name: start for name in SEPARATORS if asked in (None, name) and (start := _first_row(lines, name)) is not None
    }
    if not found:
        words = "found no rows of numbers that comma, semicolon or tab separate"
        fix = f"there are none by {asked} either; look at the file" if asked else "name it: --format separator=comma"
        raise refusal(path, len(lines) or 1, 1, RunCode.NO_TABLE, words, fix)
    if len(found) > 1:
        fix = " or ".join(f"--format separator={name}" for name in found)
        words = "the columns can be separated in two ways"
        raise refusal(path, min(found.values()) + 1, 1, RunCode.AMBIGUOUS, words, fix)
    separator, first = next(iter(found.items()))
    rows = [cells_of(line, separator) for line in lines[first:] if line.strip()]
    width = _width(rows)
    if width > MOST_COLUMNS:
        raise refusal(path, first + 1, 1, RunCode.TOO_LARGE, f"{width} columns", "keep those of the machine")
    decimal = given.get("decimal") or _decimal(rows, separator, path, first)
    at, names, units = _names(lines[:first], separator, rows, path)
    written = Written.model_validate({
        "encoding": encoding, "separator": separator, "decimal": decimal,
        "names_in_line": at, "values_from_line": first + 1,
    })  # fmt: skip
    return Head(written, names, units, tuple(tuple(row) for row in rows if len(row) == width))


def _width(rows: Sequence[Sequence[str]]) -> int:
    return Counter(map(len, rows)).most_common(1)[0][0] if rows else 0


def _kind(cell: str) -> str:
    cell = cell.strip()
    if is_number(cell, "point") or is_number(cell, "comma") or _GROUPS.fullmatch(cell) or _MIXED.fullmatch(cell):
        return "number"
    if CLOCK.fullmatch(cell) or STAMP.fullmatch(cell):
        return "time"
    return "" if cell.lower() in MISSING else "text"


def _first_row(lines: Sequence[str], separator: str) -> int | None:
    """Which line begins the rows of values, from 0, or None where this separator makes no table."""
    rows = [cells_of(line, separator) for line in lines]
    width = _width([row for row in rows[-50:] if len(row) > 1])
    whole = [row for row in rows[-50:] if len(row) == width]
    if width < 2:
        return None
    # Of a short file the names count as much as the values: where words and numbers are even, it is the numbers.
    kinds = [Counter(sorted(kind for row in whole if (kind := _kind(row[at])))).most_common(1) for at in range(width)]
    wanted = [most[0][0] if most else "" for most in kinds]
    others = set(SEPARATORS.values()) - {SEPARATORS[separator], ","}
    # A cell that another separator would cut is the sign of the wrong one.
    cut = any(other in cell for row in whole for cell in row for other in others)
    if cut or wanted.count("number") + wanted.count("time") < 2:
        return None
    fits = [len(row) == width and _fits([_kind(cell) for cell in row], wanted) for row in rows]
    for at, fit in enumerate(fits):
        after = fits[at + 1 : at + 5]
        if fit and sum(after) >= 0.7 * len(after):
            return at
    return None


def _fits(kinds: Sequence[str], wanted: Sequence[str]) -> bool:
    """Whether a row is as the others are: each cell of its column's kind, or empty, but not all of them."""
    return any(kinds) and all(kind in ("", want) for kind, want in zip(kinds, wanted, strict=True))


def _decimal(rows: Sequence[Sequence[str]], separator: str, path: str, first: int) -> str:
    """The decimal sign that all numbers have; asked where they could as well be thousands."""
    signs: dict[str, tuple[int, int]] = {}
    sure = set()
    for number, row in enumerate(rows):
        for at, cell in enumerate(one.strip() for one in row):
            if _MIXED.fullmatch(cell):
                words = f'"{cell}" has its thousands grouped, or two decimal signs'
                raise refusal(
                    path,
                    first + number + 1,
                    begin_of(rows[number], at),
                    RunCode.MIXED_DECIMALS,
                    words,
                    "export without grouping",
                )
            for name, sign in DECIMALS.items():
                if sign in cell and is_number(cell, name):
                    signs.setdefault(name, (number, at))
                    if not _GROUPS.fullmatch(cell):
                        sure.add(name)
    if len(signs) > 1:
        number, at = max(signs.values())
        words = "some numbers have a decimal point and some a comma"
        raise refusal(
            path,
            first + number + 1,
            begin_of(rows[number], at),
            RunCode.MIXED_DECIMALS,
            words,
            "export with one decimal sign",
        )
    if not signs or (separator == "comma" and "point" in signs):
        return "point"
    (name, (number, at)) = next(iter(signs.items()))
    if name not in sure:
        words = f'"{rows[number][at]}" may be a number with three decimals or one of thousands, as all others here'
        fix = f"--format decimal={name}, or export without grouping"
        raise refusal(path, first + number + 1, begin_of(rows[number], at), RunCode.AMBIGUOUS, words, fix)
    return name


def _names(
    before: Sequence[str], separator: str, rows: Sequence[Sequence[str]], path: str
) -> tuple[int | None, tuple[str, ...], tuple[str, ...]]:
    """The line of names, counted from 1, the names, and what a line of units below it says."""
    width = _width(rows)
    bare = [at for at, line in enumerate(before) if line.strip()]
    units = ("",) * width
    numbered = tuple(f"#{at + 1}" for at in range(width))
    if bare and _is_units(found := cells_of(before[bare[-1]], separator)) and len(found) == width:
        units = tuple(one.strip(" []()") for one in found)
        bare.pop()
    if not bare:
        return None, numbered, units
    cells = [one.strip() for one in cells_of(before[bare[-1]], separator)]
    while len(cells) > width and not cells[-1]:
        cells.pop()
    if len(cells) < width and all(
        not row[at].strip() for row in rows if len(row) == width for at in range(len(cells), width)
    ):
        # A separator at the end of each row makes a column of nothing.
        cells += [""] * (width - len(cells))
    if len(cells) == 1:
        return None, numbered, units
    if len(cells) != width:
        words = f"{len(cells)} names, but {width} values in each row"
        fix = (
            "where commas are decimal signs too, export with semicolons" if separator == "comma" else "name each column"
        )
        raise refusal(path, bare[-1] + 1, 1, RunCode.FIELDS, words, fix)
    doubled = {name for name, count in Counter(cells).items() if count > 1 or not name}
    names = tuple(f"#{at + 1}" if name in doubled else name for at, name in enumerate(cells))
    return bare[-1] + 1, names, units


def _is_units(cells: Sequence[str]) -> bool:
    """Whether a line holds units, and nothing that would be a name of a column."""
    words = [cell.strip(" []()") for cell in cells]
    known = [word for word in words if word in ("hh:mm:ss", "s", "ms", "on/off") or unit_named(word)]
    return bool(known) and len(known) == sum(map(bool, words)) and not any(named(word).meaning for word in words)
