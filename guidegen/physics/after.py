"""After use: cooling down with the heater off, and coming back from steam. One row at a time, few are asked for."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from guidegen.physics import layout as k
from guidegen.physics.fleet import Fleet
from guidegen.physics.formula import Formula, Symbol
from guidegen.physics.idle import settled
from guidegen.physics.network import Network
from guidegen.physics.pull import Pull
from guidegen.physics.runs import run
from guidegen.physics.warming import NEAR_SETPOINT

TOUCH, HOT_WATER = 273.15 + 40.0, 273.15 + 90.0
"""K: below the first bare metal may be touched for any time; below the second water no longer flashes in the open."""
LONGEST_COOLING, LONGEST_WAIT, LONGEST_FLUSH = 24 * 3600.0, 3600.0, 120.0
"""s; what takes longer is given up."""
LOOK = 60.0
"""s between looks while cooling; a line between two of them lies above the curve, so the moment is an upper bound."""


@dataclass(frozen=True)
class CoolDown:
    """Seconds from switching off; None where it was not reached within a day."""

    touch: float | None
    below_90: float | None


def cool_down(network: Network, row: int = 0) -> CoolDown:
    """Give how long one row takes to cool from idle, heater off, into the case air and room of the network.

    Parameters: network; row, which of its rows.
    Returns: seconds until element, boiler, group, water and coil are all below 40 °C, and until the water is below
        90 °C; None where a day does not suffice.
    Valid for: what `network` says. An upper bound only where the caller gives the row small losses, large
        capacities and warm air. It says nothing about pressure.
    Equation: those of `network` with q = 0.
    Source: none; a balance of energy.

    >>> from guidegen.physics.example import example
    >>> made = cool_down(example())
    >>> made.below_90 < 1800 < made.touch
    True
    """
    fleet, lumped = _idle(network, row, None)
    fleet.p[0, k.HEATER_POWER] = 0.0
    lumped[k.MODE] = k.BETWEEN
    parts = [k.ELEMENT, k.BOILER, k.GROUP, k.LUMPS] + ([k.LUMPS + 1, k.LUMPS + 2] if network.coil else [])
    return CoolDown(
        touch=_falls(lumped, fleet, parts, TOUCH, LOOK, LONGEST_COOLING),
        below_90=_falls(lumped, fleet, [k.LUMPS], HOT_WATER, LOOK, LONGEST_COOLING),
    )


@dataclass(frozen=True)
class AfterSteam:
    """The way back from steam: seconds of waiting, or kg of water to flush; and the coil's highest temperature, K."""

    wait: float | None
    flush: float | None
    coil_highest: float | None


def after_steam(network: Network, steam: float, flush: Pull, row: int = 0) -> AfterSteam:
    """Give how one row comes back to within 2 K of its setpoint from a steady steam temperature.

    Parameters: network; steam temperature, K; flush, of which the flow counts; row, which of its rows.
    Returns: seconds of waiting, kg of water to flush, and the temperature of a coil that has soaked at steam
        temperature, K; None where an hour or two minutes do not suffice, or without a coil.
    Valid for: what `network` says. Steam itself is not modelled: the boiler is taken as full of water at that
        temperature, so that the flush is an upper bound.
    Equation: those of `network`.
    Source: none; a balance of energy.

    >>> from guidegen.physics.example import example
    >>> back = after_steam(example(), 273.15 + 130.0, Pull(0.06, 15.0))
    >>> 0.02 < back.flush < 0.2 and back.wait > 120
    True
    """
    fleet, lumped = _idle(network, row, steam)
    lumped[k.INTEGRAL], lumped[k.MODE] = 0.0, k.BETWEEN
    p = fleet.p[0]
    ready = float(p[k.SETPOINT]) + NEAR_SETPOINT
    wait = _falls(lumped, fleet, [k.SENSOR], ready, 2.0, LONGEST_WAIT)
    full = fleet.full(lumped[np.newaxis])[0]
    work, nothing = np.zeros((k.WORK, max(len(full), k.LUMPED))), np.empty((0, k.COLUMNS))
    mass_flow, flow, _ = flush.row()
    time, flushed = 0.0, 0.0 if full[k.SENSOR] <= ready else None
    while time < LONGEST_FLUSH and flushed is None:
        before = full[k.SENSOR]
        run(full, p, work, fleet.exact[0], flow, 1.0, np.nan, 0.0, nothing, 0)
        time += 1.0
        if full[k.SENSOR] <= ready:
            flushed = mass_flow * (time - _share(before, full[k.SENSOR], ready))
    return AfterSteam(wait, flushed, float(lumped[k.LUMPS + 2]) if network.coil else None)


def _falls(lumped: k.Vector, fleet: Fleet, parts: list[int], goal: float, look: float, longest: float) -> float | None:
    """When the warmest of some parts has fallen to a goal at rest, s, on the line between two looks."""
    y, work, nothing = lumped.copy(), np.zeros((k.WORK, k.LUMPED)), np.empty((0, k.COLUMNS))
    time, now = 0.0, float(np.max(lumped[parts]))
    while now > goal:
        if time >= longest:
            return None
        before = now
        run(y, fleet.p[0], work, fleet.exact[0], 0.0, look, np.nan, 0.0, nothing, 0)
        time += look
        now = float(np.max(y[parts]))
        if now <= goal:
            return time - look * _share(before, now, goal)
    return time


def _share(before: float, now: float, goal: float) -> float:
    """Which share of the last look lies behind the moment."""
    return float((goal - now) / (before - now)) if before > now else 0.0


def _idle(network: Network, row: int, temperature: float | None) -> tuple[Fleet, k.Vector]:
    """One row ready to run, and its settled state of means at a sensor temperature, or at the setpoint."""
    fleet, lumped = Fleet(network.row(row).parameters()), np.zeros(k.LUMPED)
    settled(fleet.p[0], float(fleet.p[0, k.SETPOINT]) if temperature is None else temperature, lumped)
    return fleet, lumped


FORMULAS = (
    Formula(
        "Cool-down", "the network's balances with q = 0, until max(Te, Tb, Tg, W, X, Y) = 40 °C and until W = 90 °C",
        (Symbol("q", "heater power", "W"),),
    ),
    Formula(
        "After steam", "from the balance with Ts = T_steam until Ts = setpoint + 2 K, at rest or at the flush's flow",
        (Symbol("Ts", "sensor temperature", "K"),),
    ),
)  # fmt: skip
