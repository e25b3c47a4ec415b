"""The exact step of the linear equations at rest: a matrix per row and mode, made from `kernels.derivative` itself.

Losses follow temperature, so the equations are linear but for what a skin loses beside its stated conductance, which
`held` holds over a step. Compiled, one row.
"""

from __future__ import annotations

from guidegen.heat.compiled import kernel, part
from guidegen.heat.kernels import derivative
from guidegen.heat.layout import (
    BESIDE,
    BOILER_SKIN,
    BOILER_TO_CASE,
    CASE_SKIN,
    CASE_TO_ROOM,
    CELLS,
    COIL_SKIN,
    COIL_TO_CASE,
    DRAWN_ENERGY,
    FIRST_MODE,
    GROUP_SKIN,
    GROUP_TO_ROOM,
    HEATER_ENERGY,
    INTEGRAL,
    LUMPED,
    LUMPS,
    MIXING,
    MODE,
    MORE,
    ON_SLIDING,
    PRODUCT,
    RATES,
    RETURNED_ENERGY,
    ROOM,
    SHIELD,
    SKINS,
    STEP,
    TERM,
    Matrix,
    Tower,
    Vector,
)
from guidegen.heat.skins import conductance

TERMS = 14
"""Of the exponential's series, for half a unit of rate times time: the next term is 0.5^15 / 15!, 2e-17."""


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
    change, holds the constant one, so that the step carries the constant part along; those of `BESIDE` hold what the
    skins lose beside their stated conductances.
    """
    k, coil, single = mode - FIRST_MODE, min(1, int(p[CELLS])), int(min(p[MIXING], 1.0))
    unit, base, rate, skins = exact[k, TERM, 0], exact[k, TERM, 1], exact[k, TERM, 2], exact[k, TERM, 3]
    rates = exact[k, RATES]
    for i in range(LUMPED):
        unit[i], base[i], rate[i], skins[i] = 0.0, 0.0, 0.0, 0.0
        for j in range(LUMPED):
            rates[j, i] = 0.0
    unit[MODE] = mode
    skins[BOILER_SKIN], skins[GROUP_SKIN] = p[BOILER_TO_CASE], p[GROUP_TO_ROOM]
    skins[CASE_SKIN], skins[COIL_SKIN] = p[CASE_TO_ROOM], p[COIL_TO_CASE]
    derivative(unit, base, p, single, coil, 0.0, 1.0, rate, skins)
    for i in range(LUMPED):
        rates[MODE, i] = base[i]
    for j in range(LUMPS + 1 + 2 * coil):
        if j not in (MODE, DRAWN_ENERGY, RETURNED_ENERGY):
            unit[j] = 1.0
            derivative(unit, rate, p, single, coil, 0.0, 1.0, rate, skins)
            unit[j] = 0.0
            for i in range(LUMPED):
                rates[j, i] = rate[i] - base[i]
    for skin in range(COIL_SKIN + coil):
        skins[MORE + skin] = 1.0
        derivative(unit, rate, p, single, coil, 0.0, 1.0, rate, skins)
        skins[MORE + skin] = 0.0
        for i in range(LUMPED):
            rates[BESIDE[skin], i] = rate[i] - base[i]


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
            if j != MODE and j not in BESIDE:
                total += abs(rates[j, i])
        if i < HEATER_ENERGY or i > DRAWN_ENERGY:
            most = max(most, total)
    return most


@kernel
def glide(
    y: Vector, p: Vector, term: Vector, new: Vector, skins: Vector, exact: Tower, whole: float, h: float
) -> float:
    """The exact step of h seconds at rest, in place, for a state of means, within the mode that y is in.

    whole: the step for which a matrix is kept, s; a shorter one, up to a border or an end, takes the series itself, in
    pieces that it is good for. skins: as in `held`. exact: the row's matrices by mode; made where they are still empty.
    term, new: scratch. Returns the rate of the controller's integral at the end, W/s.
    """
    mode = int(y[MODE])
    k = mode - FIRST_MODE
    if exact[k, STEP, MODE, MODE] == 0.0:
        make_exact(p, exact, mode, whole)
    drawn, returned = y[DRAWN_ENERGY], y[RETURNED_ENERGY]
    y[MODE] = 1.0
    for skin in range(SKINS):
        y[BESIDE[skin]] = skins[MORE + skin]
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
        for j in range(LUMPED):
            slip += exact[k, RATES, j, INTEGRAL] * y[j]
    y[MODE] = mode
    for skin in range(SKINS):
        y[BESIDE[skin]] = 0.0
    y[DRAWN_ENERGY], y[RETURNED_ENERGY] = drawn, returned
    return slip


@part
def skins_beside(y: Vector, p: Vector, boiler: float, group: float, case: float, coil: float) -> None:
    """Write what the skins lose beside their stated conductances at some temperatures, K."""
    room = p[ROOM]
    more = conductance(p, BOILER_SKIN, boiler, case) - p[BOILER_TO_CASE]
    y[BESIDE[BOILER_SKIN]] = p[SHIELD] * more * (boiler - case)
    y[BESIDE[GROUP_SKIN]] = (conductance(p, GROUP_SKIN, group, room) - p[GROUP_TO_ROOM]) * (group - room)
    y[BESIDE[CASE_SKIN]] = (conductance(p, CASE_SKIN, case, room) - p[CASE_TO_ROOM]) * (case - room)
    if p[CELLS] > 0.0:
        y[BESIDE[COIL_SKIN]] = (conductance(p, COIL_SKIN, coil, case) - p[COIL_TO_CASE]) * (coil - case)


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
        for j in range(LUMPED):
            t = state[j]
            s0 += table[j, i] * t
            s1 += table[j, i + 1] * t
            s2 += table[j, i + 2] * t
            s3 += table[j, i + 3] * t
        new[i], new[i + 1], new[i + 2], new[i + 3] = s0, s1, s2, s3
