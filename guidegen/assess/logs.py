"""Logged runs of one configuration, read: the dips, recoveries and curves of their shots, and what each leaves open."""

from __future__ import annotations

import hashlib
import math
from collections.abc import Iterator, Mapping
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from guidegen.heat.evaluation import RECTANGLE
from guidegen.heat.learning import NORMAL_95
from guidegen.heat.logged import PROBED, dip, recovery, slope_error
from guidegen.heat.sensors import class_tolerance
from guidegen.heat.temperature import ZERO_CELSIUS
from guidegen.heat.warming import NEAR_SETPOINT
from guidegen.record.base import Record, rounded
from guidegen.runs.document import LoggedRun, Probe
from guidegen.runs.looking import RESTED
from guidegen.runs.readings import Readings, readings

MODULE = __name__
SEEN = "sensor"
"""The place whose figures are compared: the one that the computed drop is of."""
GRID = tuple(float(second) for second in range(0, 121, 2))
"""s from the start of a shot, at which its curve is kept."""
CLIMB = 10.0
"""s around the moment at which the boiler is ready, in which the sensor's climb is a straight line."""


class ReadShot(Record):
    """One shot: its number in its run, 0 from rest; when it began and how long after the one before it; K, s and °C.

    `recovery_s` is null where the log ends before, or the idle range is not known. The standard uncertainties of probe,
    lag and reading stand beside the figures that they bear on; null where nobody knows the probe or its lag. The curve
    is null where the log has no rows.
    """

    number: int
    begins_s: float
    wait_s: float | None
    start_degc: float
    drop_k: float
    drop_by_probe_k: float | None
    drop_by_lag_k: float | None
    drop_by_reading_k: float
    recovery_s: float | None
    recovery_by_lag_s: float | None
    recovery_by_reading_s: float
    curve_degc: tuple[float | None, ...]


class ReadReady(Record):
    """From cold when the sensor was first within 2 K of its setpoint, s from the first row, its lag taken off.

    The standard uncertainties of probe and setpoint, lag and reading stand beside it; null where nobody knows them.
    """

    after_s: float
    by_probe_s: float | None
    by_lag_s: float | None
    by_reading_s: float


class ReadRun(Record):
    """One run: its shots, and what it says of the boiler from cold."""

    rows: int
    left_out: int
    shots: tuple[ReadShot, ...]
    ready: ReadReady | None

    def shot(self, number: int) -> ReadShot | None:
        """The shot of a number; None where there is none, or too few rows are left of it."""
        return next((one for one in self.shots if one.number == number), None)


class ReadRuns(Record):
    """The runs of one configuration by the path of their description; `lag_s` of their probe is null where unknown."""

    runs: Mapping[str, ReadRun]
    lag_s: float | None


def digest_of(runs: Mapping[str, LoggedRun]) -> str:
    """What the reading of some runs is kept by: every word of their descriptions, the sums of their files in them."""
    whole = hashlib.sha256()
    for path, run in sorted(runs.items()):
        whole.update(path.encode() + b"\0" + run.digest)
    return whole.hexdigest()


def read_runs(runs: Mapping[str, LoggedRun], root: Path) -> ReadRuns:
    """Read the files of one configuration. Raises CatalogueError where one is too wrong to be of use."""
    found = {path: readings(run, (root / path).parent / run.file) for path, run in runs.items()}
    low, high = _idle(runs, found)
    probe = next((one for run in runs.values() if (one := _probe(run))), None)
    lag = _lag(probe)
    return ReadRuns(
        runs={path: _read(run, found[path], low, high) for path, run in runs.items()},
        lag_s=None if lag is None else rounded(lag[0]),
    )


def _probe(run: LoggedRun) -> Probe | None:
    return next((one.probe for one in run.columns if one.place == SEEN), None)


def _lag(probe: Probe | None) -> tuple[float, float] | None:
    """The lag of a probe and its standard uncertainty, s; None where nobody knows it."""
    if probe is None or probe.lag is None or not probe.lag.known:
        return None
    return probe.lag.value, probe.lag.plus_minus / RECTANGLE


def _off(probe: Probe | None, temperature: float) -> float | None:
    """How far a probe may be off at a temperature, K: a standard uncertainty; None where nobody knows."""
    if probe is None or temperature < PROBED.low:
        return None
    if probe.uncertainty is not None and probe.uncertainty.known:
        return probe.uncertainty.value / NORMAL_95
    if probe.grade is None:
        return None
    return float(class_tolerance(probe.kind, probe.grade, temperature)) / RECTANGLE


def _by_probe(probe: Probe | None, temperature: float, difference: float) -> float | None:
    """How far a difference of two readings below a temperature may be off, K: a standard uncertainty."""
    off = _off(probe, temperature)
    return None if off is None else rounded(float(slope_error(off, temperature, difference)))


