"""Every output of every demonstration pair, at the stated values, against a second implementation.

It takes plain numbers from the catalogue's facts (tests/reference/plain.py) and shares no code with `guidegen.heat`:
other water, other coil geometry in code, other steps, other coil (parcels of water that move on whole), an implicit
solver with events where a machine cools. What must be shared is what an output is: its words in the record.
"""

from __future__ import annotations

import itertools
import math
import re
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from guidegen.assess import inputs
from guidegen.assess.asking import question, served
from guidegen.assess.numbers import Numbers, Studies, compute
from guidegen.record import places
from tests.mutants.draft import catalogue
from tests.reference.outputs import Bench
from tests.reference.pairs import Found, Side, Sides, outputs
from tests.whole import some

VARIANTS = tuple(catalogue().machines)
PLAIN = re.compile(
    r"budget\.|closed_coil\.|coil\.(?!parked|preheated)|drinks\.\w[\w-]*\.(withdrawn_g|mass_share|heat_share)"
)
"""Figures that no stepping through time gives: mass, geometry, strength; tests/published and tests/unit hold those."""
SEARCHED = ("shot_ready_s", "same_cup_degc")
"""Looked for in tries, by ours as by the other."""


def figures(numbers: Numbers) -> Found:
    """What the record has, by place; infinite where it says longer than it was watched, not there where it has none."""
    found = {}
    for place, one in places.figures(numbers):
        if one.value is not None:
            found[place] = one.value
        elif one.reason is not None and "longer" in one.reason:
            found[place] = math.inf
        if place.endswith("phases_k"):
            assert one.low is not None
            assert one.high is not None
            found[f"{place} low"], found[f"{place} high"] = one.low, one.high
    return {place: value for place, value in found.items() if not PLAIN.match(place)}


def tolerance(place: str, value: float, sides: tuple[Side, Side], found: Found) -> float:
    """0.02 K, 0.5 s or 0.5 % under PID control; 0.2 K, 2 s or 1 % under a thermostat and for what is searched for."""
    mine = sides[:1] if ".without" in place else sides[1:] if ".with" in place else sides
    loose = any(one.plant.relay for one in mine) or place.endswith(SEARCHED)
    loose |= place == "warm_up.added_s"
    kelvin, seconds, share = (0.2, 2.0, 0.01) if loose else (0.02, 0.5, 0.005)
    key = place.split()[0]
    if key.endswith(("_k", "_degc", "_k.with", "_k.without")):
        return kelvin
    if key.endswith(("_s", "_s.with", "_s.without")):
        return seconds
    if ".drop_ratio." in key:
        # A ratio of two drops is as good as they are.
        return kelvin * (1.0 + value) / _below(key, found)
    if key.endswith(("added_w", "added_wh")):
        # So is a difference.
        whole = "energy.with.idle_w" if key.endswith("_w") else "energy.with.day_wh"
        return share * found[whole]
    return share * abs(value)


def _below(place: str, found: Found) -> float:
    drink, which = place.split(".")[1], place.split(".")[-1]
    name = {"sensor": "sensor_drop_k", "water": "water_drop_k", "outlet": "stability_band_k"}[which]
    return found[f"drinks.{drink}.without.{name}"]


@cache
def sides_of(variant: str) -> tuple[Sides, Studies]:
    """What the pairs of a variant share, on either side."""
    return Sides(catalogue(), catalogue().machine(variant)), Studies()


@pytest.mark.slow
@pytest.mark.parametrize(("variant", "kit"), some(itertools.product(VARIANTS, catalogue().kits), 5))
def test_every_output_is_the_second_implementation_s(variant: str, kit: str) -> None:
    """No output is missing on either side, and all are within their tolerance."""
    known = catalogue()
    machine, one = known.machine(variant), known.kit(kit)
    sides, studies = sides_of(variant)
    asked = question(machine, one, [*inputs.of_machine(machine, known), *one.inputs()], served(known), 0)[0]
    found = figures(compute(asked, studies))
    both = sides.side(None), sides.side(one)
    expected = outputs(*both)
    assert set(found) == set(expected)
    missed = {
        place: (value, expected[place], tolerance(place, value, both, found))
        for place, value in found.items()
        if value != expected[place] and not abs(value - expected[place]) <= tolerance(place, value, both, found)
    }
    assert not missed, "\n".join(f"{k}: {a:.6g}, other {b:.6g}, may be {c:.2g}" for k, (a, b, c) in missed.items())


@pytest.mark.slow
def test_the_second_implementation_has_converged() -> None:
    """Half the parcels change no drop or outlet by a quarter of what is allowed."""
    sides = sides_of("tamsin-mk2")[0]
    fine = sides.side(catalogue().kit("feed-preheater"))
    half = Bench(fine.plant, fine.bench.cells // 2)
    rough, (shot, _, _) = half.drink(fine.main)[0], fine.tried["double"]
    for name in ("sensor_drop", "water_drop", "outlet_fall", "stability_band", "mean_outlet"):
        assert getattr(rough, name) == pytest.approx(getattr(shot, name), abs=0.005), name
    assert np.isclose(rough.coil_recovery, shot.coil_recovery, atol=0.1)


def test_the_second_implementation_shares_nothing_with_the_first() -> None:
    """It reads the catalogue and knows drinks and kits; of heat, and of how records are filled, it imports nothing."""
    for name in ("plain", "parcels", "resting", "outputs", "pairs"):
        text = (Path(__file__).parents[1] / "reference" / f"{name}.py").read_text(encoding="utf-8")
        imported = set(re.findall(r"^(?:from|import) (guidegen[\w.]*|tests[\w.]*)", text, re.MULTILINE))
        assert not {one for one in imported if one.startswith(("guidegen.heat", "guidegen.assess", "guidegen.record"))}
        assert not imported & {"tests.reference.ours", "tests.reference.equations", "tests.reference.machines"}


@pytest.mark.slow
@pytest.mark.parametrize("field", ["water", "boiler_water", "group_water", "kp", "coil_water", "coil_metal"])
def test_two_per_cent_would_show(field: str) -> None:
    """The tolerances are narrow enough for a machine that is off by two per cent in one place.

    The coil's place is looked at with it, the others' without, where a drink asks more of them.
    """
    side = sides_of("tamsin-mk2")[0].side(catalogue().kit("feed-preheater") if field.startswith("coil") else None)
    off = Bench(side.plant._replace(**{field: 1.02 * getattr(side.plant, field)})).drink(side.main)[0]
    names = {"sensor_drop": 0.02, "water_drop": 0.02, "mean_outlet": 0.02, "coil_recovery": 0.5}
    assert any(abs(getattr(off, name) - getattr(side.shot, name)) > most for name, most in names.items())
