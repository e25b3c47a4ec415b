"""What a kit asks that goes onto another one: that the other is on the machine, or goes on before."""

from __future__ import annotations

from guidegen.judge.comparison import Comparison, OneOf
from guidegen.judge.fit.tree import Condition, Remedy
from guidegen.language import gettext
from guidegen.workshop.fitted import fitted

PREFIX = "needs-"
"""Begins the id of such a condition; the kit's id follows."""


def needed(kit: str, prefix: str, other: Remedy) -> Condition:
    """Return the condition that a kit is on the machine; fitting it, `other`, is what helps where it is not."""
    return Condition(
        id=f"{prefix}{PREFIX}{kit}",
        says=gettext("The {kit} is on the machine.").format(kit=other.name),
        test=Comparison(fitted(kit), OneOf(frozenset({"yes"}))),
        because=gettext("This kit goes onto it."),
        remedies=(other,),
    )
