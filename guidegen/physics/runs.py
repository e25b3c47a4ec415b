"""Legs of a run: flow with every cell, rest with the means, and the change between the two. Compiled, one row.

A full state holds every cell. During rest only the means are stepped; how far each cell differs from its mean
relaxes by itself and is brought up to date in closed form when flow begins again.
"""

from __future__ import annotations

import math

import numpy as np

from guidegen.physics.compiled import kernel
from guidegen.physics.kernels import (
    BOILER_TO_COIL,
    BOILER_TO_WATER,
    BYPASS,
    COIL_ALONG,
    COIL_INSIDE_AT_REST,
    COIL_METAL_CAPACITY,
    COIL_TO_CASE,
    COIL_WATER_CAPACITY,
    DERIVING,
    GROUP,
    GROUP_TO_WATER,
    HEATER_CAPACITY,
    HEATER_TO_BOILER,
    HEATER_TO_WATER,
    LUMPS,
    SENSOR,
    SENSOR_LAG,
    WATER_CAPACITY,
    relayed_step,
)

FLOW_STEP, REST_STEP = 0.1, 0.5
"""Longest steps in s; the convergence test halves them."""
COURANT = 0.4
"""Largest share of a coil cell that flows through in one step."""

# Columns of a trace.
TIME, SEEN, MEAN_WATER, OUTLET, GROUP_METAL, BOILER_METAL, COIL_WATER, POWER = range(8)
COLUMNS = 8


@kernel
def means(full, mixed, cells, lumped):
    """Write the means of a full state into a state of one water and one coil cell."""
    lumped[:LUMPS] = full[:LUMPS]
    lumped[LUMPS] = full[LUMPS : LUMPS + mixed].mean()
    if cells > 0:
        lumped[LUMPS + 1] = full[LUMPS + mixed : LUMPS + mixed + cells].mean()
        lumped[LUMPS + 2] = full[LUMPS + mixed + cells : LUMPS + mixed + 2 * cells].mean()


@kernel
def relaxation(full, p, mixed, cells, modes, duration, lumped):
    """Bring a full state up to date after a rest: new means, and each cell's difference relaxed in closed form.

    modes: the orthonormal cosine modes of a row of cells with closed ends, shape (cells, cells). In each mode
    water and metal obey two linear equations with real, negative rates.
    """
    old = full[LUMPS : LUMPS + mixed].mean()
    fade = math.exp(-(p[BOILER_TO_WATER] + p[HEATER_TO_WATER]) / p[WATER_CAPACITY] * duration)
    for i in range(mixed):
        full[LUMPS + i] = lumped[LUMPS] + (full[LUMPS + i] - old) * fade
    full[:LUMPS] = lumped[:LUMPS]
    if cells == 0:
        return
    x0, y0 = LUMPS + mixed, LUMPS + mixed + cells
    old_x, old_y = full[x0:y0].mean(), full[y0 : y0 + cells].mean()
    water, metal = np.zeros(cells), np.zeros(cells)
    for k in range(1, cells):
        for j in range(cells):
            water[k] += modes[k, j] * (full[x0 + j] - old_x)
            metal[k] += modes[k, j] * (full[y0 + j] - old_y)
    inside = p[COIL_INSIDE_AT_REST]
    for k in range(1, cells):
        along = p[COIL_ALONG] * cells * (2.0 - 2.0 * math.cos(math.pi * k / cells)) * cells / p[COIL_METAL_CAPACITY]
        a, b = -inside / p[COIL_WATER_CAPACITY], inside / p[COIL_WATER_CAPACITY]
        c = inside / p[COIL_METAL_CAPACITY]
        d = -(p[BOILER_TO_COIL] + inside + p[COIL_TO_CASE]) / p[COIL_METAL_CAPACITY] - along
        half, root = 0.5 * (a + d), math.sqrt(0.25 * (a - d) ** 2 + b * c)
        fast, slow = math.exp((half - root) * duration), math.exp((half + root) * duration)
        mean, spread = 0.5 * (fast + slow), 0.5 * (slow - fast) / root
        x, y = water[k], metal[k]
        water[k] = mean * x + spread * ((a - half) * x + b * y)
        metal[k] = mean * y + spread * (c * x + (d - half) * y)
    for j in range(cells):
        dx, dy = 0.0, 0.0
        for k in range(1, cells):
            dx += modes[k, j] * water[k]
            dy += modes[k, j] * metal[k]
        full[x0 + j] = lumped[LUMPS + 1] + dx
        full[y0 + j] = lumped[LUMPS + 2] + dy


@kernel
def rest_step(p, longest):
    """A step that the fastest part of the network at rest allows."""
    rate = max((p[HEATER_TO_BOILER] + p[HEATER_TO_WATER]) / p[HEATER_CAPACITY], 1.0 / p[SENSOR_LAG])
    rate = max(rate, math.sqrt(p[DERIVING] / (p[HEATER_CAPACITY] * p[SENSOR_LAG])))
    return min(longest, 0.7 / rate)


@kernel
def rest(y, p, cells, duration, longest, work, trace):
    """Step a state of means through a rest; the trace gets a row per step. Returns the number of steps."""
    coil = 1 if cells > 0 else 0
    steps = max(1, math.ceil(duration / rest_step(p, longest) - 1e-9))
    h = duration / steps
    size = LUMPS + 1 + 2 * coil
    for i in range(steps):
        relayed_step(y[:size], p, 1, coil, 0.0, 1.0, h, work[:, :size])
        if i < len(trace):
            note(y, p, 1, coil, 1.0, (i + 1) * h, trace[i])
            trace[i, POWER] = work[0, 0]
    return steps


@kernel
def flowing(full, p, mixed, cells, flow, duration, longest, work, trace):
    """Step a full state through a draw at constant flow (W/K). Returns the number of steps."""
    h = longest
    if cells > 0:
        h = min(h, COURANT * p[COIL_WATER_CAPACITY] / cells / (flow + p[BYPASS]))
    steps = max(1, math.ceil(duration / h - 1e-9))
    h = duration / steps
    passing = math.exp(-p[GROUP_TO_WATER] / flow)
    size = LUMPS + mixed + 2 * cells
    for i in range(steps):
        relayed_step(full[:size], p, mixed, cells, flow, passing, h, work[:, :size])
        if i < len(trace):
            note(full, p, mixed, cells, passing, (i + 1) * h, trace[i])
            trace[i, POWER] = work[0, 0]
    return steps


@kernel
def note(y, p, mixed, cells, passing, time, row):
    """Write what is looked at into one row of a trace."""
    row[TIME] = time
    row[SEEN] = y[SENSOR]
    row[MEAN_WATER] = y[LUMPS : LUMPS + mixed].mean()
    row[OUTLET] = y[GROUP] + (y[LUMPS + mixed - 1] - y[GROUP]) * passing
    row[GROUP_METAL] = y[GROUP]
    row[BOILER_METAL] = y[1]
    row[COIL_WATER] = y[LUMPS + mixed : LUMPS + mixed + cells].mean() if cells > 0 else p[17]
