"""The rules of learning: what may be claimed, by which probes, and how a learned value is written."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from guidegen.assess.learn.added import with_probe
from guidegen.assess.learn.campaign import Campaign
from guidegen.assess.learn.lesson import Lesson, _by_place, alike, learn
from guidegen.assess.learn.observed import ObservedRun, Reading, binned
from guidegen.assess.learn.parameters import SEEN_BY
from guidegen.assess.learn.written import yaml_text
from guidegen.heat.predicted import Draw, Script
from guidegen.trade.uncertain import Uncertain
from guidegen.units import parse
from tests.reference.campaigns import KIT, bench, true_steps, whole_cells

pytestmark = pytest.mark.slow

NOISE = 0.05


@cache
def _bench():
    of = bench()
    kept = ("sensor.metal_share", "mixing", "group.to_boiler", "group.to_room", "boiler.to_water", "control.kp",
            "sensor.lag", "kit.contact", "kit.to_case", "heater.heat_capacity")  # fmt: skip
    return replace(of, parameters=tuple(one for one in of.parameters if one.input.id in kept))


def _campaign(places: tuple[str, ...]) -> tuple[Campaign, dict[str, float]]:
    """A cold start and two drinks with the kit, as the network itself lets them be, with noise."""
    chance = np.random.default_rng(12)
    of = _bench()
    steps = whole_cells(of, np.clip(true_steps(of, chance), -1.5, 1.5))
    drink = Script("idle", 240.0, (Draw(60.0, 28.0, 0.050),))
    runs = []
    for name, kits, script in (
        ("cold", (KIT,), Script("cold", 1500.0)),
        ("one", (KIT,), drink),
        ("two", (KIT,), drink),
    ):
        every = np.arange(0.0, script.lasts)
        readings = []
        for place in places:
            if len(at := binned(place, every, np.zeros(len(every)), script)[0]):
                readings.append(Reading(place, at, np.zeros(len(at)), NOISE))
        runs.append(ObservedRun(name, kits, script, tuple(readings), {}, (), bool(kits), False, True))
    campaign = Campaign(of, tuple(runs))
    full = []
    for run, predicted in zip(runs, campaign.predicted(steps), strict=True):
        seen = tuple(replace(one, value=values + chance.normal(0.0, NOISE, len(values)))
                     for one, values in zip(run.readings, predicted, strict=True))  # fmt: skip
        full.append(replace(run, readings=seen))
    truth = {one.key: float(one.prior.value(at)) for one, at in zip(of.parameters, steps, strict=True)}
    return Campaign(of, tuple(full)), truth


@cache
def _lesson(*places: str) -> tuple[Lesson, dict[str, float]]:
    campaign, truth = _campaign(places)
    return learn(campaign, starts=1), truth


def test_from_the_sensor_alone_nothing_of_contact_or_mixing_is_claimed() -> None:
    """However narrow the fit makes them; each is named with the probe that has to see it."""
    lesson, _ = _lesson("sensor")
    learned = {one.of.input.id for one in lesson.learned}
    assert learned
    assert not learned & set(SEEN_BY)
    by_id = {one.of.input.id: one for one in lesson.parameters}
    assert by_id["mixing"].because == "no probe saw it by itself"
    assert by_id["mixing"].settled_by == "a probe in the water that leaves the group, in more runs than these"
    assert by_id["kit.contact"].settled_by == "a probe on the coil's tube"


def test_with_their_probes_they_are_learned_and_are_right() -> None:
    """Four in five of the learned intervals of 95 % hold the truth, at least, and more is learned than before."""
    lesson, truth = _lesson("sensor", "outlet", "group", "coil-metal")
    learned = {one.of.input.id for one in lesson.learned}
    assert {"mixing", "kit.contact"} <= learned
    assert len(learned) > len(_lesson("sensor")[0].learned)
    hits = [one.after[1] <= truth[one.of.key] <= one.after[2] for one in lesson.learned]
    assert sum(hits) >= 0.8 * len(hits)


def test_runs_are_predicted_before_they_are_used() -> None:
    """Each from the others, to about the noise that was put in; a drink's dip to three tenths of a kelvin."""
    lesson, _ = _lesson("sensor", "outlet", "group", "coil-metal")
    assert [one.name for one in lesson.foretold] == ["cold", "one", "two"]
    for one in lesson.foretold[1:]:
        assert one.error < 4 * NOISE
        assert all(abs(seen - there) < 0.3 for seen, there in one.dips)


def test_where_no_machine_does_what_the_log_says_nothing_is_learned() -> None:
    """A sensor that jumps by ten kelvin for a minute is followed by no network."""
    campaign, _ = _campaign(("sensor",))
    cold = campaign.runs[0]
    reading = cold.readings[0]
    jumped = reading.value + np.where((reading.time > 500.0) & (reading.time < 700.0), 10.0, 0.0)
    runs = (replace(cold, readings=(replace(reading, value=jumped),)), *campaign.runs[1:])
    lesson = learn(replace(campaign, runs=runs), starts=1)
    assert not lesson.learned
    assert {one.because for one in lesson.parameters} == {"the network does not follow these runs at: sensor"}
    assert lesson.disagrees


