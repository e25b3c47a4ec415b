"""Which rows of a logged file are left out, and why. A row is marked, never altered.

Everything is looked at once, in the order of the file, and what is kept of earlier rows is a handful of numbers for
each column.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from guidegen.problems import Problem
from guidegen.runs.codes import RunCode
from guidegen.runs.meaning import PLACES
from guidegen.runs.stretches import SameValue, Stretches
from guidegen.runs.table import Numbers, RowBlock

SENTINELS = np.array([-9999.0, -999.0, -999.9, -9999.9, 999.0, 999.9, 9999.0, 9999.9, 3276.7, -3276.8, 6553.5, 327.67,
                      -327.68, 32767.0, -32768.0, 65535.0, 1372.0, 2047.75])  # fmt: skip
"""Numbers by which loggers say that there is no value, as written; only those that no machine can have are marked."""
WIDEST_STEP = 150.0
"""K: no two things around a machine differ by more, so no probe heads for more than that."""
STUCK_SECONDS, STUCK_ROWS, MOVED = 60.0, 20, 2.0
"""A value is stuck that stays for so long and so many rows while another probe moves by so many kelvin."""
FLAT_ROWS, STEEP = 5, 5.0
"""A flat top has at least so many rows, and is entered and left by steps of so many of the column's smallest steps."""
GAP, MOST_MARKS = 5.0, 20_000
"""A gap is so many usual steps of the clock; and so many marks are kept, of more the file is refused."""


@dataclass
class RowMark:
    """Lines of the file whose value of one column, or with `column` None whose whole rows, are left out."""

    code: RunCode
    column: int | None
    first: int
    last: int
    words: str
    at: int = 1
    count: int = 1


@dataclass(frozen=True)
class Watched:
    """A column to look at: what it is called and is, its bounds as written, K a unit, and the probe's lag in s."""

    name: str
    meaning: str
    low: float
    high: float
    kelvin: float
    lag: float = 0.0

    @property
    def is_probe(self) -> bool:
        """Whether it is a temperature."""
        return self.meaning in PLACES


