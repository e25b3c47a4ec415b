"""What is asked of one network: idle, drinks, waiting, a flush, from cold, a session, the coil's store.

Everything starts from idle or cold states and branches: the second drink starts from where the first one's rest has
come to, a try during warm-up from where the one before it began. Nothing is run twice.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from guidegen.heat import shot, warming
from guidegen.heat.fleet import Fleet, ShotRun, idles
from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.idle import PARKED, PERIOD
from guidegen.heat.layout import (
    COIL_METAL_CAPACITY,
    COIL_WATER_CAPACITY,
    FEED,
    HAS_COIL,
    HEATER_ENERGY,
    LUMPED,
    RELAY_CONTROL,
    Matrix,
    Vector,
    Whole,
)
from guidegen.heat.pull import Pull
from guidegen.heat.states import cold

FOLLOW = 1200.0
"""s: how long the rest after a shot is watched."""
PHASES, SAMPLED = 12, 4
"""Start phases of a relay's cycle over which the shots of row 0 are averaged, and those of the other rows.

Both are equally spaced, those of the other rows from a start that each row draws (systematic sampling): the mean over
them is the expected drop over the cycle."""
SOAKED, LEAST = 0.10, 0.02
"""The share of the soaked drop within which a shot counts as soaked, and the least K that this share is taken as."""
SHARP, MOST_TRIES = 0.25, 12
"""s: how sharply the moment of shot ready is looked for, and in how many tries at most."""
QUICK, SLOW = 60.0, 300.0
"""s between tries during warm-up: the first minutes after the boiler is ready, and at last."""
MOST_TURNOVERS = 4.0
"""Heat capacities of a full coil drawn at most, to find where its outlet has fallen halfway."""


@dataclass(frozen=True)
class Starts:
    """Idle states that shots start from: the row of each, the state, and the wait that brings it to its phase, s."""

    fleet: Fleet
    facts: Matrix
    who: Whole
    states: Matrix
    wait: Vector

    def once(self) -> Starts:
        """One state for each row, but for those that were asked for at every phase: the first of its phases."""
        count = np.bincount(self.who, minlength=len(self.fleet))
        first = np.concatenate(([True], self.who[1:] != self.who[:-1])) if len(self.who) else np.zeros(0, dtype=bool)
        kept = first | (count[self.who] == PHASES)
        return (
            self if kept.all() else Starts(self.fleet, self.facts, self.who[kept], self.states[kept], self.wait[kept])
        )

    def mean(self, values: NDArray[np.float64]) -> NDArray[np.float64]:
        """By row: the mean over a row's states; nan for rows without any."""
        return self._by_row(values, np.mean)

    def ends(self, values: NDArray[np.float64]) -> NDArray[np.float64]:
        """By row: lowest and highest over a row's states, shape (n, 2)."""
        return np.stack((self._by_row(values, np.min), self._by_row(values, np.max)), axis=-1)

    def _by_row(self, values: NDArray[np.float64], reduce: object) -> NDArray[np.float64]:
        out = np.full((len(self.fleet), *values.shape[1:]), np.nan)
        out[self.who] = values
        many = np.flatnonzero(np.bincount(self.who, minlength=len(self.fleet)) > 1)
        for row in many:
            out[row] = reduce(values[self.who == row], axis=0)  # type: ignore[operator]
        return out


def starts(fleet: Fleet, phase: Vector, every: Sequence[int] = (0,)) -> Starts:
    """The idle states that shots start from.

    phase: the share of the cycle at which the first of each row's shots starts, shape (n,). The rows of a relay named
    in `every` get `PHASES` of them, the others `SAMPLED`.
    """
    states, facts = fleet.idle()
    period = np.where(idles(facts), facts[:, PERIOD], 0.0)
    who, wait = [], []
    for row in np.flatnonzero(idles(facts)):
        count = 1 if period[row] == 0 else PHASES if row in every else SAMPLED
        shares = (phase[row] + np.arange(count) / count) % 1.0
        who += [row] * len(shares)
        wait += [share * period[row] for share in shares]
    rows = np.array(who, dtype=np.int64)
    return Starts(fleet, facts, rows, states[rows], np.array(wait, dtype=float))


def drinks(begin: Starts, pull: Pull, follow: float = FOLLOW, show: bool = False) -> ShotRun:
    """One drink from every idle state."""
    return begin.fleet.shots(
        begin.states, pull, who=begin.who, wait=begin.wait, follow=follow, facts=begin.facts, keep=True, show=show
    )


