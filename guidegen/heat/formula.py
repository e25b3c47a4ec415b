"""What the methods page prints of a formula: equation, symbols, limits and sources."""

from __future__ import annotations

from dataclasses import dataclass, field

from guidegen.heat.validity import Validity


@dataclass(frozen=True, slots=True)
class Symbol:
    """One symbol of an equation: how it is written, what it stands for in full words, and its SI unit."""

    symbol: str
    meaning: str
    unit: str


@dataclass(frozen=True, slots=True)
class Formula:
    """One formula as the methods page shows it.

    `equation` is plain text with the symbols of `symbols`; `sources` are "key, table or equation number".

    >>> Formula("bend", "R = 3 D", (Symbol("R", "bend radius", "m"),)).equation
    'R = 3 D'
    """

    name: str
    equation: str
    symbols: tuple[Symbol, ...] = ()
    validity: tuple[Validity, ...] = ()
    sources: tuple[str, ...] = field(default=())
