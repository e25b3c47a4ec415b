"""States of a row: from every cell to the means and back, cold, and how far a state of rest has relaxed. Compiled."""

from __future__ import annotations

import math

from guidegen.heat.compiled import kernel
from guidegen.heat.components.cells import mean
from guidegen.heat.layout import (
    BETWEEN,
    BOILER_TO_COIL,
    BOILER_TO_WATER,
    CELLS,
    COIL_ALONG,
    COIL_INSIDE_AT_REST,
    COIL_METAL_CAPACITY,
    COIL_WATER_CAPACITY,
    HEATER_TO_WATER,
    INTEGRAL,
    LUMPS,
    MIXING,
    MODE,
    ON,
    RELAY_CONTROL,
    ROOM,
    WATER_CAPACITY,
    Matrix,
    Vector,
)


@kernel
def size_of(p: Vector) -> int:
    """Length of a full state, with every cell."""
    return LUMPS + int(p[MIXING]) + 2 * int(p[CELLS])


@kernel
def copy(one: Vector, into: Vector) -> None:
    """Copy a state."""
    for i in range(len(one)):
        into[i] = one[i]


@kernel
def means(full: Vector, p: Vector, lumped: Vector) -> None:
    """Write the means of a full state into a state of one water and one coil cell."""
    mixed, cells = int(p[MIXING]), int(p[CELLS])
    for i in range(LUMPS):
        lumped[i] = full[i]
    for i in range(LUMPS, len(lumped)):
        lumped[i] = 0.0
    lumped[LUMPS] = mean(full, LUMPS, mixed)
    if cells > 0:
        lumped[LUMPS + 1] = mean(full, LUMPS + mixed, cells)
        lumped[LUMPS + 2] = mean(full, LUMPS + mixed + cells, cells)


@kernel
def spread(lumped: Vector, p: Vector, full: Vector) -> None:
    """Write a state of means into every cell of a full state."""
    mixed, cells = int(p[MIXING]), int(p[CELLS])
    for i in range(LUMPS):
        full[i] = lumped[i]
    for i in range(mixed):
        full[LUMPS + i] = lumped[LUMPS]
    for j in range(cells):
        full[LUMPS + mixed + j], full[LUMPS + mixed + cells + j] = lumped[LUMPS + 1], lumped[LUMPS + 2]


@kernel
def cold(p: Vector, full: Vector) -> None:
    """Write the state of a machine that has stood in its room, heater off, integral empty; every cell or means."""
    for i in range(len(full)):
        full[i] = p[ROOM]
    for i in range(INTEGRAL, LUMPS):
        full[i] = 0.0
    full[MODE] = ON if p[RELAY_CONTROL] > 0.0 else BETWEEN


@kernel
def relaxation(
    full: Vector, p: Vector, modes: Matrix, duration: float, leak: float, lumped: Vector, work: Matrix
) -> None:
    """Bring a full state up to date after a rest: new means, and each cell's difference relaxed in closed form.

    leak: the mean conductance of the coil's skin in that time, W/K. modes: the cosine modes of a row of cells with
    closed ends, shape (cells, cells). In each of them water and metal obey two linear equations with real, negative
    rates. The differences sum to zero before and after, so energy is conserved.
    """
    mixed, cells = int(p[MIXING]), int(p[CELLS])
    old = mean(full, LUMPS, mixed)
    fade = math.exp(-(p[BOILER_TO_WATER] + p[HEATER_TO_WATER]) / p[WATER_CAPACITY] * duration)
    for i in range(mixed):
        full[LUMPS + i] = lumped[LUMPS] + (full[LUMPS + i] - old) * fade
    for i in range(LUMPS):
        full[i] = lumped[i]
    if cells == 0:
        return
    x0, y0 = LUMPS + mixed, LUMPS + mixed + cells
    old_x, old_y = mean(full, x0, cells), mean(full, y0, cells)
    new_x, new_y = work[0], work[1]
    for j in range(cells):
        new_x[j], new_y[j] = lumped[LUMPS + 1], lumped[LUMPS + 2]
    inside, water, metal = p[COIL_INSIDE_AT_REST], p[COIL_WATER_CAPACITY], p[COIL_METAL_CAPACITY]
    a, b, c = -inside / water, inside / water, inside / metal
    for k in range(1, cells):
        x, y = 0.0, 0.0
        for j in range(cells):
            x += modes[k, j] * (full[x0 + j] - old_x)
            y += modes[k, j] * (full[y0 + j] - old_y)
        along = p[COIL_ALONG] * cells * (2.0 - 2.0 * math.cos(math.pi * k / cells)) * cells / metal
        d = -(p[BOILER_TO_COIL] + inside + leak) / metal - along
        half, root = 0.5 * (a + d), math.sqrt(0.25 * (a - d) ** 2 + b * c)
        fast, slow = math.exp((half - root) * duration), math.exp((half + root) * duration)
        # (slow - fast) / (2 root) tends to the duration times exp where both rates are one.
        level, tilt = 0.5 * (fast + slow), 0.5 * (slow - fast) / root if root > 0.0 else duration * slow
        ahead_x = level * x + tilt * ((a - half) * x + b * y)
        ahead_y = level * y + tilt * (c * x + (d - half) * y)
        for j in range(cells):
            new_x[j] += modes[k, j] * ahead_x
            new_y[j] += modes[k, j] * ahead_y
    for j in range(cells):
        full[x0 + j], full[y0 + j] = new_x[j], new_y[j]
