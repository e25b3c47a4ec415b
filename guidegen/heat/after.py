"""After use: cooling down with the heater off, one row at a time, and coming back from steam."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from guidegen.heat import layout as k
from guidegen.heat.fleet import Fleet
from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.idle import settled
from guidegen.heat.network import Network, Rows
from guidegen.heat.pull import Pull
from guidegen.heat.runs import run
from guidegen.heat.steam import BY_FLUSHING, BY_WAITING, WAYS, back_rows
from guidegen.heat.temperature import ZERO_CELSIUS

TOUCH, HOT_WATER = ZERO_CELSIUS + 40.0, ZERO_CELSIUS + 90.0
"""K: below the first bare metal may be touched for any time; below the second water no longer flashes in the open."""
LONGEST = 24 * 3600.0
"""s; what takes longer is given up."""
LOOK = 60.0
"""s between looks while cooling; a line between two of them lies above the curve, so the moment is an upper bound."""


@dataclass(frozen=True)
class CoolDownTimes:
    """Seconds from switching off; None where it was not reached within a day."""

    touch: float | None
    below_90: float | None


def cool_down(network: Network, row: int = 0) -> CoolDownTimes:
    """Give how long one row takes to cool from idle, heater off, into the case air and room of the network.

    Parameters: network; row, which of its rows.
    Returns: seconds until element, boiler, group, water and coil are all below 40 °C, and until the water is below
        90 °C; None where a day does not suffice.
    Valid for: what `network` says. An upper bound only where the caller gives the row small losses, large
        capacities and warm air. It says nothing about pressure.
    Equation: those of `network` with q = 0.
    Source: none; a balance of energy.

    >>> from guidegen.heat.example import example
    >>> made = cool_down(example())
    >>> made.below_90 < 1800 < made.touch
    True
    """
    fleet, lumped = Fleet(network.row(row).parameters()), np.zeros(k.LUMPED)
    settled(fleet.p[0], float(fleet.p[0, k.SETPOINT]), lumped)
    fleet.p[0, k.HEATER_POWER] = 0.0
    lumped[k.MODE] = k.BETWEEN
    parts = [k.ELEMENT, k.BOILER, k.GROUP, k.LUMPS] + ([k.LUMPS + 1, k.LUMPS + 2] if network.coil else [])
    return CoolDownTimes(
        touch=_falls(lumped, fleet, parts, TOUCH),
        below_90=_falls(lumped, fleet, [k.LUMPS], HOT_WATER),
    )


@dataclass(frozen=True)
class SteamRecovery:
    """The way back from steam, each of shape (n,): seconds of waiting, or kg of water to flush; infinite: too long."""

    wait: Rows
    flush: Rows


def after_steam(network: Network, steam: Rows, flush: Pull) -> SteamRecovery:
    """Give how each row comes back to within 2 K of its setpoint from a steady steam temperature.

    Parameters: network of n rows; steam temperature, K, shape (n,); flush, of which the flow counts.
    Returns: seconds of waiting, kg of water to flush; infinite where an hour or two minutes do not suffice.
    Valid for: what `network` says. Steam itself is not modelled: the boiler is taken as full of water at that
        temperature, so that the flush is an upper bound.
    Equation: those of `network`.
    Source: none; a balance of energy.

    >>> from guidegen.heat.example import example
    >>> back = after_steam(example(), np.array([273.15 + 130.0]), Pull(0.06, 15.0))
    >>> bool(0.02 < back.flush[0] < 0.2 and back.wait[0] > 120)
    True
    """
    if len(steam) != len(network):
        raise ValueError("steam: one temperature for each row")
    fleet = Fleet(network.parameters())
    mass_flow, flow, _ = flush.row()
    ways = np.full((len(fleet), WAYS), np.nan)

    def compute(start: int, stop: int) -> None:
        width = max(fleet.longest, k.LUMPED, fleet.cells + 1)
        work, nothing = np.zeros((k.WORK, width)), np.empty((0, k.COLUMNS))
        back_rows(start, stop, fleet.p, fleet.exact, steam, flow, ways, np.zeros(fleet.longest), nothing, work)

    fleet.share_out(compute, len(fleet))
    return SteamRecovery(ways[:, BY_WAITING], ways[:, BY_FLUSHING] * mass_flow)


def soaked_coil(network: Network, temperature: Rows) -> Rows:
    """Give how hot a coil gets that has long stood round a boiler.

    Parameters: network of n rows; temperature that the sensor sees, K, shape (n,).
    Returns: temperature of the coil's metal, K, shape (n,).
    Valid for: what `network` says; a network with a coil.
    Equation: those of `network`, with all rates zero.
    Source: none; a balance of energy.

    >>> from guidegen.heat.example import example
    >>> bool(293.15 < soaked_coil(example(), np.array([403.15]))[0] < 403.15)
    ... # warmer than the room, colder than the boiler
    True
    """
    if network.coil is None or len(temperature) != len(network):
        raise ValueError("soaked_coil: a network with a coil, and one temperature for each row")
    parameters, lumped, found = network.parameters(), np.zeros(k.LUMPED), np.empty(len(network))
    for row in range(len(network)):
        settled(parameters[row], temperature[row], lumped)
        found[row] = lumped[k.LUMPS + 2]
    return found


def _falls(lumped: k.Vector, fleet: Fleet, parts: list[int], goal: float) -> float | None:
    """When the warmest of some parts has fallen to a goal, s, on the line between two looks."""
    y, work, nothing = lumped.copy(), np.zeros((k.WORK, k.LUMPED)), np.empty((0, k.COLUMNS))
    time, now = 0.0, float(np.max(lumped[parts]))
    while now > goal:
        if time >= LONGEST:
            return None
        before = now
        run(y, fleet.p[0], work, fleet.exact[0], 0.0, LOOK, np.nan, 0.0, nothing, 0)
        time += LOOK
        now = float(np.max(y[parts]))
        if now <= goal:
            return time - LOOK * float((goal - now) / (before - now))
    return time


FORMULAS = (
    Formula(
        "Cool-down", "the network's balances with q = 0, until max(Te, Tb, Tg, W, X, Y) = 40 °C and until W = 90 °C",
        (Symbol("q", "heater power", "W"),),
    ),
)  # fmt: skip
