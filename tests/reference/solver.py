"""The second statement of the equations under a general solver, LSODA, restarted wherever the equations change.

They change with the flow, with a relay, and where PID control starts or stops to hold its integral. At a limit of the
heater the integral may do neither: held, the controller would leave the limit, moving, it would come back. Then it
moves just so much that what is asked for stays at the limit (Filippov's solution of an equation with a jump).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

from guidegen.heat.network import Network
from tests.reference.equations import packed, rates, stored

Numbers = NDArray[np.float64]
Event = Callable[[float, Numbers], float]
FREE, FREE_FULL, FREE_NOUGHT, HELD_FULL, HELD_NOUGHT, ALONG_FULL, ALONG_NOUGHT, ON, OFF = range(9)
AT_LIMIT, HAIR = 1e-6, 1e-8
"""W: what is asked for is at a limit when so near; W, K or W/s: how far behind its border a regime ends."""


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


@dataclass(frozen=True)
class System:
    """One row at one flow: rates, and what the controller asks for and does next."""

    a: Numbers
    m: int
    n: int
    flow: float

    def rate(self, y: Numbers, regime: int) -> Numbers:
        """Rates of change within one regime."""
        d = np.empty_like(y)
        rates(y, self.a, self.m, self.n, self.flow, 1.0 if regime == ON else 0.0, d)
        if regime in (FREE, FREE_FULL, FREE_NOUGHT):
            d[4] = self.a[20] * self.error(y)
        elif regime in (HELD_FULL, HELD_NOUGHT):
            d[4] = 0.0
        elif regime in (ALONG_FULL, ALONG_NOUGHT):
            d[4] = -self.drift(d)
        return d

    def error(self, y: Numbers) -> float:
        """How far the sensor is below its setpoint, K."""
        return float(self.a[18] - y[3])

    def asked(self, y: Numbers) -> float:
        """The power that PID control asks for, W."""
        sensed = self.a[13] * y[1] + (1.0 - self.a[13]) * y[8 : 8 + self.m].mean()
        return float(self.a[19] * self.error(y) + y[4] - self.a[21] * (sensed - y[3]) / self.a[12])

    def drift(self, d: Numbers) -> float:
        """The rate of what is asked for while the integral is held, W/s."""
        turning = (self.a[13] * d[1] + (1.0 - self.a[13]) * d[8 : 8 + self.m].mean() - d[3]) / self.a[12]
        return float(-self.a[19] * d[3] - self.a[21] * turning)

    def regime(self, y: Numbers) -> int:
        """What PID control does in a state."""
        asked, error = self.asked(y), self.error(y)
        drift = self.drift(self.rate(y, HELD_FULL))
        moved = drift + self.a[20] * error
        if error > 0.0 and asked >= self.a[0] - AT_LIMIT:
            if asked > self.a[0] + AT_LIMIT or drift > 0.0:
                return HELD_FULL
            return FREE if moved < 0.0 else ALONG_FULL
        if error < 0.0 and asked <= AT_LIMIT:
            if asked < -AT_LIMIT or drift < 0.0:
                return HELD_NOUGHT
            return FREE if moved > 0.0 else ALONG_NOUGHT
        if error <= 0.0 and asked > self.a[0]:
            return FREE_FULL
        return FREE_NOUGHT if error >= 0.0 and asked < 0.0 else FREE

    def margins(self, y: Numbers, regime: int) -> tuple[float, ...]:
        """What is above zero inside a regime, and ends it when it falls below."""
        if regime in (ON, OFF):
            return (self.a[18] - y[3],) if regime == ON else (y[3] - self.a[19],)
        asked, error = self.asked(y), self.error(y)
        if regime == HELD_FULL:
            return asked - self.a[0], error
        if regime == HELD_NOUGHT:
            return -asked, -error
        if regime == FREE:
            return self.a[0] - asked, asked
        if regime == FREE_FULL:
            return asked - self.a[0], -error
        if regime == FREE_NOUGHT:
            return -asked, error
        drift = self.drift(self.rate(y, HELD_FULL))
        moved = drift + self.a[20] * error
        return (-drift, moved) if regime == ALONG_FULL else (drift, -moved)

    def events(self, y: Numbers, regime: int) -> list[Event]:
        """The margins as events, a hair behind zero, so that a regime may start at its border."""

        def event(which: int) -> Event:
            def found(_t: float, z: Numbers) -> float:
                return self.margins(z, regime)[which] + HAIR

            found.terminal, found.direction = True, -1.0  # type: ignore[attr-defined]
            return found

        return [event(which) for which in range(len(self.margins(y, regime)))]


def solve(
    network: Network, row: int, start: Numbers, legs: list[Leg], looks: Numbers, cells: int, on: bool = True,
    relative: float = 1e-10,
) -> Solution:  # fmt: skip
    """Solve from a start; the states at the looked-at times. A relay starts on or off."""
    a, m = packed(network, row), int(network.mixing[row])
    n, relay = cells if network.coil is not None else 0, a[17] == 0.0
    edges = np.concatenate(([0.0], np.cumsum([leg.duration for leg in legs])))
    y, times, found, switched = start.copy(), [], [], []
    for leg, (begin, end) in zip(legs, pairwise(edges), strict=True):
        system, now = System(a, m, n, leg.flow * 4190.0), begin
        while now < end - 1e-9:
            regime = (ON if on else OFF) if relay else system.regime(y)
            wanted = looks[(looks > now + 1e-9) & (looks <= end + 1e-9)]
            run = solve_ivp(
                lambda _t, z, system=system, regime=regime: system.rate(z, regime), (now, end), y, "LSODA",
                dense_output=True, events=system.events(y, regime), rtol=relative, atol=1e-9, max_step=2.0,
            )  # fmt: skip
            assert run.success, run.message
            hits = [(float(t[0]), z[0]) for t, z in zip(run.t_events, run.y_events, strict=True) if len(t)]
            stop, after = min(hits, key=lambda hit: hit[0]) if hits else (end, run.y[:, -1])
            for t in wanted[wanted <= stop + 1e-9]:
                times.append(float(t))
                found.append(run.sol(min(float(t), stop)))
            y, now = after.copy(), stop
            if hits and relay:
                on = not on
                switched.append((stop, on))
    return Solution(np.array(times), np.array(found), tuple(switched))


def small_steps(network: Network, row: int, start: Numbers, legs: list[Leg], cells: int, h: float = 2e-3) -> Numbers:
    """The state at the end of the legs by very many small steps of the equations as they are defined, jumps and all.

    Midpoint steps; no regime is treated separately, so this is what the regimes above have to agree with.
    """
    a, m = packed(network, row), int(network.mixing[row])
    n, y = cells if network.coil is not None else 0, start.copy()
    d = np.empty_like(y)
    for leg in legs:
        for _ in range(round(leg.duration / h)):
            rates(y, a, m, n, leg.flow * 4190.0, 0.0, d)
            rates(y + 0.5 * h * d, a, m, n, leg.flow * 4190.0, 0.0, d)
            y = y + h * d
    return y


def imbalance(network: Network, row: int, start: Numbers, end: Numbers, cells: int) -> float:
    """|in - out - stored| of a run, J, from its first and last state."""
    a, m = packed(network, row), int(network.mixing[row])
    n = cells if network.coil is not None else 0
    moved = (end[5] - start[5]) - (end[6] - start[6]) - (end[7] - start[7])
    return abs(moved - stored(end, a, m, n) + stored(start, a, m, n))
