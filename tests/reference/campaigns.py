"""Invented campaigns on invented machines, stepped by the tests' own equations, and read by bad probes.

Truth is drawn from the catalogue's own distributions. Probes are later than stated, off by an offset, drift, scatter,
and write tenths of a degree. In the other form the boiler's water lies in two layers that mix slowly, which no network
of the package knows: its sensor sees the upper one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from guidegen import trade
from guidegen.assess.learn.campaign import Campaign
from guidegen.assess.learn.machine import Bench
from guidegen.assess.learn.observed import ObservedRun, Reading, binned
from guidegen.assess.learn.parameters import learnable
from guidegen.heat.network import Network
from guidegen.heat.predicted import Draw, Script
from tests.reference.ours import in_their_terms, start_of
from tests.reference.solver import Leg, solve

Numbers = NDArray[np.float64]
ROOT = Path(__file__).parents[2]
VARIANT, KIT, MASS, TIME = "tamsin-mk2", "feed-preheater", 0.050, 28.0
BEFORE, AFTER, COLD, PAIRS, CELLS = 60.0, 150.0, 1200.0, 5, 48
PLACES = ("sensor", "group", "outlet")
LAG, LAG_SPREAD, OFFSET, NOISE, DRIFT, STEP = 1.0, 0.2, 0.4, 0.08, 0.05, 0.1
"""The probes: stated lag, s, and the standard deviation of the true one; offset, noise, drift in an hour, step, K."""
HAND = 0.015
"""Relative standard deviation of what a hand draws."""


@dataclass(frozen=True)
class Invented:
    """A campaign with what is true: parameters by key in SI, dips as read by pair, and the true change of the dip."""

    campaign: Campaign
    truth: dict[str, float]
    dips: tuple[tuple[float, float], ...]
    change: float


def bench() -> Bench:
    """The bench of every campaign: as the catalogue states it."""
    known = trade.load(ROOT)
    machine, kit = known.machine(VARIANT), known.kit(KIT)
    return Bench(known, machine, (kit,), tuple(learnable(known, machine, [kit])))


def true_steps(of: Bench, chance: np.random.Generator) -> Numbers:
    """A machine from the catalogue's distributions, as steps of the priors."""
    values = [float(one.input.distribution.at(chance.uniform())) for one in of.parameters]
    return np.array([float(one.prior.steps(value)) for one, value in zip(of.parameters, values, strict=True)])


def whole_cells(of: Bench, steps: Numbers) -> Numbers:
    """The same with a whole number of mixed cells, because the equations have no other."""
    made = steps.copy()
    for number, one in enumerate(of.parameters):
        if one.input.id == "mixing":
            made[number] = float(one.prior.steps(max(1.0, float(np.rint(one.prior.value(steps[number]))))))
    return made


def stepped(network: Network, legs: Sequence[Leg], cold: bool, layered: bool) -> tuple[Numbers, dict[str, Numbers]]:
    """Seconds, and what is at each place, K. Layered: the sensor sees the upper of two slow layers."""
    start = in_their_terms(start_of(network, 0, CELLS, from_cold=cold))
    looks = np.arange(1.0, sum(leg.duration for leg in legs), 1.0)
    done = solve(network, 0, start, list(legs), looks, CELLS, relative=1e-7)
    cells = int(network.mixing[0])
    water, group = done.states[:, 8 : 8 + cells], done.states[:, 2]
    flows = np.zeros(len(looks))
    at = 0.0
    for leg in legs:
        flows[(looks > at) & (looks <= at + leg.duration)] = leg.flow * 4190.0
        at += leg.duration
    with np.errstate(divide="ignore"):
        passing = np.where(flows > 0, np.exp(-network.group_to_water[0] / np.where(flows > 0, flows, 1.0)), 1.0)
    seen = done.states[:, 3]
    if layered:
        seen = seen + _layer(looks, flows)
    return looks, {"sensor": seen, "group": group, "outlet": group + (water[:, -1] - group) * passing}


def _layer(looks: Numbers, flows: Numbers) -> Numbers:
    """How much warmer the upper layer stays than the mean: it builds up in a draw, and fades in a minute and a half."""
    apart = np.zeros(len(looks))
    for at in range(1, len(looks)):
        apart[at] = apart[at - 1] * np.exp(-1.0 / 90.0) + (0.06 if flows[at] > 0 else 0.0)
    return apart


