"""The parts of the mass and heat budget, as the record keeps them."""

from __future__ import annotations

from guidegen.record import rounded
from guidegen.record.computed import BudgetPart
from guidegen.trade.effects.base import Fitted


def parts(fitted: Fitted) -> list[BudgetPart]:
    """The parts of the machine with its kit, at their stated values; they add up to the totals with the kit."""
    return [
        BudgetPart(
            id=one.id,
            name=one.name,
            kit=one.kit,
            mass_kg=rounded(float(one.mass[0])),
            heat_capacity_j_per_k=rounded(float(one.heat_capacity[0])),
        )
        for one in fitted.parts
    ]
