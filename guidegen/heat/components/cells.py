"""Cells in a row: what the boiler's water and the coil have in common. Compiled."""

from __future__ import annotations

from guidegen.heat.compiled import kernel
from guidegen.heat.layout import Vector

MOST_CELLS = 10_000
"""Of water in the boiler, and of the coil: far more than any run has."""


@kernel
def mean(y: Vector, start: int, count: int) -> float:
    """The mean of so many neighbours, summed in four strands, always in the same order."""
    start, count = min(max(start, 0), 2 * MOST_CELLS), min(max(count, 1), MOST_CELLS)
    a, b, c, d = 0.0, 0.0, 0.0, 0.0
    whole = count - count % 4
    for i in range(start, start + whole, 4):
        a += y[i]
        b += y[i + 1]
        c += y[i + 2]
        d += y[i + 3]
    for i in range(start + whole, start + count):
        a += y[i]
    return ((a + b) + (c + d)) / count
