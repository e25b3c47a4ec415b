"""One shot and what follows: how far everything drops, and how long it takes to come back. Compiled, by rows."""

from __future__ import annotations

import math
from typing import Generic, NamedTuple, TypeVar

import numpy as np

from guidegen.heat.compiled import kernel, part
from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.layout import (
    CELLS,
    COIL_OUTLET,
    COIL_WATER,
    DRAWN_ENERGY,
    FEED,
    MEAN_WATER,
    NOUGHT,
    OUTLET,
    SEEN,
    TIME,
    Matrix,
    Tower,
    Vector,
    Whole,
)
from guidegen.heat.runs import leg, trace_rows
from guidegen.heat.states import copy, size_of

T = TypeVar("T")


class Shots(NamedTuple, Generic[T]):
    """What shots give, by name: of each result an array of any shape, in K, s and kg; nan where there is none.

    A recovery that did not come while the rest was watched is infinite: longer than that.

    A kernel writes a result into the column that `AT` has under the same name.
    """

    sensor_drop: T
    water_drop: T
    outlet_fall: T
    stability_band: T
    mean_outlet: T
    sensor_recovery: T
    coil_recovery: T
    lowest_sensor: T
    halfway: T
    """kg drawn until the coil's outlet has fallen to where the shot was to be halted."""


RESULTS = len(Shots._fields)
AT: Shots[int] = Shots(*range(RESULTS))
"""The column of each result."""

# What a pull is: kg/s, W/K, s.
MASS_FLOW, FLOW, DURATION = range(3)
# Inputs of one shot: s to wait before it, s to watch after it, the coil's outlet at which it ends early, the sensor's
# lowest and highest temperature at idle, and that of parked water, K.
WAIT, FOLLOW, HALT, IDLE_LOW, IDLE_HIGH, IDLE_COIL = range(6)
GIVEN = 6
WAITING, DRAWING, FOLLOWING = range(3)
"""The legs of a shot."""

WATCHED_AFTER = 60.0
"""The sensor's lowest value is looked for until so many seconds after the end."""
FIRST_WATER, EARLY_WATER = 0.005, 0.010
"""kg: the first water out of a group is not judged, and what comes until the second mark is the outlet's start."""
COLUMN = np.array([COIL_WATER, SEEN, MEAN_WATER])
COIL_NEAR, BAND = 5.0, 0.5
"""K: within the first of idle the coil counts as full of heat again, within the second of idle the sensor as back."""


@kernel
def longest_trace(start: int, stop: int, who: Whole, p_all: Matrix, pulls: Matrix, given: Matrix) -> int:
    """Rows that the longest trace of some shots needs."""
    longest = NOUGHT
    for i in range(start, stop):
        p = p_all[who[i]]
        rows = trace_rows(p, pulls[i, FLOW], pulls[i, DURATION]) + trace_rows(p, 0.0, given[i, FOLLOW])
        longest = max(longest, rows)
    return int(longest)


@kernel
def shot_rows(start: int, stop: int, who: Whole, p_all: Matrix, modes: Matrix, exact: Tower, states: Matrix,
              pulls: Matrix, given: Matrix, results: Matrix, begun: Matrix, drawn: Matrix,
              curve: Matrix, trace: Matrix, whole: Vector, work: Matrix) -> int:  # fmt: skip
    """Shots, each from its own full state: wait, draw, watch, judge.

    who: the row of parameters of each shot; states: shape (shots, longest state), not changed; pulls and given: as
    above. results: nan to begin with. begun, drawn: get the states when the draw begins and when it ends, if they have
    rows. curve: gets the trace of shot `start`, if it has rows. trace, whole, work: scratch, for the longest trace and
    state. Returns how many rows of curve were written.
    """
    shown = 0
    for i in range(start, stop):
        p, pull, result = p_all[who[i]], pulls[i], results[i]
        full = whole[: size_of(p)]
        copy(states[i, : len(full)], full)
        end, rows, energy = NOUGHT, NOUGHT, 0.0
        for which in range(FOLLOWING + 1):
            if which == DRAWING:
                energy = full[DRAWN_ENERGY]
                keep(full, begun, i)
            flow, duration, halt, clock = leg_of(which, pull, given[i])
            if duration > 0.0:
                into = trace[:0] if which == WAITING else trace
                rows = leg(full, p, modes, work, exact[who[i]], flow, duration, halt, clock, into, rows)
            if which == DRAWING:
                end = rows
                # By mass, from the energy that the same steps have integrated: as exact as they are.
                result[AT.mean_outlet] = p[FEED] + (full[DRAWN_ENERGY] - energy) / (pull[FLOW] * pull[DURATION])
                keep(full, drawn, i)
        if end > 1:
            judge(trace, end, rows, pull, given[i], p[CELLS] > 0.0, result)
        if i == start and len(curve) >= rows:
            for row in range(rows):
                copy(trace[row], curve[row])
            shown = rows
    return shown


