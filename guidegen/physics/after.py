"""After use: cooling down with the heater off, and coming back from steam. One row at a time, few are asked for."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from guidegen.physics import kernels as k
from guidegen.physics import program
from guidegen.physics.idle import settled, spread
from guidegen.physics.network import Network
from guidegen.physics.runs import COLUMNS, FLOW_STEP, REST_STEP, flowing, means, rest
from guidegen.physics.study import CELLS, Pull, _pull

TOUCH, HOT_WATER = 273.15 + 40.0, 273.15 + 90.0
"""K: below the first bare metal may be touched for any time; below the second water no longer flashes in the open."""
_LONGEST_COOLING, _LOOK = 24 * 3600.0, 60.0


@dataclass(frozen=True)
class CoolDown:
    """Seconds from switching off; None where it was not reached within a day."""

    touch: float | None
    below_90: float | None


def cool_down(network: Network, row: int = 0) -> CoolDown:
    """How long one row takes to cool from idle, heater off, into the case air and room of the network.

    Equation: the network's own, heater power zero. The caller makes it an upper bound by giving the row small losses,
    large capacities and warm air. It says nothing about pressure.
    """
    p = network.row(row).parameters()[0]
    lumped, cells, work = _idle(p, p[k.SETPOINT])
    p[k.HEATER_POWER] = 0.0
    lumped[k.RELAY] = 0.0
    touch = below = None
    time, empty = 0.0, np.empty((0, COLUMNS))
    parts = [k.ELEMENT, k.BOILER, k.GROUP, k.LUMPS] + ([k.LUMPS + 1, k.LUMPS + 2] if cells else [])
    while time < _LONGEST_COOLING and touch is None:
        rest(lumped, p, cells, _LOOK, REST_STEP, work, empty)
        time += _LOOK
        if below is None and lumped[k.LUMPS] <= HOT_WATER:
            below = time
        if lumped[parts].max() <= TOUCH:
            touch = time
    return CoolDown(touch, below)


@dataclass(frozen=True)
class AfterSteam:
    """The way back from steam: seconds of waiting, or kg of water to flush; and the coil's highest temperature, K."""

    wait: float | None
    flush: float | None
    coil_highest: float | None


def after_steam(network: Network, steam: float, flush: Pull, row: int = 0) -> AfterSteam:
    """How one row comes back to within 2 K of its setpoint from a steady steam temperature in K.

    Waiting leaves the control alone; flushing draws at the pull's flow. Steam itself is not modelled: the boiler is
    taken as full of water at that temperature, so that the flush is an upper bound.
    """
    p = network.row(row).parameters()[0]
    ready = p[k.SETPOINT] + program.NEAR_SETPOINT
    lumped, cells, work = _idle(p, steam)
    lumped[k.INTEGRAL], lumped[k.RELAY] = 0.0, 0.0
    start = lumped.copy()
    time, wait, empty = 0.0, None, np.empty((0, COLUMNS))
    while time < 3600.0 and wait is None:
        rest(lumped, p, cells, 2.0, REST_STEP, work, empty)
        time += 2.0
        wait = time if lumped[k.SENSOR] <= ready else None
    mixed, cells, size = program.sizes(p, CELLS)
    full, work = np.empty(size), np.empty((6, size))
    spread(start, mixed, cells, full)
    mass_flow, flow, _ = _pull(flush)
    time, flushed = 0.0, None
    while time < 120.0 and flushed is None:
        flowing(full, p, mixed, cells, flow, 1.0, FLOW_STEP, work, empty)
        time += 1.0
        flushed = time * mass_flow if full[k.SENSOR] <= ready else None
    return AfterSteam(wait, flushed, float(start[k.LUMPS + 2]) if cells else None)


def _idle(p: NDArray[np.float64], temperature: float) -> tuple[NDArray[np.float64], int, NDArray[np.float64]]:
    """The settled state of means at a sensor temperature, the number of coil cells, and scratch."""
    mixed, cells, size = program.sizes(p, CELLS)
    full, lumped = np.empty(size), np.empty(k.LUMPS + 3)
    settled(p, temperature, mixed, cells, full)
    means(full, mixed, cells, lumped)
    return lumped, cells, np.empty((6, size))
