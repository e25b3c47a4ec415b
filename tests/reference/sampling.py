"""What a controller that samples changes, for the methods page: written by `python -m tests.reference.sampling`.

The model's controller is continuous; a real one reads its sensor at intervals and holds its output in between.
Here the reference's equations are stepped under such a controller: error and integral by rectangles, the rate from two
readings, the integral held while the output is at a limit in the error's direction, the output held for a period.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np
from scipy.integrate import solve_ivp

from guidegen.heat.fleet import CELLS
from guidegen.heat.network import WATER_SPECIFIC_HEAT
from tests.reference import machines, ours
from tests.reference.equations import packed, rates
from tests.reference.solver import Leg, solve

FILE = Path(__file__).parents[2] / "guidegen" / "site" / "pages" / "data" / "sampling.json"
PERIODS = (0.25, 0.5, 1.0, 2.0, 4.0)
"""s between two looks at the sensor."""
LEGS = (Leg(28.0, 50e-3 / 28.0), Leg(60.0))
"""A double, 50 g in 28 s, and the minute after it."""
LOOKS = 4
"""Reads the sensor per period, for its lowest value."""


def continuous(coil: bool) -> float:
    """The sensor drop with the model's controller, K."""
    network = machines.reference(coil)
    start = ours.in_their_terms(ours.start_of(network, 0, CELLS))
    looks = np.linspace(0.0, 88.0, 881)
    found = solve(network, 0, start, LEGS, looks, CELLS, relative=1e-8).states[:, 3]
    return float(start[3] - found.min())


def sampled(coil: bool, period: float) -> float:
    """The sensor drop under a controller that looks every so many seconds, from the same idle state, K."""
    network = machines.reference(coil)
    a, n = packed(network), CELLS if coil else 0
    full, setpoint, gain, integral_gain, rate_gain = a[0], *a[18:22]
    a[17] = 0.0  # The power is given from outside, as that of a relay is.
    y = ours.in_their_terms(ours.start_of(network, 0, CELLS))
    first = lowest = before = float(y[3])
    integral = float(y[4])
    for leg in LEGS:
        for _ in range(round(leg.duration / period)):
            error = setpoint - y[3]
            asked = gain * error + integral - rate_gain * (y[3] - before) / period
            if not (asked >= full and error > 0.0) and not (asked <= 0.0 and error < 0.0):
                integral += integral_gain * error * period
            before, share = float(y[3]), min(max(asked / full, 0.0), 1.0)

            def rate(_: float, now: Any, flow: float = leg.flow, share: float = share) -> Any:
                d = np.empty_like(now)
                rates(now, a, 1, n, flow * WATER_SPECIFIC_HEAT, share, d)
                return d

            looks = np.linspace(0.0, period, LOOKS + 1)
            made = solve_ivp(rate, (0.0, period), y, "LSODA", looks, rtol=1e-7, atol=1e-7)
            y, lowest = made.y[:, -1], min(lowest, float(made.y[3].min()))
    return first - lowest


def rows() -> list[dict[str, float]]:
    """One row per period, and a first one, of period nought, for the model's own controller."""
    made = [{"period_s": 0.0, "without_k": continuous(False), "with_k": continuous(True)}]
    made += [{"period_s": one, "without_k": sampled(False, one), "with_k": sampled(True, one)} for one in PERIODS]
    return [{name: round(value, 2) for name, value in row.items()} for row in made]


if __name__ == "__main__":
    FILE.write_text(json.dumps(rows(), indent=1) + "\n", encoding="utf-8")