@part
def leg_of(which: int, pull: Vector, given: Vector) -> tuple[float, float, float, float]:
    """A shot's leg: flow, W/K, and duration, s; the coil's outlet at which it ends early, K; and its clock's start."""
    if which == WAITING:
        return 0.0, given[WAIT], np.nan, 0.0
    if which == DRAWING:
        return pull[FLOW], pull[DURATION], given[HALT], 0.0
    return 0.0, given[FOLLOW], np.nan, pull[DURATION]


@part
def keep(full: Vector, kept: Matrix, i: int) -> None:
    """Write a state into row i of those kept, if there are rows."""
    if len(kept) > 0:
        for j in range(len(full)):
            kept[i, j] = full[j]


@kernel
def judge(trace: Matrix, end: int, rows: int, pull: Vector, given: Vector, coil: bool, result: Vector) -> None:
    """Write the results of a shot from its trace: rows up to `end` are the draw, those up to `rows` what follows."""
    duration = pull[DURATION]
    watched = 0
    while watched < rows and trace[watched, TIME] <= duration + WATCHED_AFTER + 1e-9:
        watched += 1
    lowest_sensor = lowest(trace, watched, COLUMN[1])
    result[AT.sensor_drop], result[AT.lowest_sensor] = trace[0, SEEN] - lowest_sensor, lowest_sensor
    result[AT.water_drop] = trace[0, MEAN_WATER] - lowest(trace, watched, COLUMN[2])
    outlet(trace, end, pull[MASS_FLOW], result)
    if rows > end and not math.isnan(given[IDLE_LOW]):
        back = recovered(trace, end, rows, given[IDLE_LOW] - BAND, given[IDLE_HIGH] + BAND)
        result[AT.sensor_recovery] = back - duration
        if coil:
            near = first_near(trace, end, rows, COLUMN[0], given[IDLE_COIL], COIL_NEAR)
            result[AT.coil_recovery] = np.inf if math.isnan(near) else near - duration
    if trace[end - 1, COIL_OUTLET] <= given[HALT] < trace[end - 2, COIL_OUTLET]:
        result[AT.halfway] = between(trace, end - 1, COIL_OUTLET, given[HALT]) * pull[MASS_FLOW]


@kernel
def lowest(trace: Matrix, stop: int, column: int) -> float:
    """The lowest value of a column up to row `stop`: of the parabola through the lowest row and both beside it."""
    least = 0
    for i in range(stop):
        if trace[i, column] < trace[least, column]:
            least = i
    here = trace[least, column]
    if 0 < least < stop - 1:
        before, after = trace[least, TIME] - trace[least - 1, TIME], trace[least + 1, TIME] - trace[least, TIME]
        if before > 0.0 and after > 0.0:
            fall = (here - trace[least - 1, column]) / before
            rise = (trace[least + 1, column] - here) / after
            bend = (rise - fall) / (before + after)
            slope = (fall * after + rise * before) / (before + after)
            if bend > 0.0:
                here -= slope * slope / (4.0 * bend)
    return float(here)


