"""Cooling down with the heater off, from idle until nothing burns any more."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from guidegen.heat.cooled import BELOW_90, BELOW_TOUCH, TIMES, cooled_rows
from guidegen.heat.fleet import Fleet
from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.layout import HEATER_POWER, LUMPED, MATRICES, MODES, WORK
from guidegen.heat.network import Network, Rows
from guidegen.heat.temperature import ZERO_CELSIUS

GOALS = np.array([ZERO_CELSIUS + 40.0, ZERO_CELSIUS + 90.0])
"""K: below the first bare metal may be touched for any time; below the second water no longer flashes in the open."""


@dataclass(frozen=True)
class CoolDownTimes:
    """Seconds from switching off, each of shape (n,); infinite where it was not reached within a day."""

    touch: Rows
    below_90: Rows


def cool_down(network: Network) -> CoolDownTimes:
    """Give how long each row takes to cool from idle, heater off, through its case into the room.

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
        cooled_rows(start, stop, fleet.p, exact, GOALS, times, work)

    fleet.share_out(compute, len(fleet))
    return CoolDownTimes(times[:, BELOW_TOUCH], times[:, BELOW_90])


FORMULAS = (
    Formula(
        "Cool-down", "the network's balances with q = 0, until max(Te, Tb, Tg, W, X, Y) = 40 °C and until W = 90 °C",
        (Symbol("q", "heater power", "W"),),
    ),
)  # fmt: skip
