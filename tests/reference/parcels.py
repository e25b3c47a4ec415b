"""The network's equations in small steps as they are defined, with water that moves through the coil in parcels.

A parcel moves on by a whole cell or not at all, so a front stays as sharp as it is and no scheme smears it. All cells
are kept at rest too, controllers have no modes, and a relay's moments are found by going back in time.
"""

from __future__ import annotations

import math
from typing import Any

import numba
import numpy as np
from numpy.typing import NDArray

from tests.reference.plain import Plant
from tests.reference.skins import BOILER_TALL, CASE_TALL, GRAY_CASE, TUBE_WIDE, given_off

Numbers = NDArray[np.float64]

ELEMENT, BOILER, GROUP, SENSOR, INTEGRAL, CASE, HEAT, POURED = range(8)
FIRST = 8
"""Behind these stand the boiler's water, the coil's water and the coil's metal. POURED is outlet temperature, K s."""
TIME, SEEN, WATER, OUTLET, IRON, COIL, LEAVING = range(7)
COLUMNS = 7
STEP = 0.04
"""s at most: the fastest thing, a heater under derivative control, takes half a second."""


@numba.njit(cache=True)
def mean(s: Any, start: int, count: int) -> float:
    """Of some neighbours."""
    total = 0.0
    for i in range(start, start + count):
        total += s[i]
    return total / count


@numba.njit(cache=True)
def power_of(s: Any, p: Any, turning: float, on: bool) -> tuple[float, float]:
    """The heater's power, W, and the rate of the integral, W/s. turning: the sensor's rate, K/s."""
    if p.relay:
        return (p.heater_power if on else 0.0), 0.0
    error = p.setpoint - s[SENSOR]
    asked = p.kp * error + s[INTEGRAL] - p.kd * turning
    held = (asked >= p.heater_power and error > 0.0) or (asked <= 0.0 and error < 0.0)
    return min(max(asked, 0.0), p.heater_power), 0.0 if held else p.ki * error


@numba.njit(cache=True)
def outlet_of(s: Any, p: Any, flow: float) -> float:
    """The water behind the group, K."""
    last = s[FIRST + p.mixed - 1]
    return s[GROUP] + (last - s[GROUP]) * (math.exp(-p.group_water / flow) if flow > 0.0 else 0.0)


@numba.njit(cache=True)
def leaving_of(s: Any, p: Any, n: int, passed: float, share: float, cell: float) -> float:
    """The water behind the coil, K, between the last parcel out and the next as warm as it will be when it gets there.

    passed: the last parcel out, K; share: how far the next one is; cell: the time in which it moves on by one, s.
    """
    water, metal = s[FIRST + p.mixed + n - 1], s[FIRST + p.mixed + 2 * n - 1]
    ahead = water + (1.0 - share) * cell * p.inside_flow / p.coil_water * (metal - water)
    return passed + share * (ahead - passed)


@numba.njit(cache=True)
def rates(s: Any, d: Any, p: Any, n: int, flow: float, on: bool, passed: float, share: float, cell: float) -> None:
    """Rates of change into d; parcels stand still. passed, share and cell as in `leaving_of`."""
    m, x, z = p.mixed, FIRST + p.mixed, FIRST + p.mixed + n
    element, boiler = s[ELEMENT], s[BOILER]
    water = mean(s, FIRST, m)
    turning = (p.metal_share * boiler + (1.0 - p.metal_share) * water - s[SENSOR]) / p.lag
    power, d[INTEGRAL] = power_of(s, p, turning, on)
    into_coil, leak, from_coil, entering, case = 0.0, 0.0, 0.0, p.feed, s[CASE]
    if n > 0:
        entering = leaving_of(s, p, n, passed, share, cell)
        inside = p.inside_flow if flow > 0.0 else p.inside_rest
        metal = mean(s, z, n)
        into_coil = p.coil_boiler * (boiler - metal)
        leak = p.coil_area * given_off(metal, case, TUBE_WIDE, True, p.coil_gray)
        from_coil = leak * (metal - case)
        warm, cool, beside = 1.0 / p.coil_water, 1.0 / p.coil_metal, p.along * n * n / p.coil_metal
        for j in range(n):
            swap = inside * (s[z + j] - s[x + j])
            kept = p.coil_boiler * (boiler - s[z + j]) - leak * (s[z + j] - case)
            d[x + j], d[z + j] = swap * warm, (kept - swap) * cool
        for j in range(z + 1, z + n):
            along = beside * (s[j] - s[j - 1])
            d[j - 1] += along
            d[j] -= along
    for i in range(m):
        here = s[FIRST + i]
        warmed = p.boiler_water * (boiler - here) + p.element_water * (element - here)
        d[FIRST + i] = (m * flow * (entering - here) + warmed) / p.water
        entering = here
    out = outlet_of(s, p, flow)
    to_group = p.boiler_group * (boiler - s[GROUP])
    to_boiler = p.element_boiler * (element - boiler)
    d[ELEMENT] = (power - to_boiler - p.element_water * (element - water)) / p.element
    to_case = p.boiler_area * given_off(boiler, case, BOILER_TALL, False, p.boiler_gray) * (boiler - case)
    outside = p.case_area * given_off(case, p.room, CASE_TALL, False, GRAY_CASE) * (case - p.room)
    from_group = p.group_area * given_off(s[GROUP], p.room, BOILER_TALL, False, p.group_gray) * (s[GROUP] - p.room)
    d[BOILER] = (to_boiler - p.boiler_water * (boiler - water) - to_group - to_case - into_coil) / p.boiler
    d[GROUP] = (to_group + flow * (entering - out) - from_group) / p.group
    d[CASE] = (to_case + from_coil - outside) / p.case
    d[SENSOR], d[HEAT], d[POURED] = turning, power, out


