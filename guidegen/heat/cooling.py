"""Cooling down with the heater off, from idle until nothing burns any more. Compiled, by rows."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from guidegen.heat.compiled import kernel
from guidegen.heat.fleet import Fleet
from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.idle import settled
from guidegen.heat.layout import (
    BOILER,
    CELLS,
    ELEMENT,
    FIRST_MODE,
    GROUP,
    HEATER_POWER,
    LUMPED,
    LUMPS,
    MATRICES,
    MODE,
    MODES,
    ON,
    SETPOINT,
    STEP,
    WORK,
    Matrix,
    Tower,
    Vector,
)
from guidegen.heat.network import Network, Rows
from guidegen.heat.states import copy
from guidegen.heat.steps import carried, make_exact
from guidegen.heat.temperature import ZERO_CELSIUS

BELOW_TOUCH, BELOW_90 = range(2)
TIMES = 2
GOALS = np.array([ZERO_CELSIUS + 40.0, ZERO_CELSIUS + 90.0])
"""K: below the first bare metal may be touched for any time; below the second water no longer flashes in the open."""
LONGEST = 24 * 3600.0
"""s; what takes longer is given up."""
LOOK = 60.0
"""s between looks while cooling; a line between two of them lies above the curve, so the moment is an upper bound."""


@dataclass(frozen=True)
class CoolDownTimes:
    """Seconds from switching off, each of shape (n,); infinite where it was not reached within a day."""

    touch: Rows
    below_90: Rows


def cool_down(network: Network) -> CoolDownTimes:
    """Give how long each row takes to cool from idle, heater off, into the case air and room of the network.

    Parameters: network of n rows.
    Returns: seconds until element, boiler, group, water and coil are all below 40 °C, and until the water is below
        90 °C, each of shape (n,); infinite where a day does not suffice.
    Valid for: what `network` says. It says nothing about pressure.
    Equation: those of `network` with q = 0.
    Source: none; a balance of energy.

    >>> from guidegen.heat.example import example
    >>> made = cool_down(example())
    >>> bool(made.below_90[0] < 1800 < made.touch[0])
    True
    """
    fleet, times = Fleet(network.parameters()), np.full((len(network), TIMES), np.inf)
    fleet.p[:, HEATER_POWER] = 0.0

    def compute(start: int, stop: int) -> None:
        exact, work = np.zeros((MODES, MATRICES, LUMPED, LUMPED)), np.zeros((WORK, LUMPED))
        cooled_rows(start, stop, fleet.p, exact, times, work)

    fleet.share_out(compute, len(fleet))
    return CoolDownTimes(times[:, BELOW_TOUCH], times[:, BELOW_90])


@kernel
def cooled_rows(start: int, stop: int, p_all: Matrix, exact: Tower, times: Matrix, work: Matrix) -> None:
    """Write when each row has cooled; infinite to begin with, and where it takes longer than a day.

    p_all: rows whose heater has no power, so that its mode does not matter. exact, work: scratch.
    """
    y, new = work[0], work[1]
    for r in range(start, stop):
        p = p_all[r]
        settled(p, p[SETPOINT], y)
        make_exact(p, exact, ON, LOOK)
        # The slot of the mode carries the constant one.
        y[MODE] = 1.0
        for goal in range(TIMES):
            if warmest(y, p, goal) <= GOALS[goal]:
                times[r, goal] = 0.0
        time = 0.0
        while time < LONGEST and (times[r, BELOW_TOUCH] == np.inf or times[r, BELOW_90] == np.inf):
            carried(exact[ON - FIRST_MODE, STEP], y, new)
            time += LOOK
            for goal in range(TIMES):
                now = warmest(new, p, goal)
                if times[r, goal] == np.inf and now <= GOALS[goal]:
                    times[r, goal] = time - LOOK * (GOALS[goal] - now) / (warmest(y, p, goal) - now)
            copy(new, y)


@kernel
def warmest(y: Vector, p: Vector, goal: int) -> float:
    """The warmest of all that is to come below a goal, K: everything to be touched, or the water alone."""
    if goal == BELOW_90:
        return float(y[LUMPS])
    most = max(max(y[ELEMENT], y[BOILER]), max(y[GROUP], y[LUMPS]))
    if p[CELLS] > 0.0:
        most = max(most, max(y[LUMPS + 1], y[LUMPS + 2]))
    return float(most)


FORMULAS = (
    Formula(
        "Cool-down", "the network's balances with q = 0, until max(Te, Tb, Tg, W, X, Y) = 40 °C and until W = 90 °C",
        (Symbol("q", "heater power", "W"),),
    ),
)  # fmt: skip
