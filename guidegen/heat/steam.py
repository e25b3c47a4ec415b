"""The way back from steam to brewing: by waiting, or by flushing. Compiled, by rows."""

from __future__ import annotations

import numpy as np

from guidegen.heat.compiled import kernel
from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.idle import settled
from guidegen.heat.layout import (
    BETWEEN,
    INTEGRAL,
    LUMPED,
    MODE,
    SENSOR,
    SETPOINT,
    Matrix,
    Tower,
    Vector,
)
from guidegen.heat.runs import run
from guidegen.heat.states import size_of, spread
from guidegen.heat.warming import NEAR_SETPOINT

LONGEST_WAIT, LONGEST_FLUSH = 3600.0, 120.0
"""s; what takes longer is given up."""
LOOK_WAITING, LOOK_FLUSHING = 4.0, 1.0
"""s between two looks at the sensor; a line between them lies above the curve, so a moment is an upper bound."""

# What the way back takes, s.
BY_WAITING, BY_FLUSHING = range(2)
WAYS = 2


@kernel
def back_rows(start: int, stop: int, p_all: Matrix, exact: Tower, steam: Vector, flow: float, ways: Matrix,
              whole: Vector, nothing: Matrix, work: Matrix) -> None:  # fmt: skip
    """Write the ways back of rows; infinite where it takes too long.

    flow: of the flush, W/K. whole, work: scratch for the longest state. nothing: a trace without rows.
    """
    lumped = work[5, :LUMPED]
    for r in range(start, stop):
        p, full = p_all[r], whole[: size_of(p_all[r])]
        ready = p[SETPOINT] + NEAR_SETPOINT
        for by in range(2):
            settled(p, steam[r], lumped)
            lumped[INTEGRAL], lumped[MODE] = 0.0, BETWEEN
            spread(lumped, p, full)
            y = lumped if by == BY_WAITING else full
            look, longest = LOOK_WAITING, LONGEST_WAIT
            if by == BY_FLUSHING:
                look, longest = LOOK_FLUSHING, LONGEST_FLUSH
            time, before, now = 0.0, y[SENSOR], y[SENSOR]
            while now > ready and time < longest:
                run(y, p, work, exact[r], flow if by == BY_FLUSHING else 0.0, look, np.nan, 0.0, nothing, 0)
                time, before, now = time + look, now, y[SENSOR]
            ways[r, by] = np.inf
            if now <= ready:
                ways[r, by] = time - look * (ready - now) / (before - now) if before > now else time


FORMULAS = (
    Formula(
        "After steam",
        "from the balance with Ts = T_steam until Ts = setpoint + 2 K, at rest or at the flush's flow",
        (Symbol("Ts", "sensor temperature", "K"),),
    ),
)
