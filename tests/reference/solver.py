"""The second statement of the equations under a general solver: LSODA, restarted wherever the flow or a relay changes."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

from guidegen.physics.network import Network
from tests.reference.equations import packed, rates, stored

Numbers = NDArray[np.float64]


@dataclass(frozen=True)
class Leg:
    """So many seconds at a flow in kg/s; zero is rest."""

    duration: float
    flow: float = 0.0


@dataclass(frozen=True)
class Solution:
    """Times from the start, s, and the state at each; switchings of a relay: time, and whether it then is on."""

    times: Numbers
    states: Numbers
    switched: tuple[tuple[float, bool], ...]


def solve(
    network: Network, row: int, start: Numbers, legs: list[Leg], looks: Numbers, cells: int, on: bool = True,
    relative: float = 1e-10,
) -> Solution:  # fmt: skip
    """Solve from a start; the states at the looked-at times. A relay starts on or off."""
    a, m = packed(network, row), int(network.mixing[row])
    n = cells if network.coil is not None else 0
    relay_control = a[17] == 0.0
    edges = np.concatenate(([0.0], np.cumsum([leg.duration for leg in legs])))
    y, found, switched = start.copy(), [], []
    times = []
    for leg, (begin, end) in zip(legs, pairwise(edges), strict=True):
        flow, now = leg.flow * 4190.0, begin
        while now < end - 1e-12:
            d = np.empty_like(y)

            def rate(_t: float, z: Numbers, flow: float = flow, on: bool = on) -> Numbers:
                out = np.empty_like(z)
                rates(z, a, m, n, flow, 1.0 if on else 0.0, out)
                return out

            threshold = a[18] if on else a[19]

            def crossing(_t: float, z: Numbers, threshold: float = threshold) -> float:
                return float(z[3] - threshold)

            crossing.terminal = True  # type: ignore[attr-defined]
            crossing.direction = 1.0 if on else -1.0  # type: ignore[attr-defined]
            wanted = looks[(looks > now + 1e-9) & (looks <= end + 1e-9)]
            run = solve_ivp(
                rate, (now, end), y, "LSODA", t_eval=np.unique(np.clip(np.append(wanted, end), now, end)),
                events=crossing if relay_control else None, rtol=relative, atol=1e-9, max_step=5.0,
            )  # fmt: skip
            assert run.success, run.message
            hit = relay_control and len(run.t_events[0]) > 0
            stop = float(run.t_events[0][0]) if hit else end
            for t, z in zip(run.t, run.y.T, strict=True):
                if np.any(np.abs(wanted - t) < 1e-9):
                    times.append(t)
                    found.append(z.copy())
            y = run.y_events[0][0].copy() if hit else run.y[:, -1].copy()
            now = stop
            if hit:
                on = not on
                switched.append((stop, on))
            del d
    return Solution(np.array(times), np.array(found), tuple(switched))


def imbalance(network: Network, row: int, start: Numbers, end: Numbers, cells: int) -> float:
    """|in - out - stored| of a run, J, from its first and last state."""
    a, m = packed(network, row), int(network.mixing[row])
    n = cells if network.coil is not None else 0
    moved = (end[5] - start[5]) - (end[6] - start[6]) - (end[7] - start[7])
    return abs(moved - stored(end, a, m, n) + stored(start, a, m, n))
