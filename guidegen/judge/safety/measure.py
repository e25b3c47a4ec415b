"""Read a written limit: sense apart, it has a number, a unit of the closed table or a counted thing, a tolerance.

>>> measured("0.3 Ω"), measured("0 damp tissues"), measured("low")
(Measure(number=0.3, unit='Ω', dimension='resistance', tolerance=None), Measure(number=0.0, unit='damp tissues', \
dimension='count', tolerance=None), None)
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from guidegen.unit_table import SPELLINGS, UNITS

#: units of meters that guides print; the catalogue has no field for them
TEST_UNITS = {"MΩ": ("resistance", 1e6), "mA": ("current", 1e-3), "pH": ("acidity", 1.0)}

_WRITTEN = re.compile(r"^\s*(\d+(?:\.\d+)?)\s*([^\d±]*?)\s*(?:±\s*(\d+(?:\.\d+)?)\s*([^\d±]*))?$")

_PH = re.compile(r"\bpH (\d+(?:\.\d+)?)")
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
        if self.unit in TEST_UNITS:
            return self.number * TEST_UNITS[self.unit][1]
        factor, offset = UNITS.get(self.dimension, {}).get(SPELLINGS.get(self.unit, self.unit), (1.0, 0.0))
        return self.number * factor + offset


def measured(text: str) -> Measure | None:
    """Return what was written, or None where number or unit is missing or the unit is none."""
    match = _WRITTEN.match(_PH.sub(r"\1 pH", text.replace("\u202f", " ")))
    if match is None:
        return None
    number, unit, width, width_unit = match.groups()
    unit = unit.removesuffix("~").removesuffix("⎓").strip()
    dimension = dimension_of(unit)
    if dimension is None or (width_unit and dimension_of(width_unit.strip()) not in (dimension, "temperature")):
        return None
    return Measure(float(number), unit, dimension, float(width) if width else None)


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
    r"(?<![\w.])\d+(?:\.\d+)?\s*(?:"
    + "|".join(sorted((re.escape(unit) for units in UNITS.values() for unit in units if unit), key=len, reverse=True))
    + r"|MΩ|mA)(?![\w·²/])|"
    + _PH.pattern
)
