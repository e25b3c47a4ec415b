"""Stretches of rows in which a column keeps its value to the last digit, over the borders of blocks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from guidegen.runs.table import Numbers, RowBlock

SHORTEST = 5
"""Rows; shorter ones say nothing."""


@dataclass(slots=True)
class SameValue:
    """One value over some rows.

    `others` is the largest change of another temperature meanwhile, as written; `step_in` and `step_out` lead into it
    and out of it, NaN at the ends of the file; `smallest` is the column's smallest step until then.
    """

    column: int
    value: float
    first: int
    last: int
    began: float
    ended: float
    rows: int
    step_in: float
    others: float = 0.0
    step_out: float = np.nan
    smallest: float = np.inf
    is_extreme: bool = False


class Stretches:
    """Finds the stretches of each temperature; of earlier blocks it keeps those that are still open."""

    def __init__(self, count: int, probes: list[bool]) -> None:
        """Begin before the first row. `probes` says which columns are temperatures."""
        self._probes = np.array(probes, dtype=bool)
        self._open: list[SameValue | None] = [None] * count
        self._smallest = np.full(count, np.inf)
        self._low, self._high = np.full(count, np.inf), np.full(count, -np.inf)
        self._least: list[Numbers] = [np.full(count, np.inf) for _ in range(count)]
        self._most: list[Numbers] = [np.full(count, -np.inf) for _ in range(count)]

    def feed(self, block: RowBlock, good: NDArray[np.bool_]) -> Iterator[SameValue]:
        """The stretches that end in a block."""
        values = np.where(good, block.values, np.nan)
        for column in np.flatnonzero(self._probes):
            rows = np.flatnonzero(good[:, column])
            if len(rows):
                yield from self._column(block, values, rows, int(column))

    def end(self) -> Iterator[SameValue]:
        """Those that the end of the file ends."""
        for column, one in enumerate(self._open):
            if one is not None and one.rows >= SHORTEST:
                yield self._closed(one, column)

    def _column(self, block: RowBlock, values: Numbers, rows: NDArray[np.int64], column: int) -> Iterator[SameValue]:
        own = values[rows, column]
        steps = np.diff(own)
        cuts = np.flatnonzero(steps) + 1
        if len(cuts):
            self._smallest[column] = min(self._smallest[column], float(np.abs(steps[cuts - 1]).min()))
        self._low[column] = min(self._low[column], float(own.min()))
        self._high[column] = max(self._high[column], float(own.max()))
        begins, ends = np.concatenate([[0], cuts]), np.concatenate([cuts, [len(own)]])
        whole = np.flatnonzero(ends - begins >= SHORTEST)
        for which in sorted({0, *whole.tolist(), len(begins) - 1}):
            begin, end = int(begins[which]), int(ends[which])
            step_in = float(own[begin] - own[begin - 1]) if begin else np.nan
            one = self._open[column] if not begin else None
            if one is not None and one.value != own[0]:
                one.step_out = float(own[0] - one.value)
                step_in = one.step_out
                if one.rows >= SHORTEST:
                    yield self._closed(one, column)
                one = None
            if one is None:
                one = SameValue(column, float(own[begin]), int(block.lines[rows[begin]]), 0,
                              float(block.time[rows[begin]]), 0.0, 0, step_in)  # fmt: skip
                self._least[column][:], self._most[column][:] = np.inf, -np.inf
            one.rows += end - begin
            one.last, one.ended = int(block.lines[rows[end - 1]]), float(block.time[rows[end - 1]])
            self._others(values[rows[begin] : rows[end - 1] + 1], column)
            self._open[column] = one
            if end < len(own):
                one.step_out = float(own[end] - own[end - 1])
                self._open[column] = None
                if one.rows >= SHORTEST:
                    yield self._closed(one, column)

    def _others(self, values: Numbers, column: int) -> None:
        # The newer of two declarations of numpy knows no such reduction.
        lowest = np.fmin.reduce(values, axis=0)  # type: ignore[call-overload, unused-ignore]
        highest = np.fmax.reduce(values, axis=0)  # type: ignore[call-overload, unused-ignore]
        np.minimum(self._least[column], lowest, out=self._least[column], where=self._probes)
        np.maximum(self._most[column], highest, out=self._most[column], where=self._probes)

    def _closed(self, one: SameValue, column: int) -> SameValue:
        moved = self._most[column] - self._least[column]
        moved[~np.isfinite(moved)] = 0.0
        moved[column] = 0.0
        one.others = float(np.max(moved, initial=0.0))
        one.smallest = float(self._smallest[column])
        one.is_extreme = one.value in (self._low[column], self._high[column])
        return one
