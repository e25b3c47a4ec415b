"""More metal: by hand from the specific heat of cartridge brass at 300 K, 380 J/(kg K), Incropera, table A.1."""

from __future__ import annotations

import numpy as np
import pytest

from guidegen.assess import inputs
from tests.mutants.draft import catalogue
from tests.unit.trade.effects.bench import BRASS_FOOT, BRASS_RING, MK2, fitted, kit, moved


def test_two_masses_are_two_masses() -> None:
    """100 g on the boiler and 500 g on the group: 0.6 kg, and 38 + 190 = 228 J/K, each where it sits."""
    before, after = fitted(BRASS_RING, BRASS_FOOT)
    assert after.added_mass() == pytest.approx(0.6)
    assert after.network.heat_capacity() - before.heat_capacity() == pytest.approx(228.0)
    assert after.network.boiler_capacity - before.boiler_capacity == pytest.approx(38.0)
    assert after.network.group_capacity - before.group_capacity == pytest.approx(190.0)
    assert moved(before, after.network) == {"boiler_capacity", "group_capacity"}


def test_another_metal_holds_another_heat() -> None:
    """200 g of aluminium, 903 J/(kg K): 180.6 J/K."""
    before, after = fitted({**BRASS_RING, "mass": "200 g", "material": "aluminium"})
    assert after.network.boiler_capacity - before.boiler_capacity == pytest.approx(180.6)


def test_each_mass_is_an_input_of_its_own() -> None:
    """Two ± are drawn apart: the variance of the sum is the sum of the variances, a third of each half-width squared.

    And both names and values stand in the record.
    """
    one = kit({**BRASS_RING, "mass": "100 g ± 10 g"}, {**BRASS_FOOT, "mass": "500 g ± 50 g"})
    listed = list(one.inputs())
    assert [(i.id, i.name, i.value) for i in listed] == [
        ("kit.mass", "Mass added", 0.1), ("kit.2.mass", "Mass added (2)", 0.5),
    ]  # fmt: skip
    values = inputs.draw([*inputs.of_machine(MK2, catalogue()), *listed], 1024)
    total = values["kit.mass"][1:] + values["kit.2.mass"][1:]
    assert np.var(total) == pytest.approx((0.010**2 + 0.050**2) / 3, rel=0.02)
    assert abs(np.corrcoef(values["kit.mass"][1:], values["kit.2.mass"][1:])[0, 1]) < 0.05


def test_its_parts_say_where_it_sits() -> None:
    """The budget names both, of what they are, and that the kit brings them."""
    _, after = fitted(BRASS_RING, BRASS_FOOT)
    added = [(one.id, one.name, float(one.mass[0]), float(one.heat_capacity[0])) for one in after.parts if one.kit]
    assert added == [
        ("mass", "added to the boiler, brass", 0.1, pytest.approx(38.0)),
        ("mass-2", "added to the group, brass", 0.5, pytest.approx(190.0)),
    ]
