"""What a campaign has beside the machine's parameters: what belongs to a probe, to a draw or to a moment of one run."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from guidegen.assess.learn.observed import ObservedRun
from guidegen.heat.switching import heatings

SHORTEST_LAG = 0.05
"""s; a probe is never quicker than that."""
HEATING = 1.0
"""s; the standard deviation of when a heating began: a tenth of a kelvin of a log that falls by as much a second."""
SWITCHED_ON = 2.0
"""s; the standard deviation of when a cold machine was switched on, by the clock of its log: rows come about once a
second, and a hand does not switch a machine and a logger on at once."""
SENSOR_OFFSET, SENSOR_SLOPE, SENSOR_LAG = "offset sensor", "slope sensor", "lag sensor"
COOL, WARM = 293.15, 373.15
"""K: a class or a calibration bounds what a probe is off by at each temperature and does not say how that goes from one
to the other, so what it is off by in a cold machine and in a warm one are taken to know nothing of each other."""


@dataclass(frozen=True)
class OwnParameter:
    """What belongs to a probe or to a draw: its name and the standard deviation of its prior."""

    name: str
    spread: float


def of_probe(place: str, offset: float) -> tuple[OwnParameter, ...]:
    """What a probe may be off by: at 100 °C, and for each kelvin that it is warmer.

    Parameters: place; offset, the standard deviation of its error, K, without which it has none of its own.
    """
    if not offset > 0.0:
        return ()
    slope = offset * math.sqrt(2.0) / (WARM - COOL)
    return OwnParameter(f"offset {place}", offset), OwnParameter(f"slope {place}", slope)


def start_of(run: ObservedRun) -> str:
    """The name of what says when a cold machine was switched on; with a number, as all that belongs to a run."""
    return f"start {run.name} 0"


def own_of(runs: Iterable[ObservedRun]) -> tuple[OwnParameter, ...]:
    """Beside the machine's: error and lag of each place's probe, each draw's mass, when heatings began."""
    found: dict[str, OwnParameter] = {}
    for run in runs:
        for one in run.readings:
            for owned in of_probe(one.place, one.offset):
                found.setdefault(owned.name, owned)
            if one.lag_spread > 0.0:
                found.setdefault(f"lag {one.place}", OwnParameter(f"lag {one.place}", one.lag_spread))
        if run.script.start == "cold":
            found[start_of(run)] = OwnParameter(start_of(run), SWITCHED_ON)
        for number in range(heatings(run.script.felt[:, 1]) if run.script.felt is not None else 0):
            found[f"heating {run.name} {number}"] = OwnParameter(f"heating {run.name} {number}", HEATING)
        for number, spread in enumerate(run.mass_spread):
            if spread > 0.0:
                found[f"mass {run.name} {number}"] = OwnParameter(f"mass {run.name} {number}", spread)
    return tuple(found.values())
