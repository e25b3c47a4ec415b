"""When water was drawn: from the pump, the pressure or the mass, else from the changes of a temperature.

What is found is shown to whoever measured, and what they correct in the YAML counts.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from guidegen.runs.table import Numbers

PAUSE, SHORTEST = 4.0, 4.0
"""s: a pause so short is within a shot, and what is shorter than that is none."""
QUIET, SHIFT, ALARM = 30.0, 1.0, 12.0
"""s of rest before, whose noise counts; and slack and limit of the cumulative sum, in standard deviations of it."""
FLOW, SMOOTHED = 0.3e-3, 1.0
"""kg/s on the scale that only a shot makes, and s over which the scale's rate is taken."""
PRESSED = 1.5e5
"""Pa above the lowest: less is no pump."""


@dataclass(frozen=True)
class Drawn:
    """One shot: from when to when, s from the first row, and what of it was seen."""

    begins: float
    ends: float
    by: str


def by_level(time: Numbers, signal: Numbers, by: str, least: float = 0.0) -> list[Drawn]:
    """The shots of a signal that is high while water flows.

    High is more than half-way from its 5 % point to its highest value, and at least `least` above the former.
    """
    if not len(signal):
        return []
    low, high = float(np.quantile(signal, 0.05)), float(np.max(signal))
    if not high > low or (high - low) < least:
        return []
    return list(_joined(time, signal > (low + high) / 2, by))


def by_mass(time: Numbers, mass: Numbers) -> list[Drawn]:
    """The shots of a scale in kg: while its reading grows. A cup that is taken away or put on is a jump, not a shot."""
    if len(time) < 3:
        return []
    after = np.minimum(np.searchsorted(time, time + SMOOTHED), len(time) - 1)
    span = np.maximum(time[after] - time, 1e-9)
    rate = (mass[after] - mass) / span
    # More than 20 g in a second is somebody's hand.
    return list(_joined(time, (rate > FLOW) & (rate < 20e-3), "mass"))


def by_change(time: Numbers, temperature: Numbers, falls: bool) -> list[Drawn]:
    """The shots by Page's cumulative sum of a temperature in K, against mean and noise of the rest before.

    `falls` for a probe on the boiler, which cold water cools; at the outlet it rises. The end is where it turns.
    """
    signal = -temperature if falls else temperature
    found: list[Drawn] = []
    at = int(np.searchsorted(time, time[0] + QUIET)) if len(time) else 0
    while 0 < at < len(time):
        rest = slice(int(np.searchsorted(time, time[at] - QUIET)), at)
        mean, noise = float(signal[rest].mean()), max(float(signal[rest].std()), 0.02)
        block = slice(at, min(at + max(at - rest.start, 16), len(time)))
        total = np.cumsum((signal[block] - mean) / noise - SHIFT)
        above = total - np.minimum.accumulate(np.minimum(total, 0.0))
        alarm = np.flatnonzero(above > ALARM)
        if not len(alarm):
            # Half of it again: a change at its end is seen against the same rest.
            at += max((block.stop - at) // 2, 1)
            continue
        # It began where the sum last stood at its lowest.
        begin = at + int(np.argmin(total[: alarm[0] + 1]))
        end = _turn(time, signal, begin, noise)
        if time[end] - time[begin] >= SHORTEST:
            found.append(Drawn(float(time[begin]), float(time[end]), "change"))
        at = max(int(np.searchsorted(time, time[end] + QUIET)), at + 1)
    return found


def _turn(time: Numbers, signal: Numbers, begin: int, noise: float) -> int:
    """Where a rise has stopped: its highest value before it has come down again by more than the noise."""
    last = int(np.searchsorted(time, time[begin] + 120.0))
    after = signal[begin:last]
    down = np.flatnonzero(np.maximum.accumulate(after) - after > max(6 * noise, 0.1 * (np.max(after) - after[0])))
    return begin + int(np.argmax(after[: down[0] + 1] if len(down) else after))


def _joined(time: Numbers, is_on: NDArray[np.bool_], by: str) -> Iterator[Drawn]:
    """Where a signal is on, short pauses left out."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], is_on, [False]]).astype(np.int8)))
    parts = [(float(time[a]), float(time[min(b, len(time) - 1)])) for a, b in edges.reshape(-1, 2)]
    for begins, ends in _merged(parts):
        if ends - begins >= SHORTEST:
            yield Drawn(begins, ends, by)


def _merged(parts: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    merged: list[tuple[float, float]] = []
    for begins, ends in parts:
        if merged and begins - merged[-1][1] <= PAUSE:
            merged[-1] = (merged[-1][0], ends)
        else:
            merged.append((begins, ends))
    return merged
