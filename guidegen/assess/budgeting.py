"""The parts of the mass and heat budget."""

from __future__ import annotations

from typing import TYPE_CHECKING

from guidegen.heat.network import WATER_SPECIFIC_HEAT
from guidegen.language import marked
from guidegen.record.base import rounded
from guidegen.record.computed import BudgetPart

if TYPE_CHECKING:
    from guidegen.assess.question import Question

NAMES = {
    "boiler": marked("boiler, {material}"),
    "group": marked("group, {material}"),
    "water": marked("water in the boiler"),
    "coil": marked("coil, tube and fittings"),
    "coil-water": marked("water in the coil"),
}


def parts(asked: Question) -> tuple[BudgetPart, ...]:
    """The parts of the budget at their stated values, with their untranslated names."""

    def part(name: str, mass: float, capacity: float, kit: bool = False) -> BudgetPart:
        shown = {"mass_kg": rounded(mass), "heat_capacity_j_per_k": rounded(capacity)}
        return BudgetPart(id=name, name=NAMES[name], kit=kit, **shown)

    values, plain, fitted = asked.values, asked.plain, asked.fitted
    made = [
        part("boiler", values["boiler.mass"][0], plain.boiler_capacity[0]),
        part("group", values["group.mass"][0], plain.group_capacity[0]),
        part("water", plain.water_mass[0], plain.water_capacity[0]),
    ]
    coil = fitted.network.coil
    if coil is not None and fitted.coil_metal is not None:
        made.append(part("coil", fitted.coil_metal[0], coil.metal_capacity[0], True))
        water = coil.water_mass[0]
        made.append(part("coil-water", water, water * WATER_SPECIFIC_HEAT, True))
    return tuple(made)
