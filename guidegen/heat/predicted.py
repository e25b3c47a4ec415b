"""What probes on a machine would have shown in a run: the network led through what was done, seen at the places."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

import numpy as np

from guidegen.heat.fleet import CELLS, Fleet
from guidegen.heat.idle import PERIOD
from guidegen.heat.lagging import through
from guidegen.heat.layout import (
    BOILER_METAL,
    CLOSES,
    COIL_INSIDE_AT_REST,
    COIL_OUTLET,
    COIL_WATER,
    COIL_WATER_CAPACITY,
    GROUP_METAL,
    OPENS,
    OUTLET,
    POWER,
    RELAY_CONTROL,
    SEEN,
    TIME,
    Matrix,
    Vector,
)
from guidegen.heat.network import WATER_SPECIFIC_HEAT
from guidegen.heat.program import cold_states
from guidegen.heat.switching import free, later, led, switchings

COLUMNS = {
    "sensor": SEEN, "boiler-wall": BOILER_METAL, "group": GROUP_METAL, "outlet": OUTLET, "coil-out": COIL_OUTLET,
    "coil-metal": COIL_WATER, "heater": POWER,
}  # fmt: skip
"""What a probe at a place shows, by column of a trace; coil metal is worked out from the water in it."""
WHILE_DRAWN = ("outlet", "coil-out")
"""Places that water reaches while it is drawn, and only then."""
PHASES = 96
"""Moments of a thermostat's cycle that are tried as the one at which a log begins."""


@dataclass(frozen=True)
class Draw:
    """Water that was drawn: from when, s after the first row, for how long, s, and how much, kg."""

    begins: float
    duration: float
    mass: float

    def pull(self, factor: float) -> Matrix:
        """Flow in kg/s and W/K and duration, as a kernel takes them, with another mass."""
        flow = self.mass * factor / self.duration
        return np.array([[flow, flow * WATER_SPECIFIC_HEAT, self.duration]])


@dataclass(frozen=True)
class Script:
    """What was done in a run of so many seconds: how it began, and what was drawn.

    start: warm and at rest, cold and switched on, or warm and switched off. resting: the sensor before the first draw,
    rows of s and K, which says at what moment of a thermostat's cycle the log begins. felt: the whole log of a
    thermostat's own sensor, rows of s, K without its probe's stated lag, and K/s, by which the heater is switched; else
    the machine switches by itself.
    """

    start: Literal["idle", "cold", "off"]
    lasts: float
    draws: tuple[Draw, ...] = ()
    resting: Matrix | None = None
    felt: Matrix | None = None

    def since(self, moment: float) -> Script:
        """The same with its clock at nothing so many s later; negative where it began before the log's first row.

        >>> Script("cold", 60.0, (Draw(20.0, 5.0, 0.01),)).since(2.0).draws[0].begins  # = 20 - 2
        18.0
        """
        if not moment:
            return self
        return replace(
            self, lasts=self.lasts - moment,
            draws=tuple(replace(one, begins=one.begins - moment) for one in self.draws),
            resting=None if self.resting is None else self.resting - (moment, 0.0),
            felt=None if self.felt is None else self.felt - (moment, 0.0, 0.0),
        )  # fmt: skip

    def felt_by(self, offset: float, later: float) -> Matrix | None:
        """What the thermostat felt, rows of s and K, by a probe that reads `offset` K too much and is `later` s later
        than stated; None where no log leads."""
        if self.felt is None:
            return None
        return np.column_stack((self.felt[:, 0], self.felt[:, 1] - offset + later * self.felt[:, 2]))


