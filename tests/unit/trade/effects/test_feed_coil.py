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
    """2.05 m of tube, 0.403 kg, fittings of 42 g; held water at the parked temperature, which lies between."""
    before, after = fitted(COIL)
    coil = after.network.coil
    assert coil is not None
    assert pytest.approx(0.403, abs=5e-4) == TUBE
    assert coil.metal_capacity == pytest.approx(TUBE * 385.0 + 0.042 * 380.0, rel=1e-9)
    parked = 273.15 + (coil.to_boiler[0] * 103.0 + coil.to_case[0] * 38.0) / (coil.to_boiler[0] + coil.to_case[0])
    density = 971.8 + (965.3 - 971.8) * (parked - 353.15) / 10.0
    assert coil.water_mass == pytest.approx(58e-6 * density, abs=58e-6 * 0.5)
    assert after.added_mass() == pytest.approx(TUBE + 0.042 + coil.water_mass)
    assert coil.along == pytest.approx(401.0 * METAL * 1e-6 / (LENGTH * 1e-3))
    assert moved(before, after.network) == {"coil"}


def test_heat_passes_where_the_tube_touches_and_where_it_is_free() -> None:
    """On a wall of 44.5 mm, 70 mm across, the coil stands in two layers.

    A helix of n turns of 8 mm is n + 1 tubes high, so the wall takes four whole turns, of π (70 + 8) mm and a rise of
    8 mm each; they touch. The others lie over some of them and leave the upper ones free. Of what is wound the outer
    half is free, of the tails all.
    """
    _, two = fitted(COIL)
    coil = two.network.coil
    assert two.wound is not None
    assert coil is not None
    inner = 4 * math.hypot(math.pi * 78.0, 8.0)
    outer = LENGTH - 180.0 - inner
    turns = outer / math.hypot(math.pi * 94.0, 8.0)
    assert two.wound.layers == 2
    assert coil.to_boiler == pytest.approx(0.60e-3 * inner)
    assert coil.to_case == pytest.approx(0.40e-3 * (180.0 + outer / 2 + inner * (4 - turns) / 4 / 2))


def test_a_coil_shields_the_skin_that_it_covers() -> None:
    """Four turns of 8 mm on 70 mm, of a wall of 44.5 mm and a lid; the other end stands on the group."""
    _, after = fitted(COIL)
    assert after.network.coil is not None
    skin = math.pi * 70.0 * 44.5 + math.pi / 4 * 70.0**2
    covered = 4 * math.hypot(math.pi * 78.0, 8.0) * 8.0
    assert after.network.coil.shields == pytest.approx(0.80 * covered / skin)


def test_one_kit_s_data_serve_every_boiler() -> None:
    """Twice the tube in one layer touches and loses twice as much; nothing of the kit's data has changed."""
    tall = MK2.model_copy(update={"boiler": MK2.boiler.model_copy(update={"straight_wall": COLUMN})})
    no_tails = {**COIL, "tails": {"inlet": "0 mm", "outlet": "0 mm"}}
    made = [fitted({**no_tails, "holds": holds}, machine=tall)[1].network.coil for holds in ("29 ml", "58 ml")]
    assert made[0] is not None
    assert made[1] is not None
    for name in ("to_boiler", "to_case", "shields", "inside_at_rest", "water_mass"):
        assert getattr(made[1], name) == pytest.approx(2 * getattr(made[0], name), rel=2e-3), name


def test_the_size_is_stated_once_and_the_others_follow() -> None:
    """58 ml are 2.051 m of a bore of 6 mm; and by hand so many turns: four inside, the rest outside."""
    turns = 4 + (LENGTH - 180.0 - 4 * math.hypot(math.pi * 78.0, 8.0)) / math.hypot(math.pi * 94.0, 8.0)
    bare = {name: value for name, value in COIL.items() if name != "holds"}
    by_volume = fitted(COIL)[1]
    for stated in ({"length": f"{LENGTH:.4f} mm"}, {"turns": f"{turns:.7f}"}):
        other = fitted({**bare, **stated})[1]
        assert other.wound is not None
        assert other.wound.held * 1e6 == pytest.approx(58.0, abs=1e-3)
        assert other.network.parameters() == pytest.approx(by_volume.network.parameters(), rel=1e-5)


def test_a_coil_of_no_length_is_no_kit() -> None:
    """To the bit; and the shorter, the nearer to it."""
    before, after = fitted({**COIL, "holds": "0 ml"})
    assert moved(before, after.network) == set()
    assert after.added_mass() == 0.0
    short = fitted({**COIL, "holds": "0.001 ml", "tails": {"inlet": "0 mm", "outlet": "0 mm"}})[1].network.coil
    assert short is not None
    assert max(short.to_boiler[0], short.to_case[0], short.shields[0], short.water_mass[0]) < 1e-4


@pytest.mark.parametrize(("joined", "least", "most"), [("clamped", 0.16, 3.2), ("pasted", 1.0, 15.0)])
def test_contact_is_taken_by_how_the_coil_is_held(joined: str, least: float, most: float) -> None:
    """Where nobody has measured it, per metre of tube that touches."""
    bare = {name: value for name, value in COIL.items() if name != "contact"}
    _, after = fitted({**bare, "joined": joined}, draws=256)
    assert after.network.coil is not None
    per_metre = after.network.coil.to_boiler[1:] / (4e-3 * math.hypot(math.pi * 78.0, 8.0))
    assert least < per_metre.min() < 1.6 * least
    assert most / 1.6 < per_metre.max() < most * 1.1


def test_contact_counts_for_the_tube_that_touches() -> None:
    """In one layer all of what is wound touches."""
    tall = MK2.boiler.model_copy(update={"straight_wall": COLUMN})
    _, one = fitted(COIL, machine=MK2.model_copy(update={"boiler": tall}))
    assert one.wound is not None
    assert one.network.coil is not None
    assert one.wound.layers == 1
    assert one.network.coil.to_boiler == pytest.approx(0.60e-3 * (LENGTH - 180.0))


COLUMN = kit({**COIL, "gap": "140 mm"}).effects[0].gap  # type: ignore[union-attr]
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
