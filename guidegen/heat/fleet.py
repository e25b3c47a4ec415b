"""All rows of a network, ready to run: compiled functions called for many rows, shared out over threads."""

from __future__ import annotations

import os
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from guidegen.heat import shot
from guidegen.heat.idle import FACTS, HIGH, IDLE_POWER, LOW, PARKED, idle_rows
from guidegen.heat.layout import CELLS as CELLS_OF
from guidegen.heat.layout import (
    COLUMNS,
    FINER,
    HAS_COIL,
    LUMPED,
    LUMPS,
    MATRICES,
    MIXING,
    MODES,
    PARAMETERS,
    WORK,
    Matrix,
    Tower,
    Whole,
)
from guidegen.heat.pull import Pull
from guidegen.heat.runs import trace_rows
from guidegen.heat.states import spread
from guidegen.heat.warming import LOOK, SHOWN, TIMES, cold_rows

CELLS = 48
"""Cells of the coil: enough for half a kelvin of the exact front, in whole vector registers; a test doubles them."""
MOST_THREADS, FEWEST_ROWS = 8, 16
"""Threads at most, and rows that each of them gets at least: a few hundred rows take a fraction of a second."""


@dataclass(frozen=True)
class ShotRun:
    """What shots gave: results by column of `shot`, the states when the draw began and ended, and one trace."""

    results: Matrix
    begun: Matrix
    drawn: Matrix
    curve: Matrix


