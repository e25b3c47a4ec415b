"""How the JSON Schema describes facts: a number with a unit of its dimension, and what can stand beside it."""

from __future__ import annotations

import re
from typing import Any

from guidegen.unit_table import NAMES, SPELLINGS, UNITS
from guidegen.workshop.facts import DRAWN, EVIDENCE, SOME_UNITS, UNKNOWN

Schema = dict[str, Any]
WORDS: Schema = {"type": ["string", "number", "boolean"]}
"""Text, which an editor may read as a number or as true and false."""
BESIDE = {
    "is": "The value, as it would stand alone.",
    "from": "The lower end of where it may lie, where the ends do not lie evenly around it.",
    "to": "The upper end.",
    "some_units": "What the factory used on different units, two or more; each owner is asked.",
    "drawn": "How it is drawn for the ranges, where its evidence and ends do not say it (JCGM 101, 6.4).",
    "evidence": "What the value rests on; all but assumed and calculated name a source.",
    "source": "Where it comes from, a key of content/sources.yml.",
    "note": "A remark that stands beside it.",
}
"""What stands beside a value, in words."""
_NUMBER = r"[+\-−]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+\-−]?[0-9]+)?"
_SIGN = r"(±|\+/-|\+-)"
_KIND = r"\s*(~|AC|⎓|=|DC)"


def fact_definitions() -> dict[str, Schema]:
    """How a fact of each dimension is written, by the name of the dimension, and `stated` for what stands beside."""
    several = {"type": "array", "minItems": 2}
    beside: dict[str, Schema] = {
        "is": WORDS, "from": WORDS, "to": WORDS, "some_units": several, "drawn": {"enum": list(DRAWN)},
        "evidence": {"enum": list(EVIDENCE)}, "source": WORDS, "note": WORDS,
    }  # fmt: skip
    stated = {
        "type": "object",
        "properties": {name: {**one, "description": BESIDE[name]} for name, one in beside.items()},
        "additionalProperties": False,
        "anyOf": [{"required": ["is"]}, {"required": ["some_units"]}],
    }
    made: dict[str, Schema] = {"stated": stated}
    for dimension, table in UNITS.items():
        units = ", ".join(unit for unit in table if unit) or "a plain number"
        bare = "" in table
        written: Schema = {
            "type": ["string", "number"] if bare else "string",
            "description": f"{NAMES[dimension]} with its unit: {units}; `unknown`; `some units`",
        }
        written["pattern"] = quantity_pattern(dimension)
        stated_so = {"$ref": "#/$defs/stated", "properties": dict.fromkeys(("is", "from", "to"), written)}
        made[dimension] = {"anyOf": [written, stated_so]}
    return made


def quantity_pattern(dimension: str) -> str:
    r"""A regular expression, of the common kind, that every quantity of a dimension matches, and none of another.

    >>> bool(re.search(quantity_pattern("length"), "24 mm ± 0.5 mm"))
    True
    >>> bool(re.search(quantity_pattern("length"), "24 g"))
    False
    """
    unit = _unit(dimension)
    half = _unit("temperature_difference" if dimension == "temperature" else dimension)
    if dimension == "voltage":
        unit, half = f"{unit}({_KIND})?", f"{half}({_KIND})?"
    both = rf"{_NUMBER}\s*{unit}(\s*{_SIGN}\s*{_NUMBER}\s*({half})?)?"
    once = rf"{_NUMBER}\s*{_SIGN}\s*{_NUMBER}\s*{half}"
    return rf"^\s*({UNKNOWN}|{SOME_UNITS}|{both}|{once})\s*$"


def _unit(dimension: str) -> str:
    table = UNITS[dimension]
    written = [*(unit for unit in table if unit), *(word for word, unit in SPELLINGS.items() if unit in table)]
    every = "|".join(_escaped(word) for word in sorted(set(written), key=lambda word: (-len(word), word)))
    return f"({every})?" if "" in table and every else "" if "" in table else f"({every})"


def _escaped(word: str) -> str:
    return re.sub(r"([.*+?^$()\[\]{}|/\\])", r"\\\1", word).replace(" ", r"\s+")
