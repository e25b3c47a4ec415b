"""Where a search under a thermostat begins: at the thresholds that its runs show at rest.

Wherever else it began, the logged sensor would not reach them, and the heater would stay as it is.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from guidegen.assess.learn.campaign import Campaign
from guidegen.assess.learn.observed import ObservedRun
from guidegen.assess.learn.through import Rests
from guidegen.heat.idle import HIGH, LOW
from guidegen.heat.layout import Vector

OPENS, CLOSES = "control.opens", "control.closes"
FURTHEST = 4.0
"""Steps of the prior that a threshold is moved by at most."""
TURNS = 2


def levelled(campaign: Campaign, steps: Vector) -> Vector:
    """The steps with those thresholds at which a resting machine swings as far as its logs show."""
    places = {one.key: number for number, one in enumerate(campaign.bench.parameters)}
    seen = [one for run in campaign.runs if run.script.felt is not None for one in _seen(run)]
    if not seen or OPENS not in places or CLOSES not in places:
        return steps
    made = steps.copy()
    low, high = min(seen), max(seen)
    for _ in range(TURNS):
        lowest, highest = _swing(campaign, made)
        for key, more in ((OPENS, high - highest), (CLOSES, low - lowest)):
            one, at = campaign.bench.parameters[places[key]], places[key]
            moved = float(one.prior.steps(one.prior.value(made[at]) + more))
            made[at] = float(np.clip(moved, -FURTHEST, FURTHEST)) if np.isfinite(moved) else made[at]
    return made


def _seen(run: ObservedRun) -> Iterator[float]:
    """What a run's thermostat felt at rest, before the first draw; of one that began cold, nothing."""
    felt, script = run.script.felt, run.script
    if felt is None or script.start != "idle":
        return
    until = script.draws[0].begins if script.draws else script.lasts
    yield from (float(one) for one in felt[felt[:, 0] < until, 1])


def _swing(campaign: Campaign, steps: Vector) -> tuple[float, float]:
    """The lowest and the highest that the sensor comes to at rest, in any configuration under the thermostat."""
    configurations = dict.fromkeys(run.kits for run in campaign.runs if run.script.felt is not None)
    rows = steps[np.newaxis, : len(campaign.bench.parameters)]
    facts = np.concatenate(
        [Rests().of(campaign.bench.network(kits, rows, {}).parameters())[1] for kits in configurations]
    )
    return float(np.nanmin(facts[:, LOW])), float(np.nanmax(facts[:, HIGH]))