@dataclass(frozen=True)
class First:
    """One drink from every machine at rest: results by row, the ends of the drop, and the run that was watched on."""

    results: Matrix
    ends: Matrix
    watched: ShotRun


def first(begin: Starts, once: Starts, pull: Pull, show: bool = False) -> First:
    """One drink in every start phase; the long rest after it, which costs most, is watched from those of `once`."""
    watched = drinks(once, pull, show=show)
    every = watched if once is begin else drinks(begin, pull, shot.WATCHED_AFTER)
    results, rest = begin.mean(every.results), once.mean(watched.results)
    for column in (shot.AT.sensor_recovery, shot.AT.coil_recovery):
        results[:, column] = rest[:, column]
    return First(results, begin.ends(every.results[:, shot.AT.sensor_drop]), watched)


def again(begin: Starts, first: ShotRun, pull: Pull, waits: Sequence[float]) -> Matrix:
    """The results of a drink each wait, s, after a first draw, the machine left alone in between.

    Shape (states, waits, results).
    """
    states, waited, out = first.drawn, 0.0, []
    for wait in waits:
        second = begin.fleet.shots(
            states, pull, who=begin.who, wait=wait - waited, follow=shot.WATCHED_AFTER, facts=begin.facts, keep=True
        )
        out.append(second.results)
        states, waited = second.begun, wait
    return np.stack(out, axis=1) if out else np.empty((len(begin.who), 0, shot.RESULTS))


def preheated(begin: Starts, pull: Pull) -> Vector:
    """Mass, kg, drawn at a drink's flow until the coil's outlet has fallen halfway from parked to feed; or nan."""
    p, out = begin.fleet.p, np.full(len(begin.fleet), np.nan)
    one = np.unique(begin.who, return_index=True)[1]
    one = one[(p[begin.who[one], HAS_COIL] > 0) & (begin.facts[begin.who[one], PARKED] > p[begin.who[one], FEED])]
    who = begin.who[one]
    if len(who):
        mass_flow, flow, _ = pull.row()
        turnover = (p[who, COIL_WATER_CAPACITY] + p[who, COIL_METAL_CAPACITY]) / flow
        pulls = np.column_stack((np.full(len(who), mass_flow), np.full(len(who), flow), MOST_TURNOVERS * turnover))
        half = 0.5 * (begin.facts[who, PARKED] + p[who, FEED])
        done = begin.fleet.shots(begin.states[one], pulls, who=who, halt=half)
        out[who] = done.results[:, shot.AT.halfway]
    return out


def session(fleet: Fleet, pulls: Sequence[Pull], at: Sequence[float], length: float) -> Vector:
    """Heater energy, J, of one session from cold: drinks at their starts, then off at `length`, s."""
    states, time = cold_states(fleet), np.zeros(len(fleet))
    for pull, start in zip(pulls, at, strict=True):
        states = fleet.shots(states, pull, wait=np.maximum(start - time, 0.0), keep=True).drawn
        time = np.maximum(time, start) + pull.rows(fleet.habit)[:, shot.DURATION]
    nothing = np.zeros((len(fleet), 3))
    ended = fleet.shots(states, nothing, wait=np.maximum(length - time, 0.0), keep=True)
    return np.asarray(ended.begun[:, HEATER_ENERGY])


def cold_states(fleet: Fleet) -> Matrix:
    """The states of cold machines, every cell."""
    lumped = np.zeros((len(fleet), LUMPED))
    for row in range(len(fleet)):
        cold(fleet.p[row], lumped[row])
    return fleet.full(lumped)


def drop_by_start(fleet: Fleet, pull: Pull, minutes: int, ready: float) -> Vector:
    """The sensor drop of row 0 in a first drink so many whole minutes from cold; nan before `ready`, s."""
    row, out = np.zeros(1, dtype=np.int64), np.full(minutes, np.nan)
    states, at = cold_states(fleet)[:1], 0.0
    for minute in range(1, minutes + 1):
        if minute * 60.0 >= ready:
            tried = fleet.shots(states, pull, who=row, wait=minute * 60.0 - at, follow=shot.WATCHED_AFTER, keep=True)
            out[minute - 1] = tried.results[0, shot.AT.sensor_drop]
            states, at = tried.begun, minute * 60.0
    return out


