"""Trade: what machines and kits of this trade are, and all that a workshop states about them, as one catalogue.

from guidegen import trade

known = trade.load(root)          # raises CatalogueError with every mistake, each at its place
known.machine("tamsin-mk2").boiler.mass.value
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from guidegen import language
from guidegen.trade.catalogue import Catalogue
from guidegen.trade.load import load, look
from guidegen.trade.sound import sound_part

__all__ = ["Catalogue", "load", "look", "opened", "sound_part"]


@contextmanager
def opened(root: Path) -> Iterator[Catalogue]:
    """The catalogue of a workshop; text made inside is in the workshop's language."""
    known = load(root)
    with language.in_language(known.workshop.language, root):
        yield known
