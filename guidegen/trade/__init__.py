"""Trade: what machines and kits of this trade are, and all that a workshop states about them, as one catalogue.

from guidegen import trade

known = trade.load(root)          # raises CatalogueError with every mistake, each at its place
known.machine("tamsin-mk2").boiler.mass.value
"""

from guidegen.trade.catalogue import Catalogue
from guidegen.trade.load import load, look
from guidegen.trade.sound import sound_part

__all__ = ["Catalogue", "load", "look", "sound_part"]
