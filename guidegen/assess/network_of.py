"""A machine as a thermal network, and the same machine under a kit.

The same questions are asked of the network without and with the kit, so a new kind of kit needs no new question.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from guidegen.assess.inputs import CASE
from guidegen.heat.losses import at_idle
from guidegen.heat.materials import material
from guidegen.heat.network import Network, set_to
from guidegen.heat.surface import EMISSIVITY
from guidegen.heat.water import enclosed
from guidegen.language import gettext
from guidegen.language.choices import choice
from guidegen.trade.controls import control_of
from guidegen.trade.effects import with_effects
from guidegen.trade.effects.base import Fitted, MassPart
from guidegen.trade.kit import Kit, effects_of
from guidegen.trade.machine import Machine
from guidegen.trade.uncertain import Values
from guidegen.workshop.facts import Choice


def without_kit(machine: Machine, values: Values) -> Network:
    """The machine as it left the factory."""
    boiler, group = material(machine.boiler.material.value), material(machine.group.material.value)
    control, lag = control_of(machine.control, values, "control")
    hot = enclosed(float(set_to(control)[0]))
    idle = at_idle(
        set_to(control), metal_share=values["sensor.metal_share"], element_to_boiler=values["heater.to_boiler"],
        element_to_water=values["heater.to_water"], boiler_to_water=values["boiler.to_water"],
        boiler_to_group=values["group.to_boiler"], boiler_to_case=values["losses.boiler_to_case"],
        group_to_room=values["group.to_room"], case=values["losses.case_temperature"], room=values["room"],
    )  # fmt: skip
    rows = np.ones(len(idle.boiler))
    return Network(
        heater_power=values["heater.power"],
        heater_capacity=values["heater.heat_capacity"],
        heater_to_boiler=values["heater.to_boiler"],
        heater_to_water=values["heater.to_water"],
        boiler_capacity=values["boiler.mass"] * boiler.specific_heat,
        boiler_to_water=values["boiler.to_water"],
        boiler_to_group=values["group.to_boiler"],
        boiler_to_case=values["losses.boiler_to_case"],
        water_mass=values["boiler.water"] * float(hot),
        mixing=values["mixing"],
        group_capacity=values["group.mass"] * group.specific_heat,
        group_to_water=values["group.to_water"],
        group_to_room=values["group.to_room"],
        sensor_lag=lag,
        sensor_metal_share=values["sensor.metal_share"],
        case=values["losses.case_temperature"],
        case_capacity=values[CASE.id],
        case_to_room=idle.case_to_room,
        boiler_at_idle=idle.boiler,
        group_at_idle=idle.group,
        boiler_emissivity=rows * EMISSIVITY[boiler.name],
        group_emissivity=rows * EMISSIVITY[group.name],
        follows=rows,
        room=values["room"],
        feed=values["feed"],
        control=control,
    )


def sides(machine: Machine, first: Sequence[Kit], kit: Kit, values: Values) -> tuple[Fitted, Fitted]:
    """The machine before a kit, with the kits that it goes onto, and after every effect of it."""
    plain = without_kit(machine, values)
    before, after = (with_kits(machine, kits, values, plain) for kits in (first, (*first, kit)))
    return before, after


def with_kits(machine: Machine, kits: Sequence[Kit], values: Values, plain: Network) -> Fitted:
    """The machine after every effect of several kits, in the order of fitting."""
    return with_effects(machine, effects_of(kits), values, Fitted(plain, machine_parts(machine, values, plain)))


def machine_parts(machine: Machine, values: Values, plain: Network) -> tuple[MassPart, ...]:
    """What the machine is made of; the heater element, which is weighed with its boiler, has no mass of its own."""
    boiler = gettext("boiler, {material}").format(material=_metal(machine.boiler.material))
    group = gettext("group, {material}").format(material=_metal(machine.group.material))
    return (
        MassPart("boiler", boiler, values["boiler.mass"], plain.boiler_capacity),
        MassPart("group", group, values["group.mass"], plain.group_capacity),
        MassPart("water", gettext("water in the boiler"), plain.water_mass, plain.water_capacity),
        MassPart(
            "heater", gettext("heater element, weighed with the boiler"), np.zeros(len(plain)), plain.heater_capacity
        ),
    )


def _metal(metal: Choice) -> str:
    """The metal, or what the computation takes in the place of one that nobody knows."""
    words = choice(metal.value)
    return words if metal.known else gettext("metal not known, computed as {material}").format(material=words)
