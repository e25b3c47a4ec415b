"""The setpoint with which a machine gives the same cup as another."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from guidegen.heat import shot
from guidegen.heat.fleet import CELLS, Fleet, idles
from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.layout import RELAY_CONTROL, SETPOINT
from guidegen.heat.network import Network, Rows
from guidegen.heat.pull import Pull

CLOSE = 1e-3
"""K: the mean outlet is met to within this."""
TRIES, FURTHEST = 8, 60.0
"""Secant steps at most, and K from the present setpoint: further away nothing is called an answer."""


def setpoint_for(
    network: Network, pull: Pull, wanted: Rows, *, finer: float = 1.0, cells: int = CELLS, threads: int | None = None,
    habit: NDArray[np.float64] | None = None,
) -> Rows:  # fmt: skip
    """Give the setpoint at which a drink's mean outlet is the wanted one.

    Parameters: network of n rows; pull, the drink; wanted mean outlet T*, K, shape (n,); finer; cells;
        threads; habit, these four as in `study`.
    Returns: setpoint S, K, shape (n,); nan under a thermostat, where the heater cannot hold it, or further than 60 K
        from the present one.
    Valid for: what `network` says.
    Equation: T_mean(S) = T*, by secants; linear in S but for the heater's limits.
    Source: none; the definition of the output.

    >>> from guidegen.heat.example import example
    >>> bool(setpoint_for(example(), Pull(0.05, 28.0), np.array([363.15]))[0] > 363.15)
    ... # the way to the cup only cools it
    True
    """
    p = network.parameters()
    if np.any(p[:, RELAY_CONTROL] > 0):
        return np.full(len(p), np.nan)

    def outlets() -> Rows:
        fleet = Fleet(p, cells=cells, finer=finer, threads=threads, habit=habit)
        states, facts = fleet.idle()
        return np.where(idles(facts), fleet.shots(states, pull).results[:, shot.AT.mean_outlet], np.nan)

    began, got, slope = p[:, SETPOINT].copy(), outlets(), np.ones(len(p))
    for _ in range(TRIES):
        miss = wanted - got
        open_rows = np.abs(miss) > CLOSE
        if not open_rows.any():
            break
        change = np.where(open_rows, miss / slope, 0.0)
        p[:, SETPOINT] += change
        new = outlets()
        with np.errstate(divide="ignore", invalid="ignore"):
            slope = np.where(np.abs(change) > 1e-6, (new - got) / change, slope)
        got = new
    found: Rows = p[:, SETPOINT]
    met = (np.abs(wanted - got) <= CLOSE) & (np.abs(found - began) < FURTHEST)
    return np.where(met, found, np.nan)


FORMULAS = (
    Formula(
        "Setpoint for the same cup", "T_mean(S) = T*",
        (Symbol("S", "setpoint with the kit", "K"), Symbol("T_mean", "mean outlet by mass with the kit", "K"),
         Symbol("T*", "mean outlet by mass without the kit", "K")),
    ),
)  # fmt: skip
