"""The slowest cooling that a pair's inputs allow: looked for among their ends, not stated for each of them.

At which end of an input a machine cools slowest depends on the others: a path to another part takes heat away, and
keeps that part warm; a part that is cooler than the boiler takes heat in the first minutes, and gives it back later.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import combinations

import numpy as np

from guidegen.assess.after_use import cooled
from guidegen.heat.layout import Whole
from guidegen.heat.network import Network, Rows
from guidegen.trade.uncertain import Uncertain, Values

BETTER = 1e-9
"""A share; what cools slower by less than this is the same corner."""
ROUNDS, MOST_TOGETHER = 24, 2
"""More rounds than any pair has taken; and so many inputs go to their other ends at once, at most."""
Sides = tuple[Network, Network]


def slowest(inputs: Sequence[Uncertain], sides: Callable[[Values], Sides]) -> Sides:
    """The two networks, without and with the kit, of the ends at which each time of each side is longest.

    From the stated values every input goes to its slower end at once; from there inputs go to their other end for as
    long as that is slower: one alone, and where none is, two at once, as one may pay only with another. Row 0 has all
    low ends: the water of all rows has its density, in which a coil hangs
    coolest and water weighs most.
    """
    low, value, high = (np.array([getattr(one, end) for one in inputs]) for end in ("low", "value", "high"))

    def rows(corners: Sequence[Rows]) -> Sides:
        table = np.array([low, *corners])
        values = {one.id: table[:, index] for index, one in enumerate(inputs)}
        return sides(Values(values, np.zeros(len(table))))

    def times(corners: Sequence[Rows]) -> Rows:
        return np.concatenate([cooled(side) for side in rows(corners)])[:, 1:]

    varying = np.flatnonzero(high > low)
    tried = times([value, *(_moved(value, at, end[at]) for at in map(int, varying) for end in (low, high))])
    best = [_each_slower(value, found, varying, low, high) for found in tried]
    ends = tried[:, 1:].reshape(len(tried), -1, 2)
    varying = varying[np.any(ends[..., 0] != ends[..., 1], axis=0)]
    longest = np.diagonal(times(best)).copy()
    together = 1
    for _ in range(ROUNDS):
        flips = list(combinations(map(int, varying), together))
        moved = [_flipped(one, flip, low, high) for one in best for flip in flips]
        found = times(moved) if moved else np.empty((len(best), 0))
        further = [
            which for which in range(len(best)) if np.max(found[which], initial=0.0) > longest[which] * (1 + BETTER)
        ]
        for which in further:
            best[which], longest[which] = moved[int(np.argmax(found[which]))], np.max(found[which])
        if not further and together == MOST_TOGETHER:
            break
        together = 1 if further else together + 1
    return rows(best)


def _flipped(corner: Rows, flip: Sequence[int], low: Rows, high: Rows) -> Rows:
    """The corner with some inputs at their other ends."""
    other, at = corner.copy(), list(flip)
    other[at] = low[at] + high[at] - other[at]
    return other


def _moved(corner: Rows, at: int, to: float) -> Rows:
    other = corner.copy()
    other[at] = to
    return other


def _each_slower(value: Rows, found: Rows, varying: Whole, low: Rows, high: Rows) -> Rows:
    """Every input at the end that is slower by itself; found: of the stated values, then of low and high in turn."""
    corner, ends = value.copy(), found[1:].reshape(-1, 2)
    corner[varying] = np.where(ends[:, 0] > ends[:, 1], low[varying], high[varying])
    return corner