class Fleet:
    """The rows of one network with what their runs need: parameters, exact steps at rest, the coil's modes.

    parameters: shape (n, parameters), of finite numbers. finer divides every step. habit: how each row's drinks differ
    from what is stated, shape (n, 2), as in `Pull.rows`.
    """

    def __init__(
        self, parameters: Matrix, *, cells: int = CELLS, finer: float = 1.0, threads: int | None = None,
        habit: Matrix | None = None,
    ) -> None:  # fmt: skip
        if parameters.ndim != 2 or parameters.shape[1] != PARAMETERS or not np.isfinite(parameters).all():
            raise ValueError("parameters: rows of finite numbers")
        self.p = np.ascontiguousarray(parameters, dtype=np.float64).copy()
        self.habit = np.zeros((len(self.p), 2)) if habit is None else habit
        if self.habit.shape != (len(self.p), 2):
            raise ValueError("habit: two numbers for each row")
        coil = self.p[:, HAS_COIL] > 0
        self.p[:, CELLS_OF], self.p[:, FINER] = np.where(coil, cells, 0), finer
        self.cells = cells if coil.any() else 0
        self.modes = cosine_modes(self.cells)
        # Zero pages cost nothing until a row's matrices are made.
        self.exact: Tower = np.zeros((len(self.p), MODES, MATRICES, LUMPED, LUMPED))
        self.longest = LUMPS + int(np.max(self.p[:, MIXING])) + 2 * self.cells
        wanted = min(os.cpu_count() or 1, MOST_THREADS) if threads is None else threads
        self.threads = max(1, min(wanted, len(self.p) // FEWEST_ROWS))
        self._helpers: ThreadPoolExecutor | None = None

    def __len__(self) -> int:
        return len(self.p)

    def share_out(self, compute: Callable[[int, int], None], rows: int) -> None:
        """Call a function with start and stop until all rows are done, here and in the helping threads."""
        shares = min(self.threads, max(1, rows // FEWEST_ROWS))
        edges = [(rows * i // shares, rows * (i + 1) // shares) for i in range(shares)]
        if shares > 1 and self._helpers is None:
            self._helpers = ThreadPoolExecutor(self.threads - 1)
        helping = [self._helpers.submit(compute, *ends) for ends in edges[1:]] if self._helpers else []
        compute(*edges[0])
        for one in helping:
            one.result()

    def idle(self) -> tuple[Matrix, Matrix]:
        """Idle states with every cell, shape (n, longest), and facts by column of `idle`, nan where there is none."""
        lumped, facts = self.at_rest()
        return self.full(lumped), facts

    def at_rest(self) -> tuple[Matrix, Matrix]:
        """The same states as means: what has no cells depends neither on how well a boiler mixes nor on the feed."""
        lumped, facts = np.zeros((len(self), LUMPED)), np.full((len(self), FACTS), np.nan)
        self.share_out(
            lambda a, b: idle_rows(a, b, self.p, self.exact, lumped, facts, np.zeros((WORK, LUMPED))), len(self)
        )
        return lumped, facts

    def full(self, lumped: Matrix) -> Matrix:
        """States of means as states with every cell, shape (n, longest)."""
        states = np.zeros((len(self), self.longest))
        for row in range(len(self)):
            spread(lumped[row], self.p[row], states[row])
        return states

    def from_cold(self, facts: Matrix, shown: bool) -> tuple[Matrix, Matrix]:
        """Times by column of `warming`, infinite where never, and the trace of row 0 where it is to be shown."""
        times = np.full((len(self), TIMES), np.nan)
        rows = int(SHOWN / LOOK) * trace_rows(self.p[0], 0.0, LOOK) if shown else 0
        curve, written = np.full((rows, COLUMNS), np.nan), [0]

        def compute(start: int, stop: int) -> None:
            mine = curve if start == 0 else curve[:0]
            trace, work = np.empty((trace_rows(self.p[start], 0.0, LOOK), COLUMNS)), np.zeros((WORK, LUMPED))
            got = cold_rows(start, stop, self.p, self.exact, facts, times, mine, trace, work)
            if start == 0:
                written[0] = got

        self.share_out(compute, len(self))
        return times, curve[: written[0]]

    def shots(
        self, states: Matrix, pull: Pull | Matrix, *, who: Whole | None = None, wait: ArrayLike = 0.0,
        follow: float = 0.0, halt: ArrayLike = np.nan, facts: Matrix | None = None, keep: bool = False,
        show: bool = False,
    ) -> ShotRun:  # fmt: skip
        """Wait, draw and watch, from full states that stay as they are.

        who: the row of each state, all in order by default. pull: one for all, or a row of `Pull.row` for each. wait,
        halt: of all or each, s and K; follow s. facts: idle facts of each row, for recoveries. keep: whether to keep
        the states when the draw begins and ends; show: whether to keep the first one's trace.
        """
        rows = np.arange(len(self), dtype=np.int64) if who is None else np.asarray(who, dtype=np.int64)
        m = len(rows)
        if len(states) != m or (m and not (np.min(rows) >= 0 and np.max(rows) < len(self))):
            raise ValueError("who: one row of the network for each state")
        if states.ndim != 2 or states.shape[1] != self.longest:
            raise ValueError("states: as long as the longest state")
        pulls = np.ascontiguousarray(pull.rows(self.habit[rows]) if isinstance(pull, Pull) else pull)
        given = np.full((m, shot.GIVEN), np.nan)
        given[:, shot.WAIT], given[:, shot.FOLLOW], given[:, shot.HALT] = wait, follow, halt
        if facts is not None:
            given[:, [shot.IDLE_LOW, shot.IDLE_HIGH, shot.IDLE_COIL]] = facts[rows][:, [LOW, HIGH, PARKED]]
        times = given[:, : shot.HALT]
        if pulls.shape != (m, 3) or not all(np.isfinite(one).all() and (one >= 0).all() for one in (pulls, times)):
            raise ValueError("a shot needs a finite flow, duration, wait and follow, none of them below zero")
        results = np.full((m, shot.RESULTS), np.nan)
        begun, drawn = (np.zeros((m if keep else 0, self.longest)) for _ in range(2))
        length = shot.longest_trace(0, 1, rows, self.p, pulls, given) if show and m else 0
        curve, written = np.full((length, COLUMNS), np.nan), [0]

        def compute(start: int, stop: int) -> None:
            mine = curve if start == 0 else curve[:0]
            longest = shot.longest_trace(start, stop, rows, self.p, pulls, given)
            width = max(self.longest, LUMPED, self.cells + 1)
            got = shot.shot_rows(
                start, stop, rows, self.p, self.modes, self.exact, states, pulls, given, results, begun, drawn, mine,
                np.empty((longest, COLUMNS)), np.empty(self.longest), np.zeros((WORK, width)),
            )  # fmt: skip
            if start == 0:
                written[0] = got

        self.share_out(compute, m)
        return ShotRun(results, begun, drawn, curve[: written[0]])


def idles(facts: Matrix) -> NDArray[np.bool_]:
    """Which rows have an idle state."""
    return np.isfinite(facts[:, IDLE_POWER])


def cosine_modes(cells: int) -> NDArray[np.float64]:
    """The orthonormal cosine modes of a row of cells with closed ends, shape (cells, cells)."""
    k, j = np.meshgrid(np.arange(cells), np.arange(cells), indexing="ij")
    modes: NDArray[np.float64] = np.cos(np.pi * k * (j + 0.5) / max(cells, 1)) * np.sqrt(2.0 / max(cells, 1))
    modes[:1] /= np.sqrt(2.0)
    return modes
