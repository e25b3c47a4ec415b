"""What no heat and no water does is refused at its place, and only the pairs that it touches are left out."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from guidegen import pipeline
from guidegen.assess import sanity
from guidegen.assess.asking import served
from guidegen.heat.holding import holding_power
from guidegen.heat.pace import pace
from guidegen.heat.pull import Pull
from guidegen.heat.water import enclosed
from guidegen.problems import CatalogueError, Code
from guidegen.trade import load
from tests.mutants.draft import catalogue
from tests.reference import machines

SMALL = Path(__file__).parents[2] / "fixtures" / "catalogue_min"


def edited(root: Path, file: str, old: str, new: str) -> Path:
    """The small catalogue with one text exchanged."""
    shutil.copytree(SMALL, root)
    path = root / file
    text = path.read_text(encoding="utf-8")
    assert text.count(old) == 1
    path.write_text(text.replace(old, new), encoding="utf-8")
    return root


@pytest.mark.parametrize("variant", list(catalogue().machines))
@pytest.mark.parametrize("kit", list(catalogue().kits))
def test_nothing_is_said_of_the_demonstration(variant: str, kit: str) -> None:
    """Its numbers are computed, so they can be."""
    known = catalogue()
    assert sanity.look(known, known.machine(variant), known.kit(kit), served(known)) == []


def test_the_other_variant_is_judged(tmp_path: Path) -> None:
    """Of two variants one is set to 13 °C: the other one has its record, and nothing but that place is named."""
    cold = "control: {kind: pid, setpoint: 13 °C, kp: 60 W/K, ki: 0.7 W/(K·s), kd: 180 W·s/K}"
    root = edited(tmp_path / "w", "machines/plain/two.yml", "name: Plain Two\n", f"name: Plain Two\n{cold}\n")
    known = load(root)
    records, left_out = pipeline.judge_all(known, root, draws=0)
    assert [one.variant.id for one in records] == ["plain-one"]
    assert [(one.path, one.code) for one in left_out] == [("machines/plain/two.yml", Code.NOT_HELD)]
    with pytest.raises(CatalogueError):
        pipeline.assess_all(known, root, draws=0)


def test_what_a_heater_must_hold_is_the_sum_of_its_losses() -> None:
    """By hand, of the reference machine without a coil: losses in parallel, the sensor on the metal alone."""
    one = machines.reference(False)
    to_group, to_room, to_case = (
        float(each[0]) for each in (one.boiler_to_group, one.group_to_room, one.boiler_to_case)
    )
    boiler = float(one.control.setpoint[0])  # type: ignore[union-attr]
    through = to_group * to_room / (to_group + to_room)
    by_hand = through * (boiler - float(one.room[0])) + to_case * (boiler - float(one.case[0]))
    assert holding_power(one)[0] == pytest.approx(by_hand, rel=0.02)


def test_steps_are_counted_before_the_first_one() -> None:
    """No step is longer than 0.2 s, so 28 s take 140 at least; a coil with a hundredth of the water, far more."""
    one, drink = machines.reference(True), [Pull(0.05, 28.0)]
    usual = pace(one, drink)
    assert 140.0 <= usual.steps[0] < 1500.0
    assert usual.affordable
    assert one.coil is not None
    small = pace(replace(one, coil=replace(one.coil, water_mass=one.coil.water_mass / 1000)), drink)
    assert small.steps[0] > 50 * usual.steps[0]
    assert not small.affordable
    assert small.part == "the flow through the coil"


def test_enclosed_water_above_133_degrees_is_still_water() -> None:
    """IAPWS: 3 bar boil at 133.5 °C; saturated water of 140 °C weighs 926.1 kg/m³ (steam tables, from memory)."""
    assert float(enclosed(413.15)) == pytest.approx(926.1, abs=0.2)
    assert np.all(np.diff(enclosed(np.linspace(400.0, 413.15, 30))) < 0)
