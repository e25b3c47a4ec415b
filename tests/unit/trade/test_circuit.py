"""The heater's circuit of the demonstration, as its inventories say it, before and after a kit."""

from __future__ import annotations

import pytest

from guidegen.assess.inventory import things_of
from guidegen.trade.circuit import in_circuit, in_circuit_with
from guidegen.workshop.inventory import InventoryUnknown
from tests.mutants.draft import catalogue

KNOWN = catalogue()


@pytest.mark.parametrize(
    ("variant", "order", "fitted"),
    [
        ("tamsin-mk1", "own-switch limit brew-thermostat", "own-switch limit controller"),
        ("tamsin-mk1b", "own-switch limit brew-thermostat fuse", "own-switch limit controller fuse"),
        ("tamsin-mk2", "own-switch limit fuse", "own-switch limit fuse"),
        ("bracken-a", "own-switch limit brew-thermostat fuse", "own-switch limit controller fuse"),
    ],
)
def test_a_controller_stands_where_the_thermostat_was(variant: str, order: str, fitted: str) -> None:
    """Written by hand from the files; a machine with electronic control of its own keeps its circuit."""
    machine, kit = KNOWN.machines[variant], KNOWN.kits["loop-controller"]
    assert in_circuit(machine) == tuple(order.split())
    assert in_circuit_with(machine, kit) == tuple(fitted.split())


def test_a_circuit_that_nobody_followed_is_a_gap() -> None:
    """Its words are unknown, with the line where they would be written and what settles it."""
    machine = KNOWN.machines["bracken-a"]
    inventory = {**machine.inventory, "heater-circuit": InventoryUnknown(kind="unknown")}
    _, values = things_of(machine.model_copy(update={"inventory": inventory}), KNOWN.kits["loop-controller"])
    (gap,) = values["circuit.fitted"].gaps
    assert values["circuit.fitted"].value is None
    assert "photograph" in gap.settles


def test_words_follow_the_order() -> None:
    """The controller in place of the thermostat, as the fitting says it."""
    _, values = things_of(KNOWN.machines["bracken-a"], KNOWN.kits["loop-controller"])
    assert values["circuit.fitted"].text == (
        "the machine's own switch, the limit thermostat, the controller and the thermal fuse"
    )