class Prepared:
    """Rows of a network's parameters with their idle states, ready to be led through runs.

    at_rest: states of means and idle facts of each row, where somebody has them already; cells of the coil.
    """

    def __init__(self, parameters: Matrix, at_rest: tuple[Matrix, Matrix] | None = None, cells: int = CELLS) -> None:
        self.fleet = Fleet(parameters, cells=cells)
        lumped, self.facts = at_rest or self.fleet.at_rest()
        self.states = self.fleet.full(lumped)
        self.cold = cold_states(self.fleet)

    @cached_property
    def free(self) -> Fleet:
        """The same rows under a thermostat that is switched from outside."""
        made = Fleet(free(self.fleet.p), cells=self.fleet.cells)
        made.exact = self.fleet.exact  # thresholds stand in none of the steps
        return made

    def trace(self, row: int, script: Script, factors: Sequence[float] = (), off: Prepared | None = None,
              felt: Matrix | None = None, late: Sequence[float] = ()) -> Matrix:  # fmt: skip
        """The trace of one row through a script, by column of `layout`; its clock is the log's.

        factors: of each draw, its mass over what the script says. off: the same rows with the heater off. felt: rows of
        s and K by which a thermostat's heater is switched; late: by how much each heating began later than that, s.
        """
        if felt is not None and self.fleet.p[row, RELAY_CONTROL] > 0.0:
            return self._led(row, script, felt, factors, late)
        state = self.cold[row : row + 1] if script.start == "cold" else self.states[row : row + 1]
        fleet = off.fleet if script.start == "off" and off is not None else self.fleet
        wait = self._phase(row, state, script.resting) if script.start == "idle" else 0.0
        first = script.draws[0].begins if script.draws else script.lasts
        who, pieces = np.array([row]), []
        if first > 0:
            rest = fleet.shots(state, np.zeros((1, 3)), who=who, wait=wait, follow=first, show=True)
            pieces.append(rest.curve)
        wait += first
        for at, draw in enumerate(script.draws):
            end = draw.begins + draw.duration
            until = script.draws[at + 1].begins if at + 1 < len(script.draws) else script.lasts
            factor = factors[at] if at < len(factors) else 1.0
            made = fleet.shots(state, draw.pull(factor), who=who, wait=wait, follow=max(until - end, 0.0), show=True,
                               keep=True)  # fmt: skip
            made.curve[:, TIME] += draw.begins
            pieces.append(made.curve)
            state, wait = made.drawn, max(until - end, 0.0)
        return np.concatenate(pieces)

    def _led(self, row: int, script: Script, felt: Matrix, factors: Sequence[float], late: Sequence[float]) -> Matrix:
        """The trace of a row whose heater is switched as its thermostat did by what it felt."""
        state = self.cold[row : row + 1] if script.start == "cold" else self.states[row : row + 1]
        if script.start == "idle":
            rests = felt[felt[:, 0] < (script.draws[0].begins if script.draws else script.lasts)]
            wait = self._phase(row, state, rests)
            state = self.fleet.shots(state, np.zeros((1, 3)), who=np.array([row]), wait=wait, keep=True).begun
        switched = switchings(felt[:, 0], felt[:, 1], self.fleet.p[row, OPENS], self.fleet.p[row, CLOSES])
        draws = [(draw, draw.pull(factors[at] if at < len(factors) else 1.0)) for at, draw in enumerate(script.draws)]
        return led(self.free, row, state, draws, script.lasts, later(switched, late))

    def _phase(self, row: int, state: Matrix, resting: Matrix | None) -> float:
        """s from a thermostat's switching on at which the sensor's log fits best; none without a cycle."""
        period = self.facts[row, PERIOD]
        if not (math.isfinite(period) and period > 0.0):
            return 0.0
        if resting is None or len(resting) == 0:
            return 0.0
        time, seen = resting[:, 0], resting[:, 1]
        cycle = self.fleet.shots(state, np.zeros((1, 3)), who=np.array([row]), follow=period + float(time[-1]) + 1.0,
                                 show=True).curve  # fmt: skip
        tried = np.linspace(0.0, period, PHASES, endpoint=False)
        misfit = np.array(
            [np.mean((np.interp(time + one, cycle[:, TIME], cycle[:, SEEN]) - seen) ** 2) for one in tried]
        )
        least = int(np.argmin(misfit))
        before, here, after = misfit[least - 1], misfit[least], misfit[(least + 1) % PHASES]
        bend = before - 2.0 * here + after
        shift = 0.5 * (before - after) / bend if bend > 0.0 else 0.0
        return float((tried[least] + np.clip(shift, -0.5, 0.5) * period / PHASES) % period)


def shown(trace: Matrix, parameters: Vector, place: str, script: Script, lag: float, times: Vector) -> Vector:
    """What a probe at a place shows at the times of a log, K or W, through its lag, s; parameters: the row's."""
    column = trace[:, COLUMNS[place]].copy()
    time = trace[:, TIME]
    if place == "coil-metal":
        # At rest the water follows the metal by their conductance alone.
        late = parameters[COIL_WATER_CAPACITY] / parameters[COIL_INSIDE_AT_REST]
        column += late * np.gradient(column, np.maximum.accumulate(time + 1e-9 * np.arange(len(time))))
    if place in WHILE_DRAWN:
        # Nothing is seen of the place between draws: until a draw begins, it is what that draw first brings.
        ended = -math.inf
        for draw in script.draws:
            first = int(np.searchsorted(time, draw.begins, side="right")) - 1
            column[:first] = np.where(time[:first] > ended, column[first], column[:first])
            ended = draw.begins + draw.duration
    seen = np.empty_like(column)
    if lag > 0.0 and place != "heater":
        through(time, column, lag, seen)
    else:
        seen[:] = column
    return np.interp(times, time, seen)
