"""What a device's rating says beside what the machine is stated to do: both cannot be true where they differ."""

from __future__ import annotations

import contextlib
import re
from collections.abc import Iterator

from guidegen.problems import Code, Problem
from guidegen.trade.contradiction import problem
from guidegen.trade.machine import Machine, SafetyDevice, ThermostatControl
from guidegen.units import UnitError, metric, parse
from guidegen.workshop.base import Loc
from guidegen.workshop.facts import Fact
from guidegen.workshop.inventory import InventoryCircuit

SPREAD = {"temperature": 10.0, "pressure": 0.25}
"""K, and share: by how much such a device opens beside what its body says, where machines in use were measured; common
practice, no source."""
_NAMED = {
    dimension: re.compile(rf"(?<![0-9.])[0-9]+(?:\.[0-9]+)? ?(?:{units})(?![\w°])")
    for dimension, units in {"temperature": "°C|°F", "pressure": "bar|kPa|MPa|psi"}.items()
}
_CURRENT = re.compile(r"(?<![0-9.])([0-9]+(?:\.[0-9]+)?) ?A\b")


def check_ratings(machine: Machine) -> Iterator[Problem]:
    """A relief valve opens where its body says, a thermostat too, and what protects neither trips in use nor burns."""
    for index, device in enumerate(machine.safety_devices):
        if device.rating.known:
            loc: Loc = ("safety_devices", index, "rating")
            yield from _relief(machine, device, loc)
            yield from _controls(machine, device, loc)
            yield from _trips(machine, device, loc)
            yield from _burns(machine, device, loc)
    steam, control = machine.steam.setpoint, machine.control
    brewing = control.opens if isinstance(control, ThermostatControl) else control.setpoint
    # Of what no such machine is set to, `assess.sanity` says that it boils.
    if steam.known and brewing.known and steam.value <= brewing.value <= brewing.plausible()[1]:
        words = f"{steam.text} is no hotter than the {brewing.text} at which it brews"
        yield problem(machine, ("steam", "setpoint"), Code.CONTRADICTED, words, "correct one of them, or write unknown")


def named(rating: str, dimension: str) -> list[float]:
    """Every temperature, K, or pressure, Pa, that a rating names.

    >>> [round(one / 1e5, 3) for one in named("opens at 12 bar", "pressure")]
    [12.0]
    """
    return [one for found in _NAMED[dimension].findall(rating) for one in _read(found, dimension)]


def _read(found: str, dimension: str) -> Iterator[float]:
    # A number that nothing on a workbench has is none; the text of a rating is kept as it stands on the body.
    with contextlib.suppress(UnitError):
        yield parse(found, dimension).value


def _relief(machine: Machine, device: SafetyDevice, loc: Loc) -> Iterator[Problem]:
    if device.kind == "relief-valve":
        yield from _differs(machine, loc, machine.water_path.relief_opens, "water_path.relief_opens")


def _controls(machine: Machine, device: SafetyDevice, loc: Loc) -> Iterator[Problem]:
    control = machine.control
    if device.class_ == "control" and device.kind == "thermostat" and isinstance(control, ThermostatControl):
        yield from _differs(machine, loc, control.opens, "control.opens")


def _differs(machine: Machine, loc: Loc, stated: Fact, name: str) -> Iterator[Problem]:
    rating = machine.safety_devices[int(loc[1])].rating.value
    for one in named(rating, stated.dimension):
        room = SPREAD[stated.dimension] * (stated.value if stated.dimension == "pressure" else 1.0)
        if stated.known and not stated.low - room <= one <= stated.high + room:
            words = f"{rating} beside {stated.text} in {name}"
            yield problem(machine, loc, Code.CONTRADICTED, words, "read the body of the device again, and correct one")


def _trips(machine: Machine, device: SafetyDevice, loc: Loc) -> Iterator[Problem]:
    steam = machine.steam.setpoint
    if device.class_ != "protective" or device.kind == "relief-valve" or not steam.known:
        return
    for one in named(device.rating.value, "temperature"):
        if one <= steam.value:
            words = f"{device.rating.value} would trip before the {steam.text} of steam.setpoint"
            yield problem(machine, loc, Code.CONTRADICTED, words, "read the body of the device again, and correct one")


def _burns(machine: Machine, device: SafetyDevice, loc: Loc) -> Iterator[Problem]:
    """The heater's current flows through each device of its circuit."""
    power, mains = machine.heater.power, machine.mains.voltage
    circuits = [one for one in machine.inventory.values() if isinstance(one, InventoryCircuit)]
    if not (power.known and mains.known) or not any(device.id in one.in_order for one in circuits):
        return
    flows = power.value / mains.value
    for text in _CURRENT.findall(device.rating.value):
        if flows > float(text):
            words = f"{device.rating.value}: the heater draws {metric(flows, 'current')} of the {mains.text}"
            fix = "correct heater.power, mains.voltage or the rating"
            yield problem(machine, loc, Code.CONTRADICTED, words, fix)
