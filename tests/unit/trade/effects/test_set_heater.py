"""Another heating element: its three numbers, and the way to the water that stays."""

from __future__ import annotations

import pytest

from tests.unit.trade.effects.bench import ELEMENT, fitted, kit, moved


def test_the_new_element_takes_the_place_of_the_old() -> None:
    """Power, capacity and contact as written; whatever the old one had is gone."""
    before, after = fitted(ELEMENT)
    network = after.network
    assert [float(one[0]) for one in (network.heater_power, network.heater_capacity, network.heater_to_boiler)] == [
        1300.0, 45.0, 50.0,
    ]  # fmt: skip
    assert moved(before, network) == {"heater_power", "heater_capacity", "heater_to_boiler"}


def test_the_budget_has_one_element_and_it_is_the_kits() -> None:
    """An element is weighed with its boiler, so it adds heat capacity and no mass."""
    before, after = fitted(ELEMENT)
    assert [one.id for one in after.parts].count("heater") == 1
    heater = after.part("heater")
    assert heater is not None
    assert heater.kit
    assert after.network.heat_capacity() - before.heat_capacity() == pytest.approx(45.0 - before.heater_capacity)
    assert after.added_mass() == 0.0


def test_it_is_work_on_mains_wiring() -> None:
    """Who needs this kit first must have an electrically skilled person."""
    assert kit(ELEMENT).mains_work
