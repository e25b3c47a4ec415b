"""One step in time that ends its controller's mode where it ends. Compiled, one row.

In flow: a classic Runge-Kutta step. At rest: the exact step of `exact`. What is too small to be called is marked as a
part of its callers.
"""

from __future__ import annotations

import numpy as np

from guidegen.heat.compiled import kernel, part
from guidegen.heat.components.controller import EITHER, FIRST, change, crossed, margin, margins
from guidegen.heat.exact import glide
from guidegen.heat.kernels import derivative
from guidegen.heat.layout import CELLS, INTEGRAL, MIXING, MODE, ON_SLIDING, Tower, Vector
from guidegen.heat.states import copy

MOST_SWITCHES = 8
"""Changes of mode looked for in one step; a controller changes one to three times a minute."""
INSIDE, FOUND = 1e-8, 1e-9
"""K or W: margins above minus the first count as inside; a border is found when met to within the second."""
MOST_LOOKS = 40
"""Trials for one border; the brackets close in faster than they would by halving."""
AT_ONCE = 1e-6
"""Share of a step within which a mode that ends has ended where it began."""


@kernel
def runge_kutta(
    y: Vector, p: Vector, rate: Vector, at: Vector, total: Vector, face: Vector, skins: Vector, flow: float,
    passing: float, h: float,
) -> float:  # fmt: skip
    """One classic Runge-Kutta step of h seconds in flow, in place, within the mode that y is in.

    rate, at, total, face: scratch as long as y. skins: as in `held`. Returns the rate of the controller's integral at
    the end, W/s, as the last stage has it.
    """
    mixed, cells = int(p[MIXING]), int(p[CELLS])
    for i in range(len(y)):
        at[i], total[i] = y[i], 0.0
    for stage in range(4):
        derivative(at, rate, p, mixed, cells, flow, passing, face, skins)
        ahead = h if stage == 2 else 0.5 * h
        weight = h / 3.0 if stage == 1 or stage == 2 else h / 6.0
        for i in range(len(y)):
            total[i] += weight * rate[i]
            at[i] = y[i] + ahead * rate[i]
    for i in range(len(y)):
        y[i] += total[i]
    return float(rate[INTEGRAL])


@kernel
def advance(y: Vector, p: Vector, before: Vector, rate: Vector, at: Vector, total: Vector, face: Vector, skins: Vector,
            exact: Tower, flow: float, passing: float, whole: float, h: float) -> float:  # fmt: skip
    """A step of h seconds, in place, that changes the controller's mode where it ends.

    In flow y is a full state, at rest one of means; it starts inside its mode. before, rate, at, total, face: scratch
    as long as y, or LUMPED. skins: as in `held`. whole: the step at rest for which matrices are kept, s. Returns when
    in the step the mode changed last, s, or nan.
    """
    mixed = int(p[MIXING]) if flow > 0.0 else 1
    left, switched, switches, slip = h, np.nan, 0, 0.0
    copy(y, before)
    while True:
        while 0 < switches < MOST_SWITCHES and margin(y, p, mixed, slip, EITHER) < -INSIDE:
            # Outside the new mode as well: nothing to look for, on to the next one.
            change(y, p, mixed, slip, False)
            before[MODE] = y[MODE]
            switched, switches = h - left, switches + 1
        slip = stepped(y, p, rate, at, total, face, skins, exact, flow, passing, whole, left, slip)
        one, other = margins(y, p, mixed, slip)
        if min(one, other) >= -INSIDE or switches == MOST_SWITCHES:
            return float(switched)
        if abs(y[MODE]) == ON_SLIDING:
            # Where sliding ends, both modes have the same rates: a moment too late is no matter.
            change(y, p, mixed, slip, False)
            return float(switched)
        copy(before[: len(y)], y)
        border = crossed(margins(y, p, mixed, slip), (one, other), INSIDE)
        at_high = min(one, other) if border == EITHER else one if border == FIRST else other
        low, high, at_low, side = 0.0, left, max(margin(y, p, mixed, slip, border), 0.0), 0
        for look in range(MOST_LOOKS):
            moment = low + (high - low) * at_low / (at_low - at_high)
            slip = stepped(y, p, rate, at, total, face, skins, exact, flow, passing, whole, moment, slip)
            miss = margin(y, p, mixed, slip, border)
            if abs(miss) < FOUND or moment <= 0.0 or high - low < 1e-12 * h or look == MOST_LOOKS - 1:
                break
            low, high, at_low, at_high, side = narrowed(low, high, at_low, at_high, side, moment, miss)
            copy(before[: len(y)], y)
        change(y, p, mixed, slip, moment <= AT_ONCE * h)
        left -= moment
        switched, switches = h - left, switches + 1
        if left <= 1e-9 * h:
            return float(switched)
        copy(y, before)


@part
def narrowed(
    low: float, high: float, at_low: float, at_high: float, side: int, moment: float, miss: float
) -> tuple[float, float, float, float, int]:
    """The brackets of a border once a moment between them was tried: ends, margins there, and which end moved.

    Secants between two brackets cannot leave them; a bracket that stays is halved in weight (Illinois).
    """
    if miss > 0.0:
        return moment, high, miss, 0.5 * at_high if side == 1 else at_high, 1
    return low, moment, 0.5 * at_low if side == -1 else at_low, miss, -1


@kernel
def stepped(y: Vector, p: Vector, rate: Vector, at: Vector, total: Vector, face: Vector, skins: Vector, exact: Tower,
            flow: float, passing: float, whole: float, h: float, slip: float) -> float:  # fmt: skip
    """A step of h seconds, in place, within the mode that y is in; arguments as in `advance`.

    Returns the rate of the controller's integral at its end, W/s; that of before where there is no step.
    """
    if h <= 0.0:
        return slip
    if flow > 0.0:
        return float(runge_kutta(y, p, rate, at, total, face, skins, flow, passing, h))
    return float(glide(y, p, rate, at, skins, exact, whole, h))
