"""The values of a described run in SI, for whoever computes with them: what is left out is NaN."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from guidegen.reading import opened
from guidegen.runs.codes import RunCode
from guidegen.runs.dialect import head_of, refusal
from guidegen.runs.document import LoggedRun
from guidegen.runs.looking import MOST_ROWS, by_hand, counted_from, shape_of, watched
from guidegen.runs.marks import Watch
from guidegen.runs.meaning import dimension_of
from guidegen.runs.table import Numbers, blocks
from guidegen.unit_table import UNITS

FIRST = 100_000
"""Bytes at the beginning of a file from which its names and its dialect are read."""
FORMAT = ("encoding", "separator", "decimal")


@dataclass(frozen=True)
class Readings:
    """A run's values: time in s from its first row that has one (n,), and by place or quantity the values in SI (n,).

    resolution: the smallest step between two values of each, which is how finely it was written. rows of the file, and
    how many values of it were left out.
    """

    time: Numbers
    values: Mapping[str, Numbers]
    resolution: Mapping[str, float]
    rows: int
    left_out: int

    def known(self, meaning: str) -> tuple[Numbers, Numbers]:
        """Time and values of a place or quantity where it has one; both empty where nobody logged it."""
        values = self.values.get(meaning, np.empty(0))
        good = np.isfinite(values)
        return self.time[: len(values)][good], values[good]


def first_lines(source: Path) -> bytes:
    """The first whole lines of a file."""
    with opened(source) as file:
        data = file.read(FIRST)
        return data if len(data) < FIRST else data[: data.rfind(b"\n") + 1] or data


def names_of(run: LoggedRun, source: Path) -> tuple[str, ...]:
    """The names of the columns of a run's file."""
    return head_of(first_lines(source), source.name, run.written.model_dump(include=set(FORMAT))).names


def readings(run: LoggedRun, source: Path) -> Readings:
    """Read a run's file, as `looking.look` reads it.

    Raises CatalogueError where it is too wrong or too long to be of use, KeyError where it lacks a column.
    """
    watch = Watch(tuple(map(watched, run.columns)))
    times: list[Numbers] = []
    values: list[Numbers] = []
    left_out, first = 0, np.nan
    try:
        for block in blocks(source, shape_of(run, names_of(run, source))):
            by_hand(run, block)
            first = counted_from(first, block)
            good = watch.look(block)
            left_out += int(good.size - good.sum())
            rows = good.any(axis=1)
            times.append(block.time[rows])
            values.append(np.where(good[rows], block.values[rows], np.nan))
            if watch.rows > MOST_ROWS:
                raise OverflowError
    except OverflowError:
        words = f"more than {MOST_ROWS:,} rows, or too many that are wrong"
        raise refusal(source.name, 1, 1, RunCode.TOO_LARGE, words, "cut it, or look at the logger") from None
    time = np.concatenate(times) if times else np.empty(0)
    every = np.concatenate(values) if values else np.empty((0, len(run.columns)))
    named: dict[str, Numbers] = {}
    resolution: dict[str, float] = {}
    for at, one in enumerate(run.columns):
        factor, offset = UNITS[dimension_of(one.meaning, one.unit)][one.unit]
        named[one.meaning] = every[:, at] * factor + offset
        resolution[one.meaning] = _resolution(every[:, at]) * factor
    return Readings(time - first, named, resolution, watch.rows, left_out)


def _resolution(values: Numbers) -> float:
    """The smallest step between two values as written; 0 where nothing moves."""
    steps = np.diff(np.unique(values[np.isfinite(values)]))
    # Steps that only rounding makes are none.
    steps = steps[steps > 1e-9]
    return float(np.min(steps)) if len(steps) else 0.0
