"""The catalogue: YAML with positions, typed models, inheritance, cross-file checks.

from guidegen import catalogue

known = catalogue.load(root)          # raises CatalogueError with every mistake, each at its place
known.machine("tamsin-mk2").boiler.mass.value
"""

from guidegen.catalogue.load import load, look
from guidegen.catalogue.parts import Catalogue

__all__ = ["Catalogue", "load", "look"]