def read(time: Numbers, value: Numbers, offset: float, lag: float, chance: np.random.Generator) -> Numbers:
    """What a bad probe writes."""
    late, step = value.copy(), 1.0
    fade = np.exp(-step / lag)
    for at in range(1, len(value)):
        # Exact where the temperature goes in straight lines from second to second.
        ramp = (value[at] - value[at - 1]) / step * lag
        late[at] = value[at] - ramp + (late[at - 1] - value[at - 1] + ramp) * fade
    drift = DRIFT * chance.normal() * time / 3600.0
    written = late + offset + drift + chance.normal(0.0, NOISE, len(value))
    return np.asarray(np.round(written / STEP) * STEP)


def invented(of: Bench, seed: int, layered: bool = False) -> Invented:
    """One campaign; where a machine has no rest that it could begin from, another is drawn."""
    for attempt in range(20):
        try:
            return _invented(of, np.random.default_rng([71, seed, *([attempt] if attempt else [])]), layered)
        except ValueError:
            continue
    raise AssertionError(f"no machine of twenty can be logged, seed {seed}")


def _invented(of: Bench, chance: np.random.Generator, layered: bool) -> Invented:
    """A cold start and five drinks without the kit, and the same with it."""
    steps = whole_cells(of, true_steps(of, chance))
    offsets = {place: chance.normal(0.0, OFFSET) for place in PLACES}
    lags = {place: max(0.2, LAG + LAG_SPREAD * chance.normal()) for place in PLACES}
    runs, dips, plain = [], [], []
    for kits in ((), (KIT,)):
        network = of.network(kits, steps[np.newaxis], {})
        time, there = stepped(network, [Leg(COLD)], True, layered)
        runs.append(_run(of, f"cold-{len(kits)}", kits, Script("cold", COLD), time, there, offsets, lags, chance))
        plain.append(_drop(*stepped(network, [Leg(BEFORE), Leg(TIME, MASS / TIME), Leg(AFTER)], False, layered)))
        row = []
        for number in range(PAIRS):
            legs = [Leg(BEFORE), Leg(TIME, MASS * np.exp(HAND * chance.normal()) / TIME), Leg(AFTER)]
            time, there = stepped(network, legs, False, layered)
            script = Script("idle", BEFORE + TIME + AFTER, (Draw(BEFORE, TIME, MASS),))
            made = _run(of, f"drink-{len(kits)}-{number}", kits, script, time, there, offsets, lags, chance)
            runs.append(made)
            row.append(_dip(made))
        dips.append(row)
    named = {one.key: float(one.prior.value(at)) for one, at in zip(of.parameters, steps, strict=True)}
    return Invented(Campaign(of, tuple(runs)), named, tuple(zip(*dips, strict=True)), plain[1] - plain[0])


def _drop(time: Numbers, there: dict[str, Numbers]) -> float:
    seen = there["sensor"]
    watched = (time >= BEFORE) & (time <= BEFORE + TIME + 60.0)
    return float(np.interp(BEFORE, time, seen) - seen[watched].min())


def _run(
    of: Bench, name: str, kits: tuple[str, ...], script: Script, time: Numbers, there: dict[str, Numbers],
    offsets: dict[str, float], lags: dict[str, float], chance: np.random.Generator,
) -> ObservedRun:  # fmt: skip
    readings = []
    for place, value in there.items():
        at, mean, noise = binned(place, time, read(time, value, offsets[place], lags[place], chance), script, LAG)
        if len(at):
            readings.append(Reading(place, at, mean, noise, OFFSET, LAG, LAG_SPREAD))
    return ObservedRun(name, kits, script, tuple(readings), {}, (HAND,) * len(script.draws), bool(kits), invented=True)


def _dip(run: ObservedRun) -> float:
    """The dip as read: the rest before, less the lowest of a parabola through the bins around the lowest one."""
    sensor = run.reading("sensor")
    assert sensor is not None
    before = sensor.value[(sensor.time < BEFORE) & (sensor.time > BEFORE - 40.0)].mean()
    watched = np.flatnonzero((sensor.time >= BEFORE) & (sensor.time <= BEFORE + TIME + 60.0))
    least = int(watched[np.argmin(sensor.value[watched])])
    around = slice(max(0, least - 2), least + 3)
    bend, slope, middle = np.polyfit(sensor.time[around] - sensor.time[least], sensor.value[around], 2)
    lowest = middle - slope**2 / (4 * bend) if bend > 0 else sensor.value[least]
    return float(before - lowest)
