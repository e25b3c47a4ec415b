"""One run led through by rows of parameters: what each of its probes would have read."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from threading import Lock

import numpy as np

from guidegen.assess.learn.observed import ObservedRun
from guidegen.assess.learn.own import (
    SENSOR_LAG,
    SENSOR_OFFSET,
    SHORTEST_LAG,
    WARM,
    OwnParameter,
    start_of,
)
from guidegen.heat.fleet import Fleet
from guidegen.heat.layout import FEED, MIXING, ROOM, Matrix, Vector
from guidegen.heat.network import LEAST, Network
from guidegen.heat.predicted import Prepared, Script, shown
from guidegen.heat.switching import heatings


class LedThrough:
    """One run led through by each row of parameters; a boiler between two whole numbers of cells is between both."""

    def __init__(
        self, network: Network, own: Sequence[OwnParameter], run: ObservedRun, rests: Rests, cells: int
    ) -> None:
        """Prepare the rows of a network, with what belongs to probes and draws; cells of a coil."""
        self._own, self._run = own, run
        self._prepared, self._part = both_ways(network, rests, cells)
        off = replace(network, heater_power=np.full(len(network), LEAST))
        self._off = both_ways(off, Rests(), cells)[0] if run.script.start == "off" else None
        self._count = len(network)
        self._kept: dict[tuple[object, ...], list[Matrix]] = {}

    def readings(self, row: int, steps: Vector) -> list[Vector]:
        """What each reading of the run would be, with what belongs to probes and draws as in `steps`."""
        steps_of_own = steps[len(steps) - len(self._own) :]
        own = {one.name: one.spread * float(step) for one, step in zip(self._own, steps_of_own, strict=True)}
        draws = range(len(self._run.script.draws))
        factors = tuple(float(np.exp(own.get(f"mass {self._run.name} {number}", 0.0))) for number in draws)
        clock = own.get(start_of(self._run), 0.0)
        script = self._run.script.since(clock)
        traces = self._traces(row, script, factors, *self._switched(own))
        made = []
        for one in self._run.readings:
            lag = max(SHORTEST_LAG, one.lag + own.get(f"lag {one.place}", 0.0))
            add, slope = (own.get(f"{what} {one.place}", 0.0) for what in ("offset", "slope"))
            seen = [
                shown(trace, self._prepared.fleet.p[at], one.place, script, lag if one.lag > 0 else 0.0,
                      one.time - clock)
                for trace, at in zip(traces, (row, row + self._count), strict=False)
            ]  # fmt: skip
            part = self._part[row]
            there = seen[0] if len(seen) == 1 else (1.0 - part) * seen[0] + part * seen[1]
            made.append(there + add + (slope * (there - WARM) if slope else 0.0))
        return made

    def _switched(self, own: Mapping[str, float]) -> tuple[tuple[float, float], tuple[float, ...]]:
        """How far off a thermostat's log is, K, and by how much later than stated, s; and of its heatings, s."""
        if self._run.script.felt is None:
            return (0.0, 0.0), ()
        numbers = range(heatings(self._run.script.felt[:, 1]))
        late = tuple(own.get(f"heating {self._run.name} {number}", 0.0) for number in numbers)
        return (own.get(SENSOR_OFFSET, 0.0), own.get(SENSOR_LAG, 0.0)), late

    def _traces(
        self, row: int, script: Script, factors: tuple[float, ...], probe: tuple[float, float], late: tuple[float, ...]
    ) -> list[Matrix]:
        """The trace of the fewer cells, and that of one more where it counts."""
        key = (row, script.lasts, factors, probe, late)
        if key not in self._kept:
            rows = (row, row + self._count) if self._part[row] > 0.0 else (row,)
            felt = script.felt_by(*probe)
            self._kept[key] = [self._prepared.trace(at, script, factors, self._off, felt, late) for at in rows]
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
