"""The logged runs of one machine, read for learning: what was done in each, and what its probes showed."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from guidegen.assess.asking import served
from guidegen.assess.learn.campaign import Campaign, resting
from guidegen.assess.learn.machine import Bench
from guidegen.assess.learn.observed import ObservedRun, Reading, binned
from guidegen.assess.learn.parameters import learnable
from guidegen.heat.evaluation import RECTANGLE
from guidegen.heat.layout import Matrix
from guidegen.heat.learning import NORMAL_95
from guidegen.heat.network import Thermostat
from guidegen.heat.predicted import COLUMNS, Draw, Script
from guidegen.heat.sensors import class_tolerance
from guidegen.heat.switching import unlagged
from guidegen.runs.document import LoggedRun, Probe
from guidegen.runs.readings import Readings, readings
from guidegen.trade import Catalogue
from guidegen.trade.machine import Machine
from guidegen.unit_table import UNITS
from guidegen.workshop.facts import Fact

UNKNOWN_OFFSET, UNKNOWN_LAG = 1.0, (1.0, 0.5)
"""K, and s with its standard deviation, of a probe that nobody described."""
LATE = 900.0
"""s behind the last draw after which a log is of no further use here."""
LONGEST = {"cold": 3600.0, "idle": 3600.0, "off": 7200.0}
"""s of a log that are read."""
BEGINS: dict[str, str] = {"cold-start": "cold", "cooling": "off"}
"""By kind of run, the state in which it begins; all others begin warm and at rest."""


@dataclass(frozen=True)
class LeftOutRun:
    """A run that is not learned from, and why."""

    path: str
    because: str


@dataclass(frozen=True)
class ReadCampaign:
    """The runs of one machine, those that were left out, and where the used ones are described."""

    campaign: Campaign
    left_out: tuple[LeftOutRun, ...]
    paths: tuple[str, ...]
    machine: str
    """Which machine, as its runs name it."""


def runs_of(known: Catalogue, variant: str) -> dict[str, dict[str, LoggedRun]]:
    """The runs of a variant by the machine that they were made on, and by path; "" where nobody wrote which."""
    found: dict[str, dict[str, LoggedRun]] = {}
    for path, run in known.runs.items():
        if run.variant == variant:
            found.setdefault(run.machine or "", {})[path] = run
    return found


def read_campaign(known: Catalogue, machine: Machine, runs: dict[str, LoggedRun]) -> ReadCampaign:
    """Read the runs of one machine."""
    kits = tuple(known.kit(one) for one in sorted({kit for run in runs.values() for kit in run.kits}))
    bench = Bench(known, machine, kits, tuple(learnable(known, machine, kits)))
    made, left_out, paths = [], [], []
    for path, run in runs.items():
        found = observed(bench, path, run)
        if isinstance(found, LeftOutRun):
            left_out.append(found)
        else:
            made.append(found)
            paths.append(path)
    return ReadCampaign(Campaign(bench, tuple(made)), tuple(left_out), tuple(paths), _named(runs))


def _named(runs: dict[str, LoggedRun]) -> str:
    return next((run.machine for run in runs.values() if run.machine), "")


def observed(bench: Bench, path: str, run: LoggedRun) -> ObservedRun | LeftOutRun:
    """One run as numbers, or why it cannot be one."""
    known, machine = bench.known, bench.machine
    switches = isinstance(bench.network(run.kits, np.zeros((1, len(bench.parameters))), {}).control, Thermostat)
    found = readings(run, (known.root / path).parent / run.file)
    if not len(found.time):
        return LeftOutRun(path, "it has no rows")
    draws = [_draw(known, run, at, found) for at in range(len(run.shots))]
    if any(one is None for one in draws):
        return LeftOutRun(path, "it does not say how much was drawn: drink: or a scale's column tells")
    start = BEGINS.get(run.kind, "idle")
    drawn = tuple(one[0] for one in draws if one is not None)
    lasts = min(float(found.time[-1]), LONGEST[start])
    if drawn and start == "idle":
        lasts = min(lasts, drawn[-1].begins + drawn[-1].duration + LATE)
    script = Script(start, lasts, tuple(one for one in drawn if one.begins + one.duration < lasts))  # type: ignore[arg-type]
    made = tuple(_readings(run, found, script))
    if not made:
        return LeftOutRun(path, "no probe is at a place that the network has")
    sensor = next((one for one in made if one.place == "sensor"), None)
    script = resting(sensor, script)
    if switches and sensor is not None:
        script = replace(script, felt=_felt(found, sensor, lasts))
    elif switches:
        return LeftOutRun(path, "without the sensor nobody knows when the thermostat switched")
    coil = any(known.kit(one).coil is not None for one in run.kits)
    spreads = tuple(one[1] for one in draws if one is not None)[: len(script.draws)]
    return ObservedRun(Path(path).stem, run.kits, script, made, dict(_told(run, machine, found, start)), spreads, coil,
                       switches, run.invented, start == "cold" and not len(found.known("room")[1]))  # fmt: skip


def _felt(found: Readings, sensor: Reading, lasts: float) -> Matrix:
    """What a thermostat felt, by the probe at its sensor without its lag."""
    time, value = found.known("sensor")
    read = np.isfinite(time) & np.isfinite(value) & (time <= lasts)
    return unlagged(time[read], value[read], sensor.lag)


def _draw(known: Catalogue, run: LoggedRun, at: int, found: Readings) -> tuple[Draw, float] | None:
    """One shot with its mass, and the relative standard deviation of that; None where nobody knows the mass."""
    shot = run.shots[at]
    begins, duration = shot.begins.value, shot.ends.value - shot.begins.value
    drink = next((one for one in known.drinks.drinks if one.id == run.drink), None) if known.drinks else None
    time, mass = found.known("mass")
    if len(time):
        before = mass[(time > begins - 5.0) & (time <= begins)]
        after = mass[(time > shot.ends.value + 3.0) & (time < shot.ends.value + 15.0)]
        if len(before) and len(after):
            kept = (drink.puck_keeps.value + drink.vented.value) if drink else 0.0
            loose = math.hypot(drink.puck_keeps.plus_minus, drink.vented.plus_minus, 0.5e-3) if drink else 0.5e-3
            whole = float(np.median(after) - np.median(before)) + kept
            if whole > 0.0:
                return Draw(begins, duration, whole), loose / RECTANGLE / whole
    if drink is None:
        return None
    pull = served(known).pulls[drink.id]
    return Draw(begins, duration, pull.mass), pull.mass_spread / RECTANGLE / pull.mass


def _readings(run: LoggedRun, found: Readings, script: Script) -> Iterator[Reading]:
    for column in run.columns:
        place = column.meaning
        if place not in COLUMNS or (place == "heater" and column.unit not in UNITS["power"]):
            continue
        time, value = found.known(place)
        lag, spread = _lag(column.probe)
        at, mean, noise = binned(place, time, value, script, lag)
        if not len(at):
            continue
        noise = max(noise, found.resolution.get(place, 0.0) / math.sqrt(12.0))
        if place == "heater":
            yield Reading(place, at, mean, noise)
        else:
            yield Reading(place, at, mean, noise, _offset(column.probe, float(np.median(mean))), lag, spread)


def _lag(probe: Probe | None) -> tuple[float, float]:
    if probe is None or probe.lag is None or not probe.lag.known:
        return UNKNOWN_LAG
    return probe.lag.value, max(probe.lag.plus_minus / RECTANGLE, 0.05)


def _offset(probe: Probe | None, temperature: float) -> float:
    if probe is None:
        return UNKNOWN_OFFSET
    if probe.uncertainty is not None and probe.uncertainty.known:
        return probe.uncertainty.value / NORMAL_95
    if probe.grade is None or probe.kind == "other":
        return UNKNOWN_OFFSET
    return float(class_tolerance(probe.kind, probe.grade, temperature)) / RECTANGLE


def _told(run: LoggedRun, machine: Machine, found: Readings, start: str) -> Iterator[tuple[str, float]]:
    """What the run has measured of its surroundings; and its setpoint, where that is none of the catalogue's."""
    for place in ("room", "feed"):
        _, value = found.known(place)
        if len(value):
            yield place, float(np.median(value))
        elif place == "feed" and run.feed is not None and run.feed.known:
            yield place, run.feed.value
        elif place == "room" and start == "cold" and len(cold := found.known("sensor")[1]):
            yield place, float(cold[0])
    stated = machine.fact("control.setpoint")
    if run.setpoint is None or not run.setpoint.known or not isinstance(stated, Fact):
        return
    if abs(run.setpoint.value - stated.value) > max(stated.plus_minus, run.setpoint.plus_minus):
        yield "control.setpoint", run.setpoint.value