@dataclass
class Watch:
    """Looks at the blocks of a file, one after the other. `usual` is the median step of the clock in the first, s."""

    columns: tuple[Watched, ...]
    marks: list[RowMark] = field(default_factory=list)
    gaps: list[tuple[int, float, float]] = field(default_factory=list)
    usual: float = 0.0
    rows: int = 0
    outside: dict[int, int] = field(default_factory=dict)
    first_lines: dict[int, int] = field(default_factory=dict)
    latest: float = -np.inf
    _last: tuple[float, Numbers] | None = None
    _stretches: Stretches | None = None

    def look(self, block: RowBlock) -> NDArray[np.bool_]:
        """RowMark what is wrong in a block; return which cells are right, (n, columns).

        Raises OverflowError where more is wrong than a log can have.
        """
        for odd in block.odd:
            self._add(
                RunCode.MISSING if odd.missing else RunCode.NO_NUMBER, odd.column, odd.line, odd.line, odd.words, odd.at
            )
        in_order = self._clock(block)
        good = in_order[:, None] & np.isfinite(block.values)
        self.rows += len(block.time)
        for at, column in enumerate(self.columns):
            self._bounds(block, at, column, good)
        self._steps(block, good)
        if self._stretches is None:
            self._stretches = Stretches(len(self.columns), [one.is_probe for one in self.columns])
        for stretch in self._stretches.feed(block, good):
            self._stretch(stretch)
        return good

    def end(self) -> None:
        """Close what is still open at the end of the file."""
        for stretch in self._stretches.end() if self._stretches else ():
            self._stretch(stretch)

    def _clock(self, block: RowBlock) -> NDArray[np.bool_]:
        time = np.where(np.isfinite(block.time), block.time, -np.inf)
        before = np.maximum.accumulate(np.concatenate([[self.latest], time]))[:-1]
        known = np.isfinite(block.time)
        back, twice = known & (time < before), known & (time == before)
        for line in block.lines[back]:
            self._add(RunCode.CLOCK_BACK, None, int(line), int(line), "the clock goes back")
        for line in block.lines[twice]:
            self._add(RunCode.CLOCK_TWICE, None, int(line), int(line), "the same time as the row before")
        right = known & (time > before)
        steps = (time - before)[right]
        if not self.usual and (steps[np.isfinite(steps)] > 0).any():
            self.usual = float(np.median(steps[np.isfinite(steps)]))
        long = np.flatnonzero(right)[(steps > GAP * self.usual) & np.isfinite(steps)] if self.usual else ()
        self.gaps += [(int(block.lines[row]), float(before[row]), float(time[row])) for row in long]
        self.latest = max(self.latest, float(time.max(initial=-np.inf)))
        if len(self.gaps) > MOST_MARKS:
            raise OverflowError
        return right

    def _bounds(self, block: RowBlock, at: int, column: Watched, good: NDArray[np.bool_]) -> None:
        values = block.values[:, at]
        wrong = good[:, at] & ((values < column.low) | (values > column.high))
        if not wrong.any():
            return
        self.outside[at] = self.outside.get(at, 0) + int(wrong.sum())
        sentinel = wrong & np.isin(values, SENTINELS)
        for row in np.flatnonzero(wrong):
            code = RunCode.MISSING if sentinel[row] else RunCode.OUTSIDE
            words = f"{values[row]:g}, by which loggers say that there is no value" if sentinel[row] else (
                f"{values[row]:g} is beyond {column.low:g} to {column.high:g}")  # fmt: skip
            self._add(code, at, int(block.lines[row]), int(block.lines[row]), words)
        good[:, at] &= ~wrong

    def _steps(self, block: RowBlock, good: NDArray[np.bool_]) -> None:
        """Steps of probes that are faster than their lags allow; the row that jumps is left out, and those beyond."""
        if not len(block.time):
            return
        known = self._last
        for at, column in enumerate(self.columns):
            if not column.lag:
                continue
            rows = np.flatnonzero(good[:, at])
            time, values = block.time[rows], block.values[rows, at]
            if known is not None and np.isfinite(known[1][at]):
                time, values = np.concatenate([[known[0]], time]), np.concatenate([[known[1][at]], values])
                rows = np.concatenate([[-1], rows])
            most = -np.expm1(-np.diff(time) / column.lag) * WIDEST_STEP / column.kelvin
            for jump in (np.flatnonzero(np.abs(np.diff(values)) > most) + 1).tolist():
                words = f"{values[jump - 1]:g} to {values[jump]:g} in {time[jump] - time[jump - 1]:.3g} s"
                line = int(block.lines[rows[jump]])
                self._add(RunCode.TOO_FAST, at, line, line, words)
                good[rows[jump], at] = False
        whole = np.where(good[-1], block.values[-1], np.nan)
        self._last = (float(block.time[-1]), whole)

    def _stretch(self, one: SameValue) -> None:
        column = self.columns[one.column]
        span = one.ended - one.began
        moved = one.others * column.kelvin
        if column.is_probe and span >= STUCK_SECONDS and one.rows >= STUCK_ROWS and moved > MOVED:
            words = f"{one.value:g} for {span:.0f} s while another probe moves by {moved:.1f} K"
            self._add(RunCode.STUCK, one.column, one.first, one.last, words, count=one.rows)
        elif one.rows >= FLAT_ROWS and one.step_in * one.step_out < 0 and one.is_extreme and (
            min(abs(one.step_in), abs(one.step_out)) >= STEEP * one.smallest
        ):  # fmt: skip
            self._add(RunCode.SATURATED, one.column, one.first, one.last, f"flat at {one.value:g}", count=one.rows)

    def _add(
        self, code: RunCode, column: int | None, first: int, last: int, words: str, at: int = 1, count: int = 1
    ) -> None:
        before = self.marks[-1] if self.marks else None
        if before is not None and before.code is code and before.column == column and first - before.last <= 1:
            before.last, before.count = last, before.count + count
            return
        self.marks.append(RowMark(code, column, first, last, words, at, count))
        if len(self.marks) > MOST_MARKS:
            raise OverflowError


def problems(path: str, marks: list[RowMark], columns: tuple[Watched, ...]) -> list[Problem]:
    """What was marked, as the terminal shows it: the line, the sign at which the cell begins, and the column's name."""
    found = []
    for one in marks:
        name = "" if one.column is None else f"{columns[one.column].name}: "
        rows = "" if one.count == 1 else f"; {one.count} rows, to line {one.last}"
        found.append(Problem(path, one.first, one.at, one.code.value, f"{name}{one.words}{rows}", "", "warning"))
    return found
