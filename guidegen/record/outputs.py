"""What an output is called, means and comes from: declared once, as an annotation of the record's field that holds it.

The numbers page, the CSV, the list of changes, the terms and the JSON Schema are derived from these by walking the
record's models (`guidegen.record.table`). Texts are English, and translated where they are shown.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from pydantic import GetJsonSchemaHandler
from pydantic_core import CoreSchema

UNITS: dict[str, tuple[str, str]] = {
    "j_per_k": ("heat_capacity", "J/K"),
    "degc": ("temperature", "°C"),
    "k": ("temperature_difference", "K"),
    "kg": ("mass", "kg"),
    "g": ("mass", "g"),
    "ml": ("volume", "ml"),
    "mm": ("length", "mm"),
    "m": ("length", "m"),
    "pa": ("pressure", "Pa"),
    "bar": ("pressure", "bar"),
    "n_m": ("torque", "N·m"),
    "wh": ("energy", "Wh"),
    "w": ("power", "W"),
    "s": ("time", "s"),
    "share": ("ratio", ""),
    "ratio": ("ratio", ""),
}
"""What the end of a key says: the dimension of its number, and the unit that the number is kept in."""


def ending(key: str) -> str:
    """The end of a key that names its unit, the longest that fits; `ratio` where none does.

    >>> ending("heat_capacity_j_per_k"), ending("sensor_drop_k"), ending("turns")
    ('j_per_k', 'k', 'ratio')
    """
    found = [one for one in UNITS if key == one or key.endswith("_" + one)]
    return max(found, key=len, default="ratio")


def unit_of(key: str) -> tuple[str, str]:
    """The dimension and the unit of the number under a key."""
    return UNITS[ending(key)]


@dataclass(frozen=True)
class Described:
    """A name and a meaning, which the JSON Schema carries as title and description."""

    name: str
    meaning: str

    def __get_pydantic_json_schema__(self, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """Put them beside what the schema says anyway."""
        words = {"title": self.name, "description": self.meaning}
        return {**handler(core), **{key: text for key, text in words.items() if text}}


@dataclass(frozen=True)
class Output(Described):
    """One output. The unit stands at the end of the field's name.

    method: the section of the methods page that explains it. source: the name of the result of `guidegen.heat` that
    the figure is read from and converted; None where `guidegen.assess` works it out of several. missing: why there is
    no value where that result has none.
    """

    method: str
    source: str | None = None
    missing: str = "no value"


@dataclass(frozen=True)
class Chapter(Described):
    """A part of the record that is a table of its own on the numbers page; `order` is its turn there."""

    order: int
