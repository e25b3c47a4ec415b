"""What a drawing of a pair is made of, without computing its numbers."""

from __future__ import annotations

from guidegen.assess import verdict
from guidegen.assess.scene import scene
from guidegen.record.scene import Scene
from guidegen.record.stated import Protrusion
from guidegen.trade import Catalogue
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine


def drawing_of(known: Catalogue, machine: Machine, kit: Kit) -> tuple[Scene, tuple[Protrusion, ...]]:
    """The scene, and what becomes of each protrusion. Raises `CatalogueError` where requirements cannot be judged."""
    pair = verdict.judged(known, machine, kit, DRAFT)
    return scene(known, machine, kit), tuple(verdict.protrusions(machine, kit, pair))


DRAFT = "next"
"""The edition that is judged for; a drawing says none."""
