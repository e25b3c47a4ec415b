"""All runs of one machine together: what they leave over for a set of parameters, and how that changes with each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field, replace
from functools import cached_property
from threading import Lock

import numpy as np

from guidegen.assess.learn.machine import Bench
from guidegen.assess.learn.observed import ObservedRun, Reading
from guidegen.heat.fleet import CELLS, Fleet
from guidegen.heat.layout import FEED, MIXING, ROOM, Matrix, Vector
from guidegen.heat.network import LEAST, Network
from guidegen.heat.predicted import Prepared, Script, shown
from guidegen.heat.residuals import whitened
from guidegen.heat.switching import heatings

STEP = 0.05
"""Steps of the prior over which slopes are taken: large against rounding, small against what bends."""
SENSOR_OFFSET = "offset sensor"
SHORTEST_LAG = 0.05
"""s; a probe is never quicker than that."""
HEATING = 1.0
"""s; the standard deviation of when a heating began: a tenth of a kelvin of a log that falls by as much a second."""
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
class OwnParameter:
    """What belongs to a probe or to a draw: its name and the standard deviation of its prior."""

    name: str
    spread: float


@dataclass(frozen=True)
class Campaign:
    """Runs on a bench, and how the residuals of each place scatter."""

    bench: Bench
    runs: tuple[ObservedRun, ...]
    scatter: Mapping[str, Scatter] = field(default_factory=dict)

    @cached_property
    def own(self) -> tuple[OwnParameter, ...]:
        """Beside the machine's: offset and lag of each place's probe, each draw's mass, when each heating began."""
        found: dict[str, OwnParameter] = {}
        for run in self.runs:
            for one in run.readings:
                if one.offset > 0.0:
                    found.setdefault(f"offset {one.place}", OwnParameter(f"offset {one.place}", one.offset))
                if one.lag_spread > 0.0:
                    found.setdefault(f"lag {one.place}", OwnParameter(f"lag {one.place}", one.lag_spread))
            for number in range(heatings(run.script.felt[:, 1]) if run.script.felt is not None else 0):
                found[f"heating {run.name} {number}"] = OwnParameter(f"heating {run.name} {number}", HEATING)
            for number, spread in enumerate(run.mass_spread):
                if spread > 0.0:
                    found[f"mass {run.name} {number}"] = OwnParameter(f"mass {run.name} {number}", spread)
        return tuple(found.values())

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
        return [LedThrough(self, run, steps[np.newaxis], rests).readings(0, steps) for run in self.runs]

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

    def _offset(self, run: ObservedRun) -> int | None:
        """The place among all parameters of the offset of a run's sensor; None where it has none."""
        names = [one.name for one in self.own]
        return len(self.bench.parameters) + names.index(SENSOR_OFFSET) if SENSOR_OFFSET in names else None

    def told(self, run: ObservedRun, steps: Matrix) -> dict[str, float | Vector]:
        """What a run has measured by itself; a room that its sensor's probe read, without what that is off, by row."""
        at = self._offset(run) if run.by_sensor else None
        if at is None or "room" not in run.told or steps.shape[1] <= at:
            return dict(run.told)
        off = self.own[at - len(self.bench.parameters)].spread * steps[:, at]
        return {**run.told, "room": run.told["room"] - off}

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
        moves_room = self._offset(run) if slopes and run.by_sensor else None
        if moves_room is not None:
            moved = np.concatenate((moved, steps[np.newaxis]))
            moved[-1, moves_room] += STEP
        led = LedThrough(self, run, moved, rests, COARSE if slopes else CELLS)
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
                row = len(moved) - 1 if number == moves_room else 0
                columns[:, number] = (np.concatenate(led.readings(row, other)) - whole) / STEP
        parts, at = [], 0
        for one in run.readings:
            parts.append(self.weighed(one, columns[at : at + len(one.time)]))
            at += len(one.time)
        return np.concatenate(left), np.concatenate(parts)


