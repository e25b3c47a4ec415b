"""The parts of the mass and heat budget, as the record keeps them; their names come with the words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from guidegen.record.base import rounded
from guidegen.record.computed import BudgetPart

if TYPE_CHECKING:
    from guidegen.assess.question import Portion


def parts(shares: tuple[Portion, ...]) -> tuple[BudgetPart, ...]:
    """The parts of the machine with its kit, at their stated values; they add up to the totals with the kit."""
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
