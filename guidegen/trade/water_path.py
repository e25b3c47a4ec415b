"""What can close in the water path: whether water that is heated still reaches the relief valve."""

from __future__ import annotations

from guidegen.trade.machine import Machine
from guidegen.workshop.facts import Choice
from guidegen.workshop.inventory import InventoryJoint, InventoryUnknown

CHECK_VALVE = "water_path.check_valve"
FREE = ("none", "before-relief")
"""Where the check valve may be. On whichever side of a coil the relief branch leaves, a valve between pump and branch
lets water from the coil pass to it; one behind the branch locks in what is heated."""
LOCKS = "after-relief"
MOVE_VALVE = "move-check-valve"
"""The work of moving the check valve from behind the relief branch to before it."""
JOINT = "check-valve"
"""The joint of a machine's inventory that the check valve is, where it is one that can be opened."""


def relief_reached(machine: Machine) -> str:
    """Return whether water that is heated reaches the relief valve: `yes`, `no`, or `unknown`.

    Of a machine that has one or the other, nobody knows.
    """
    valve = machine.water_path.check_valve
    words = (valve.value,) if valve.known else valve.options
    free = {word in FREE for word in words}
    return "unknown" if len(free) != 1 else "yes" if free.pop() else "no"


def valve_moves(machine: Machine) -> Choice:
    """Return whether the check valve can be moved: where it is a joint; not where the inventory has none."""
    thing = machine.inventory.get(JOINT)
    word = "unknown" if isinstance(thing, InventoryUnknown) else "yes" if isinstance(thing, InventoryJoint) else "no"
    return Choice(text=word, word=None if word == "unknown" else word, known=word != "unknown")