@pytest.mark.parametrize(
    ("dimension", "value", "ends", "text"),
    [
        ("conductance", 2.4123, (2.3011, 2.5512), "2.41 W/K ± 0.14 W/K"),
        ("temperature", 375.15, (374.9, 375.45), "102.00 °C ± 0.30 K"),
        ("ratio", 0.712, (0.69, 0.73), "71.2 % ± 2.2 %"),
        ("count", 2.0, (1.9, 2.15), "2.00 ± 0.15"),
    ],
)
def test_a_value_is_written_to_two_digits_of_its_further_end(
    dimension: str, value: float, ends: tuple[float, float], text: str
) -> None:
    """What is written reads back as a quantity whose ± reaches the further end."""
    one = Uncertain("x", "x", value, *ends, dimension, "", "assumed")
    assert yaml_text(one, value, *ends) == text
    back = parse(text, dimension)
    assert back.low <= ends[0] + 1e-6 * abs(ends[0]) or back.high >= ends[1] - 1e-6 * abs(ends[1])


ERRORS = {"offset sensor": 0.8, "slope sensor": (295.0 - 373.15) * 0.8 * 2**0.5 / 80.0}
"""K by which one step more lets a probe of 0.8 K read 295 K too much: two errors at 20 and 100 °C that know nothing of
each other differ by √2 of one of them over 80 K."""


@pytest.mark.parametrize("name", ERRORS)
def test_a_room_that_the_sensor_read_is_off_by_what_its_probe_is(name: str) -> None:
    """Whatever the error, a cold start begins at what was read; and the slopes are those of the residuals."""
    whole, _ = _campaign(("sensor",))
    cold = next(run for run in whole.runs if run.script.start == "cold")
    script = Script("cold", 60.0)
    early = replace(cold.readings[0], time=np.array([0.0, 30.0]), value=np.array([295.0, 295.0]), offset=0.8)
    run = replace(cold, script=script, readings=(early,), told={"room": 295.0}, by_sensor=True)
    campaign = Campaign(whole.bench, (run,))
    at = [one.name for one in campaign.own].index(name) + len(whole.bench.parameters)
    steps, moved = np.zeros(campaign.width), np.zeros(campaign.width)
    moved[at] = 1.5
    # What a slope adds to a reading is by the true temperature, what it took from the room by the one that was read.
    within = 1e-6 if name == "offset sensor" else 0.036  # = (1.5 × 0.8 × √2 / 80)² × 78 K
    for where in (steps, moved):
        assert campaign.predicted(where)[0][0][0] == pytest.approx(295.0, abs=within)
    other = replace(campaign, runs=(replace(run, by_sensor=False),))
    assert other.predicted(moved)[0][0][0] == pytest.approx(295.0 + 1.5 * ERRORS[name], abs=1e-6)
    tiny = steps.copy()
    tiny[at] = 0.05
    by_hand = (campaign.residuals(tiny) - campaign.residuals(steps)) / 0.05
    assert campaign.slopes(steps)[:, at] == pytest.approx(by_hand, rel=0.05, abs=1e-3)


def test_no_run_follows_from_the_one_before_it() -> None:
    """A run that is logged from 100 s on behind one of 50 s: on its clock time goes back, as where a stretch begins."""
    of = _bench()
    first = ObservedRun("first", (KIT,), Script("cold", 60.0), (_still(0.0),))
    later = replace(first, name="later", script=Script("cold", 160.0), readings=(_still(100.0),))
    _, time, _ = _by_place(Campaign(of, (first, later)), np.zeros(len(of.parameters)))["sensor"]
    assert len(time) == 12
    assert (np.diff(time) <= 0).sum() == 1
    assert time[6] <= time[5]


def _still(start: float) -> Reading:
    time = start + np.arange(0.0, 60.0, 10.0)
    return Reading("sensor", time, np.full(len(time), 293.15), NOISE)


def test_an_added_probe_has_an_error_of_its_own() -> None:
    """Half a kelvin that its readings share; the sensor and the heater's power are taken as they are."""
    campaign, _ = _campaign(("sensor",))
    more = with_probe(campaign, "group")
    assert more is not None
    assert [(one.name, one.spread) for one in more.own if one not in campaign.own] == [
        ("offset group", 0.5),
        ("slope group", pytest.approx(0.5 * 2**0.5 / 80.0)),
    ]
    assert more.scatter["group"].fades > 0.0
    slopes = more.slopes(np.zeros(more.width))
    assert np.abs(slopes[:, -1]).max() > 0.0
    alone = with_probe(campaign, "heater")
    assert alone is not None
    assert alone.own == campaign.own


def test_runs_of_one_kind_repeat_what_the_network_lacks() -> None:
    """Three drinks and a cold start are two kinds of four runs: what each kind lacks is known half as often, so √2."""
    cold = ObservedRun("cold", (), Script("cold", 60.0), (_still(0.0),))
    drinks = [replace(cold, name=name, script=Script("idle", 60.0)) for name in "abc"]
    assert alike(Campaign(_bench(), (cold, *drinks))) == pytest.approx(2**0.5)
