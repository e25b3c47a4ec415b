"""Read a written limit: sense apart, it has a number, a unit of the closed table or a counted thing, a tolerance.

>>> measured("0.3 Ω"), measured("0 damp tissues"), measured("low")
(Measure(number=0.3, unit='Ω', dimension='resistance', tolerance=None), Measure(number=0.0, unit='damp tissues', \
dimension='count', tolerance=None), None)
>>> measured("3/4 turn ± 1/8 turn"), measured("2 bar ± 50 kPa").tolerance
(Measure(number=0.75, unit='turn', dimension='angle', tolerance=0.125), 0.5)
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from guidegen.unit_table import SPELLINGS, TEST_UNITS, UNITS

_NUMBER = r"([0-9]+(?:\.[0-9]+)?(?:/[1-9][0-9]*)?)"
"""A decimal number, or a fraction as fitters say it: 3/4."""
_WRITTEN = re.compile(rf"^\s*{_NUMBER}\s*([^0-9±]*?)\s*(?:±\s*{_NUMBER}\s*([^0-9±]*))?$")

_PH = re.compile(r"\bpH ([0-9]+(?:\.[0-9]+)?)")
"""The one unit that stands before its number."""


@dataclass(frozen=True)
class Measure:
    """A number as written, its unit, the dimension that the unit belongs to, and a tolerance in the same unit."""

    number: float
    unit: str
    dimension: str
    tolerance: float | None = None

    @property
    def in_si(self) -> float:
        """The number in the SI unit of its dimension; a count stays as it is.

        >>> Measure(0.3, "MΩ", "resistance").in_si
        300000.0
        """
        factor, offset = _to_si(self.unit, self.dimension)
        return self.number * factor + offset

    @property
    def ends(self) -> tuple[float, float]:
        """Both ends of the tolerance in SI; twice the number where it has none.

        >>> [round(end) for end in Measure(24, "bar", "pressure", 1.0).ends]
        [2300000, 2500000]
        """
        width = (self.tolerance or 0.0) * _to_si(self.unit, self.dimension)[0]
        return self.in_si - width, self.in_si + width


def measured(text: str) -> Measure | None:
    """Return what was written, or None where number or unit is missing or the unit is none."""
    match = _WRITTEN.match(_PH.sub(r"\1 pH", text.replace("\u202f", " ")))
    if match is None:
        return None
    number, unit, width, width_unit = match.groups()
    unit = unit.removesuffix("~").removesuffix("⎓").strip()
    dimension = dimension_of(unit)
    width_unit = (width_unit or "").strip() or unit
    if dimension is None or dimension_of(width_unit) != dimension:
        return None
    scale = _to_si(width_unit, dimension)[0] / _to_si(unit, dimension)[0]
    return Measure(_number(number), unit, dimension, _number(width) * scale if width else None)


def _number(text: str) -> float:
    above, _, below = text.partition("/")
    return float(above) / float(below or 1)


def _to_si(unit: str, dimension: str) -> tuple[float, float]:
    """Factor and offset to SI; a count stays as it is."""
    if unit in TEST_UNITS:
        return TEST_UNITS[unit][1], 0.0
    return UNITS.get(dimension, {}).get(SPELLINGS.get(unit, unit), (1.0, 0.0))


def dimension_of(unit: str) -> str | None:
    """Return the dimension of a unit; `count` for a counted thing in words; None where there is no unit."""
    known = SPELLINGS.get(unit, unit)
    for dimension, units in UNITS.items():
        if known and known in units:
            return dimension
    if unit in TEST_UNITS:
        return TEST_UNITS[unit][0]
    return "count" if re.fullmatch(r"[a-z][a-z -]+", unit) else None


#: a number with a unit inside a sentence
IN_TEXT = re.compile(
    r"(?<![\w.])[0-9]+(?:\.[0-9]+)?\s*(?:"
    + "|".join(sorted((re.escape(unit) for units in UNITS.values() for unit in units if unit), key=len, reverse=True))
    + "|"
    + "|".join(TEST_UNITS)
    + r")(?![\w·²/])|"
    + _PH.pattern
)
