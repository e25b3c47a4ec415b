"""The sensor in one drink, followed on a grid of time for every row: what a range of curves is made of."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from guidegen.heat import program
from guidegen.heat.fleet import Fleet
from guidegen.heat.layout import SEEN, TIME
from guidegen.heat.network import Network
from guidegen.heat.pull import Pull


def followed(network: Network, pull: Pull, phase: ArrayLike, habit: ArrayLike, grid: ArrayLike) -> NDArray[np.float64]:
    """Give the sensor of each row in a drink from rest.

    Parameters: network of n rows; pull, the drink; phase, for a thermostat the share of its cycle at which each row's
        drink starts, (n,); habit, how each row's drink differs from what is stated, (n, 2), as in `Pull.rows`; grid,
        times from the start of the drink, s, (m,), rising.
    Returns: the sensor, K, (n, m); nan of a row that has no idle state.
    Valid for: what `network` says.
    Equation: those of `network`.
    Source: none; balances of energy.

    >>> from guidegen.heat.example import example
    >>> seen = followed(example(), Pull(0.05, 28.0), np.zeros(1), np.zeros((1, 2)), [0.0, 30.0])
    >>> bool(seen[0, 1] < seen[0, 0])
    True
    """
    times = np.asarray(grid, dtype=np.float64)
    fleet = Fleet(network.parameters(), habit=np.asarray(habit, dtype=np.float64))
    begin = program.starts(fleet, np.asarray(phase, dtype=np.float64), every=()).once()
    seen = np.full((len(fleet), len(times)), np.nan)
    for at, row in enumerate(begin.who):
        one = slice(at, at + 1)
        run = fleet.shots(
            begin.states[one], pull, who=begin.who[one], wait=begin.wait[one], follow=float(times[-1]), show=True
        )
        seen[row] = np.interp(times, run.curve[:, TIME], run.curve[:, SEEN])
    return seen
