"""A described run, read through once: which rows are left out, where the shots are, and what else speaks against it."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from guidegen.problems import CatalogueError, Problem
from guidegen.runs.codes import RunCode
from guidegen.runs.dialect import refusal
from guidegen.runs.document import LoggedColumn, LoggedRun
from guidegen.runs.marks import Watch, Watched, problems
from guidegen.runs.meaning import PLACES, QUANTITIES, SWITCHED, dimension_of
from guidegen.runs.shots import PRESSED, Drawn, by_change, by_level, by_mass
from guidegen.runs.table import Numbers, RowBlock, Shape, blocks
from guidegen.unit_table import UNITS

MOST_ROWS = 5_000_000
"""Time and the signals that show the shots are held whole, 16 bytes a row; nothing else is."""
SETTLED, RESTED = 1.0, 60.0
"""K in a minute that are still at rest, and s before a shot that are looked at."""
DRAWING = ("shot", "long-draw", "outlet")
"""Kinds of run in which somebody draws water."""


@dataclass
class Looked:
    """What a run holds: rows, seconds, the shots that were found, and what is wrong with it."""

    rows: int
    seconds: float
    usual: float
    found: tuple[Drawn, ...]
    problems: list[Problem]
    left_out: dict[RunCode, int]


@dataclass
class _Kept:
    """The signal of the shots, and a temperature that should rest before them, s and as written."""

    time: list[Numbers] = field(default_factory=list)
    signal: list[NDArray[np.float32]] = field(default_factory=list)
    resting: list[NDArray[np.float32]] = field(default_factory=list)


def shape_of(run: LoggedRun, names: tuple[str, ...]) -> Shape:
    """What is read of its file. Raises KeyError where a column is not there."""
    place = {name: at for at, name in enumerate(names)}
    return Shape(
        run.written, len(names), place[run.time.column], run.time.written, run.time.zone or "",
        tuple(place[one.column] for one in run.columns),
        frozenset(place[one.column] for one in run.columns if one.quantity in SWITCHED),
    )  # fmt: skip


def watched(column: LoggedColumn) -> Watched:
    """The bounds of a column in its own unit, and the lag of its probe."""
    factor, offset = UNITS[dimension_of(column.meaning, column.unit)][column.unit]
    if column.place:
        zero = UNITS["temperature"]["°C"][1]
        low, high = (degrees + zero for degrees in PLACES[column.place])
    else:
        low, high = QUANTITIES[column.meaning][1]
    if column.unit == "%":
        low, high = -0.05, 1.5
    lag = column.probe.lag if column.probe else None
    return Watched(column.column, column.meaning, (low - offset) / factor, (high - offset) / factor,
                   factor if column.place else 0.0, lag.value if lag is not None and lag.known else 0.0)  # fmt: skip


def look(run: LoggedRun, path: Path, names: tuple[str, ...]) -> Looked:
    """Read a run's file through.

    Raises CatalogueError where the file is too wrong to be of use, OSError where it cannot be read.
    """
    columns = tuple(map(watched, run.columns))
    watch, kept = Watch(columns), _Kept()
    signal, resting = _signal(run), _resting(run)
    first = np.nan
    try:
        for block in blocks(path, shape_of(run, names)):
            by_hand(run, block)
            good = watch.look(block)
            whole = np.flatnonzero(good[:, signal] if signal is not None else np.isfinite(block.time))
            first = counted_from(first, block)
            kept.time.append(block.time[whole] - first)
            if signal is not None:
                kept.signal.append(block.values[whole, signal].astype(np.float32))
            if resting is not None:
                resting_values = np.where(good[whole, resting], block.values[whole, resting], np.nan)
                kept.resting.append(resting_values.astype(np.float32))
            if watch.rows > MOST_ROWS:
                raise OverflowError
    except OverflowError:
        words = f"more than {MOST_ROWS:,} rows, or too many that are wrong"
        raise refusal(path.name, 1, 1, RunCode.TOO_LARGE, words, "cut it, or look at the logger") from None
    watch.end()
    return _looked(run, path.name, watch, kept, signal, resting, first)


def counted_from(first: float, block: RowBlock) -> float:
    """The time from which a log is counted: that of its first row that has one, whatever else the row lacks.

    first: what the blocks before gave; nan where none of their rows had a time.
    """
    known = block.time[np.isfinite(block.time)]
    return float(known[0]) if np.isnan(first) and len(known) else first


def by_hand(run: LoggedRun, block: RowBlock) -> None:
    """Leave out the rows that somebody left out."""
    for one in run.left_out:
        block.time[(block.lines >= one.first) & (block.lines <= one.last)] = np.nan


def _looked(
    run: LoggedRun, name: str, watch: Watch, kept: _Kept, signal: int | None, resting: int | None, first: float
) -> Looked:
    if errors := list(_impossible(run, name, watch)):
        raise CatalogueError(errors)
    time = np.concatenate(kept.time) if kept.time else np.empty(0)
    kept.time.clear()
    values = np.concatenate(kept.signal).astype(float) if kept.signal else np.empty(0)
    kept.signal.clear()
    found = tuple(_shots(run.columns[signal], time, values)) if signal is not None else ()
    counted: dict[RunCode, int] = {}
    for mark in watch.marks:
        counted[mark.code] = counted.get(mark.code, 0) + mark.count
    said = problems(name, watch.marks, watch.columns)
    more = [*_slow(run, name, watch), *_gaps(name, watch, found, first)]
    if resting is not None and found:
        more += _unsettled(run, name, time, np.concatenate(kept.resting).astype(float), found[0], resting)
    return Looked(watch.rows, float(time[-1]) if len(time) else 0.0, watch.usual, found, [*said, *more], counted)


def _signal(run: LoggedRun) -> int | None:
    """The column that shows when water is drawn: the best that there is."""
    by = {one.meaning: at for at, one in enumerate(run.columns)}
    if run.shots_by is not None and run.shots_by != "change":
        return by.get(run.shots_by)
    direct = () if run.shots_by == "change" else ("pump", "pressure", "mass")
    return next(
        (by[name] for name in (*direct, *(("outlet", "sensor") if run.kind in DRAWING else ())) if name in by), None
    )


def _resting(run: LoggedRun) -> int | None:
    by = {one.meaning: at for at, one in enumerate(run.columns)}
    return next((by[name] for name in ("sensor", "boiler-wall", "group") if name in by), None)


def _shots(column: LoggedColumn, time: Numbers, values: Numbers) -> list[Drawn]:
    factor, offset = UNITS[dimension_of(column.meaning, column.unit)][column.unit]
    values = values * factor + offset
    if column.quantity == "mass":
        return by_mass(time, values)
    if column.quantity is not None:
        return by_level(time, values, column.quantity, PRESSED if column.quantity == "pressure" else 0.0)
    return by_change(time, values, column.place != "outlet")


def _impossible(run: LoggedRun, name: str, watch: Watch) -> list[Problem]:
    """Columns most of whose values no machine has."""
    found = []
    for at, count in watch.outside.items():
        if count > 0.5 * watch.rows:
            one = watch.columns[at]
            bounds = f"{one.low:g} to {one.high:g} {run.columns[at].unit}"
            words = f"{one.name}: {count} of {watch.rows} values are beyond {bounds}"
            fix = f"--column '{one.name}={one.meaning} UNIT' with its unit, or another place"
            found.append(Problem(name, run.written.values_from_line, 1, RunCode.CANNOT_BE.value, words, fix))
    return found


def _slow(run: LoggedRun, name: str, watch: Watch) -> list[Problem]:
    return [
        Problem(name, run.written.values_from_line, 1, RunCode.SLOW.value,
                f"{one.name}: a row each {watch.usual:.3g} s, but a lag of {one.lag:.3g} s", "log faster", "warning")
        for one in watch.columns if one.lag and watch.usual > one.lag / 2
    ]  # fmt: skip


def _gaps(name: str, watch: Watch, found: tuple[Drawn, ...], first: float) -> list[Problem]:
    return [
        Problem(name, line, 1, RunCode.GAP.value, f"{end - begin:.3g} s without a row in shot {number}", "", "warning")
        for line, begin, end in watch.gaps
        for number, shot in enumerate(found, 1)
        if begin - first < shot.ends and end - first > shot.begins
    ]


def _unsettled(run: LoggedRun, name: str, time: Numbers, values: Numbers, shot: Drawn, at: int) -> list[Problem]:
    column = run.columns[at]
    kelvin = UNITS["temperature"][column.unit][0]
    before = (time < shot.begins) & (time >= shot.begins - RESTED) & np.isfinite(values)
    span = float(np.ptp(time[before])) if before.any() else 0.0
    if span < 0.5 * RESTED:
        words = f"{column.column}: only {span:.0f} s before shot 1; nobody can say whether it was at rest"
    else:
        slope = float(np.polyfit(time[before], values[before], 1)[0]) * kelvin * 60.0
        if abs(slope) < SETTLED:
            return []
        words = f"{column.column}: {slope:+.1f} K in a minute before shot 1 at {shot.begins:.1f} s"
    return [Problem(name, run.written.values_from_line, 1, RunCode.NOT_SETTLED.value, words, "", "warning")]