class LedThrough:
    """One run led through by each row of parameters; a boiler between two whole numbers of cells is between both."""

    def __init__(self, campaign: Campaign, run: ObservedRun, steps: Matrix, rests: Rests, cells: int = CELLS) -> None:
        """Prepare the rows; steps: shape (n, width); cells of a coil."""
        self._campaign, self._run = campaign, run
        network = campaign.bench.network(
            run.kits, steps[:, : len(campaign.bench.parameters)], campaign.told(run, steps)
        )
        self._prepared, self._part = both_ways(network, rests, cells)
        off = replace(network, heater_power=np.full(len(network), LEAST))
        self._off = both_ways(off, Rests(), cells)[0] if run.script.start == "off" else None
        self._count = len(network)
        self._kept: dict[tuple[int, tuple[float, ...], float, tuple[float, ...]], list[Matrix]] = {}

    def readings(self, row: int, steps: Vector) -> list[Vector]:
        """What each reading of the run would be, with what belongs to probes and draws as in `steps`."""
        own = dict(zip((one.name for one in self._campaign.own), steps[len(self._campaign.bench.parameters) :],
                       strict=True))  # fmt: skip
        spread = {one.name: one.spread for one in self._campaign.own}
        factors = tuple(
            float(np.exp(spread.get(name, 0.0) * own.get(name, 0.0)))
            for name in (f"mass {self._run.name} {number}" for number in range(len(self._run.script.draws)))
        )
        traces = self._traces(row, factors, *self._switched(spread, own))
        made = []
        for one in self._run.readings:
            lag = max(SHORTEST_LAG, one.lag + spread.get(f"lag {one.place}", 0.0) * own.get(f"lag {one.place}", 0.0))
            add = spread.get(f"offset {one.place}", 0.0) * own.get(f"offset {one.place}", 0.0)
            seen = [
                shown(trace, self._prepared.fleet.p[at], one.place, self._run.script, lag if one.lag > 0 else 0.0,
                      one.time)
                for trace, at in zip(traces, (row, row + self._count), strict=False)
            ]  # fmt: skip
            part = self._part[row]
            made.append(add + (seen[0] if len(seen) == 1 else (1.0 - part) * seen[0] + part * seen[1]))
        return made

    def _switched(self, spread: Mapping[str, float], own: Mapping[str, float]) -> tuple[float, tuple[float, ...]]:
        """How far off a thermostat's log is, K, and by how much its heatings began later than that says, s."""
        if self._run.script.felt is None:
            return 0.0, ()
        numbers = range(heatings(self._run.script.felt[:, 1]))
        late = tuple(HEATING * own.get(f"heating {self._run.name} {number}", 0.0) for number in numbers)
        return spread.get(SENSOR_OFFSET, 0.0) * own.get(SENSOR_OFFSET, 0.0), late

    def _traces(self, row: int, factors: tuple[float, ...], offset: float, late: tuple[float, ...]) -> list[Matrix]:
        """The trace of the fewer cells, and that of one more where it counts."""
        key = (row, factors, offset, late)
        if key not in self._kept:
            rows = (row, row + self._count) if self._part[row] > 0.0 else (row,)
            self._kept[key] = [
                self._prepared.trace(at, self._run.script, factors, self._off, offset, late) for at in rows
            ]
        return self._kept[key]


def both_ways(network: Network, rests: Rests, cells: int) -> tuple[Prepared, Vector]:
    """Rows with the whole number of cells below, behind them rows with one more, and how far each is towards those."""
    below = np.maximum(1.0, np.floor(network.mixing))
    part = np.clip(network.mixing - below, 0.0, 1.0)
    parameters = network.parameters()
    more = parameters.copy()
    parameters[:, MIXING], more[:, MIXING] = below, below + 1.0
    lumped, facts = rests.of(parameters)
    twice = np.concatenate((lumped, lumped)), np.concatenate((facts, facts))
    return Prepared(np.concatenate((parameters, more)), twice, cells), part


class Rests:
    """States at rest by parameters, of which neither the feed nor the cells of the boiler's water are any."""

    def __init__(self) -> None:
        """Begin with none."""
        self._kept: dict[bytes, tuple[Matrix, Matrix]] = {}
        self._lock = Lock()

    def of(self, parameters: Matrix) -> tuple[Matrix, Matrix]:
        """States of means and facts of each row, computed once."""
        alike = parameters.copy()
        alike[:, MIXING], alike[:, FEED] = 1.0, alike[:, ROOM]
        key = alike.tobytes()
        with self._lock:
            if key not in self._kept:
                self._kept[key] = Fleet(alike).at_rest()
            return self._kept[key]


def resting(reading: Reading | None, script: Script) -> Script:
    """A script with what the sensor read before the first draw."""
    if reading is None or script.start != "idle":
        return script
    until = script.draws[0].begins if script.draws else script.lasts
    before = reading.time < until
    return replace(script, resting=np.column_stack((reading.time[before], reading.value[before])))
