"""Learning from the runs of one machine: the fit, what it pins, and how well it foretells runs that it has not seen."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace

import numpy as np

from guidegen.assess.learn.added import SCATTER_OF_POWER, with_probe
from guidegen.assess.learn.campaign import Campaign, Scatter
from guidegen.assess.learn.foretelling import Foretold, foretold
from guidegen.assess.learn.levels import levelled
from guidegen.assess.learn.observed import ObservedRun, Reading
from guidegen.assess.learn.parameters import PROBES, Learnable
from guidegen.heat.layout import Vector
from guidegen.heat.learning import (
    COUPLED,
    HALF,
    NORMAL_95,
    Posterior,
    pinned,
    posterior,
    profile,
)
from guidegen.heat.residuals import CORRELATED, correlated, scatter
from guidegen.language import marked
from guidegen.record.learned import IN_MORE_RUNS

STARTS = 3
"""Starts of the search: the priors' centres, and others drawn from the priors."""
SEED = 20
ROUNDS = 3
"""How often the scatter of the residuals is taken anew from the fit before."""
ROUGHLY, ENDS, TRIES, LATER = 1e-2, 1e-6, 8, 20
"""The relative change of the sum of squares at which the first rounds end, and the last; and how often a start of a
round asks for residuals. Near a thermostat's switching the slopes jump, so that a search may turn for ever."""
BELIEVED = 0.8
"""K: where residuals at a place are larger than this (root mean square), nothing is learned: the fit found no machine
that does what the log says."""
FELT = 0.1
"""Slopes along a parameter shorter than this all together tell nothing of it, and it is left where it stands."""
FOLLOWS_EACH_OTHER = 0.05
"""Where chance alone would correlate residuals as much less often than this, the model leaves something out."""
BY_ITSELF = marked("a measurement of the part itself")
"""What settles an input of which the catalogue says nothing better."""
UNSEEN, WIDE, TIED = "no probe saw it by itself", "its interval did not halve", "moves with "
LEADS = "the runs are led by it"
"""Why an input is not learned; the one but last names another one. What switches a led machine is put in, and rests on
the level and the lag of the very probe that it is held against."""
LEADING = ("control.opens", "control.closes", "control.lag")
FIRST = Scatter(0.5, 0.0)
Progress = Callable[[str], None]


@dataclass(frozen=True)
class LessonOfParameter:
    """What was learned of one parameter: its range before and after, SI, and why it is not called learned."""

    of: Learnable
    before: tuple[float, float, float]
    after: tuple[float, float, float]
    """Value and the ends of the 95 % interval."""
    width: float
    """The interval after over the interval before, on the scale on which it is learned."""
    learned: bool
    because: str
    """Empty where it is learned."""
    settled_by: str
    coupled: str
    coupling: float


@dataclass(frozen=True)
class PlaceResiduals:
    """The residuals of one place: how many, how they scatter, and how often chance alone would correlate them so."""

    place: str
    count: int
    deviation: float
    fades: float
    probability: float


@dataclass(frozen=True)
class Lesson:
    """All that the runs of one machine taught."""

    campaign: Campaign
    found: Posterior
    parameters: tuple[LessonOfParameter, ...]
    untouched: tuple[Learnable, ...]
    """Parameters of which the runs tell nothing."""
    foretold: tuple[Foretold, ...]
    residuals: tuple[PlaceResiduals, ...]
    set_aside: tuple[ObservedRun, ...] = ()
    """Runs with a thermostat that the search could not follow: nothing was learned from them."""

    @property
    def learned(self) -> tuple[LessonOfParameter, ...]:
        """Those that were learned."""
        return tuple(one for one in self.parameters if one.learned)

    @property
    def strays(self) -> tuple[PlaceResiduals, ...]:
        """Places whose residuals follow each other: the model lacks something that these runs show."""
        return _straying(self.residuals)

    @property
    def disagrees(self) -> bool:
        """Whether there is any such place."""
        return bool(self.strays)