@numba.njit(cache=True)
def midpoint(s: Any, d: Any, half: Any, p: Any, n: int, flow: float, on: bool, passed: float, share: float,
             cell: float, h: float) -> None:  # fmt: skip
    """One step of h seconds, in place, in which the next parcel moves on; other arguments as in `rates`."""
    rates(s, d, p, n, flow, on, passed, share, cell)
    for i in range(len(s)):
        half[i] = s[i] + 0.5 * h * d[i]
    rates(half, d, p, n, flow, on, passed, share + 0.5 * h / cell, cell)
    for i in range(len(s)):
        s[i] += h * d[i]


@numba.njit(cache=True)
def shift(s: Any, p: Any, n: int, by: float, passed: float) -> float:
    """Move the coil's water on by one cell, or a share of one either way; returns what passed the outlet last."""
    x = FIRST + p.mixed
    last = s[x + n - 1]
    if by >= 0.0:
        for j in range(n - 1, -1, -1):
            s[x + j] += by * ((s[x + j - 1] if j > 0 else p.feed) - s[x + j])
    else:
        for j in range(n):
            s[x + j] -= by * ((s[x + j + 1] if j < n - 1 else passed) - s[x + j])
    return last


@numba.njit(cache=True)
def write(row: Any, s: Any, p: Any, n: int, flow: float, time: float, leaving: float) -> None:
    """One row of a record."""
    row[TIME], row[SEEN], row[IRON] = time, s[SENSOR], s[GROUP]
    row[WATER], row[OUTLET] = mean(s, FIRST, p.mixed), outlet_of(s, p, flow)
    row[COIL] = mean(s, FIRST + p.mixed, n) if n > 0 else p.feed
    row[LEAVING] = leaving


@numba.njit(cache=True)
def advance(
    s: Any, p: Any, n: int, flow: float, duration: float, on: bool, clock: float, record: Any
) -> tuple[bool, int]:
    """Step a state through a leg, in place, at a flow in W/K. Returns whether a relay is on, and the rows written."""
    d, half = np.empty_like(s), np.empty_like(s)
    moving = flow > 0.0 and n > 0
    cell = p.coil_water / n / (flow + p.bypass) if moving else duration
    per = 2 * max(1, math.ceil(cell / STEP / 2)) if moving else max(1, math.ceil(cell / STEP))
    h, i, time, rows = cell / per, 0, 0.0, 0
    passed = s[FIRST + p.mixed + n - 1] if n > 0 else p.feed
    share = 0.5 if moving else 0.0
    if p.relay:
        on = s[SENSOR] <= p.closes or (on and s[SENSOR] < p.setpoint)
    while True:
        if rows < len(record):
            out = leaving_of(s, p, n, passed, share, cell) if moving else p.feed
            write(record[rows], s, p, n, flow, clock + time, out)
            rows += 1
        step = min(h, duration - time)
        if step <= 1e-9:
            break
        before = s[SENSOR]
        midpoint(s, d, half, p, n, flow, on, passed, share, cell, step)
        edge = p.setpoint if on else p.closes
        if p.relay and (s[SENSOR] - edge) * (before - edge) <= 0.0 and before != edge and (s[SENSOR] > before) == on:
            late = (s[SENSOR] - edge) / (s[SENSOR] - before)
            midpoint(s, d, half, p, n, flow, on, passed, share + step / cell, cell, -late * step)
            on = not on
            midpoint(s, d, half, p, n, flow, on, passed, share + (1.0 - late) * step / cell, cell, late * step)
        time, i, share = time + step, i + 1, share + step / cell
        if moving and (i + per // 2) % per == 0 and step == h:
            passed, share = shift(s, p, n, 1.0, passed), 0.0
    if moving:
        # The parcels stand half a cell from where they are, either way.
        shift(s, p, n, share - 0.5, passed)
    return on, rows


def uniform(p: Plant, n: int, lumps: tuple[float, ...], water: float, coil: float) -> Numbers:
    """A state without differences along the coil or through the boiler's water; lumps: as far as the case."""
    lumps = (*lumps, 0.0, 0.0)
    return np.concatenate((lumps, np.full(p.mixed, water), np.full(2 * n, coil)))


def spread(s: Numbers, p: Plant, n: int) -> Numbers:
    """A state of one coil cell as one of many; without a coil the same."""
    if not p.coil_water:
        return s.copy()
    lumps = s[: FIRST + p.mixed]
    return np.concatenate((lumps, np.full(n, s[len(lumps)]), np.full(n, s[len(lumps) + 1])))
