"""Which runs would teach most: each is computed as if it had been made, at several machines that may be this one."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from guidegen.assess.asking import served
from guidegen.assess.learn.added import scatters_of, with_reading
from guidegen.assess.learn.campaign import Campaign
from guidegen.assess.learn.machine import Bench
from guidegen.assess.learn.observed import ObservedRun
from guidegen.assess.learn.parameters import PROBES, learnable
from guidegen.assess.question import Served
from guidegen.assess.running import added_rows
from guidegen.heat.fleet import Fleet
from guidegen.heat.layout import Matrix, Vector
from guidegen.heat.learning import NORMAL_95
from guidegen.heat.network import Rows
from guidegen.heat.planning import along, blocks, expected, pairs_needed
from guidegen.heat.predicted import Draw, Script
from guidegen.heat.program import starts
from guidegen.heat.shot import AT, WATCHED_AFTER
from guidegen.heat.study import study
from guidegen.heat.temperature import ZERO_CELSIUS
from guidegen.problems import UsageProblem
from guidegen.record import places
from guidegen.runs.looking import RESTED
from guidegen.trade import Catalogue
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine

MACHINES = 3
"""Machines from the priors, beside the one in their middle, over which the expectation is taken."""
SEED = 31
SHOTS = 5
"""Drinks that one planned run of drinks stands for."""
WORTH = 0.03
"""A further run is named while it narrows the figures by so much of what is left, on average."""
MOST_NAMED = 8
ROUNDING = 1e-9
"""Half-widths below this share of a figure are rounding: nothing moves it, and nothing can narrow it."""
READ_OFF = 0.1
"""K by which a drop read from a log scatters by itself."""
Progress = Callable[[str], None]


@dataclass(frozen=True)
class PlannedRun:
    """A run that might be made: what is done, with which kits, and where the added probe sits."""

    kind: str
    kits: tuple[str, ...]
    place: str

    @property
    def words(self) -> str:
        """What is done, in words."""
        what = {"cold-start": "cold start", "shot": f"{SHOTS} drinks", "long-draw": "long draw", "cooling": "cooling"}
        return f"{what[self.kind]}, {' and '.join(self.kits) or 'no kit'}"


@dataclass(frozen=True)
class FigureNow:
    """A headline before any run: what it is called, its median, and how it goes with the parameters."""

    words: str
    place: str
    median: float
    gradient: Vector
    rest: float
    before: float
    """Half of the 95 % interval."""

    @property
    def title(self) -> str:
        """What it is called, with its unit."""
        ending = places.key(self.place).rpartition("_")[2]
        unit = {"k": "K", "degc": "°C", "s": "s"}.get(ending)
        return f"{self.words}, {unit}" if unit else self.words


@dataclass(frozen=True)
class Expectation:
    """What a run would make of each figure: half of the 95 % interval, in their order."""

    of: PlannedRun
    after: tuple[float, ...]


@dataclass(frozen=True)
class RunPlan:
    """All that is planned for a variant and its kits."""

    bench: Bench
    kits: tuple[str, ...]
    figures: tuple[FigureNow, ...]
    alone: tuple[Expectation, ...]
    together: tuple[Expectation, ...]
    """Runs in the order in which each adds most to those before it."""
    scatter: dict[str, float]
    """By configuration, how the sensor drop of a drink differs from one to the next, K."""

    def shots_needed(self, half_width: float) -> int:
        """Shots of each configuration that let a change of the dip be known so well, K, for the worst pair of them."""
        return max(pairs_needed(math.hypot(*two), half_width) for two in combinations(self.scatter.values(), 2))

    def order(self, count: int, seed: int) -> list[tuple[str, ...]]:
        """Blocks of configurations, each in an order that chance gives."""
        return blocks([*self.scatter], count, seed)


def plan(
    known: Catalogue, machine: Machine, kits: Sequence[Kit], have: Sequence[str], draws: int, progress: Progress
) -> RunPlan:
    """Plan runs for a machine with some kits; `have`: the places of the probes that there are, all by default."""
    bench = Bench(known, machine, tuple(kits), tuple(learnable(known, machine, kits)))
    asked = served(known)
    fitted = tuple(kit.id for kit in kits)
    progress("figures from today's ranges")
    figures = tuple(_figures(bench, fitted, asked, draws))
    if not figures:
        raise UsageProblem("these kits change no figure; nothing to plan")
    progress("runs as if they had been made")
    configurations = [(), *(fitted[:count] for count in range(1, len(fitted) + 1))]
    there = [place for place in PROBES if not have or place in have]
    slopes = _slopes(bench, configurations, there, asked)
    alone = [_expected(one, [steep], figures) for one, steep in slopes.items()]
    alone.sort(key=lambda one: (_left(one, figures), one.of.words, one.of.place))
    progress("the best runs together")
    return RunPlan(
        bench, fitted, figures, tuple(alone), tuple(_together(slopes, figures)),
        {_called(one): _scatter(bench, one, asked) for one in configurations},
    )  # fmt: skip


def _called(kits: tuple[str, ...]) -> str:
    return " + ".join(kits) or "stock"


def _figures(bench: Bench, kits: tuple[str, ...], asked: Served, draws: int) -> Iterator[FigureNow]:
    """The headlines over draws from the priors."""
    chance = np.random.default_rng(SEED)
    steps = chance.normal(size=(draws, len(bench.parameters)))
    phase = chance.uniform(size=draws)
    before, after = (
        study(bench.network(one, steps, {}), asked.pulls, asked.main, asked.usage, phase) for one in ((), kits)
    )
    drops = [side.drinks[asked.main].sensor_drop for side in (before, after)]
    with np.errstate(divide="ignore", invalid="ignore"):
        rows: dict[str, Rows] = {
            "drop ratio": drops[1] / drops[0],
            "drop with the kit": drops[1],
            "mean outlet with the kit": after.drinks[asked.main].mean_outlet - ZERO_CELSIUS,
            "warm-up added": added_rows(before, after)[1],
            "energy ratio": after.session_energy / before.session_energy,
        }
    for one in places.HEADLINES:
        values = np.where(np.isfinite(rows[one.words]), rows[one.words], np.nan)
        if np.isfinite(values).sum() < len(bench.parameters) + 8:
            continue
        gradient, rest = along(values, steps)
        half, median = NORMAL_95 * float(np.hypot(np.linalg.norm(gradient), rest)), float(np.nanmedian(values))
        if half > ROUNDING * max(1.0, abs(median)):
            yield FigureNow(one.words, one.place, median, gradient, rest, half)


def _slopes(
    bench: Bench, configurations: Sequence[tuple[str, ...]], there: Sequence[str], asked: Served
) -> dict[PlannedRun, list[Matrix]]:
    """By candidate, the slopes of its residuals at each machine, with what its own probes and draws leave open."""
    found: dict[PlannedRun, list[Matrix]] = {}
    machines = np.random.default_rng(SEED).normal(size=(MACHINES, len(bench.parameters)))
    scatter = scatters_of()
    for kits in configurations:
        for kind, script in _scripts(asked).items():
            if kind == "long-draw" and not kits:
                continue
            coil = any(one.coil is not None for one in bench.kits if one.id in kits)
            run = ObservedRun("planned", kits, script, (), has_coil=coil, mass_spread=(0.02,) * len(script.draws))
            for place in there:
                seen = [
                    one for name in dict.fromkeys(("sensor", place)) if (one := with_reading(run, name)) is not None
                ]
                readings = tuple(two for one in seen for two in one.readings)
                if place not in {one.place for one in readings}:
                    continue
                campaign = Campaign(bench, (replace(run, readings=readings),), scatter)
                points = [np.zeros(campaign.width), *(np.pad(one, (0, len(campaign.own))) for one in machines)]
                is_each = [one.name.startswith("mass ") for one in campaign.own]
                many = SHOTS if kind == "shot" else 1
                found[PlannedRun(kind, kits, place)] = [
                    own_removed(campaign.slopes(point), is_each, many) for point in points
                ]
    return found


def own_removed(slopes: Matrix, is_each: Sequence[bool], many: int) -> Matrix:
    """Slopes R of the machine's parameters, such that RᵀR is what is left when the run's own are not known better.

    slopes: of one drink; behind the machine's parameters those of the run's own, of which `is_each` says which are
    another in each of so many drinks, as its mass is. The others, as what a probe is off, are the same in all of them.
    """
    information = slopes.T @ slopes
    shared = slopes.shape[1] - len(is_each)
    one = np.array([*([False] * shared), *is_each], dtype=bool)
    every = many * _without(information, one)
    left = _without(every, np.arange(len(every)) >= shared)
    values, vectors = np.linalg.eigh(left)
    return np.asarray(np.sqrt(np.clip(values, 0.0, None))[:, np.newaxis] * vectors.T)


def _without(information: Matrix, gone: NDArray[np.bool_]) -> Matrix:
    """Information of the other parameters when these are known no better than as their priors."""
    middle = np.linalg.inv(np.eye(int(gone.sum())) + information[np.ix_(gone, gone)])
    across = information[np.ix_(~gone, gone)]
    return np.asarray(information[np.ix_(~gone, ~gone)] - across @ middle @ across.T)


def _scripts(asked: Served) -> dict[str, Script]:
    """What is done in each kind of run."""
    pull = asked.pulls[asked.main]
    drawn = Draw(RESTED, pull.duration, pull.mass)
    long = Draw(RESTED, 3 * pull.duration, 3 * pull.mass)
    return {
        "cold-start": Script("cold", 1500.0),
        "shot": Script("idle", RESTED + pull.duration + 300.0, (drawn,)),
        "long-draw": Script("idle", RESTED + 3 * pull.duration + 120.0, (long,)),
        "cooling": Script("off", 3600.0),
    }


def _expected(one: PlannedRun, runs: Sequence[list[Matrix]], figures: Sequence[FigureNow]) -> Expectation:
    """The figures after some runs, as the mean over the machines."""
    machines = range(len(runs[0]))
    stacked = [np.concatenate([steep[number] for steep in runs]) for number in machines]
    after = tuple(
        NORMAL_95 * float(np.mean([np.hypot(expected(steep, figure.gradient), figure.rest) for steep in stacked]))
        for figure in figures
    )
    return Expectation(one, after)


def _left(one: Expectation, figures: Sequence[FigureNow]) -> float:
    """What is left of the figures' widths, on average."""
    return float(np.mean([after / figure.before for after, figure in zip(one.after, figures, strict=True)]))


