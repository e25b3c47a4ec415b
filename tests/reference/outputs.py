"""Every output of one machine, once more: idle, drinks, waiting, from cold, a session, after steam.

What each is stands on the methods page and in the record's own words; nothing of the package is called.
"""

from __future__ import annotations

import math
from dataclasses import astuple, dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq

from tests.reference import parcels as at
from tests.reference.plain import WATER, Plant
from tests.reference.resting import settled

Numbers = NDArray[np.float64]
CELLS = 200
"""Of the coil; a test halves them."""
PHASES, WAITS = 12, (30.0, 60.0, 120.0, 300.0, 600.0, 1200.0)
FOLLOWED, LONGEST = 1200.0, 7200.0
"""s after a drink, and from cold."""
APART, KEEPS = 20.0, 60.0
"""s between two tries from cold, and for how long a drop has to keep inside."""


class Drawn(NamedTuple):
    """kg in s."""

    mass: float
    duration: float


FLUSH, PAUSE, STEAM_FLUSH = Drawn(0.030, 8.0), 30.0, 4e-3
"""The flush before a drink, s of pause behind it, and kg/s after steam."""


@dataclass(frozen=True)
class Shot:
    """What one drink gives; K and s."""

    sensor_drop: float
    water_drop: float
    outlet_fall: float
    stability_band: float
    mean_outlet: float
    lowest_sensor: float
    sensor_recovery: float = math.nan
    coil_recovery: float = math.nan


def mean_of(shots: list[Shot]) -> Shot:
    """The mean of each result."""
    return Shot(*np.mean([astuple(one) for one in shots], axis=0))


@dataclass(frozen=True)
class Met:
    """A machine as it is met: its state, and whether its relay is on."""

    state: Numbers
    on: bool = False


@dataclass(frozen=True)
class Idle:
    """The warm machine at rest; of a relay over its settled cycle."""

    power: float
    period: float
    low: float
    high: float
    group: float
    parked: float


