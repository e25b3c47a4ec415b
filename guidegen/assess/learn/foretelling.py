"""Each run as the others let it be expected: how well a lesson holds where it was not learned."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from guidegen.assess.learn.campaign import Campaign
from guidegen.assess.learn.observed import ObservedRun, Reading
from guidegen.heat.layout import Vector
from guidegen.heat.learning import Posterior, without
from guidegen.heat.shot import WATCHED_AFTER


@dataclass(frozen=True)
class Foretold:
    """A run that was predicted from the others: root mean square of its residuals, K, and its dips, K."""

    name: str
    error: float
    dips: tuple[tuple[float, float], ...]
    """By draw: as measured and as predicted; of a run without a sensor none."""


def foretold(campaign: Campaign, found: Posterior) -> Iterator[Foretold]:
    """Each run as the others let it be expected."""
    if len(campaign.runs) < 2:
        return
    for run, rows in zip(campaign.runs, campaign.rows(), strict=True):
        out = np.zeros(len(found.residuals), dtype=bool)
        out[rows] = True
        rest = campaign.only([one for one in campaign.runs if one is not run])
        steps = without(found, out, rest.residuals)
        alone = campaign.only([run])
        left = alone.plain(steps)[0]
        sensor = run.reading("sensor")
        kelvin = [left[one.place] for one in run.readings if one.place != "heater"]
        error = float(np.sqrt(np.mean(np.concatenate(kelvin) ** 2))) if kelvin else 0.0
        dips = tuple(_dips(run, sensor, left["sensor"])) if sensor is not None else ()
        yield Foretold(run.name, error, dips)


def _dips(run: ObservedRun, sensor: Reading, left: Vector) -> Iterator[tuple[float, float]]:
    """By draw, how far the sensor fell, as measured and as predicted, in the same means over short times."""
    for draw in run.script.draws:
        before = np.flatnonzero(sensor.time < draw.begins)
        after = (sensor.time >= draw.begins) & (sensor.time <= draw.begins + draw.duration + WATCHED_AFTER)
        if len(before) and after.any():
            last = int(before[-1])
            predicted = sensor.value + left
            yield (float(sensor.value[last] - sensor.value[after].min()),
                   float(predicted[last] - predicted[after].min()))  # fmt: skip
