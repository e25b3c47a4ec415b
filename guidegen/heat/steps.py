"""One step in time that ends its controller's mode where it ends. Compiled, one row.

In flow: a classic Runge-Kutta step. At rest: the exact step of the linear equations, a matrix that is made once per row
and mode from `kernels.derivative` itself. What is too small to be called is marked as a part of its callers.
"""

from __future__ import annotations

import numpy as np

from guidegen.heat.compiled import kernel, part
from guidegen.heat.components.controller import change, margin
from guidegen.heat.kernels import derivative
from guidegen.heat.layout import (
    CELLS,
    DRAWN_ENERGY,
    FIRST_MODE,
    HEATER_ENERGY,
    INTEGRAL,
    LUMPED,
    LUMPS,
    MIXING,
    MODE,
    ON_SLIDING,
    PRODUCT,
    RATES,
    STEP,
    TERM,
    Matrix,
    Tower,
    Vector,
)
from guidegen.heat.states import copy

MOST_SWITCHES = 8
"""Changes of mode looked for in one step; a controller changes one to three times a minute."""
INSIDE, FOUND = 1e-8, 1e-9
"""K or W: margins above minus the first count as inside; a border is found when met to within the second."""
MOST_LOOKS = 40
"""Trials for one border; the brackets close in faster than they would by halving."""
AT_ONCE = 1e-6
"""Share of a step within which a mode that ends has ended where it began."""
TERMS = 14
"""Of the exponential's series, for half a unit of rate times time: the next term is 0.5^15 / 15!, 2e-17."""


@kernel
def runge_kutta(
    y: Vector, p: Vector, rate: Vector, at: Vector, total: Vector, face: Vector, flow: float, passing: float, h: float
) -> float:
    """One classic Runge-Kutta step of h seconds in flow, in place, within the mode that y is in.

    rate, at, total, face: scratch as long as y. Returns the rate of the controller's integral at the end, W/s, as the
    last stage has it.
    """
    mixed, cells = int(p[MIXING]), int(p[CELLS])
    for i in range(len(y)):
        at[i], total[i] = y[i], 0.0
    for stage in range(4):
        derivative(at, rate, p, mixed, cells, flow, passing, face)
        ahead = h if stage == 2 else 0.5 * h
        weight = h / 3.0 if stage == 1 or stage == 2 else h / 6.0
        for i in range(len(y)):
            total[i] += weight * rate[i]
            at[i] = y[i] + ahead * rate[i]
    for i in range(len(y)):
        y[i] += total[i]
    return float(rate[INTEGRAL])


@kernel
def make_exact(p: Vector, exact: Tower, mode: int, h: float) -> None:
    """Make the rates at rest in one mode, and the exact step of h seconds that they give."""
    k = mode - FIRST_MODE
    make_rates(p, exact, mode)
    exponential(exact[k, RATES], h, exact[k, STEP], exact[k, TERM], exact[k, PRODUCT])


@kernel
def make_rates(p: Vector, exact: Tower, mode: int) -> None:
    """Make the rates at rest in one mode.

    `derivative` is affine there: its columns are what it says of unit states. The slot of the mode, which does not
    change, holds the constant one, so that the step carries the constant part along.
    """
    k, coil, single = mode - FIRST_MODE, min(1, int(p[CELLS])), int(min(p[MIXING], 1.0))
    unit, base, rate = exact[k, TERM, 0], exact[k, TERM, 1], exact[k, TERM, 2]
    rates = exact[k, RATES]
    for i in range(LUMPED):
        unit[i], base[i], rate[i] = 0.0, 0.0, 0.0
        for j in range(LUMPED):
            rates[j, i] = 0.0
    unit[MODE] = mode
    for j in range(-1, LUMPS + 1 + 2 * coil):
        if j != MODE:
            if j >= 0:
                unit[j] = 1.0
            derivative(unit, rate, p, single, coil, 0.0, 1.0, rate)
            for i in range(LUMPED):
                if j < 0:
                    base[i] = rate[i]
                    rates[MODE, i] = rate[i]
                else:
                    rates[j, i] = rate[i] - base[i]
            if j >= 0:
                unit[j] = 0.0


@kernel
def exponential(rates: Matrix, h: float, step: Matrix, term: Matrix, product: Matrix) -> None:
    """Write the exact step of h seconds: the series for a fraction of it, squared until it is whole.

    term, product: scratch.
    """
    n, short, halvings = len(rates), h, 0
    most = fastest(rates)
    while short * most > 0.5 and halvings < 60:
        short, halvings = 0.5 * short, halvings + 1
    for a in range(n):
        for i in range(n):
            term[a, i] = 1.0 if a == i else 0.0
            step[a, i] = term[a, i]
    for k in range(1, TERMS + 1):
        times(term, rates, product)
        for a in range(n):
            for i in range(n):
                term[a, i] = product[a, i] * (short / k)
                step[a, i] += term[a, i]
    for _ in range(halvings):
        times(step, step, product)
        copy_matrix(product, step)


@part
def times(one: Matrix, other: Matrix, product: Matrix) -> None:
    """Write the product of two square matrices into a third."""
    n = len(one)
    for a in range(n):
        for i in range(n):
            product[a, i] = 0.0
        for j in range(n):
            factor = one[a, j]
            for i in range(n):
                product[a, i] += factor * other[j, i]


