"""A machine that cools with its heater off, by rows: compiled."""

from __future__ import annotations

import numpy as np

from guidegen.heat.compiled import kernel, part
from guidegen.heat.exact import carried, make_exact, skins_beside
from guidegen.heat.idle import settled
from guidegen.heat.layout import (
    BESIDE,
    BOILER,
    CASE_AIR,
    CELLS,
    ELEMENT,
    FIRST_MODE,
    GROUP,
    LUMPS,
    MODE,
    ON,
    SETPOINT,
    SKINS,
    STEP,
    Matrix,
    Tower,
    Vector,
)
from guidegen.heat.states import copy

BELOW_TOUCH, BELOW_90 = range(2)
TIMES = 2
LONGEST = 24 * 3600.0
"""s; what takes longer is given up."""
LOOK = 60.0
"""s between looks while cooling; a line between two of them lies above the curve, so the moment is an upper bound."""


@kernel
def cooled_rows(start: int, stop: int, p_all: Matrix, exact: Tower, goals: Vector,
                times: Matrix, work: Matrix) -> None:  # fmt: skip
    """Write when each row has cooled; infinite to begin with, and where it takes longer than a day.

    p_all: rows whose heater has no power, so that its mode does not matter. goals, K: what everything to be
    touched, and what the water comes below. exact, work: scratch.
    """
    y, new, half = work[0], work[1], work[2]
    for r in range(start, stop):
        p = p_all[r]
        settled(p, p[SETPOINT], y)
        make_exact(p, exact, ON, 0.5 * LOOK)
        # The slot of the mode carries the constant one.
        y[MODE] = 1.0
        for goal in range(TIMES):
            if warmest(y, p, goal) <= goals[goal]:
                times[r, goal] = 0.0
        time = 0.0
        while time < LONGEST and (times[r, BELOW_TOUCH] == np.inf or times[r, BELOW_90] == np.inf):
            cool(y, p, exact[ON - FIRST_MODE, STEP], new, half)
            time += LOOK
            for goal in range(TIMES):
                now = warmest(new, p, goal)
                if times[r, goal] == np.inf and now <= goals[goal]:
                    times[r, goal] = time - LOOK * (goals[goal] - now) / (warmest(y, p, goal) - now)
            copy(new, y)


@part
def cool(y: Vector, p: Vector, half_step: Matrix, new: Vector, half: Vector) -> None:
    """Write into `new` what a state becomes in a look's time: losses beside the stated ones are those of its middle.

    half_step: the exact step of half that time. half: scratch.
    """
    skins_beside(y, p, y[BOILER], y[GROUP], y[CASE_AIR], y[LUMPS + 2])
    carried(half_step, y, half)
    skins_beside(half, p, half[BOILER], half[GROUP], half[CASE_AIR], half[LUMPS + 2])
    for skin in range(SKINS):
        y[BESIDE[skin]] = half[BESIDE[skin]]
    carried(half_step, y, half)
    carried(half_step, half, new)


@kernel
def warmest(y: Vector, p: Vector, goal: int) -> float:
    """The warmest of all that is to come below a goal, K: everything to be touched, or the water alone."""
    if goal == BELOW_90:
        return float(y[LUMPS])
    most = max(max(y[ELEMENT], y[BOILER]), max(y[GROUP], y[LUMPS]))
    if p[CELLS] > 0.0:
        most = max(most, max(y[LUMPS + 1], y[LUMPS + 2]))
    return float(most)
