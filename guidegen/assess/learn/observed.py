"""A logged run as numbers: what was done, and what each probe read, in means over short times."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from guidegen.heat.layout import Vector
from guidegen.heat.predicted import WHILE_DRAWN, Script

QUICK, SLOW, AFTER = 2.0, 6.0, 90.0
"""s over which readings are averaged: in a draw and so long after it, and else."""
PIPE, LAGS = 3.0, 4.0
"""s from the start of a draw after which that place has its own water; and lags until its probe shows it."""
LEAST_NOISE = {"heater": 20.0}
"""W that a reading of power is off by itself; of a temperature `LEAST_KELVIN`."""
LEAST_KELVIN = 0.05


@dataclass(frozen=True)
class Reading:
    """What one probe read at a place: times, s, and means, K or W.

    noise: standard deviation of a mean by itself. offset: that of the probe's own error, K. lag and lag_spread, s: the
    probe's, and its standard deviation.
    """

    place: str
    time: Vector
    value: Vector
    noise: float
    offset: float = 0.0
    lag: float = 0.0
    lag_spread: float = 0.0


@dataclass(frozen=True)
class ObservedRun:
    """A run: its name, which kits were on, what was done, and its readings.

    told: inputs of the machine that it has measured by itself, in SI. mass_spread: relative standard deviation of
    each draw's mass. has_coil: whether one of the kits is a coil. switches:
    whether a thermostat holds it. invented: nobody measured it. by_sensor: the room was read by the sensor's own probe
    before it was switched on, and so is off by what that probe is off.
    """

    name: str
    kits: tuple[str, ...]
    script: Script
    readings: tuple[Reading, ...]
    told: Mapping[str, float] = field(default_factory=dict)
    mass_spread: tuple[float, ...] = ()
    has_coil: bool = False
    switches: bool = False
    invented: bool = False
    by_sensor: bool = False

    def reading(self, place: str) -> Reading | None:
        """What the probe at a place read, if there was one."""
        return next((one for one in self.readings if one.place == place), None)

    def owns(self, name: str) -> bool:
        """Whether what belongs to a probe or to a draw, by its name, is of this run."""
        kind, _, rest = name.partition(" ")
        if kind in ("mass", "heating", "start"):
            return rest.rpartition(" ")[0] == self.name
        return self.reading(rest) is not None


def binned(place: str, time: Vector, value: Vector, script: Script, lag: float = 0.0) -> tuple[Vector, Vector, float]:
    """Means of a column over short times, their middles, s, and the standard deviation of a mean by itself.

    Rows that are left out are nan; lag: the probe's, s. Of places that only drawn water reaches, what stands between
    draws is left out.
    """
    good = np.isfinite(time) & np.isfinite(value) & (time >= 0.0) & (time <= script.lasts)
    drawing = np.zeros(len(time), dtype=bool)
    quick = np.zeros(len(time), dtype=bool)
    if script.start == "cold":
        quick |= time < 2 * AFTER
    for draw in script.draws:
        end = draw.begins + draw.duration
        drawing |= (time >= draw.begins + PIPE + LAGS * lag) & (time <= end)
        quick |= (time >= draw.begins - QUICK) & (time <= end + AFTER)
    if place in WHILE_DRAWN:
        good &= drawing
    if place == "coil-metal" and script.draws:
        good &= time < script.draws[0].begins
    t, x = time[good], value[good]
    if not len(t):
        return t, x, 0.0
    width = np.where(quick[good], QUICK, SLOW)
    # A bin is a place on the clock at its own width; where the width changes another one begins.
    label = np.floor(t / width) + 1e9 * quick[good]
    edges = np.flatnonzero(np.diff(label) != 0) + 1
    parts = np.split(np.arange(len(t)), edges)
    steps = np.abs(np.diff(x))
    coarse = float(steps[steps > 0].min()) / np.sqrt(12) if (steps > 0).any() else 0.0
    scattered = float(np.median(np.abs(np.diff(x, 2)))) / 1.65 if len(x) > 2 else 0.0
    count = float(np.median([len(one) for one in parts]))
    # Rounding is no chance: while a value stands still it is off by the same in every row.
    noise = max(LEAST_NOISE.get(place, LEAST_KELVIN), scattered / np.sqrt(count), coarse)
    return np.array([t[one].mean() for one in parts]), np.array([x[one].mean() for one in parts]), noise