@part
def copy_matrix(one: Matrix, into: Matrix) -> None:
    """Copy a square matrix."""
    for a in range(len(one)):
        for i in range(len(one)):
            into[a, i] = one[a, i]


@kernel
def fastest(rates: Matrix) -> float:
    """A bound on the rates of all temperatures and of the integral, 1/s; energies are fed but feed nothing."""
    most = 0.0
    for i in range(len(rates)):
        total = 0.0
        for j in range(len(rates)):
            if j != MODE:
                total += abs(rates[j, i])
        if i < HEATER_ENERGY or i > DRAWN_ENERGY:
            most = max(most, total)
    return most


@kernel
def glide(y: Vector, p: Vector, term: Vector, new: Vector, exact: Tower, whole: float, h: float) -> float:
    """The exact step of h seconds at rest, in place, for a state of means, within the mode that y is in.

    whole: the step for which a matrix is kept, s; a shorter one, up to a border or an end, takes the series itself, in
    pieces that it is good for. exact: the row's matrices by mode; made where they are still empty. term, new: scratch.
    Returns the rate of the controller's integral at the end, W/s.
    """
    mode = int(y[MODE])
    k = mode - FIRST_MODE
    if exact[k, STEP, MODE, MODE] == 0.0:
        make_exact(p, exact, mode, whole)
    y[MODE] = 1.0
    if h == whole:
        carried(exact[k, STEP], y, new)
        for i in range(LUMPED):
            y[i] = new[i]
    else:
        pieces = int(2.0 * h * fastest(exact[k, RATES])) + 1
        for _ in range(pieces):
            series(y, term, new, exact[k, RATES], h / pieces)
    slip = 0.0
    if abs(mode) == ON_SLIDING:
        for j in range(LUMPS + 3):
            slip += exact[k, RATES, j, INTEGRAL] * y[j]
    y[MODE] = mode
    return slip


@part
def series(y: Vector, term: Vector, new: Vector, rates: Matrix, h: float) -> None:
    """A step of h seconds, in place, by the series of the exponential; h is at most half a unit of the rates."""
    for i in range(LUMPED):
        term[i] = y[i]
    for q in range(1, TERMS + 1):
        carried(rates, term, new)
        for i in range(LUMPED):
            term[i] = new[i] * (h / q)
            y[i] += term[i]


@part
def carried(table: Matrix, state: Vector, new: Vector) -> None:
    """Write what a table makes of a state of means: each row of it what one state adds to all."""
    # Four sums at a time stay in registers.
    for i in range(0, LUMPED, 4):
        s0, s1, s2, s3 = 0.0, 0.0, 0.0, 0.0
        for j in range(LUMPS + 3):
            t = state[j]
            s0 += table[j, i] * t
            s1 += table[j, i + 1] * t
            s2 += table[j, i + 2] * t
            s3 += table[j, i + 3] * t
        new[i], new[i + 1], new[i + 2], new[i + 3] = s0, s1, s2, s3


@kernel
def advance(y: Vector, p: Vector, before: Vector, rate: Vector, at: Vector, total: Vector, face: Vector, exact: Tower,
            flow: float, passing: float, whole: float, h: float) -> float:  # fmt: skip
    """A step of h seconds, in place, that changes the controller's mode where it ends.

    In flow y is a full state, at rest one of means; it starts inside its mode. before, rate, at, total, face: scratch
    as long as y, or LUMPED. whole: the step at rest for which matrices are kept, s. Returns when in the step the mode
    changed last, s, or nan.
    """
    mixed = int(p[MIXING]) if flow > 0.0 else 1
    left, switched, switches, slip = h, np.nan, 0, 0.0
    copy(y, before)
    while True:
        while 0 < switches < MOST_SWITCHES and margin(y, p, mixed, slip) < -INSIDE:
            # Outside the new mode as well: nothing to look for, on to the next one.
            change(y, p, mixed, slip, False)
            before[MODE] = y[MODE]
            switched, switches = h - left, switches + 1
        slip = stepped(y, p, rate, at, total, face, exact, flow, passing, whole, left, slip)
        miss = margin(y, p, mixed, slip)
        if miss >= -INSIDE or switches == MOST_SWITCHES:
            return float(switched)
        if abs(y[MODE]) == ON_SLIDING:
            # Where sliding ends, both modes have the same rates: a moment too late is no matter.
            change(y, p, mixed, slip, False)
            return float(switched)
        copy(before[: len(y)], y)
        low, high, at_low, at_high, side = 0.0, left, max(margin(y, p, mixed, slip), 0.0), miss, 0
        for look in range(MOST_LOOKS):
            moment = low + (high - low) * at_low / (at_low - at_high)
            slip = stepped(y, p, rate, at, total, face, exact, flow, passing, whole, moment, slip)
            miss = margin(y, p, mixed, slip)
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
def stepped(y: Vector, p: Vector, rate: Vector, at: Vector, total: Vector, face: Vector, exact: Tower, flow: float,
            passing: float, whole: float, h: float, slip: float) -> float:  # fmt: skip
    """A step of h seconds, in place, within the mode that y is in; arguments as in `advance`.

    Returns the rate of the controller's integral at its end, W/s; that of before where there is no step.
    """
    if h <= 0.0:
        return slip
    if flow > 0.0:
        return float(runge_kutta(y, p, rate, at, total, face, flow, passing, h))
    return float(glide(y, p, rate, at, exact, whole, h))