def learn(campaign: Campaign, progress: Progress = lambda words: None, starts: int = STARTS) -> Lesson:
    """Learn from the runs of one machine."""
    progress("looking for what the runs see")
    whole = campaign
    campaign, found, set_aside = fitted(felt(whole), starts, progress)
    taken = {one.key for one in campaign.bench.parameters}
    progress("profiles")
    residuals = tuple(_residuals(campaign, found))
    because = f"the network does not follow these runs at: {', '.join(lost)}" if (lost := _lost(residuals)) else ""
    wider = alike(campaign) if _straying(residuals) else 1.0
    parameters = tuple(_of_parameter(campaign, found, number, because, wider) for number in range(len(taken)))
    progress("predicting each run from the others")
    return Lesson(
        campaign, found, tuple(sorted(parameters, key=lambda one: (not one.learned, one.width))),
        tuple(one for one in whole.bench.parameters if one.key not in taken),
        tuple(foretold(campaign, found)), residuals, set_aside,
    )  # fmt: skip


def _lost(residuals: Iterable[PlaceResiduals]) -> list[str]:
    return [one.place for one in residuals if one.deviation > BELIEVED and one.place != "heater"]


def fitted(campaign: Campaign, starts: int, progress: Progress) -> tuple[Campaign, Posterior, tuple[ObservedRun, ...]]:
    """The campaign with the weights that its residuals ask for, the posterior, and runs that were set aside.

    The search begins with the runs that change smoothly with every parameter. Those of a thermostat join it from there,
    because from far away its switching leads to the wrong valley; where it does so even then, they are set aside.
    """
    drawn = np.random.default_rng(SEED).normal(size=(starts - 1, campaign.width))
    tried = [np.zeros(campaign.width), *drawn]
    smooth = tuple(one for one in campaign.runs if not one.switches)
    switching = tuple(one for one in campaign.runs if one.switches)
    if not smooth or not switching:
        return *_fitted(campaign, [levelled(campaign, one) for one in tried], progress), ()
    progress("the runs without a thermostat")
    alone, found = _fitted(campaign.only(smooth), tried, progress)
    progress("the runs with a thermostat")
    start = levelled(campaign, found.centre)
    every, both = _fitted(campaign.with_scatter(alone.scatter), [start], progress)
    if _lost(_residuals(every, both)):
        return alone, found, switching
    return every, both, ()


def _fitted(campaign: Campaign, tried: list[Vector], progress: Progress) -> tuple[Campaign, Posterior]:
    for turn in range(ROUNDS):
        progress(f"fitting, round {turn + 1} of {ROUNDS}")
        last = turn == ROUNDS - 1
        ends, most = ENDS if last else ROUGHLY, LATER if turn or len(tried) == 1 else TRIES
        found = posterior(campaign.residuals, campaign.slopes, tried, ends, most)
        tried = [found.centre]
        if not last:
            campaign = campaign.with_scatter(scatters(campaign, found.centre))
    return campaign, found


def felt(campaign: Campaign) -> Campaign:
    """The campaign with those parameters alone of which its runs tell anything."""
    campaign = campaign.with_scatter({one.place: FIRST for run in campaign.runs for one in run.readings}
                                     | {"heater": SCATTER_OF_POWER})  # fmt: skip
    bench = campaign.bench
    lengths = np.linalg.norm(campaign.slopes(np.zeros(campaign.width)), axis=0)[: len(bench.parameters)]
    kept = tuple(one for one, length in zip(bench.parameters, lengths, strict=True) if length > FELT)
    return replace(campaign, bench=replace(bench, parameters=kept))


def scatters(campaign: Campaign, steps: Vector) -> dict[str, Scatter]:
    """By place, how the residuals at some parameters scatter."""
    made = {}
    for place, (left, time, noise) in _by_place(campaign, steps).items():
        made[place] = Scatter(*scatter(left, time, noise))
    return made


def _by_place(campaign: Campaign, steps: Vector) -> dict[str, tuple[Vector, Vector, float]]:
    """By place: residuals of all runs one after the other, their times, and the noise of a reading.

    Each run's times begin at nothing, so that they go back where another run begins and none follows from another.
    """
    found: dict[str, list[tuple[Vector, Reading]]] = {}
    for run, left in zip(campaign.runs, campaign.plain(steps), strict=True):
        for one in run.readings:
            found.setdefault(one.place, []).append((left[one.place], one))
    return {
        place: (
            np.concatenate([left for left, _ in some]), np.concatenate([one.time - one.time[:1] for _, one in some]),
            float(np.mean([one.noise for _, one in some])),
        )
        for place, some in found.items()
    }  # fmt: skip


def _residuals(campaign: Campaign, found: Posterior) -> Iterator[PlaceResiduals]:
    for place, (left, time, noise) in _by_place(campaign, found.centre).items():
        by = campaign.scatter.get(place, Scatter())
        probability = correlated(left / noise) if len(left) >= CORRELATED.low else 1.0
        yield PlaceResiduals(place, len(left), float(np.sqrt(np.mean(left**2))), by.fades if len(time) else 0.0,
                             probability)  # fmt: skip


