"""The computed range of the sensor's curve in the main drink, as a probe with a lag would have shown it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from guidegen.assess.logs import GRID
from guidegen.assess.question import digest_of
from guidegen.heat.followed import followed
from guidegen.heat.logged import through_lag
from guidegen.heat.network import Network, Rows
from guidegen.heat.pull import Pull
from guidegen.record.base import Record, rounded

MODULE = __name__
DRAWS = 256
"""So many draws are followed: a curve of each of 2,048 would cost eight times as much, and no figure rests on it."""
COVERAGE = (0.025, 0.975)


class CurveRange(Record):
    """How far the sensor has moved from its start, K: the ends that hold 95 % of the draws, at the times of a log."""

    low_k: tuple[float, ...]
    high_k: tuple[float, ...]


class CurveAnswer(Record):
    """What is kept: the range, or that there is none."""

    found: CurveRange | None


@dataclass(frozen=True)
class RangeQuestion:
    """The network of one configuration, row 0 as stated, its drink, and the lag of the probe that logged it, s."""

    network: Network
    pull: Pull
    phase: Rows
    habit: Rows
    lag: float

    def digest(self) -> str:
        """What the answer is kept by: it follows the runs, whose probe has the lag."""
        return digest_of(self)


def curve_range(asked: RangeQuestion) -> CurveRange | None:
    """The range over the first draws; None without draws, or where most of these machines have no idle state."""
    count = min(len(asked.network), DRAWS + 1)
    if count < 3:
        return None
    network = asked.network.rows(slice(1, count))
    seen = followed(network, asked.pull, asked.phase[1:count], asked.habit[1:count], GRID)
    seen = seen[np.isfinite(seen).all(axis=1)]
    if len(seen) < count // 2:
        return None
    moved = through_lag(GRID, seen, asked.lag)
    low, high = np.quantile(moved - moved[:, :1], COVERAGE, axis=0)
    return CurveRange(low_k=tuple(map(rounded, map(float, low))), high_k=tuple(map(rounded, map(float, high))))
