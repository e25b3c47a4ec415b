"""Do the ranges cover? Machines drawn apart, each taken as the truth, against the 95 % range of the record.

The sampler is its own: sums and roots of random numbers, no quantile functions and no Sobol sequence. What a truth's
outputs are, the program itself says, with the truth's values in the place of the stated ones.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.stats import binom

from guidegen.assess import inputs
from guidegen.assess.asking import question, served, supplied
from guidegen.assess.network_of import with_kit, without_kit
from guidegen.assess.numbers import Numbers, Studies, compute
from guidegen.heat.study import Study, study
from guidegen.heat.temperature import ZERO_CELSIUS
from guidegen.record import Figure, places
from guidegen.trade.uncertain import Uncertain, Values
from tests.mutants.draft import catalogue

Rows = NDArray[np.float64]
TRUTHS, DRAWS, SEED = 100, 512, 2026
COVERED, SURE = 0.95, 0.9999
"""What a range promises, and how sure the bounds are that its count of 100 is put between."""
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
    """A handful of outputs of every truth, by place."""
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
    drops = [one.drinks[asked.main].sensor_drop for one in (before, after)]
    return {
        **side("without", before, asked.main),
        **side("with", after, asked.main),
        "energy.day_ratio": after.session_energy / before.session_energy,
        f"drinks.{asked.main}.drop_ratio.sensor": drops[1] / drops[0],
        "coil.parked_degc": after.parked - ZERO_CELSIUS,
    }


def side(where: str, made: Study, main: str) -> dict[str, Rows]:
    """The outputs of one side."""
    shot = made.drinks[main]
    return {
        f"drinks.{main}.{where}.sensor_drop_k": shot.sensor_drop,
        f"drinks.{main}.{where}.water_drop_k": shot.water_drop,
        f"drinks.{main}.{where}.mean_outlet_degc": shot.mean_outlet - ZERO_CELSIUS,
        f"warm_up.{where}.boiler_ready_s": made.boiler_ready,
        f"energy.{where}.idle_w": made.idle_power,
    }


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
    """Of 100 truths 95 within each range, as far as chance lets that be seen, and some beyond the ends of some."""
    least, most = binom.ppf([(1 - SURE) / 2, (1 + SURE) / 2], TRUTHS, COVERED)
    figures, within, below, above = recorded(variant, kit), {}, 0, 0
    for place, rows in true(variant, kit).items():
        low, high = figures[place].low, figures[place].high
        assert low is not None, place
        assert high is not None, place
        within[place] = int(np.sum((rows >= low) & (rows <= high)))
        below, above = below + int(np.sum(rows < low)), above + int(np.sum(rows > high))
    assert all(least <= count <= most for count in within.values()), within
    assert below > 0
    assert above > 0
