"""The parameters that runs may teach: uncertain inputs of a machine and its kits, and what each must be seen by."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from guidegen.assess import inputs
from guidegen.heat.learning import Prior, Scale, prior
from guidegen.language import marked
from guidegen.trade import Catalogue
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.trade.uncertain import Uncertain

SEEN_BY: Mapping[str, tuple[str, ...]] = {
    "mixing": ("outlet",),
    "group.to_water": ("outlet",),
    "group.to_boiler": ("group",),
    "group.to_room": ("group",),
    "boiler.to_water": ("boiler-wall", "outlet"),
    "heater.to_boiler": ("boiler-wall", "heater"),
    "kit.contact": ("coil-out", "coil-metal"),
    "kit.to_case": ("coil-out", "coil-metal"),
    "kit.shields": ("heater",),
    "model.inside": ("coil-out",),
    "losses.boiler_to_case": ("heater",),
}
"""By input: places of which one must have been logged before anything is claimed of it, whatever the fit says.

What the sensor alone shows of contact or mixing it shows as well of several other things, each of which the network
may have in another form than the machine.
"""
PROBES: Mapping[str, str] = {
    "outlet": marked("a probe in the water that leaves the group"),
    "group": marked("a probe on the group's metal"),
    "boiler-wall": marked("a probe on the boiler's wall"),
    "coil-out": marked("a probe in the water that leaves the coil"),
    "coil-metal": marked("a probe on the coil's tube"),
    "heater": marked("a power meter that is logged"),
    "sensor": marked("the control's sensor, logged"),
}
"""Places at which a probe can be added, and what it is called in a sentence."""
HANDLED = {one.id for one in inputs.HABITS}
"""Inputs that a run has of its own: how much was drawn, and how long it took."""


@dataclass(frozen=True)
class Learnable:
    """A parameter: its input, the kit that has it (empty for the machine), and its prior."""

    input: Uncertain
    kit: str
    prior: Prior

    @property
    def key(self) -> str:
        """Its name among those of a machine with several kits."""
        return f"{self.kit}/{self.input.id}" if self.kit else self.input.id

    @property
    def seen_by(self) -> tuple[str, ...]:
        """Places of which one must have been logged before anything is claimed of it; none where any will do."""
        return SEEN_BY.get(self.input.id, ())


def scale_of(one: Uncertain) -> Scale:
    """The scale on which an input is learned: a share by its odds, a temperature as it is, all else in logarithms."""
    if one.dimension == "temperature" or one.low < 0.0:
        return "plain"
    if one.dimension == "ratio" and one.high <= 1.0:
        return "odds"
    return "logarithm" if one.low > 0.0 else "plain"


def learnable(known: Catalogue, machine: Machine, kits: Iterable[Kit]) -> Iterator[Learnable]:
    """Every uncertain input of a machine and of the kits on it."""
    of = [("", one) for one in inputs.of_machine(machine, known)]
    of += [(kit.id, one) for kit in kits for one in kit.inputs()]
    for kit_id, one in of:
        if one.varies and one.id not in HANDLED:
            yield Learnable(one, kit_id, prior(one.distribution, scale_of(one)))
