"""One shot and what follows: how far everything drops, and how long it takes to come back. Compiled, one row."""

from __future__ import annotations

import numpy as np

from guidegen.physics.compiled import kernel
from guidegen.physics.kernels import LUMPS, SENSOR
from guidegen.physics.runs import (
    COIL_WATER,
    FLOW_STEP,
    MEAN_WATER,
    OUTLET,
    REST_STEP,
    SEEN,
    TIME,
    flowing,
    means,
    relaxation,
    rest,
)

# What a shot gives, in kelvin, seconds.
SENSOR_DROP, WATER_DROP, OUTLET_FALL, STABILITY_BAND, MEAN_OUTLET, SENSOR_RECOVERY, COIL_RECOVERY, LOWEST = range(8)
RESULTS = 8

WATCHED_AFTER = 60.0
"""The sensor's lowest value is looked for until so many seconds after the end."""
FIRST_WATER, EARLY_WATER = 0.005, 0.010
"""kg: the first water out of a group is not judged, and what comes until the second mark is the outlet's start."""
COIL_NEAR = 5.0
"""K: within this of idle the coil counts as full of heat again."""


@kernel
def shot(full, p, mixed, cells, modes, mass_flow, flow, duration, follow, band, coil_idle, finer, work, trace, result):
    """Draw a shot from a full state, rest for `follow` seconds, and write the results.

    mass_flow kg/s, flow W/K, duration and follow s; band: ends of what counts as recovered, K; coil_idle K;
    finer divides the steps. The trace holds the draw, then the rest. Returns the number of rows written.
    """
    start_sensor, start_water = full[SENSOR], full[LUMPS : LUMPS + mixed].mean()
    drawn = flowing(full, p, mixed, cells, flow, duration, FLOW_STEP / finer, work, trace)
    lumped = np.empty(LUMPS + 3)
    means(full, mixed, cells, lumped)
    rested = rest(lumped, p, cells, follow, REST_STEP / finer, work, trace[drawn:])
    relaxation(full, p, mixed, cells, modes, follow, lumped)
    for i in range(drawn, drawn + rested):
        trace[i, TIME] += duration

    lowest_sensor, lowest_water = start_sensor, start_water
    for i in range(drawn + rested):
        if trace[i, TIME] > duration + WATCHED_AFTER + 1e-9:
            break
        lowest_sensor = min(lowest_sensor, trace[i, SEEN])
        lowest_water = min(lowest_water, trace[i, MEAN_WATER])
    result[SENSOR_DROP] = start_sensor - lowest_sensor
    result[WATER_DROP] = start_water - lowest_water
    result[LOWEST] = lowest_sensor
    outlet(trace[:drawn], mass_flow, result)

    result[SENSOR_RECOVERY], result[COIL_RECOVERY] = np.nan, np.nan
    last_outside = duration
    for i in range(drawn, drawn + rested):
        if trace[i, SEEN] < band[0] or trace[i, SEEN] > band[1]:
            last_outside = trace[i, TIME]
    if last_outside < duration + follow - 1e-6:
        result[SENSOR_RECOVERY] = last_outside - duration
    if cells > 0:
        for i in range(drawn, drawn + rested):
            if abs(trace[i, COIL_WATER] - coil_idle) <= COIL_NEAR:
                result[COIL_RECOVERY] = trace[i, TIME] - duration
                break
    return drawn + rested


@kernel
def outlet(trace, mass_flow, result):
    """Fall, band and mean of the water that leaves the group, from the rows of a draw at constant flow."""
    early, early_count, later_low = 0.0, 0, np.inf
    low, high, total = np.inf, -np.inf, 0.0
    for i in range(len(trace)):
        drawn, temperature = trace[i, TIME] * mass_flow, trace[i, OUTLET]
        total += temperature
        if drawn < FIRST_WATER:
            continue
        low, high = min(low, temperature), max(high, temperature)
        if drawn <= EARLY_WATER:
            early += temperature
            early_count += 1
        else:
            later_low = min(later_low, temperature)
    result[MEAN_OUTLET] = total / len(trace)
    result[STABILITY_BAND] = high - low if high > low else 0.0
    result[OUTLET_FALL] = early / early_count - later_low if early_count > 0 and later_low < np.inf else np.nan