def _idle(runs: Mapping[str, LoggedRun], found: Mapping[str, Readings]) -> tuple[float, float]:
    """The idle range of the configuration, K: of all that was logged at rest before first shots; nan where nothing."""
    rests = []
    for path, run in runs.items():
        time, seen = found[path].known(SEEN)
        if run.kind == "shot" and run.shots and run.shots[0].begins.value >= RESTED:
            rests.append(seen[time < run.shots[0].begins.value])
    every = np.concatenate(rests) if rests else np.empty(0)
    # The ends of what is noisy lie in it, not at its outermost row.
    ends = np.quantile(every, (0.02, 0.98)) if len(every) else (math.nan, math.nan)
    return float(ends[0]), float(ends[1])


def _read(run: LoggedRun, found: Readings, low: float, high: float) -> ReadRun:
    shots = tuple(_shots(run, found, low, high)) if len(found.known(SEEN)[0]) else ()
    return ReadRun(rows=found.rows, left_out=found.left_out, shots=shots, ready=_ready(run, found))


def _shots(run: LoggedRun, found: Readings, low: float, high: float) -> Iterator[ReadShot]:
    time, seen = found.known(SEEN)
    probe = _probe(run)
    known = _lag(probe)
    lag, lag_error = known or (0.0, 0.0)
    for at, shot in enumerate(run.shots):
        begins, ends = shot.begins.value, shot.ends.value
        until = run.shots[at + 1].begins.value if at + 1 < len(run.shots) else math.inf
        mine = time < until
        try:
            found_dip = dip(time[mine], seen[mine], begins, ends, lag)
        except ValueError:
            continue  # too few rows are left of it
        resolution = found.resolution[SEEN] / math.sqrt(6.0)  # of two readings, each q / √12
        missed = found_dip.curvature * found_dip.step**2 / 8.0 / RECTANGLE
        back = recovery(time[mine], seen[mine], ends, low, high, lag) if math.isfinite(low) else math.nan
        grid = begins + np.array(GRID)
        yield ReadShot(
            number=at,
            begins_s=rounded(begins),
            wait_s=rounded(begins - run.shots[at - 1].ends.value) if at else None,
            start_degc=rounded(found_dip.start - ZERO_CELSIUS),
            drop_k=rounded(found_dip.drop),
            drop_by_probe_k=_by_probe(probe, found_dip.start, found_dip.drop),
            drop_by_lag_k=rounded(math.hypot(found_dip.correction / RECTANGLE, found_dip.by_lag * lag_error))
            if known
            else None,
            drop_by_reading_k=rounded(math.hypot(resolution, missed)),
            recovery_s=rounded(back) if math.isfinite(back) else None,
            recovery_by_lag_s=_by_delay(known),
            recovery_by_reading_s=rounded(found_dip.step / math.sqrt(12.0)),
            curve_degc=_curve(grid, time[mine], seen[mine]),
        )


def _curve(grid: NDArray[np.float64], time: NDArray[np.float64], seen: NDArray[np.float64]) -> tuple[float | None, ...]:
    values = np.interp(grid, time, seen, left=np.nan, right=np.nan) - ZERO_CELSIUS
    return tuple(rounded(float(one)) if np.isfinite(one) else None for one in values)


def _by_delay(lag: tuple[float, float] | None) -> float | None:
    """What a lag leaves open of a time from which it was taken off as a delay, s."""
    return None if lag is None else rounded(math.hypot(lag[0] / 2.0 / RECTANGLE, lag[1]))


def _ready(run: LoggedRun, found: Readings) -> ReadReady | None:
    """From cold when the sensor was first within 2 K of the setpoint; None where the log does not say."""
    if run.kind != "cold-start" or run.setpoint is None or not run.setpoint.known:
        return None
    time, seen = found.known(SEEN)
    there = np.flatnonzero(seen >= run.setpoint.value - NEAR_SETPOINT)
    if not len(there):
        return None
    at, probe = float(time[there[0]]), _probe(run)
    lag, off = _lag(probe), _off(probe, float(seen[there[0]]))
    around = np.abs(time - at) <= CLIMB
    climb = float(np.polyfit(time[around] - at, seen[around], 1)[0]) if around.sum() > 1 else 0.0
    level = None if off is None else math.hypot(off, run.setpoint.plus_minus / RECTANGLE)
    step = float(np.median(np.diff(time[around]))) if around.sum() > 1 else 0.0
    return ReadReady(
        after_s=rounded(max(0.0, at - (lag[0] if lag else 0.0))),
        by_probe_s=None if level is None or climb <= 0.0 else rounded(level / climb),
        by_lag_s=_by_delay(lag),
        by_reading_s=rounded(step / math.sqrt(12.0)),
    )
