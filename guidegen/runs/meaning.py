"""What a column of a log can be: a place where a probe sits, or a quantity, each with its units and its bounds."""

from __future__ import annotations

import re
from dataclasses import dataclass

from guidegen.unit_table import MEANT, SPELLINGS, UNITS

#: place of a probe -> lowest and highest temperature that it can have on a machine, °C
PLACES: dict[str, tuple[float, float]] = {
    "sensor": (-10, 180), "coil-in": (-10, 180), "coil-out": (-10, 180), "coil-metal": (-10, 180),
    "boiler-wall": (-10, 180), "group": (-10, 150), "outlet": (-10, 120), "cup": (-10, 110), "case": (-10, 120),
    "room": (-20, 60), "feed": (-1, 70),
}  # fmt: skip

#: quantity -> its dimensions, and bounds in SI. Whether pump and heater are on may be 0 and 1 as well.
QUANTITIES: dict[str, tuple[tuple[str, ...], tuple[float, float]]] = {
    "mass": (("mass",), (-2.0, 10.0)),
    "pump": (("ratio", "power", "flow"), (-1.0, 5000.0)),
    "heater": (("ratio", "power"), (-1.0, 10000.0)),
    "pressure": (("pressure",), (-1.2e5, 30e5)),
}
TIME, IGNORED = "time", "ignored"
SWITCHED = ("pump", "heater")
CLOCKS = ("s", "ms", "hh:mm:ss", "iso-8601")
_TIME_UNITS = {"s": "s", "sec": "s", "secs": "s", "second": "s", "seconds": "s", "ms": "ms", "msec": "ms",
               "millis": "ms", "milliseconds": "ms"}  # fmt: skip
_TIME_WORDS = {
    "time",
    "t",
    "timestamp",
    "elapsed",
    "elapsed time",
    "date time",
    "datetime",
    "seconds",
    "millis",
    "clock",
}
_BRACKETS = re.compile(r"(?P<name>.*?)\s*[\[(](?P<unit>[^\])]*)[\])]\s*")
_ENDING = re.compile(r"(?P<name>.*?)[\s_/,]+(?P<unit>[^\s_/,]+)")


@dataclass(frozen=True)
class ColumnName:
    """What a name of a column says by itself: `meaning` and `unit` are empty where it does not say."""

    meaning: str
    unit: str


def units_of(meaning: str) -> tuple[str, ...]:
    """The units that a place, a quantity or a time can have, as the table of units writes them."""
    if meaning == TIME:
        return CLOCKS
    dimensions = ("temperature",) if meaning in PLACES else QUANTITIES[meaning][0]
    return tuple(unit for dimension in dimensions for unit in UNITS[dimension])


def dimension_of(meaning: str, unit: str) -> str:
    """The dimension in which a unit of that place or quantity counts."""
    dimensions = ("temperature",) if meaning in PLACES else QUANTITIES[meaning][0]
    return next(dimension for dimension in dimensions if unit in UNITS[dimension])


def unit_named(word: str, meaning: str = "") -> str:
    """The unit that a word of a heading stands for; empty where it stands for none that the meaning can have.

    >>> unit_named("degC", "outlet"), unit_named("F", "outlet"), unit_named("bar", "outlet")
    ('°C', '°F', '')
    """
    clean = word.strip().strip(".")
    if meaning == TIME:
        return _TIME_UNITS.get(clean.lower(), "")
    unit = SPELLINGS.get(clean, clean)
    if not meaning:
        known = {one for name in ("temperature", "mass", "pressure", "ratio", "power", "flow") for one in UNITS[name]}
        return MEANT.get(unit, unit) if MEANT.get(unit, unit) in known else ""
    allowed = units_of(meaning)
    # A probe in a place reads degrees, so the bare letter can mean nothing else.
    return unit if unit in allowed else MEANT[unit] if MEANT.get(unit) in allowed else ""


def meaning_named(name: str) -> str:
    """The place or quantity that has this very name, in any case and with spaces or lines below; else empty.

    >>> meaning_named("Coil out"), meaning_named("boiler"), meaning_named("Elapsed time")
    ('coil-out', '', 'time')
    """
    words = re.sub(r"[\s_-]+", " ", name).strip().lower()
    if words in _TIME_WORDS:
        return TIME
    joined = words.replace(" ", "-")
    return joined if joined in PLACES or joined in QUANTITIES else ""


def named(heading: str) -> ColumnName:
    """What the heading of a column says: a meaning by its very name, and a unit in brackets or behind it.

    >>> named("Outlet [°F]"), named("T3")
    (ColumnName(meaning='outlet', unit='°F'), ColumnName(meaning='', unit=''))
    """
    if meaning := meaning_named(heading):
        return ColumnName(meaning, unit_named(heading, TIME) if meaning == TIME else "")
    found = _BRACKETS.fullmatch(heading) or _ENDING.fullmatch(heading)
    if found is None:
        return ColumnName("", "")
    meaning = meaning_named(found["name"])
    return ColumnName(meaning, unit_named(found["unit"], meaning))