def _together(slopes: dict[PlannedRun, list[Matrix]], figures: Sequence[FigureNow]) -> Iterator[Expectation]:
    """Run after run, the one that narrows most with all that are named before it."""
    taken: list[list[Matrix]] = []
    open_still, left = dict(slopes), 1.0
    while open_still and len(taken) < MOST_NAMED:
        tried = [_expected(one, [*taken, steep], figures) for one, steep in open_still.items()]
        best = min(tried, key=lambda one: (_left(one, figures), one.of.words, one.of.place))
        if _left(best, figures) > (1.0 - WORTH) * left:
            return
        left = _left(best, figures)
        taken.append(open_still.pop(best.of))
        yield best


def _scatter(bench: Bench, kits: tuple[str, ...], asked: Served) -> float:
    """How the sensor drop differs from one drink to the next on one machine, K: hand, thermostat, reading."""
    count = 64
    network = bench.network(kits, np.zeros((count, len(bench.parameters))), {})
    chance = np.random.default_rng(SEED)
    habit = chance.triangular(-1.0, 0.0, 1.0, size=(count, 2))
    begin = starts(Fleet(network.parameters(), habit=habit), chance.uniform(size=count), every=()).once()
    pull = asked.pulls[asked.main]
    made = begin.fleet.shots(begin.states, pull, who=begin.who, wait=begin.wait, follow=WATCHED_AFTER,
                             facts=begin.facts)  # fmt: skip
    return float(np.hypot(np.nanstd(made.results[:, AT.sensor_drop], ddof=1), READ_OFF))
