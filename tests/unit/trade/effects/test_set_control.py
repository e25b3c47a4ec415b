"""Another control: what it holds, what it reads with which lag."""

from __future__ import annotations

from guidegen.heat.network import Pid, Thermostat
from tests.mutants.draft import catalogue
from tests.unit.trade.effects.bench import LOOP, MK2, fitted, kit, moved

MK1 = catalogue().machine("tamsin-mk1")
SNAP = {"kind": "set_control", "control": {"kind": "thermostat", "opens": "106 °C", "closes": "98 °C", "lag": "5 s"}}


def test_electronic_control_in_place_of_a_thermostat() -> None:
    """101 °C is 374.15 K; the sensor's own lag of 4 s takes the place of the thermostat's 6 s (tamsin/family.yml)."""
    before, after = fitted(LOOP, machine=MK1)
    control = after.network.control
    assert isinstance(before.control, Thermostat)
    assert isinstance(control, Pid)
    assert [float(one[0]) for one in vars(control).values()] == [101 + 273.15, 50.0, 0.5, 100.0]
    assert (before.sensor_lag[0], after.network.sensor_lag[0]) == (6.0, 4.0)
    assert moved(before, after.network) == {"control", "sensor_lag"}
    assert after.added_mass() == 0.0


def test_a_thermostat_in_place_of_electronic_control_brings_its_lag() -> None:
    """The Mark 2's sensor lags by 3 s, the new thermostat by 5."""
    before, after = fitted(SNAP)
    control = after.network.control
    assert isinstance(control, Thermostat)
    assert (float(control.opens[0]), float(control.closes[0])) == (106 + 273.15, 98 + 273.15)
    assert (before.sensor_lag[0], after.network.sensor_lag[0]) == (3.0, 5.0)


def test_thresholds_drawn_too_near_keep_two_kelvin_apart() -> None:
    """Two temperatures that nobody knows are drawn apart; a thermostat always closes below where it opens."""
    near = {"opens": "100 °C ± 10 K", "closes": "99 °C ± 10 K"}
    _, after = fitted({**SNAP, "control": {**SNAP["control"], **near}}, draws=256)  # type: ignore[dict-item]
    control = after.network.control
    assert isinstance(control, Thermostat)
    gap = control.opens - control.closes
    assert gap[1:].min() >= 2.0 - 1e-9
    assert gap[1:].max() > 10.0


def test_it_is_work_on_mains_wiring_and_a_procedure_may_print_it() -> None:
    """What is set is what the first heating looks for on the display."""
    one = kit(LOOP)
    assert one.mains_work
    assert {name: fact.text for name, fact in one.facts()} == {
        "kit.control.setpoint": "101 °C", "kit.control.kp": "50 W/K", "kit.control.ki": "0.5 W/(K·s)",
        "kit.control.kd": "100 W·s/K",
    }  # fmt: skip


def test_only_the_numbers_of_its_own_kind_are_inputs() -> None:
    """A thermostat has no gain to be uncertain of."""
    assert [one.id for one in kit(SNAP).inputs()] == ["kit.control.opens", "kit.control.closes", "kit.control.lag"]
    assert MK2.control.kind == "pid"
