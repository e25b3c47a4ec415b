"""The parts of the mass and heat budget, with their names."""

from __future__ import annotations

from guidegen.assess.network_of import Fitted
from guidegen.heat.network import WATER_SPECIFIC_HEAT, Network, Rows
from guidegen.language import gettext
from guidegen.language.choices import choice
from guidegen.record import rounded
from guidegen.record.computed import BudgetPart
from guidegen.trade.machine import Machine
from guidegen.workshop.facts import Choice


def parts(machine: Machine, masses: dict[str, Rows], fitted: Fitted, plain: Network) -> list[BudgetPart]:
    """The parts of the budget at their stated values."""

    def part(name: str, words: str, mass: float, capacity: float, kit: bool = False) -> BudgetPart:
        return BudgetPart(id=name, name=words, kit=kit, mass_kg=rounded(mass), heat_capacity_j_per_k=rounded(capacity))

    boiler = gettext("boiler, {material}").format(material=_material(machine.boiler.material))
    group = gettext("group, {material}").format(material=_material(machine.group.material))
    made = [
        part("boiler", boiler, masses["boiler"][0], plain.boiler_capacity[0]),
        part("group", group, masses["group"][0], plain.group_capacity[0]),
        part("water", gettext("water in the boiler"), masses["water"][0], plain.water_capacity[0]),
    ]
    coil = fitted.network.coil
    if coil is not None and fitted.coil_metal is not None:
        metal = gettext("coil, tube and fittings")
        made.append(part("coil", metal, fitted.coil_metal[0], coil.metal_capacity[0], True))
        water = coil.water_mass[0]
        made.append(part("coil-water", gettext("water in the coil"), water, water * WATER_SPECIFIC_HEAT, True))
    return made


def _material(metal: Choice) -> str:
    """The metal, or what the computation takes in the place of one that nobody knows."""
    words = choice(metal.value)
    return words if metal.known else gettext("not known of what, computed as {material}").format(material=words)
