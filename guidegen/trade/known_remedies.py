"""The remedies that the program knows the way of: what each makes of the wall, the bolts, and the check valve's place.

An instruction asks for these ways in its `when`; so its own minutes say what such a remedy takes.
"""

from __future__ import annotations

from collections.abc import Mapping

from guidegen.trade.access import COIL_OFF
from guidegen.trade.catalogue import Catalogue
from guidegen.trade.cutting import EXCHANGE, TRIM
from guidegen.trade.kit import Kit
from guidegen.trade.water_path import CHECK_VALVE, FREE, LOCKS, MOVE_VALVE
from guidegen.workshop.questions import Effort

PLAIN = {"wall.way": "smooth", "bolts.way": "usual"}
"""The ways of wall and bolts that ask for nothing more; a guide takes the check valve as the machine has it."""
USUAL = {**PLAIN, CHECK_VALVE: FREE[-1]}
"""What asks for no remedy."""


def way_of(kit: Kit, effort: Effort) -> Mapping[str, str] | None:
    """Return what an instruction with a remedy asks for otherwise than usual; None where the program knows none."""
    ways: dict[tuple[str | None, str | None], dict[str, str]] = {
        (None, TRIM): {"wall.way": "trimmed"},
        (EXCHANGE, None): {"wall.way": "exchanged"},
        (None, COIL_OFF): {"bolts.way": COIL_OFF},
        (None, MOVE_VALVE): {CHECK_VALVE: LOCKS},
    }
    if kit.short_key is not None:
        ways[kit.short_key.id, None] = {"bolts.way": "short-key"}
    return ways.get((effort.part, effort.fabrication))


def is_timed(known: Catalogue, effort: Effort) -> bool:
    """Return whether an instruction of the workshop says what a remedy takes, so that nobody writes it."""
    kit = known.kits.get(effort.kit)
    if kit is None or known.shared is None or effort.kit not in known.procedures:
        return False
    return (effort.part is None and effort.fabrication is None) or way_of(kit, effort) is not None