@kernel
def outlet(trace: Matrix, rows: int, mass_flow: float, result: Vector) -> None:
    """Fall and band of the water that leaves the group, from the first rows of a trace, a draw at constant flow.

    Between two rows the outlet is a straight line: at the marks it is read from the line, and the mean of the early
    water is the line's integral.
    """
    early, later_low, low, high = 0.0, np.inf, np.inf, -np.inf
    for i in range(1, rows):
        mass_a, mass_b = trace[i - 1, TIME] * mass_flow, trace[i, TIME] * mass_flow
        at_a, at_b = trace[i - 1, OUTLET], trace[i, OUTLET]
        slope = (at_b - at_a) / (mass_b - mass_a)
        if mass_b > FIRST_WATER:
            first = max(mass_a, FIRST_WATER)
            at_first = at_a + slope * (first - mass_a)
            low, high = min(low, at_first, at_b), max(high, at_first, at_b)
            last = min(mass_b, EARLY_WATER)
            if last > first:
                early += (last - first) * (at_first + 0.5 * slope * (last - first))
        if mass_b > EARLY_WATER:
            first = max(mass_a, EARLY_WATER)
            later_low = min(later_low, at_a + slope * (first - mass_a), at_b)
    result[AT.stability_band] = high - low if high >= low else np.nan
    result[AT.outlet_fall] = early / (EARLY_WATER - FIRST_WATER) - later_low if later_low < np.inf else np.nan


@kernel
def recovered(trace: Matrix, start: int, stop: int, low: float, high: float) -> float:
    """From when on the sensor stays between two temperatures until the trace ends, s; infinite where it does not.

    The moment lies on the line between the last row outside and the next.
    """
    last = start - 1
    for i in range(start, stop):
        if not low <= trace[i, SEEN] <= high:
            last = i
    if last == stop - 1:
        return np.inf
    if last < start:
        return float(trace[start, TIME])
    edge = low if trace[last, SEEN] < low else high
    return float(between(trace, last + 1, SEEN, edge))


@kernel
def first_near(trace: Matrix, start: int, stop: int, column: int, goal: float, near: float) -> float:
    """When a column is first within `near` of a goal, s, on the line between two rows; nan where never.

    A column that jumps over the whole band between two rows has been in it too.
    """
    for i in range(start, stop):
        here = trace[i, column] - goal
        before = trace[max(i - 1, start), column] - goal
        if abs(here) <= near or before * here < 0.0:
            if i == start or abs(before) <= near:
                return float(trace[i, TIME])
            return float(between(trace, i, column, goal - near if before < 0.0 else goal + near))
    return np.nan


@kernel
def between(trace: Matrix, i: int, column: int, edge: float) -> float:
    """When a column passes an edge on the line from row i - 1 to row i, s."""
    a, b = trace[i - 1, column], trace[i, column]
    share = (edge - a) / (b - a) if a != b else 1.0
    return float(trace[i - 1, TIME] + share * (trace[i, TIME] - trace[i - 1, TIME]))


FORMULAS = (
    Formula("Sensor drop", "ΔTs = Ts(0) − min Ts(t), t to 60 s after the end; water drop the same of mean W",
            (Symbol("ΔTs", "sensor drop", "K"), Symbol("Ts", "sensor", "K"), Symbol("W", "boiler water", "K"))),
    Formula("Outlet fall", "mean of T_out from 5 to 10 g − min of T_out after",
            (Symbol("T_out", "water that leaves the group", "K"),)),
    Formula("Stability band", "max T_out − min T_out after the first 5 g",
            (Symbol("T_out", "water that leaves the group", "K"),)),
    Formula("Mean outlet", "T_mean = 1/m ∫ T_out dm",
            (Symbol("T_mean", "mean outlet by mass", "K"), Symbol("m", "drawn mass", "kg"),
             Symbol("T_out", "water that leaves the group", "K"))),
    Formula("Sensor recovery", "first t from which on Ts stays within 0.5 K of its idle range, from the shot's end",
            (Symbol("t", "time since the shot's end", "s"), Symbol("Ts", "sensor", "K"))),
    Formula("Coil recovery", "first t with |mean X − T_park| ≤ 5 K, from the shot's end",
            (Symbol("t", "time since the shot's end", "s"), Symbol("X", "coil water", "K"),
             Symbol("T_park", "parked water", "K"))),
    Formula("Drop ratio", "sensor drop with the kit / sensor drop without"),
    Formula("Preheated volume", "drawn until X_N = (T_park + T_feed) / 2",
            (Symbol("X_N", "water that leaves the coil", "K"), Symbol("T_park", "parked water", "K"),
             Symbol("T_feed", "feed", "K"))),
)  # fmt: skip
