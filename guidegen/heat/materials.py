"""Density, specific heat, conductivity and strength of the metals that boilers, groups and tubes are made of.

Thermal values at 300 K, taken as constant: a few per cent between cold and hot, less than a weighed mass is uncertain.

The allowable stress is for a vessel under inside pressure, up to 150 °C, of the weakest alloy that a maker may have
taken, because nobody knows which it was. Of castings: two thirds of the 0.2 % proof stress or the tensile strength
over 3.5, whichever is less, times 0.8 for a casting that nobody looked through. These three factors are those of common
pressure-vessel codes, from memory.

How much stronger they are at room temperature is from memory: of aluminium what is off at 150 °C, of annealed copper
41 against 34 N/mm², of 1.4301 210 against 142 N/mm² of proof stress; of cast brass nothing, which is on the safe side,
since its stress is stated at room temperature.

How metal gives way elastically is given for the softest temper of the usual alloy of a tube, at room temperature: a
harder tube yields later.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class Elastic:
    """Young's modulus and least yield stress in Pa, Poisson's ratio, linear expansion in 1/K, and their sources."""

    young: float
    poisson: float
    expansion: float
    yield_stress: float
    source: str


@dataclass(frozen=True, slots=True)
class Material:
    """One metal: density in kg/m³, specific heat in J/(kg·K), conductivity in W/(m·K), all at 300 K, and their source.

    `allowable_stress` in Pa up to 150 °C, and where it comes from; at room temperature it is `stronger_cold` times
    that. `elastic` of a tube of it.

    >>> COPPER.density * COPPER.specific_heat / 1e6  # MJ/(m³·K): = 8933 * 385 / 1e6
    3.439205
    """

    name: str
    density: float
    specific_heat: float
    conductivity: float
    source: str
    allowable_stress: float
    strength: str
    stronger_cold: float
    elastic: Elastic


BRASS = Material(
    "brass", 8530.0, 380.0, 110.0, "incropera, table A.1, cartridge brass",
    37e6, "en-1982, CuZn33Pb2-C (CC750S), sand cast: 70 N/mm² proof, 180 N/mm² tensile",
    1.0,
    Elastic(110e9, 0.34, 19.9e-6, 97e6, "cartridge brass, annealed, from memory"),
)  # fmt: skip
ALUMINIUM = Material(
    "aluminium", 2702.0, 903.0, 237.0, "incropera, table A.1, pure",
    25e6, "sand-cast aluminium with silicon, 70 N/mm² proof, 150 N/mm² tensile, a quarter off at 150 °C, from memory",
    4 / 3,
    Elastic(69e9, 0.33, 23.6e-6, 34e6, "3003, annealed, from memory"),
)  # fmt: skip
COPPER = Material(
    "copper", 8933.0, 385.0, 401.0, "incropera, table A.1, pure",
    34e6, "copper-board-tube-pressure, annealed at 150 °C",
    1.2,
    Elastic(118e9, 0.34, 16.8e-6, 62e6, "astm-b75, annealed, 9 ksi at least; copper-facts, table 5, expansion; modulus "
            "and Poisson's ratio from memory"),
)  # fmt: skip
STAINLESS = Material(
    "stainless", 7900.0, 477.0, 14.9, "incropera, table A.1, AISI 304, from memory",
    94e6, "1.4301 sheet, 142 N/mm² proof at 150 °C over 1.5, from memory",
    1.5,
    Elastic(193e9, 0.29, 17.2e-6, 205e6, "AISI 304, annealed, from memory"),
)  # fmt: skip

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
