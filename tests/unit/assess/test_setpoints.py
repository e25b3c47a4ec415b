"""Which setpoints the what-if asks about: never one near what protects the machine."""

from __future__ import annotations

from dataclasses import replace

import pytest

from guidegen.assess import inputs, setpoints
from guidegen.assess.network_of import with_kits, without_kit
from guidegen.heat.network import Network
from guidegen.trade.machine import Machine
from tests.mutants.draft import catalogue

ZERO_CELSIUS = 273.15


def rated(rating: str | None, variant: str = "tamsin-mk2") -> Machine:
    """A variant of the demonstration whose protective limit thermostat bears this rating; None for unknown."""
    machine = catalogue().machine(variant)
    devices = tuple(
        one.model_copy(update={"rating": replace(one.rating, word=rating, known=rating is not None)})
        if one.id == "limit" else one
        for one in machine.safety_devices
    )  # fmt: skip
    return machine.model_copy(update={"safety_devices": devices})


def sides(machine: Machine, kit: str) -> tuple[Network, Network]:
    """The stated machine without and with a kit."""
    one = catalogue().kit(kit)
    values = inputs.draw([*inputs.of_machine(machine, catalogue()), *one.inputs()], 0)
    plain = without_kit(machine, values)
    return plain, with_kits(machine, (one,), values, plain).network


def asked(machine: Machine, kit: str = "feed-preheater") -> tuple[float, ...]:
    """The changes of the setpoint for one pair."""
    return setpoints.changes(machine, sides(machine, kit))


def test_a_step_above_and_two_below_the_present_one() -> None:
    """A Mark 2 brews at 103 °C and steams at 130 °C; the first that opens does so at 165 °C."""
    assert asked(rated("16 A, opens at 165 °C")) == (3.0, 0.0, -3.0, -6.0)


@pytest.mark.parametrize(
    ("rating", "above"),
    [
        # 103 °C + 3 K + 12 K, the widest overshoot of the family's steam (8 K ± 4 K), + 10 K = 128 °C
        ("16 A, 129 °C", True),
        ("16 A, 127 °C", False),
        ("16 A, opens at 165 °C, closes at 120 °C", False),
        ("16 A, opens at 264.2 °F", True),  # 129 °C
        ("16 A, opens at 260.6 °F", False),  # 127 °C
        ("16 A, reset by hand", False),
        (None, False),
    ],
)
def test_no_step_above_near_what_protects_or_where_that_is_not_known(rating: str | None, above: bool) -> None:
    """The lowest temperature of the rating counts; unreadable and unknown ratings rule a higher setpoint out."""
    assert (max(asked(rated(rating))) > 0.0) == above


def test_nothing_that_protects_means_no_step_above() -> None:
    """Where no thermostat or fuse is written down, the file is not complete."""
    bare = rated(None).model_copy(update={"safety_devices": ()})
    assert setpoints.ceiling(bare) is None


def test_an_unknown_steam_temperature_means_no_step_above() -> None:
    """What nobody has measured is no licence."""
    machine = rated("16 A, 165 °C")
    steam = machine.steam.model_copy(update={"overshoot": replace(machine.steam.overshoot, known=False)})
    assert setpoints.ceiling(machine.model_copy(update={"steam": steam})) is None


def test_the_setpoint_of_the_kits_controller_counts_too() -> None:
    """A thermostat has no setpoint; with an electronic control in its place there is one to choose."""
    first = catalogue().machine("tamsin-mk1")
    assert asked(first) == (0.0,)
    assert asked(first, "loop-controller") == (3.0, 0.0, -3.0, -6.0)


@pytest.mark.parametrize("variant", sorted(catalogue().machines))
def test_no_guide_of_the_demonstration_speaks_of_a_setpoint_near_what_protects(variant: str) -> None:
    """The families' files say 160 °C and 165 °C for the limit thermostats and 128 °C to 130 °C ± 2 K for steam."""
    machine = catalogue().machine(variant)
    for kit in catalogue().kits:
        highest = max(
            (float(side.control.setpoint[0]) for side in sides(machine, kit) if hasattr(side.control, "setpoint")),
            default=0.0,
        )
        assert highest + max(asked(machine, kit)) < ZERO_CELSIUS + 126.0
