"""All runs of one machine together: what they leave over for a set of parameters, and how that changes with each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from guidegen.assess.learn.machine import Bench
from guidegen.assess.learn.observed import ObservedRun, Reading
from guidegen.assess.learn.own import SENSOR_OFFSET, SENSOR_SLOPE, WARM, OwnParameter, own_of
from guidegen.assess.learn.through import LedThrough, Rests
from guidegen.heat.fleet import CELLS
from guidegen.heat.layout import Matrix, Vector
from guidegen.heat.predicted import Script
from guidegen.heat.residuals import whitened

STEP = 0.05
"""Steps of the prior over which slopes are taken: large against rounding, small against what bends."""
COARSE = 16
"""Cells of a coil while slopes are taken: a slope needs no sharp front, and takes a ninth of the time."""
WORKERS = 2
"""Runs that are computed at the same time."""


@dataclass(frozen=True)
class Scatter:
    """How a place's residuals scatter: standard deviation, and the time in which their correlation fades, s."""

    deviation: float = 0.0
    fades: float = 0.0


@dataclass(frozen=True)
class Campaign:
    """Runs on a bench, and how the residuals of each place scatter."""

    bench: Bench
    runs: tuple[ObservedRun, ...]
    scatter: Mapping[str, Scatter] = field(default_factory=dict)

    @cached_property
    def own(self) -> tuple[OwnParameter, ...]:
        """Those beside the machine's."""
        return own_of(self.runs)

    @property
    def width(self) -> int:
        """How many parameters there are in all."""
        return len(self.bench.parameters) + len(self.own)

    @property
    def is_named(self) -> list[bool]:
        """Which of them are the machine's."""
        return [True] * len(self.bench.parameters) + [False] * len(self.own)

    def residuals(self, steps: Vector) -> Vector:
        """What model and runs differ by, in standard deviations, run by run."""
        return np.concatenate([one for one, _ in self._each(steps, slopes=False)])

    def slopes(self, steps: Vector) -> Matrix:
        """The derivatives of that, (n, width)."""
        return np.concatenate([one for _, one in self._each(steps, slopes=True)])

    def plain(self, steps: Vector) -> list[dict[str, Vector]]:
        """By run and place, what model and readings differ by, K or W."""
        return [
            {one.place: values - one.value for one, values in zip(run.readings, predicted, strict=True)}
            for run, predicted in zip(self.runs, self.predicted(steps), strict=True)
        ]

    def predicted(self, steps: Vector) -> list[list[Vector]]:
        """By run, what the model lets each reading be."""
        rests = Rests()
        return [self._led(run, steps[np.newaxis], rests).readings(0, steps) for run in self.runs]

    def rows(self) -> list[slice]:
        """Where each run's residuals stand among all."""
        ends = np.cumsum([sum(len(one.time) for one in run.readings) for run in self.runs])
        return [slice(int(end) - sum(len(one.time) for one in run.readings), int(end))
                for end, run in zip(ends, self.runs, strict=True)]  # fmt: skip

    def only(self, runs: Sequence[ObservedRun]) -> Campaign:
        """The same with some of the runs; what belongs to others keeps its place among the parameters."""
        made = replace(self, runs=tuple(runs))
        made.__dict__["own"] = self.own
        return made

    def with_scatter(self, scatter: Mapping[str, Scatter]) -> Campaign:
        """The same with other weights."""
        made = replace(self, scatter=scatter)
        made.__dict__["own"] = self.own
        return made

    def weighed(self, reading: Reading, values: Vector) -> Vector:
        """Differences of one reading in standard deviations, also several columns of them."""
        by = self.scatter.get(reading.place, Scatter())
        return whitened(values, reading.time, by.deviation, by.fades, reading.noise)

    def _moves_room(self, run: ObservedRun) -> dict[int, float]:
        """The room that a run's sensor read, K, by one step more of what its probe is off: by place among all."""
        if not run.by_sensor or "room" not in run.told:
            return {}
        by = {SENSOR_OFFSET: 1.0, SENSOR_SLOPE: run.told["room"] - WARM}
        return {number: -one.spread * by[one.name]
                for number, one in enumerate(self.own, len(self.bench.parameters)) if one.name in by}  # fmt: skip

    def told(self, run: ObservedRun, steps: Matrix) -> dict[str, float | Vector]:
        """What a run has measured by itself; a room that its sensor's probe read, without what that is off, by row."""
        moves = {at: by for at, by in self._moves_room(run).items() if at < steps.shape[1]}
        if not moves:
            return dict(run.told)
        return {**run.told, "room": run.told["room"] + sum(by * steps[:, at] for at, by in moves.items())}

    def _led(self, run: ObservedRun, steps: Matrix, rests: Rests, cells: int = CELLS) -> LedThrough:
        network = self.bench.network(run.kits, steps[:, : len(self.bench.parameters)], self.told(run, steps))
        return LedThrough(network, self.own, run, rests, cells)

    def _each(self, steps: Vector, slopes: bool) -> Iterator[tuple[Vector, Matrix]]:
        rests = Rests()
        with ThreadPoolExecutor(WORKERS) as pool:
            yield from pool.map(lambda run: self._of_run(run, steps, slopes, rests), self.runs)

    def _of_run(self, run: ObservedRun, steps: Vector, slopes: bool, rests: Rests) -> tuple[Vector, Matrix]:
        """Residuals and slopes of one run; without slopes an empty matrix."""
        shared = len(self.bench.parameters)
        moved = np.repeat(steps[np.newaxis], shared + 1 if slopes else 1, axis=0)
        if slopes:
            moved[1:, :shared] += STEP * np.eye(shared)
        rows = {number: len(moved) + more for more, number in enumerate(self._moves_room(run) if slopes else ())}
        moved = np.concatenate((moved, np.repeat(steps[np.newaxis], len(rows), axis=0)))
        for number, row in rows.items():
            moved[row, number] += STEP
        led = self._led(run, moved, rests, COARSE if slopes else CELLS)
        here = led.readings(0, steps)
        left = [self.weighed(one, at - one.value) for one, at in zip(run.readings, here, strict=True)]
        if not slopes:
            return np.concatenate(left), np.zeros((0, 0))
        columns = np.zeros((sum(map(len, here)), self.width))
        whole = np.concatenate(here)
        for number in range(shared):
            columns[:, number] = (np.concatenate(led.readings(number + 1, moved[number + 1])) - whole) / STEP
        for number, owned in enumerate(self.own, shared):
            if run.owns(owned.name):
                other = steps.copy()
                other[number] += STEP
                columns[:, number] = (np.concatenate(led.readings(rows.get(number, 0), other)) - whole) / STEP
        parts, at = [], 0
        for one in run.readings:
            parts.append(self.weighed(one, columns[at : at + len(one.time)]))
            at += len(one.time)
        return np.concatenate(left), np.concatenate(parts)


def resting(reading: Reading | None, script: Script) -> Script:
    """A script with what the sensor read before the first draw."""
    if reading is None or script.start != "idle":
        return script
    until = script.draws[0].begins if script.draws else script.lasts
    before = reading.time < until
    return replace(script, resting=np.column_stack((reading.time[before], reading.value[before])))
