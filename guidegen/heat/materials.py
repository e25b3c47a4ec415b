"""Density, specific heat and conductivity of the metals that boilers, groups and tubes are made of.

Values at 300 K, taken as constant: a few per cent between cold and hot, less than a weighed mass is uncertain.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class Material:
    """One metal: density in kg/m³, specific heat in J/(kg·K), conductivity in W/(m·K), all at 300 K, and its source.

    >>> COPPER.density * COPPER.specific_heat / 1e6  # MJ/(m³·K): = 8933 * 385 / 1e6
    3.439205
    """

    name: str
    density: float
    specific_heat: float
    conductivity: float
    source: str


BRASS = Material("brass", 8530.0, 380.0, 110.0, "incropera, table A.1, cartridge brass")
ALUMINIUM = Material("aluminium", 2702.0, 903.0, 237.0, "incropera, table A.1, pure")
COPPER = Material("copper", 8933.0, 385.0, 401.0, "incropera, table A.1, pure")
STAINLESS = Material("stainless", 7900.0, 477.0, 14.9, "incropera, table A.1, AISI 304, from memory")

MATERIALS = MappingProxyType({material.name: material for material in (BRASS, ALUMINIUM, COPPER, STAINLESS)})
"""Every material by the name the catalogue gives it."""


def material(name: str) -> Material:
    """Give the material of a name; an unknown name raises KeyError with the names there are.

    >>> material("brass").specific_heat  # incropera, table A.1
    380.0
    """
    if name not in MATERIALS:
        raise KeyError(f"no material is called {name!r}; there are {', '.join(sorted(MATERIALS))}")
    return MATERIALS[name]
