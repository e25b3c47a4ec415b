"""What runs that nobody has made yet would teach: narrower figures, how many shots, and in which order."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import stdtrit

from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.learning import NORMAL_95
from guidegen.heat.paired import PAIRS
from guidegen.heat.validity import FloatArray, Validity

DEVIATION = Validity("standard deviation of a difference", 0.0, np.inf, "", "definition")
HALF_WIDTH = Validity("half-width that is asked for", 1e-12, np.inf, "", "definition")


def along(figure: ArrayLike, steps: ArrayLike) -> tuple[FloatArray, float]:
    """Give how a figure goes with each parameter, and what of it no straight line explains.

    Parameters: figure y, (n,), in n draws; steps z, (n, k), the parameters of each in standard deviations of their
        prior.
    Returns: slopes g, (k,), in the unit of y, and the standard deviation of the rest.
    Valid for: more draws than parameters; draws in which the figure has no value are left out.
    Equation: y = a + g z + rest, by least squares.
    Source: none; a straight line.

    >>> g, rest = along([0.0, 1.0, 2.0, 3.0], [[0.0], [1.0], [2.0], [3.0]])
    >>> g.round(9), round(rest, 9)
    (array([1.]), 0.0)
    """
    y, z = np.asarray(figure, dtype=np.float64), np.asarray(steps, dtype=np.float64)
    good = np.isfinite(y)
    Validity("draws of a figure", z.shape[1] + 3, np.inf, "", "definition").check(int(good.sum()))
    lines = np.column_stack((np.ones(int(good.sum())), z[good]))
    found, *_ = np.linalg.lstsq(lines, y[good], rcond=None)
    left = y[good] - lines @ found
    return np.asarray(found[1:]), float(np.sqrt(left @ left / (len(left) - lines.shape[1])))


def expected(slopes: ArrayLike, figure: ArrayLike) -> float:
    """Give the standard deviation that a figure is expected to have after some runs.

    Parameters: slopes J, (n, k), of the residuals that the runs would leave, over their standard deviations; figure g,
        (k,), how it goes with each parameter.
    Returns: standard deviation, in the unit of the figure.
    Valid for: residuals and figure that hardly bend within the prior.
    Equation: √(gᵀ (I + JᵀJ)⁻¹ g).
    Source: chaloner-verdinelli-1995.

    >>> round(expected(np.zeros((0, 1)), [2.0]), 9), round(expected([[3.0]], [2.0]), 9)  # = 2, 2 / sqrt(1 + 9)
    (2.0, 0.632455532)
    """
    steep, g = np.asarray(slopes, dtype=np.float64), np.asarray(figure, dtype=np.float64)
    return float(np.sqrt(g @ np.linalg.solve(np.eye(len(g)) + steep.T @ steep, g)))


def pairs_needed(deviation: float, half_width: float, coverage: float = 0.95) -> int:
    """Give how many pairs narrow their mean difference to a half-width.

    Parameters: deviation s of one difference; half_width h, in the same unit; coverage of the interval.
    Returns: the number of pairs n, five at least.
    Valid for: half-widths above zero; differences from nearly a normal distribution.
    Equation: t s / √n ≤ h, t Student's quantile for n − 1.
    Source: student-1908.

    >>> pairs_needed(1.0, 0.5), pairs_needed(0.1, 1.0)
    (18, 5)
    """
    DEVIATION.check(deviation)
    HALF_WIDTH.check(half_width)
    count = max(int(PAIRS.low), math.floor((NORMAL_95 * deviation / half_width) ** 2))
    while float(stdtrit(count - 1, 0.5 + coverage / 2)) * deviation / math.sqrt(count) > half_width:
        count += 1
    return count


def blocks(names: Sequence[str], count: int, seed: int) -> list[tuple[str, ...]]:
    """Give the order of runs: in each block every configuration once, in an order that chance gives.

    Parameters: names of the configurations; count of blocks; seed.
    Returns: count blocks.
    Valid for: any; the same seed gives the same order.
    Equation: a random permutation in each block.
    Source: fisher-1935, section 20.

    >>> [sorted(one) for one in blocks(["a", "b"], 2, 1)]
    [['a', 'b'], ['a', 'b']]
    """
    chance = random.Random(seed)
    made = []
    for _ in range(count):
        # By a draw for each name, so that the order does not hang on how a library shuffles.
        draws = [chance.random() for _ in names]
        made.append(tuple(name for _, name in sorted(zip(draws, names, strict=True))))
    return made


FORMULAS = (
    Formula("Expected width", "√(gᵀ (I + JᵀJ)⁻¹ g)",
            (Symbol("g", "how a figure goes with each parameter", "that of the figure"),
             Symbol("J", "slopes of the residuals that runs would leave", "")), (), ("chaloner-verdinelli-1995",)),
    Formula("Pairs that are needed", "t s / √n ≤ h",
            (Symbol("s", "standard deviation of one difference", "that of the difference"),
             Symbol("h", "half-width", "the same"), Symbol("t", "Student's quantile for n − 1", ""),
             Symbol("n", "number of pairs", "")), (DEVIATION, HALF_WIDTH), ("student-1908",)),
)  # fmt: skip
