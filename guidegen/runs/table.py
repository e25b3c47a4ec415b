"""The rows of a logged file, block by block: the file may be as long as it likes, what is held at a time may not.

A block that is written as it should be is read by numpy at once; one that is not is halved until the odd line is found,
and that line is read cell by cell, so that its line and column can be named.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from guidegen import reading
from guidegen.runs.clock import many, seconds
from guidegen.runs.codes import RunCode
from guidegen.runs.dialect import DECIMALS, MISSING, SEPARATORS, begin_of, cells_of, is_number, refusal
from guidegen.runs.document import Written

Numbers = NDArray[np.float64]
MOST_BYTES = 2_000_000_000
BLOCK = 1 << 18
"""Bytes that are read at a time."""
FEW = 8
"""Lines that are no longer halved."""
ON, OFF = ("on", "true", "yes"), ("off", "false", "no")
"""What a switched column may say in words."""


@dataclass(frozen=True)
class Shape:
    """What is read of a file: the number of its columns, which is the time and how, and which others are wanted."""

    written: Written
    width: int
    time: int
    clock: str
    zone: str
    wanted: tuple[int, ...]
    switched: frozenset[int] = frozenset()

    @property
    def separator(self) -> bytes:
        """The byte between two cells."""
        return SEPARATORS[self.written.separator].encode()


@dataclass(frozen=True, slots=True)
class Odd:
    """A cell that gives no number: its line, which of the wanted columns it is (None: the whole row), and its words.

    It begins at sign `at` of its line; `missing` where the logger says that there is no value.
    """

    line: int
    column: int | None
    at: int
    words: str
    missing: bool = False


@dataclass
class RowBlock:
    """Some rows: their lines in the file (n,), times in s (n,), values as written (n, wanted), and the odd cells.

    A value that is none is NaN, and so is the time of a row that is left out as a whole.
    """

    lines: NDArray[np.int64]
    time: Numbers
    values: Numbers
    odd: list[Odd] = field(default_factory=list)


def blocks(path: Path, shape: Shape) -> Iterator[RowBlock]:
    """The rows of a file in their order, a block at a time.

    Raises OSError where the file cannot be read, CatalogueError where it is too large.
    """
    with reading.opened(path) as file:
        for _ in range(shape.written.values_from_line - 1):
            file.readline(BLOCK)
        line, rest, total = shape.written.values_from_line, b"", 0
        while True:
            data = file.read(BLOCK)
            total += len(data)
            if total > MOST_BYTES or len(rest) > 4 * BLOCK:
                raise refusal(path.name, line, 1, RunCode.TOO_LARGE, "no log of a machine is that long", "cut it")
            data = rest + data if data else rest + (b"\n" if rest else b"")
            if not data:
                return
            end = data.rfind(b"\n") + 1
            data, rest = data[:end].replace(b"\r", b""), data[end:]
            if data:
                yield _joined(list(_read(data, line, shape)))
                line += data.count(b"\n")


def _joined(parts: list[RowBlock]) -> RowBlock:
    if len(parts) == 1:
        return parts[0]
    return RowBlock(
        np.concatenate([one.lines for one in parts]),
        np.concatenate([one.time for one in parts]),
        np.concatenate([one.values for one in parts]),
        [odd for one in parts for odd in one.odd],
    )


def _read(data: bytes, line: int, shape: Shape) -> Iterator[RowBlock]:
    """The rows of some whole lines; what cannot be read at once is halved."""
    block = _at_once(data, line, shape)
    if block is not None:
        yield block
        return
    lines = data.split(b"\n")[:-1]
    if len(lines) <= FEW:
        yield _one_by_one(lines, line, shape)
        return
    half = len(lines) // 2
    yield from _read(b"\n".join(lines[:half]) + b"\n", line, shape)
    yield from _read(b"\n".join(lines[half:]) + b"\n", line + half, shape)


def _at_once(data: bytes, line: int, shape: Shape) -> RowBlock | None:
    """The rows by numpy, or None where a line is not as all others are."""
    letters = np.frombuffer(data, dtype=np.uint8)
    ends = np.flatnonzero(letters == ord("\n"))
    bounds = np.flatnonzero((letters == ord("\n")) | (letters == shape.separator[0]))
    regular = len(bounds) == len(ends) * shape.width and (bounds[shape.width - 1 :: shape.width] == ends).all()
    if not regular or b'"' in data:
        return None
    by_number = shape.clock in ("s", "ms")
    columns = (*((shape.time,) if by_number else ()), *shape.wanted)
    values = _numbers(data, letters, bounds, shape, columns) if columns else np.empty((len(ends), 0))
    if values is None:
        return None
    if by_number:
        time: Numbers | None = values[:, 0] * (1e-3 if shape.clock == "ms" else 1.0)
        values = values[:, 1:]
    else:
        grid = bounds.reshape(-1, shape.width)
        begins = grid[:, shape.time - 1] + 1 if shape.time else np.concatenate([[0], ends[:-1] + 1])
        time = _times(letters, begins, grid[:, shape.time], shape)
    return None if time is None else RowBlock(np.arange(line, line + len(ends)), time, values)


def _numbers(
    data: bytes, letters: NDArray[np.uint8], bounds: NDArray[np.int64], shape: Shape, columns: tuple[int, ...]
) -> Numbers | None:
    other = DECIMALS["point" if shape.written.decimal == "comma" else "comma"].encode()
    # The other decimal sign in a column that is read may stand for thousands; numpy would take a point for a point.
    if other != shape.separator and other in data:
        which = np.searchsorted(bounds, np.flatnonzero(letters == other[0])) % shape.width
        if np.isin(which, columns).any():
            return None
    if shape.written.decimal == "comma":
        data = data.replace(b",", b".")
    separator = shape.separator.decode()
    try:
        values = np.loadtxt(
            io.StringIO(data.decode("latin-1")), delimiter=separator, usecols=columns, ndmin=2, comments=None
        )
    except (ValueError, IndexError):
        return None
    return values if np.isfinite(values).all() and len(values) == len(bounds) // shape.width else None


def _times(
    letters: NDArray[np.uint8], begins: NDArray[np.int64], ends: NDArray[np.int64], shape: Shape
) -> Numbers | None:
    """The column of time, where it is no number: rows of the same length together."""
    lengths = ends - begins
    result = np.empty(len(begins))
    for length in np.unique(lengths):
        rows = np.flatnonzero(lengths == length)
        found = many(letters[begins[rows, None] + np.arange(length)], shape.clock, shape.zone) if length else None
        if found is None:
            return None
        result[rows] = found
    return result


def _one_by_one(lines: list[bytes], first: int, shape: Shape) -> RowBlock:
    """A few lines cell by cell, each mistake at its place; empty lines are no rows."""
    block = RowBlock(np.empty(0, dtype=np.int64), np.empty(0), np.empty((0, len(shape.wanted))))
    numbers, times, values = [], [], []
    for number, raw in enumerate(lines, first):
        if not raw.strip():
            continue
        line = raw.decode("utf-8" if shape.written.encoding == "utf-8" else "cp1252", "replace")
        cells = cells_of(line, shape.written.separator)
        numbers.append(number)
        if len(cells) != shape.width:
            block.odd.append(Odd(number, None, 1, f"{len(cells)} cells, all other rows have {shape.width}"))
            times.append(np.nan)
            values.append([np.nan] * len(shape.wanted))
            continue
        times.append(_time_of(cells, number, shape, block.odd))
        values.append([_value(cells, at, number, shape, block.odd) for at in range(len(shape.wanted))])
    block.lines = np.array(numbers, dtype=np.int64)
    block.time = np.array(times)
    block.values = np.array(values).reshape(-1, len(shape.wanted))
    return block


def _time_of(cells: list[str], line: int, shape: Shape, odd: list[Odd]) -> float:
    text = cells[shape.time].strip()
    try:
        if shape.clock not in ("s", "ms"):
            return seconds(text, shape.clock, shape.zone)
        if is_number(text, shape.written.decimal):
            return float(text.replace(",", ".")) * (1e-3 if shape.clock == "ms" else 1.0)
    except ValueError:
        pass
    odd.append(Odd(line, None, begin_of(cells, shape.time), f'"{text[:40]}" is no time as the others are'))
    return np.nan


def _value(cells: list[str], number: int, line: int, shape: Shape, odd: list[Odd]) -> float:
    at = shape.wanted[number]
    text = cells[at].strip()
    if is_number(text, shape.written.decimal) and np.isfinite(value := float(text.replace(",", "."))):
        return value
    if at in shape.switched and text.lower() in (*ON, *OFF):
        return float(text.lower() in ON)
    words = f'"{text[:40]}" is no number with a decimal {shape.written.decimal}'
    missing = text.lower() in MISSING
    if missing:
        words = f'"{text}" instead of a value' if text else "no value"
    odd.append(Odd(line, number, begin_of(cells, at), words, missing))
    return np.nan
