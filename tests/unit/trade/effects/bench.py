"""A machine of the demonstration under effects that a test writes as a kit does."""

from __future__ import annotations

from typing import Any

from pydantic import TypeAdapter

from guidegen.assess import inputs
from guidegen.assess.network_of import with_kits, without_kit
from guidegen.heat.network import Network
from guidegen.trade.effects import AnyEffect, Effect
from guidegen.trade.effects.base import Fitted
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.trade.uncertain import Values
from tests.mutants.draft import catalogue

MK2 = catalogue().machine("tamsin-mk2")
_EFFECT: TypeAdapter[Effect] = TypeAdapter(AnyEffect)

BRASS_RING = {"kind": "add_mass", "to": "boiler", "mass": "100 g", "material": "brass"}
BRASS_FOOT = {"kind": "add_mass", "to": "group", "mass": "500 g", "material": "brass"}
JACKET = {"kind": "scale_loss", "loss": "boiler_to_case", "by": "60 %"}
SLEEVE = {"kind": "scale_loss", "loss": "group_to_room", "by": "80 %"}
ELEMENT = {"kind": "set_heater", "power": "1300 W", "heat_capacity": "45 J/K", "to_boiler": "50 W/K"}
LOOP = {"kind": "set_control", "control": {"kind": "pid", "setpoint": "101 °C", "kp": "50 W/K",
                                           "ki": "0.5 W/(K·s)", "kd": "100 W·s/K"}}  # fmt: skip
COIL = {
    "kind": "feed_coil",
    "tube": {"material": "copper", "outside": "8 mm", "wall": "1 mm", "temper": "annealed"},
    "holds": "58 ml", "layers_max": 2, "gap": "0 mm", "tails": {"inlet": "80 mm", "outlet": "100 mm"},
    "fittings_mass": "42 g",
    "joined": "clamped", "contact": "0.60 W/(m·K)", "to_case": "0.40 W/(m·K)", "shields": "80 %",
}  # fmt: skip
NOTHING = {"kind": "none", "because": "It weighs as much as what it replaces."}
ONE_OF_EACH = (LOOP, ELEMENT, BRASS_RING, JACKET, COIL, NOTHING)


def kit(*written: dict[str, Any]) -> Kit:
    """A kit of the demonstration with these effects in place of its own."""
    return (
        catalogue()
        .kit("banjo-feed")
        .model_copy(update={"effects": tuple(_EFFECT.validate_python(one) for one in written)})
    )


def drawn(machine: Machine, one: Kit, draws: int = 0) -> Values:
    """The values of all inputs of a pair."""
    return inputs.draw([*inputs.of_machine(machine, catalogue()), *one.inputs()], draws)


def fitted(*written: dict[str, Any], machine: Machine = MK2, draws: int = 0) -> tuple[Network, Fitted]:
    """The machine's network without, and the machine with a kit of these effects."""
    one = kit(*written)
    values = drawn(machine, one, draws)
    plain = without_kit(machine, values)
    return plain, with_kits(machine, (one,), values, plain)


def moved(before: Network, after: Network) -> set[str]:
    """The fields of a network that are not the same to the bit."""
    names = [name for name in vars(before) if name not in ("control", "coil")]
    changed = {name for name in names if getattr(before, name).tobytes() != getattr(after, name).tobytes()}
    changed |= {"control"} if before.control is not after.control else set()
    return changed | ({"coil"} if after.coil is not None else set())
