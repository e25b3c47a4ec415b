"""Each run as the others let it be expected: how well a lesson holds where it was not learned."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

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
        run = by_itself(run)
        left = campaign.only([run]).plain(steps)[0]
        sensor = run.reading("sensor")
        kelvin = [left[one.place] for one in run.readings if one.place != "heater"]
        error = float(np.sqrt(np.mean(np.concatenate(kelvin) ** 2))) if kelvin else 0.0
        dips = tuple(_dips(run, sensor, left["sensor"])) if sensor is not None else ()
        yield Foretold(run.name, error, dips)


def by_itself(run: ObservedRun) -> ObservedRun:
    """A run as it can be expected: under a thermostat that switches by itself, until a minute after the first draw.

    Nobody has its log yet that would lead it, and each later switching hangs on all those before it.
    """
    script = replace(run.script, felt=None)
    if run.script.felt is None:
        return run
    if script.draws:
        first = script.draws[0]
        script = replace(script, draws=(first,), lasts=min(script.lasts, first.begins + first.duration + WATCHED_AFTER))
    kept = tuple(replace(one, time=one.time[one.time <= script.lasts], value=one.value[one.time <= script.lasts])
                 for one in run.readings)  # fmt: skip
    return replace(run, script=script, readings=kept)


def _dips(run: ObservedRun, sensor: Reading, left: Vector) -> Iterator[tuple[float, float]]:
    """By draw, how far the sensor fell, as measured and as predicted, in the same means over short times."""
    for draw in run.script.draws:
        before = np.flatnonzero(sensor.time < draw.begins)
        after = (sensor.time >= draw.begins) & (sensor.time <= draw.begins + draw.duration + WATCHED_AFTER)
        if len(before) and after.any():
            last = int(before[-1])
            predicted = sensor.value + left
            yield (float(sensor.value[last] - np.min(sensor.value[after])),
                   float(predicted[last] - np.min(predicted[after])))  # fmt: skip