def _straying(residuals: tuple[PlaceResiduals, ...]) -> tuple[PlaceResiduals, ...]:
    return tuple(one for one in residuals if one.probability < FOLLOWS_EACH_OTHER / len(residuals))


def alike(campaign: Campaign) -> float:
    """By what intervals are widened where the network lacks something that the runs show.

    What it lacks comes again in every run of the same kind, so a second one teaches nothing more of it: so many times
    the variance, as there are runs of a kind.
    """
    return float(np.sqrt(len(campaign.runs) / len({(run.kits, run.script.start) for run in campaign.runs})))


def _of_parameter(campaign: Campaign, found: Posterior, number: int, because: str, wider: float) -> LessonOfParameter:
    one = campaign.bench.parameters[number]
    spread = wider * float(found.deviations[number])
    named = np.array(campaign.is_named)
    coupling = np.abs(found.correlation - np.eye(campaign.width))[number] * named
    other = int(np.argmax(coupling))
    is_pinned = bool(pinned(found, campaign.is_named)[number])
    low, high = found.centre[number] - NORMAL_95 * spread, found.centre[number] + NORMAL_95 * spread
    width = spread
    if is_pinned:
        middle = float(found.centre[number])
        low, high = (middle + wider * (end - middle) for end in profile(campaign.residuals, found, number))
        width = (high - low) / (2 * NORMAL_95)
    tied = campaign.bench.parameters[other].key
    because = because or _why(campaign, one, tied if coupling[other] >= COUPLED else "", width)
    value = one.prior.value
    return LessonOfParameter(
        one, (float(value(0.0)), float(value(-NORMAL_95)), float(value(NORMAL_95))),
        (float(value(found.centre[number])), float(value(low)), float(value(high))), width, not because, because,
        settled_by(campaign, found, number) if because else "",
        tied, float(coupling[other]),
    )  # fmt: skip


def _why(campaign: Campaign, one: Learnable, tied: str, width: float) -> str:
    """Why a parameter is not learned; empty where it is."""
    places = {reading.place for run in campaign.runs for reading in run.readings}
    if one.key in LEADING and any(run.script.felt is not None for run in campaign.runs):
        return LEADS
    if one.seen_by and not places & set(one.seen_by):
        return UNSEEN
    if tied:
        return f"{TIED}{tied}"
    return WIDE if width > HALF else ""


def settled_by(campaign: Campaign, found: Posterior, number: int) -> str:
    """The probe that would have settled a parameter best in these runs; else what its input says.

    Of what nothing may be claimed without a certain probe, no other settles it; where these runs are too few even with
    that one, it is named all the same.
    """
    one = campaign.bench.parameters[number]
    there = {reading.place for run in campaign.runs for reading in run.readings}
    unseen = one.seen_by if not there & set(one.seen_by) else ()
    added = {place: _with_probe(campaign, found, place) for place in unseen or PROBES if place not in there}
    left = {place: float(seen.deviations[number]) for place, seen in added.items()
            if seen is not None and pinned(seen, campaign.is_named)[number]}  # fmt: skip
    if left:
        return PROBES[min(left, key=left.__getitem__)]
    if unseen:
        return PROBES[unseen[0]] + IN_MORE_RUNS
    return one.input.settles or BY_ITSELF


def _with_probe(campaign: Campaign, found: Posterior, place: str) -> Posterior | None:
    """What would be known with one more probe, in the same runs; None where these never show it."""
    memory = campaign.__dict__.setdefault("_added", {})
    if place not in memory:
        more = with_probe(campaign, place)
        memory[place] = None if more is None else _narrowed(found, more)
    return memory[place]  # type: ignore[no-any-return]


def _narrowed(found: Posterior, more: Campaign) -> Posterior:
    """What would be known with more readings, at the same centre; what is their probe's own is known as its prior."""
    width = len(found.centre)
    slopes = more.slopes(np.pad(found.centre, (0, more.width - width)))
    information = np.eye(more.width)
    information[:width, :width] = np.linalg.inv(found.covariance)
    covariance = np.linalg.inv(information + slopes.T @ slopes)[:width, :width]
    return replace(found, covariance=np.asarray(covariance, dtype=np.float64))
