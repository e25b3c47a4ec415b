"""The remedies that the program knows the way of: what becomes of the wall, and how the bolts are reached, by each.

An instruction asks for these ways in its `when`; so its own minutes say what such a remedy takes.
"""

from __future__ import annotations

from guidegen.trade.access import COIL_OFF
from guidegen.trade.catalogue import Catalogue
from guidegen.trade.cutting import EXCHANGE, TRIM
from guidegen.trade.kit import Kit
from guidegen.workshop.questions import Effort

PLAIN = ("smooth", "usual")
"""The ways of wall and bolts that ask for nothing more."""


def way_of(kit: Kit, effort: Effort) -> tuple[str, str] | None:
    """Return the ways of wall and bolts with a remedy; None where the program knows none."""
    ways = {(None, TRIM): ("trimmed", "usual"), (EXCHANGE, None): ("exchanged", "usual"),
            (None, COIL_OFF): ("smooth", COIL_OFF)}  # fmt: skip
    if kit.short_key is not None:
        ways[kit.short_key.id, None] = ("smooth", "short-key")
    return ways.get((effort.part, effort.fabrication))


def is_timed(known: Catalogue, effort: Effort) -> bool:
    """Return whether an instruction of the workshop says what a remedy takes, so that nobody writes it."""
    kit = known.kits.get(effort.kit)
    if kit is None or known.shared is None or effort.kit not in known.procedures:
        return False
    return (effort.part is None and effort.fabrication is None) or way_of(kit, effort) is not None
