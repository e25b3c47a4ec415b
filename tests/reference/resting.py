"""The machine at rest as lumps: where it settles, and how it cools, by an implicit solver that stops at an event."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from tests.reference import parcels as at
from tests.reference.plain import ZERO, Facts, Plant, plant

Numbers = NDArray[np.float64]
DAY = 86400.0


def balances(p: Plant) -> tuple[Numbers, Numbers, Numbers]:
    """Rates at rest of element, boiler, group, water, coil water, coil metal: matrix, constant part, and per watt."""
    capacity = np.array([p.element, p.boiler, p.group, p.water, p.coil_water or 1.0, p.coil_metal or 1.0])
    links = [
        (0, 1, p.element_boiler), (0, 3, p.element_water), (1, 3, p.boiler_water), (1, 2, p.boiler_group),
        (1, 5, p.coil_boiler), (4, 5, p.inside_rest),
    ]  # fmt: skip
    matrix, constant = np.zeros((6, 6)), np.zeros(6)
    for one, other, conducts in links:
        for here, there in ((one, other), (other, one)):
            matrix[here, here] -= conducts
            matrix[here, there] += conducts
    for lump, conducts, around in ((1, p.boiler_case, p.case), (5, p.coil_case, p.case), (2, p.group_room, p.room)):
        matrix[lump, lump] -= conducts
        constant[lump] += conducts * around
    return matrix / capacity[:, None], constant / capacity, np.eye(6)[0] / capacity


def settled(p: Plant, seen: float) -> tuple[Numbers, float]:
    """The state at rest in which the sensor reads so many K, with one coil cell, and the power that holds it, W."""
    matrix, constant, heated = balances(p)
    system, right = np.zeros((7, 7)), np.zeros(7)
    system[:6, :6], system[:6, 6], right[:6] = matrix, heated, -constant
    if not p.coil_water:
        # No coil: its lumps have no balance, and stand at anything.
        system[4, 4] = system[5, 5] = 1.0
    system[6, 1], system[6, 3], right[6] = p.metal_share, 1.0 - p.metal_share, seen
    element, boiler, group, water, inside, _, power = np.linalg.solve(system, right)
    return at.uniform(p, 1 if p.coil_water else 0, (element, boiler, group, seen, power), water, inside), float(power)


def cools_to_the_room(p: Plant) -> Plant:
    """The same with the case's warmth over the room in proportion to the boiler's, so that it cools with it."""
    left = 1.0 - min(max((p.case - p.room) / (p.middle - p.room), 0.0), 1.0)
    return p._replace(case=p.room, boiler_case=p.boiler_case * left, coil_case=p.coil_case * left)


def below(machine: Plant, goal: float, water_only: bool) -> float:
    """From switching off until all, or only the water, is below a temperature in K; s, infinite after a day."""
    p = cools_to_the_room(machine)
    matrix, constant, _ = balances(p)
    state = settled(p, p.middle)[0]
    parts = [3] if water_only else ([0, 1, 2, 3, 4, 5] if p.coil_water else [0, 1, 2, 3])
    begin = np.array([*state[:3], state[at.FIRST], *(state[-2:] if p.coil_water else (p.room, p.room))])

    def reached(_: float, y: Numbers) -> float:
        return float(y[parts].max() - goal)

    reached.terminal = True  # type: ignore[attr-defined]
    run = solve_ivp(
        lambda _, y: matrix @ y + constant, (0.0, DAY), begin, "Radau", jac=matrix, events=reached, dense_output=True,
        rtol=1e-9, atol=1e-9,
    )  # fmt: skip
    return float(run.t_events[0][0]) if len(run.t_events[0]) else math.inf


def by_roots(machine: Plant, goal: float, water_only: bool) -> float:
    """The same by the roots of the balances, in a fiftieth of the time: to look for the slowest machine with."""
    p = cools_to_the_room(machine)
    matrix, constant, _ = balances(p)
    used = slice(0, 6 if p.coil_water else 4)
    matrix, constant = matrix[used, used], constant[used]
    state = settled(p, p.middle)[0]
    begin = np.array([*state[:3], state[at.FIRST], *(state[-2:] if p.coil_water else ())])
    rates, ways = np.linalg.eig(matrix)
    end = np.linalg.solve(matrix, -constant)
    shares = np.linalg.solve(ways, begin - end)

    def above(time: float) -> float:
        y = end + np.real(ways @ (shares * np.exp(rates * time)))
        return float((y[3] if water_only else y.max()) - goal)

    return float(brentq(above, 0.0, DAY, xtol=1e-6)) if above(0.0) > 0.0 > above(DAY) else math.inf


def cooling(facts: Facts) -> tuple[float, float]:
    """s until all is below 40 °C, and until the water is below 90 °C, at the ends of the facts that make it longest."""

    def longest(goal: float, water_only: bool) -> float:
        best = facts.slow()
        most, before = by_roots(plant(best), goal, water_only), 0.0
        while most > before:
            before = most
            for name, end in best.ends.items():
                other = best.moved(name, "low" if end == "high" else "high")
                now = by_roots(plant(other), goal, water_only)
                if now > most:
                    best, most = other, now
        return below(plant(best), goal, water_only)

    return longest(ZERO + 40.0, False), longest(ZERO + 90.0, True)
