"""Mass and heat, as the record keeps them: totals with their ranges, and parts, whose names come with the words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from guidegen.assess.figures import Figures
from guidegen.heat.network import Rows
from guidegen.record.base import rounded
from guidegen.record.computed import Budget, BudgetPart, BudgetSide

if TYPE_CHECKING:
    from guidegen.assess.question import PairQuestion, Portion


def parts(shares: tuple[Portion, ...]) -> tuple[BudgetPart, ...]:
    """The parts of the machine with its kit, at their stated values; they add up to the stated totals with the kit."""
    return tuple(
        BudgetPart(
            id=one.id,
            name="",
            kit=one.kit,
            mass_kg=rounded(float(one.mass[0])),
            heat_capacity_j_per_k=rounded(float(one.heat_capacity[0])),
        )
        for one in shares
    )


def budget(make: Figures, asked: PairQuestion, parts: tuple[BudgetPart, ...]) -> Budget:
    """Mass and heat capacity without and with the kit."""
    mass, added = machine_mass(asked), asked.added_mass()
    before, after = asked.plain.heat_capacity(), asked.fitted.heat_capacity()
    return Budget(
        added_kg=make.figure(added),
        without=BudgetSide(mass_kg=make.figure(mass), heat_capacity_j_per_k=make.figure(before)),
        with_=BudgetSide(mass_kg=make.figure(mass + added), heat_capacity_j_per_k=make.figure(after)),
        parts=parts,
    )


def machine_mass(asked: PairQuestion) -> Rows:
    """Boiler, group and water of a machine without the kit, and kits that were on it before, kg, shape (n,)."""
    bare = asked.values["boiler.mass"] + asked.values["group.mass"] + asked.plain.water_mass
    return sum((one.mass for one in asked.shares if one.first), start=bare)
