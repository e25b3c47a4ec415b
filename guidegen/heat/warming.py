"""From cold: when boiler, group and coil are ready, and from when on a shot is what it will be."""

from __future__ import annotations

import math

import numpy as np

from guidegen.heat.compiled import kernel
from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.idle import GROUP_IDLE, PARKED
from guidegen.heat.layout import (
    CELLS,
    COIL_WATER,
    COLUMNS,
    GROUP_METAL,
    NOUGHT,
    OPENS,
    RELAY_CONTROL,
    SEEN,
    SETPOINT,
    Matrix,
    Tower,
)
from guidegen.heat.runs import run
from guidegen.heat.shot import first_near
from guidegen.heat.states import cold

NEAR_SETPOINT, NEAR_GROUP, NEAR_COIL = 2.0, 1.0, 5.0
"""K: boiler ready, group ready, coil settled are within these of their goal."""
NEAR, COLUMN = np.array([NEAR_SETPOINT, NEAR_GROUP, NEAR_COIL]), np.array([SEEN, GROUP_METAL, COIL_WATER])
LONGEST, SHOWN, LOOK = 7200.0, 1800.0, 60.0
"""s: how long a cold start is watched, how much of it is shown, and in pieces of which length."""

# What the cold start gives, s.
BOILER_READY, GROUP_READY, COIL_SETTLED, SHOT_READY = range(4)
TIMES = 4


@kernel
def cold_rows(start: int, stop: int, p_all: Matrix, exact: Tower, facts: Matrix, times: Matrix, curve: Matrix,
              trace: Matrix, work: Matrix) -> int:  # fmt: skip
    """Switch on in a cold room: when boiler, group and coil are ready, s. Returns how many rows of curve were written.

    times: nan to begin with; infinite where it takes longer than `LONGEST`. curve: gets the trace of row `start`.
    trace, work: scratch, for a minute's rest and of shape (WORK, LUMPED).
    """
    y, shown = work[5], 0
    for r in range(start, stop):
        p, time_of = p_all[r], times[r]
        cold(p, y)
        goal = p[OPENS] if p[RELAY_CONTROL] > 0.0 else p[SETPOINT]
        time, waiting = 0.0, True
        while time < LONGEST and (waiting or (r == start and time < SHOWN and len(curve) > 0)):
            rows = run(y, p, work, exact[r], 0.0, LOOK, np.nan, time, trace, NOUGHT)
            for k in range(3):
                watched = k < COIL_SETTLED or p[CELLS] > 0.0
                if watched and math.isnan(time_of[k]):
                    aim = goal if k == BOILER_READY else facts[r, GROUP_IDLE if k == GROUP_READY else PARKED]
                    time_of[k] = first_near(trace, NOUGHT, rows, COLUMN[k], aim, NEAR[k])
            if r == start and shown + rows <= len(curve):
                for i in range(rows):
                    for c in range(COLUMNS):
                        curve[shown + i, c] = trace[i, c]
                shown += rows
            time += LOOK
            waiting = math.isnan(time_of[BOILER_READY]) or math.isnan(time_of[GROUP_READY])
            waiting = waiting or (p[CELLS] > 0.0 and math.isnan(time_of[COIL_SETTLED]))
        for k in range(3):
            if math.isnan(time_of[k]) and (k < COIL_SETTLED or p[CELLS] > 0.0):
                time_of[k] = np.inf
    return shown


FORMULAS = (
    Formula(
        "Boiler ready, group ready, coil settled",
        "first t with |Ts − setpoint| ≤ 2 K, |Tg − Tg_idle| ≤ 1 K, |mean X − T_park| ≤ 5 K",
        (Symbol("t", "time since switching on in a cold room", "s"), Symbol("Ts", "sensor", "K"),
         Symbol("Tg", "group", "K"), Symbol("X", "coil water", "K"), Symbol("T_park", "parked water", "K")),
    ),
    Formula(
        "Shot ready", "first t ≥ boiler ready with |drop(t) − drop(∞)| ≤ drop(∞) / 10, and again at the next try",
        (Symbol("drop", "sensor drop of a shot started at t", "K"),
         Symbol("drop(∞)", "sensor drop of a shot from idle", "K")),
    ),
    Formula(
        "Warm-up added", "shot ready with the kit − shot ready without",
    ),
)  # fmt: skip
