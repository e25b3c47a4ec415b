"""A probe that nobody has put in yet: what it would read and how well, for plans and for what would settle an input."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from guidegen.assess.learn.campaign import Campaign, Scatter
from guidegen.assess.learn.observed import ObservedRun, Reading, binned
from guidegen.assess.learn.own import of_probe
from guidegen.assess.learn.parameters import PROBES

SCATTER, SCATTER_OF_POWER = Scatter(0.3, 20.0), Scatter(30.0, 0.0)
"""What residuals are taken to be: K with the time in which they fade, s, and W; about those of common probes."""
OFFSET = 0.5
"""K by which an added probe may be off, a standard deviation; sensor and heater are taken as they are."""


def scatters_of(places: Iterable[str] = PROBES) -> dict[str, Scatter]:
    """By place, how the residuals of a probe there are taken to scatter."""
    return {place: SCATTER_OF_POWER if place == "heater" else SCATTER for place in places}


def with_reading(run: ObservedRun, place: str) -> ObservedRun | None:
    """A run with nothing but a probe at a place, that reads as often as others; None where it would see nothing."""
    if place.startswith("coil") and not run.has_coil:
        return None
    every = np.arange(0.0, run.script.lasts, 1.0)
    time, _, _ = binned(place, every, np.zeros(len(every)), run.script)
    if not len(time):
        return None
    noise, offset = scatters_of((place,))[place].deviation, 0.0 if place in ("sensor", "heater") else OFFSET
    return replace(run, readings=(Reading(place, time, np.zeros(len(time)), noise, offset),))


def with_probe(campaign: Campaign, place: str) -> Campaign | None:
    """The same runs with nothing but one more probe, whose own error is the last parameter; None where none sees it."""
    added = [one for run in campaign.runs if (one := with_reading(run, place)) is not None]
    if not added:
        return None
    offset = next(one.offset for one in added[0].readings)
    more = campaign.only(added).with_scatter({**campaign.scatter, **scatters_of((place,))})
    more.__dict__["own"] = (*campaign.own, *of_probe(place, offset))
    return more