def shot_ready(fleet: Fleet, pull: Pull, soaked: Vector, ready: Vector) -> Vector:
    """The earliest start, s, not before the boiler is ready, whose drop is within a tenth of the soaked one.

    A start counts where the next one tried is within the tenth too: on the way up the sensor swings, and a drop may be
    right by chance. Tries come every minute at first and every five later; between the last one outside and the first
    inside, the moment is closed in by secants that keep both sides (Illinois). Infinite where it takes longer than a
    cold start is watched; nan for a relay.
    """
    asked = np.isfinite(soaked) & ~np.isnan(ready) & (fleet.p[:, RELAY_CONTROL] == 0)
    out, who = np.where(asked, np.inf, np.nan), np.flatnonzero(asked & np.isfinite(ready))
    states, wait, at = cold_states(fleet)[who], ready[who], ready[who].copy()
    entered, before = np.full(len(who), np.nan), np.full(len(who), np.nan)
    gap, tries = QUICK, 0
    while len(who):
        tried = fleet.shots(states, pull, who=who, wait=wait, follow=shot.WATCHED_AFTER, keep=True)
        miss = _miss(tried, soaked[who])
        inside, was_in = miss <= 0.0, np.isfinite(entered)
        out[who[inside & was_in]] = entered[inside & was_in]
        new = inside & ~was_in
        entered = np.where(inside, entered, np.nan)
        entered[new] = at[new]
        closing = np.flatnonzero(new & np.isfinite(before))
        if len(closing):
            entered[closing] = at[closing] - wait[closing] + _closed_in(
                fleet, pull, who[closing], states[closing], wait[closing], before[closing], miss[closing], soaked
            )  # fmt: skip
        before = np.where(inside, np.nan, miss)
        tries += 1
        gap = QUICK if tries <= 5 else min(gap + QUICK, SLOW)
        open_still = ~(inside & was_in) & (at + gap < warming.LONGEST)
        who, entered, before, at = who[open_still], entered[open_still], before[open_still], at[open_still] + gap
        states, wait = tried.begun[open_still], np.full(int(open_still.sum()), gap)
    return out


def _miss(tried: ShotRun, soaked: Vector) -> Vector:
    """How far a drop is outside what counts as soaked, K."""
    return np.abs(tried.results[:, shot.AT.sensor_drop] - soaked) - np.maximum(SOAKED * soaked, LEAST)


def _closed_in(
    fleet: Fleet, pull: Pull, who: Whole, states: Matrix, gap: Vector, before: Vector, after: Vector, soaked: Vector
) -> Vector:
    """How long after states outside the drop comes inside, s."""
    low, high, side = np.zeros(len(who)), gap.copy(), np.zeros(len(who))
    at_low, at_high, part, open_rows = before.copy(), after.copy(), gap.copy(), np.arange(len(who))
    for _ in range(MOST_TRIES):
        i = open_rows
        part[i] = low[i] + (high[i] - low[i]) * at_low[i] / (at_low[i] - at_high[i])
        tried = fleet.shots(states[i], pull, who=who[i], wait=part[i], follow=shot.WATCHED_AFTER)
        miss = _miss(tried, soaked[who[i]])
        below = miss > 0.0
        moved = np.where(below, part[i] - low[i], high[i] - part[i])
        _close(i[below], 1, part, miss[below], low, at_low, at_high, side)
        _close(i[~below], -1, part, miss[~below], high, at_high, at_low, side)
        open_rows = i[(moved > SHARP) & (high[i] - low[i] > SHARP)]
        if not len(open_rows):
            break
    return part


def _close(
    rows: Whole, which: int, part: Vector, miss: Vector, end: Vector, at_end: Vector, at_other: Vector, side: Vector
) -> None:
    """Move one end of some brackets to where was tried; the other end weighs half where it stayed before too."""
    end[rows], at_end[rows] = part[rows], miss
    at_other[rows] = np.where(side[rows] == which, 0.5 * at_other[rows], at_other[rows])
    side[rows] = which


FORMULAS = (
    Formula("Session energy", "E = ∫ q dt from cold to switching off",
            (Symbol("E", "energy of a session", "J"), Symbol("q", "heater power", "W"))),
    Formula("Day energy", "E_day = n E", (Symbol("n", "sessions a day", ""), Symbol("E", "energy of a session", "J"))),
)  # fmt: skip
