"""Do the ranges cover? Machines drawn apart, each taken as the truth, against the 95 % range of the record.

The sampler is its own: sums and roots of random numbers, no quantile functions and no Sobol sequence. What a truth's
outputs are, the program itself says, with the truth's values in the place of the stated ones.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.stats import binom

from guidegen.assess import inputs
from guidegen.assess.asking import question, served, supplied
from guidegen.assess.network_of import with_kit, without_kit
from guidegen.assess.numbers import Numbers, Studies, compute
from guidegen.heat.study import WAITS, Study, study
from guidegen.heat.temperature import ZERO_CELSIUS
from guidegen.record import Figure, places
from guidegen.trade.uncertain import Uncertain, Values
from tests.mutants.draft import catalogue
from tests.whole import WHOLE

Rows = NDArray[np.float64]
TRUTHS, DRAWS, SEED = (400, 2048, 2026) if WHOLE else (100, 512, 2026)
COVERED, SURE = 0.95, 0.9999
"""What a range promises, and how sure the bounds are that its count is put between."""
MEAN = 0.01
"""How far the mean of all outputs may be from what is promised, with 400 truths."""
PAIRS = (("tamsin-mk2", "feed-preheater"), ("tamsin-mk1", "feed-preheater"))
"""One under PID control, one under a thermostat."""


def truths(one: Uncertain, draw: np.random.Generator) -> Rows:
    """Values of an input, as its fact says it is spread."""
    low, high, mode = one.low, one.high, one.value
    if not high > low:
        return np.full(TRUTHS, mode)
    if one.drawn == "normal":
        # What is measured is stated with its 95 % interval.
        return mode + (high - low) / (2 * 1.96) * draw.standard_normal(TRUTHS)
    if one.drawn == "rectangular":
        return draw.uniform(low, high, TRUTHS)
    if one.drawn == "log-triangular":
        return np.exp(triangular(np.log(low), np.log(mode), np.log(high), draw))
    return triangular(low, mode, high, draw)


def triangular(low: float, mode: float, high: float, draw: np.random.Generator) -> Rows:
    """The larger of two uniform numbers rises like the left side, one less it falls like the right one.

    The left side is taken as often as it is wide.
    """
    larger = draw.uniform(size=(2, TRUTHS)).max(axis=0)
    left = draw.uniform(size=TRUTHS) < (mode - low) / (high - low)
    return np.where(left, low + (mode - low) * larger, high - (high - mode) * larger)


def true(variant: str, kit: str) -> dict[str, Rows]:
    """Some sixty outputs of every truth, by place."""
    known, draw = catalogue(), np.random.default_rng(SEED)
    machine, one = known.machine(variant), known.kit(kit)
    listed = [*inputs.of_machine(machine, known), *one.inputs()]
    values = Values({each.id: truths(each, draw) for each in listed}, draw.uniform(size=TRUTHS))
    habit = np.column_stack([values[each.id] for each in inputs.HABITS])
    plain, asked = without_kit(machine, values), served(known)
    before, after = (
        study(supplied(network, values), asked.pulls, asked.main, asked.usage, values.phase, habit=habit)
        for network in (plain, with_kit(machine, one, values, plain).network)
    )
    ratios = {
        f"drinks.{name}.drop_ratio.sensor": after.drinks[name].sensor_drop / shot.sensor_drop
        for name, shot in before.drinks.items()
    }
    return {
        **side("without", before),
        **side("with", after),
        **ratios,
        "energy.day_ratio": after.session_energy / before.session_energy,
        "coil.parked_degc": after.parked - ZERO_CELSIUS,
    }


def side(where: str, made: Study) -> dict[str, Rows]:
    """The outputs of one side: of every drink, of a second one after each wait, of the way from cold, and at idle."""
    found = {
        f"warm_up.{where}.boiler_ready_s": made.boiler_ready,
        f"warm_up.{where}.group_ready_s": made.group_ready,
        f"warm_up.{where}.shot_ready_s": made.shot_ready,
        f"energy.{where}.idle_w": made.idle_power,
        f"energy.{where}.session_wh": made.session_energy / 3600.0,
        f"after_flush.sensor_drop_k.{where}": made.after_flush.sensor_drop,
    }
    for name, shot in made.drinks.items():
        found |= {
            f"drinks.{name}.{where}.sensor_drop_k": shot.sensor_drop,
            f"drinks.{name}.{where}.water_drop_k": shot.water_drop,
            f"drinks.{name}.{where}.outlet_fall_k": shot.outlet_fall,
            f"drinks.{name}.{where}.stability_band_k": shot.stability_band,
            f"drinks.{name}.{where}.mean_outlet_degc": shot.mean_outlet - ZERO_CELSIUS,
            f"drinks.{name}.{where}.sensor_recovery_s": shot.sensor_recovery,
        }
    for n, wait in enumerate(WAITS):
        found[f"waiting.{wait:g}.sensor_drop_k.{where}"] = made.second.sensor_drop[:, n]
    return found


def recorded(variant: str, kit: str) -> dict[str, Figure]:
    """The figures of the record, by place."""
    known = catalogue()
    machine, one = known.machine(variant), known.kit(kit)
    listed = [*inputs.of_machine(machine, known), *one.inputs()]
    numbers: Numbers = compute(question(machine, one, listed, served(known), DRAWS)[0], Studies())
    return dict(places.figures(numbers))


@pytest.mark.slow
@pytest.mark.parametrize(("variant", "kit"), PAIRS)
def test_ranges_cover_what_they_promise_and_no_more(variant: str, kit: str) -> None:
    """So many truths within each range as chance lets be seen, some beyond its ends, and the mean as promised."""
    least, most = binom.ppf([(1 - SURE) / 2, (1 + SURE) / 2], TRUTHS, COVERED)
    figures, within, below, above = recorded(variant, kit), {}, 0, 0
    stands: set[str] = set()
    for place, rows in true(variant, kit).items():
        if figures[place].reason is not None and figures[place].beyond is None:
            assert np.all(np.isnan(rows)), place
            continue
        low, high = ends(figures[place])
        within[place] = int(np.sum((rows >= low) & (rows <= high)))
        if np.sum(rows == np.min(rows)) > (1 - COVERED) / 2 * TRUTHS:
            stands.add(place)  # Many are at one end, as a drink after which nothing has to recover: all of them are in.
        below, above = below + int(np.sum(rows < low)), above + int(np.sum(rows > high))
    assert len(within) >= 60
    off = {place: count for place, count in within.items() if not least <= count <= most}
    assert {place: count for place, count in off.items() if count < least or place not in stands} == {}
    assert below > 0
    assert above > 0
    if WHOLE:
        counted = [count for place, count in within.items() if place not in stands]
        assert abs(sum(counted) / len(counted) / TRUTHS - COVERED) < MEAN


def ends(figure: Figure) -> tuple[float, float]:
    """Both ends; one that lies beyond what was watched holds the longest as well, and a value alone itself."""
    other = math.inf if figure.beyond is not None else figure.value
    assert other is not None
    return other if figure.low is None else figure.low, other if figure.high is None else figure.high
