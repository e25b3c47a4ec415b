"""A coil of 8 × 1 mm copper tube that holds 58 ml, by hand.

Copper 8933 kg/m³, 385 J/(kg K), 401 W/(m K), brass 380 J/(kg K): Incropera, table A.1. Water 971.8 kg/m³ at 80 °C and
965.3 at 90 °C: steam tables, from memory; 998 cold.
"""

from __future__ import annotations

import math

import pytest

from guidegen.workshop.facts import Choice
from tests.unit.trade.effects.bench import COIL, MK2, fitted, kit, moved

BORE, METAL = math.pi * 3.0**2, math.pi * (4.0**2 - 3.0**2)  # mm²
LENGTH = 58e3 / BORE  # mm; 58 ml are 58 000 mm³
TUBE = METAL * LENGTH * 1e-9 * 8933.0  # kg


def test_water_and_metal_are_those_of_the_tube() -> None:
    """2.05 m of tube, 0.403 kg, fittings of 42 g; held water at the parked temperature, which lies between.

    (1.10 · 103 + 0.50 · 38) / 1.60 = 82.7 °C, where the coil touches all along; in two layers a little less.
    """
    before, after = fitted(COIL)
    coil = after.network.coil
    assert coil is not None
    assert pytest.approx(0.403, abs=5e-4) == TUBE
    assert coil.metal_capacity == pytest.approx(TUBE * 385.0 + 0.042 * 380.0, rel=1e-9)
    parked = 273.15 + (coil.to_boiler[0] * 103.0 + 0.5 * 38.0) / (coil.to_boiler[0] + 0.5)
    density = 971.8 + (965.3 - 971.8) * (parked - 353.15) / 10.0
    assert coil.water_mass == pytest.approx(58e-6 * density, abs=58e-6 * 0.5)
    assert after.added_mass() == pytest.approx(TUBE + 0.042 + coil.water_mass)
    assert coil.along == pytest.approx(401.0 * METAL * 1e-6 / (LENGTH * 1e-3))
    assert coil.shields == pytest.approx(0.5)
    assert moved(before, after.network) == {"coil"}


def test_contact_counts_for_the_tube_that_touches() -> None:
    """Stated for a coil in one layer. On a wall of 44.5 mm, 70 mm across, it stands in two.

    A helix of n turns of 8 mm is n + 1 tubes high, so the wall takes four whole turns, of π (70 + 8) mm and a rise of
    8 mm each; the tube between them and the outer layer's tail does not touch.
    """
    _, two = fitted(COIL)
    assert two.wound is not None
    assert two.network.coil is not None
    inner = math.floor(44.5 / 8.0 - 1.0) * math.hypot(math.pi * 78.0, 8.0)
    share = inner / (LENGTH - 180.0)
    assert two.wound.layers == 2
    assert two.network.coil.to_boiler == pytest.approx(1.10 * share)
    tall = MK2.boiler.model_copy(update={"straight_wall": COLUMN})
    _, one = fitted(COIL, machine=MK2.model_copy(update={"boiler": tall}))
    assert one.wound is not None
    assert one.network.coil is not None
    assert one.wound.layers == 1
    assert one.network.coil.to_boiler == pytest.approx(1.10)


COLUMN = kit({**COIL, "tails": "140 mm"}).effects[0].tails  # type: ignore[union-attr]
"""A length of 140 mm: a wall on which one layer finds room."""


@pytest.mark.parametrize(("branch", "flow"), [("upstream", 0.0), ("downstream", 998.0)])
def test_water_of_a_relief_branch_behind_the_coil_passes_the_coil(branch: str, flow: float) -> None:
    """Cold water of 998 kg/m³ at the stated flow, and none where the branch lies before the coil."""
    path = MK2.water_path.model_copy(update={"relief_branch": Choice(text=branch, word=branch)})
    _, after = fitted(COIL, machine=MK2.model_copy(update={"water_path": path}))
    assert after.network.coil is not None
    assert after.network.coil.bypass == pytest.approx(flow * MK2.water_path.bypass.value)
    assert MK2.water_path.bypass.value > 0.0


def test_heat_transfer_inside_goes_with_what_the_correlations_may_be_off() -> None:
    """Drawn from 70 % to 150 % of what they say, at rest and in flow alike."""
    _, after = fitted(COIL, draws=64)
    coil = after.network.coil
    assert coil is not None
    for inside in (coil.inside_at_rest, coil.inside_in_flow):
        share = inside[1:] / inside[0]
        assert 0.7 <= share.min() < 0.75
        assert 1.4 < share.max() <= 1.5
    # At rest the Nusselt number is 3.66 or more: 3.66 · 0.64 W/(m K) · π · 2.05 m = 15 W/K (Incropera, table 8.1).
    assert coil.inside_at_rest[0] >= 3.66 * 0.63 * math.pi * LENGTH * 1e-3


def test_a_tube_without_a_bore_is_a_contradiction() -> None:
    """A wall of half the diameter; the message names both."""
    solid = kit({**COIL, "tube": {**COIL["tube"], "wall": "4 mm"}}).effects[0]  # type: ignore[dict-item]
    assert [(loc, words) for loc, words, _ in solid.contradictions()] == [
        (("tube", "wall"), "a tube of 8 mm with a wall of 4 mm has no bore")
    ]
    assert not list(kit(COIL).effects[0].contradictions())
