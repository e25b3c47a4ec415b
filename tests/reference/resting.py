"""The machine at rest as lumps: where it settles, and how it cools, by an implicit solver that stops at an event."""

from __future__ import annotations

import math
from itertools import combinations
from typing import Any

import numba
import numpy as np
from numpy.typing import NDArray
from scipy.integrate import solve_ivp
from scipy.optimize import root

from tests.reference import parcels as at
from tests.reference.plain import ZERO, Facts, Plant, plant
from tests.reference.skins import BOILER_TALL, CASE_TALL, GRAY_CASE, TUBE_WIDE, given_off

Numbers = NDArray[np.float64]
DAY = 86400.0
WORTH_PAIRING, HARDLY = 1e-3, 1e-6
"""The share of a time that a fact has to move it by, to be moved together with another; and what is no difference."""
ELEMENT, BOILER, GROUP, CASE, WATER, INSIDE, TUBE = range(7)
"""The lumps; without a coil the last two stand in the room and give and take nothing."""


@numba.njit(cache=True)
def warming(y: Any, p: Any, power: float, d: Any) -> None:
    """Heat into each lump at rest into d, W."""
    hot, iron, air, metal = y[BOILER], y[GROUP], y[CASE], y[TUBE]
    element_boiler = p.element_boiler * (y[ELEMENT] - hot)
    element_water = p.element_water * (y[ELEMENT] - y[WATER])
    boiler_water = p.boiler_water * (hot - y[WATER])
    boiler_group = p.boiler_group * (hot - iron)
    boiler_case = p.boiler_area * given_off(hot, air, BOILER_TALL, False, p.boiler_gray) * (hot - air)
    group_room = p.group_area * given_off(iron, p.room, BOILER_TALL, False, p.group_gray) * (iron - p.room)
    case_room = p.case_area * given_off(air, p.room, CASE_TALL, False, GRAY_CASE) * (air - p.room)
    touching, inside, coil_case = 0.0, 0.0, 0.0
    if p.coil_water > 0.0:
        touching, inside = p.coil_boiler * (hot - metal), p.inside_rest * (metal - y[INSIDE])
        coil_case = p.coil_area * given_off(metal, air, TUBE_WIDE, True, p.coil_gray) * (metal - air)
    d[ELEMENT] = power - element_boiler - element_water
    d[BOILER] = element_boiler - boiler_water - boiler_group - boiler_case - touching
    d[GROUP] = boiler_group - group_room
    d[CASE] = boiler_case + coil_case - case_room
    d[WATER] = element_water + boiler_water
    d[INSIDE], d[TUBE] = inside, touching - inside - coil_case


def lumps(p: Plant, seen: float) -> tuple[Numbers, float]:
    """The lumps at rest in which the sensor reads so many K, and the power that holds it, W."""
    d = np.zeros(7)

    def balance(unknown: Numbers) -> Numbers:
        # The power in hundreds of watts, to be of the size of the others.
        warming(unknown[:7], p, 100.0 * unknown[7], d)
        without = [unknown[INSIDE] - p.room, unknown[TUBE] - p.room]
        sensed = p.metal_share * unknown[BOILER] + (1.0 - p.metal_share) * unknown[WATER]
        return np.array([*d[:5], *(d[5:] if p.coil_water else without), sensed - seen])

    iron, air, metal = (share * seen + (1.0 - share) * p.room for share in (0.8, 0.2, 0.5))
    found = root(balance, [seen + 2.0, seen, iron, air, seen, metal, metal, 0.7], tol=1e-13).x
    assert np.abs(balance(found)).max() < 1e-7
    return found[:7], float(100.0 * found[7])


def settled(p: Plant, seen: float) -> tuple[Numbers, float]:
    """The same as a state with one coil cell."""
    y, power = lumps(p, seen)
    state = (y[ELEMENT], y[BOILER], y[GROUP], seen, power, y[CASE])
    return at.uniform(p, 1 if p.coil_water else 0, state, y[WATER], y[TUBE]), power


def capacities(p: Plant) -> Numbers:
    """J/K of the lumps."""
    return np.array([p.element, p.boiler, p.group, p.case, p.water, p.coil_water or 1.0, p.coil_metal or 1.0])


def below(p: Plant, goal: float, water_only: bool, method: str = "Radau", close: float = 1e-10) -> float:
    """From switching off until all, or only the water, is below a temperature in K; s, infinite after a day."""
    touched = [WATER] if water_only else [ELEMENT, BOILER, GROUP, WATER, *([INSIDE, TUBE] if p.coil_water else [])]
    held, d = capacities(p), np.zeros(7)

    def rate(_: float, y: Numbers) -> Numbers:
        warming(y, p, 0.0, d)
        return d / held

    def reached(_: float, y: Numbers) -> float:
        return float(y[touched].max() - goal)

    reached.terminal = True  # type: ignore[attr-defined]
    run = solve_ivp(rate, (0.0, DAY), lumps(p, p.middle)[0], method, events=reached, rtol=close, atol=close)
    return float(run.t_events[0][0]) if len(run.t_events[0]) else math.inf


def roughly(p: Plant, goal: float, water_only: bool) -> float:
    """The same in a twentieth of the time: to look for the slowest machine with."""
    return below(p, goal, water_only, "LSODA", 1e-7)


def climbed(best: Facts, goal: float, water_only: bool) -> tuple[Facts, float]:
    """From some ends on, whatever makes it longer: one fact at its other end, and then two of those that matter."""
    most, matters, before = roughly(plant(best), goal, water_only), set(), 0.0
    while most > before * (1 + HARDLY):
        before = most
        for together in (1, 2):
            for names in combinations(best.ends if together == 1 else sorted(matters), together):
                other = best
                for name in names:
                    other = other.moved(name, "low" if best.end(name) == "high" else "high")
                now = roughly(plant(other), goal, water_only)
                if together == 1 and abs(now - most) > WORTH_PAIRING * most:
                    matters.add(names[0])
                if now > most * (1 + HARDLY):
                    best, most = other, now
            if together == 1 and most > before * (1 + HARDLY):
                break
    return best, most


def cooling(facts: Facts) -> tuple[float, float]:
    """s until all is below 40 °C, and until the water is below 90 °C, at the ends of the facts that make it longest.

    A coil keeps a machine warm where it loses little to the case, or where it is itself what stays warm longest; from
    the one no single fact leads to the other, so both are begun with.
    """

    def longest(goal: float, water_only: bool) -> float:
        begun = facts.slow()
        starts = [begun, begun.moved("coil.to_case", "high")] if facts.effect("feed_coil") else [begun]
        best, _ = max((climbed(one, goal, water_only) for one in starts), key=lambda found: found[1])
        return below(plant(best), goal, water_only)

    return longest(ZERO + 40.0, False), longest(ZERO + 90.0, True)