class Bench:
    """One machine, tried. All results are worked out once."""

    def __init__(self, plant: Plant, cells: int = CELLS) -> None:
        self.plant, self.cells = plant, cells if plant.coil_water else 0

    def run(
        self, met: Met, flow: float, duration: float, clock: float = 0.0, recorded: bool = True
    ) -> tuple[Met, Numbers]:
        """Step through a leg at a flow in kg/s; what is met at its end, and the record."""
        n = (len(met.state) - at.FIRST - self.plant.mixed) // 2
        state, rows = met.state.copy(), int(duration / at.STEP * 1.5) + 4 * max(n, 1) * 4 + 20 if recorded else 0
        record = np.empty((rows, at.COLUMNS))
        on, written = at.advance(state, self.plant, n, flow * WATER, duration, met.on, clock, record)
        return Met(state, on), record[:written]

    def rest(self, met: Met, duration: float) -> Met:
        """Leave it alone."""
        return self.run(met, 0.0, duration, recorded=False)[0]

    # --- idle --------------------------------------------------------------------------------------------

    @cached_property
    def cycle(self) -> tuple[Met, Numbers, float]:
        """A relay's settled cycle from switching on: the state then, one record of it, and its heat in J."""
        p, now = self.plant, Met(settled(self.plant, self.plant.middle)[0], True)
        piece, last = 1.0, now.state
        time, started, begun, heat = 0.0, 0.0, last[at.HEAT], 0.0
        for _ in range(100_000):
            was = now
            now = self.rest(was, piece)
            time += piece
            if now.on and not was.on:
                # To the moment itself, by going once more from the last look.
                moment = brentq(lambda t, was=was: self._reads(was, t) - p.closes, 0.0, piece, xtol=1e-10)
                here = self.rest(was, moment).state
                length, heat = time - piece + moment - started, here[at.HEAT] - begun
                if np.abs(np.delete(here - last, [at.HEAT, at.POURED, at.INTEGRAL])).max() < 1e-5:
                    record = self.run(Met(last, True), 0.0, length)[1]
                    return Met(here, True), record, heat
                last, begun = here, here[at.HEAT]
                now, started, time = Met(here, True), 0.0, 0.0
        raise AssertionError("the cycle does not settle")

    def _reads(self, met: Met, wait: float) -> float:
        return float(self.rest(met, wait).state[at.SENSOR]) if wait > 0.0 else float(met.state[at.SENSOR])

    @cached_property
    def idle(self) -> Idle:
        """The warm machine at rest."""
        if not self.plant.relay:
            state, power = settled(self.plant, self.plant.setpoint)
            s = self.plant.setpoint
            return Idle(power, 0.0, s, s, state[at.GROUP], state[-1] if self.cells else math.nan)
        _, record, heat = self.cycle
        time = record[:, at.TIME]

        def mean(column: int) -> float:
            return float(np.trapezoid(record[:, column], time) / time[-1])

        low, high = record[:, at.SEEN].min(), record[:, at.SEEN].max()
        parked = mean(at.COIL) if self.cells else math.nan
        return Idle(heat / time[-1], time[-1], low, high, mean(at.IRON), parked)

    @cached_property
    def starts(self) -> list[Met]:
        """The machine at rest, of a relay at equally spaced phases of its cycle."""
        if not self.plant.relay:
            return [Met(at.spread(settled(self.plant, self.plant.setpoint)[0], self.plant, self.cells))]
        met, made = self.cycle[0], []
        for _ in range(PHASES):
            made.append(Met(at.spread(met.state, self.plant, self.cells), met.on))
            met = self.rest(met, self.idle.period / PHASES)
        return made

    # --- drinks ------------------------------------------------------------------------------------------

    def shot(self, met: Met, drink: Drawn, follow: float = 60.0) -> tuple[Shot, Met]:
        """One drink and so many seconds after it; with it what is met when it ends."""
        flow = drink.mass / drink.duration
        drawn, during = self.run(met, flow, drink.duration)
        poured = (drawn.state[at.POURED] - met.state[at.POURED]) / drink.duration
        behind = self.run(drawn, 0.0, follow, drink.duration)[1]
        watched = np.concatenate((during, behind[behind[:, at.TIME] <= drink.duration + 60.0 + 1e-6]))
        lowest = watched[:, at.SEEN].min()
        mass, out = during[:, at.TIME] * flow * 1e3, during[:, at.OUTLET]
        grams = np.linspace(5.0, 10.0, 501)
        later = np.concatenate(([np.interp(10.0, mass, out)], out[mass > 10.0]))
        judged = np.concatenate(([np.interp(5.0, mass, out)], out[mass > 5.0]))
        early = np.trapezoid(np.interp(grams, mass, out), grams) / 5.0
        made = Shot(
            watched[0, at.SEEN] - lowest, watched[0, at.WATER] - watched[:, at.WATER].min(), early - later.min(),
            np.ptp(judged), poured, lowest, *(self._recoveries(behind, drink.duration) if follow > 60.0 else ()),
        )  # fmt: skip
        return made, drawn

    def _recoveries(self, behind: Numbers, ended: float) -> tuple[float, float]:
        time, idle = behind[:, at.TIME], self.idle
        seen = behind[:, at.SEEN]
        beyond = np.maximum(idle.low - 0.5 - seen, seen - idle.high - 0.5)
        outside = np.flatnonzero(beyond > 0.0)
        sensor = 0.0 if not len(outside) else _crossing(time, beyond, outside[-1]) - ended
        return sensor, _first(time, np.abs(behind[:, at.COIL] - idle.parked) - 5.0) - ended if self.cells else math.nan

    def drink(self, drink: Drawn) -> tuple[Shot, list[Shot], list[Met]]:
        """A drink from the machine at rest: the mean over phases, each of them, and what is met behind each."""
        made = [self.shot(met, drink, FOLLOWED) for met in self.starts]
        shots = [one for one, _ in made]
        return mean_of(shots), shots, [met for _, met in made]

    def again(self, drawn: list[Met], drink: Drawn) -> dict[float, Shot]:
        """The drink again after each wait."""
        made, met, waited = {}, drawn, 0.0
        for wait in WAITS:
            met, waited = [self.rest(one, wait - waited) for one in met], wait
            made[wait] = mean_of([self.shot(one, drink)[0] for one in met])
        return made

    def after_flush(self, drink: Drawn) -> Shot:
        """The drink half a minute after a flush."""
        flushed = [self.run(met, FLUSH.mass / FLUSH.duration, FLUSH.duration, recorded=False)[0] for met in self.starts]
        return mean_of([self.shot(self.rest(one, PAUSE), drink)[0] for one in flushed])

    def preheated(self, drink: Drawn) -> float:
        """m³ until the coil's outlet has fallen halfway."""
        flow, half = drink.mass / drink.duration, 0.5 * (self.idle.parked + self.plant.feed)
        turnover = (self.plant.coil_water + self.plant.coil_metal) / WATER / flow
        record = self.run(self.starts[0], flow, 4 * turnover)[1]
        return _first(record[:, at.TIME], record[:, at.LEAVING] - half) * flow / 998.0

    # --- from cold ---------------------------------------------------------------------------------------

    @cached_property
    def cold(self) -> Met:
        """Switched on in a cold room."""
        room = self.plant.room
        return Met(at.uniform(self.plant, min(1, self.cells), (room, room, room, room, 0.0, room), room, room), True)

    @cached_property
    def times(self) -> tuple[float, float, float]:
        """Boiler ready, group ready, coil settled, s."""
        record = self.run(self.cold, 0.0, LONGEST)[1]

        def near(column: int, aim: float, kelvins: float) -> float:
            return _first(record[:, at.TIME], np.abs(record[:, column] - aim) - kelvins)

        return (
            near(at.SEEN, self.plant.setpoint, 2.0),
            near(at.IRON, self.idle.group, 1.0),
            near(at.COIL, self.idle.parked, 5.0),
        )

    def shot_ready(self, drink: Drawn, soaked: float) -> float:
        """The earliest start from which on a drink drops the sensor as one from a soaked machine does, to a tenth."""
        near = max(0.1 * soaked, 0.02)
        met, begin, inside = self.rest(self.cold, self.times[0]), self.times[0], math.nan

        def miss(one: Met, wait: float) -> float:
            ready = self.rest(one, wait) if wait > 0.0 else one
            full = Met(at.spread(ready.state, self.plant, self.cells), ready.on)
            return abs(self.shot(full, drink)[0].sensor_drop - soaked) - near

        before, last = miss(met, 0.0), met
        if before <= 0.0:
            inside = begin
        while begin < LONGEST:
            met, begin = self.rest(last, APART), begin + APART
            now = miss(met, 0.0)
            if now > 0.0:
                inside = math.nan
            elif math.isnan(inside):
                inside = begin - APART + brentq(lambda wait, last=last: miss(last, wait), 0.0, APART, xtol=0.05)
            if begin - inside >= KEEPS:
                return inside
            last = met
        return math.inf

    def session(self, drinks: list[Drawn], on_for: float) -> float:
        """J from cold to switching off, the drinks equally spaced."""
        met, time = Met(at.spread(self.cold.state, self.plant, self.cells), True), 0.0
        for number, drink in enumerate(drinks, 1):
            met = self.rest(met, on_for * number / (len(drinks) + 1) - time)
            met = self.run(met, drink.mass / drink.duration, drink.duration, recorded=False)[0]
            time = on_for * number / (len(drinks) + 1) + drink.duration
        return float(self.rest(met, on_for - time).state[at.HEAT])

    # --- other temperatures ------------------------------------------------------------------------------

    def same_cup(self, drink: Drawn, wanted: float) -> float:
        """The setpoint, K, at which a drink is as warm."""

        def miss(setpoint: float) -> float:
            there = Bench(self.plant._replace(setpoint=setpoint), self.cells)
            return there.shot(there.starts[0], drink)[0].mean_outlet - wanted

        return float(brentq(miss, self.plant.setpoint - 30.0, self.plant.setpoint + 30.0, xtol=1e-3))

    def after_steam(self, steam: float) -> tuple[float, float]:
        """The way back from a steady temperature: s of waiting, and m³ (of a kilogram a litre) of flushing."""
        state, ready = settled(self.plant, steam)[0], self.plant.middle + 2.0
        state[at.INTEGRAL] = 0.0
        rest = self.run(Met(state), 0.0, 3600.0)[1]
        flush = self.run(Met(at.spread(state, self.plant, self.cells)), STEAM_FLUSH, 120.0)[1]
        waited, flushed = (_first(one[:, at.TIME], one[:, at.SEEN] - ready) for one in (rest, flush))
        return waited, flushed * STEAM_FLUSH * 1e-3


def _crossing(time: Numbers, beyond: Numbers, i: int) -> float:
    """When a value goes below zero behind row i, on the line to the next; infinite where there is none."""
    if i + 1 == len(time):
        return math.inf
    return float(time[i] + (time[i + 1] - time[i]) * beyond[i] / (beyond[i] - beyond[i + 1]))


def _first(time: Numbers, beyond: Numbers) -> float:
    """When a value is first not above zero."""
    inside = np.flatnonzero(beyond <= 0.0)
    if not len(inside):
        return math.inf
    return float(time[0]) if inside[0] == 0 else _crossing(time, beyond, inside[0] - 1)
