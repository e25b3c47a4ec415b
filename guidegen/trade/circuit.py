"""The heater's circuit: what its current passes, in order, before and after a kit is fitted.

Every device that guards against too much heat is in it, or it guards nothing; no kit takes the place of one.
"""

from __future__ import annotations

from collections.abc import Iterator

from guidegen.problems import Code, Problem
from guidegen.trade.check_ratings import named
from guidegen.trade.contradiction import problem
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine, SafetyDevice, ThermostatControl
from guidegen.workshop.base import Loc
from guidegen.workshop.inventory import InventoryCircuit, InventoryThing

GUARD_HEAT = ("thermostat", "thermal-fuse")
"""Kinds of devices that open the heater's circuit; the last of them listed is the last line."""
CIRCUIT = "heater-circuit"
"""What an inventory calls the circuit."""
CONTROL = "control-thermostat"
"""The name of the thermostat that controls, whichever device of the machine that is."""


def in_circuit(machine: Machine) -> tuple[str, ...] | None:
    """The ids of what the heater's current passes, in order; None where nobody wrote it, or nobody knows."""
    written = _written(machine)
    return written[1].in_order if written else None


def in_circuit_with(machine: Machine, kit: Kit) -> tuple[str, ...] | None:
    """The same with a kit fitted: what the kit puts in place of a device stands where that was."""
    order = in_circuit(machine)
    if order is None:
        return None
    control = controlling(machine)
    instead = {
        (control.id if one.in_place_of == CONTROL and control else one.in_place_of): name
        for name, one in kit.inventory.items()
        if isinstance(one, InventoryThing) and one.in_place_of
    }
    return tuple(instead.get(name, name) for name in order)


def controlling(machine: Machine) -> SafetyDevice | None:
    """The thermostat that controls; None where there is none, or more than one."""
    found = [one for one in machine.safety_devices if one.kind == "thermostat" and one.class_ == "control"]
    return found[0] if len(found) == 1 else None


def check_circuit(machine: Machine) -> Iterator[Problem]:
    """The circuit of a machine holds every device that opens it, each once."""
    written = _written(machine)
    if written is None:
        return
    name, circuit = written
    loc: Loc = ("inventory", name, "in_order")
    for device in machine.safety_devices:
        times = circuit.in_order.count(device.id)
        if device.kind in GUARD_HEAT and times != 1:
            says = "stands twice in" if times else "is not in"
            words = f"{device.id} {says} the heater's circuit of {machine.id}"
            fix = f"write {device.id} where the current passes it, once; a device that it does not pass guards nothing"
            yield problem(machine, loc, Code.CIRCUIT, words, fix)


def check_duties(machine: Machine) -> Iterator[Problem]:
    """What opens once, is reset by hand, or opens above where the control does, protects, whatever its class says."""
    controls = [one for one in machine.safety_devices if one.class_ == "control" and one.kind == "thermostat"]
    control = machine.control if len(controls) > 1 else None
    opens = control.opens if isinstance(control, ThermostatControl) else None
    for index, device in enumerate(machine.safety_devices):
        rating = device.rating.word or ""
        at = named(rating, "temperature")
        above = opens is not None and opens.known and any(one > opens.high for one in at)
        reason = ("opens once" if device.kind == "thermal-fuse" or "one shot" in rating else
                  "is reset by hand" if "by hand" in rating else
                  "opens above where the control does" if above else None)  # fmt: skip
        if device.class_ == "control" and device.kind in GUARD_HEAT and reason:
            words = f"{device.id} {reason}, so it protects"
            yield problem(machine, ("safety_devices", index, "class"), Code.CIRCUIT, words, "write class: protective")


def check_replaced(kit: Kit, machine: Machine) -> Iterator[Problem]:
    """A kit takes the place of a device that controls, never of one that protects."""
    for name, one in kit.inventory.items():
        replaced = one.in_place_of if isinstance(one, InventoryThing) else None
        device = next((device for device in machine.safety_devices if device.id == replaced), None)
        if device is not None and device.class_ != "control":
            words = f"takes the place of {device.id}, which protects on {machine.id}"
            fix = f"write {CONTROL}, or leave the device where it is"
            yield problem(kit, ("inventory", name, "in_place_of"), Code.CIRCUIT, words, fix)


def _written(machine: Machine) -> tuple[str, InventoryCircuit] | None:
    return next(((name, one) for name, one in machine.inventory.items() if isinstance(one, InventoryCircuit)), None)
