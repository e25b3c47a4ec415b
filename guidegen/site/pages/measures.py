"""Sentences with quantities in them, for the reader's choice of units.

A record keeps what was said about a requirement as text in metric units, some of it with the imperial beside it in
parentheses. Here each quantity in such a text becomes a pair, so that the units switch reaches sentences too.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from markupsafe import Markup, escape

from guidegen.site.charts.quantity import two_systems
from guidegen.units import NARROW_SPACE, UNITS, in_unit, number, unit_for

SYSTEMS = {
    "mm": "length", "m": "length", "g": "mass", "kg": "mass", "°C": "temperature", "bar": "pressure",
    "kPa": "pressure", "N·m": "torque",
}  # fmt: skip
"""Metric units that a sentence may have, and what they measure."""
_NUMBER = r"[0-9]+(?:\.[0-9]+)?"
_UNIT = "|".join(sorted(map(re.escape, SYSTEMS), key=len, reverse=True))
_QUANTITY = re.compile(
    rf"(?<![\w.,/×±−-])(?<!× )(?P<value>{_NUMBER})(?:[ {NARROW_SPACE}](?P<own>{_UNIT}))?"
    rf"(?: ± (?P<half>{_NUMBER}))?(?:[ {NARROW_SPACE}]?(?P<unit>{_UNIT}))?(?![\w/²³·×])(?! \([0-9−])"
)
"""One that is not followed by the same in another system, in parentheses."""
_BESIDE = re.compile(r"(?P<metric>(?P<lead>\w[^0-9()]*)[0-9][^()]*) \((?P<imperial>(?P=lead)[0-9][^()]*)\)")
"""A limit that names both systems already: `at least 20 mm (at least 0.787 in)`."""

Part = str | tuple[str, str]
"""Plain text, or the same in metric and in imperial units."""


def parts(text: str) -> tuple[Part, ...]:
    """A sentence in parts; put together, its plain texts and first members are the sentence.

    >>> parts("Free room 26 ± 1 mm, at least 19 mm needed")
    ('Free room ', ('26 ± 1 mm', '1.024 ± 0.039\\u202fin'), ', at least ', ('19 mm', '0.748\\u202fin'), ' needed')
    """
    return tuple(_parts(text))


@lru_cache(maxsize=16384)
def both(text: str) -> Markup:
    """A sentence as HTML, each of its quantities in both systems; the reader's switch chooses."""
    return Markup("").join(escape(one) if isinstance(one, str) else two_systems(*one) for one in parts(text))


def _parts(text: str) -> Iterator[Part]:
    at = 0
    # Looking for two systems side by side takes longest where there is nothing in parentheses.
    for found in _BESIDE.finditer(text) if " (" in text else ():
        yield from _quantities(text[at : found.start()])
        yield found["metric"], found["imperial"]
        at = found.end()
    yield from _quantities(text[at:])


def _quantities(text: str) -> Iterator[Part]:
    at = 0
    for found in _QUANTITY.finditer(text):
        unit = found["unit"] or found["own"]
        # Two different units, as of 25 °C ± 2 K, or none: left as it is.
        if unit is None or (found["own"] and found["half"] and found["unit"] != found["own"]):
            continue
        if text[at : found.start()]:
            yield text[at : found.start()]
        yield found[0], _imperial(float(found["value"]), found["half"], unit)
        at = found.end()
    if text[at:]:
        yield text[at:]


def _imperial(value: float, half: str | None, unit: str) -> str:
    """The same quantity in imperial units, to two digits of its tolerance; a limit to three, without zeros."""
    kind = SYSTEMS[unit]
    factor, offset = UNITS[kind][unit]
    other = unit_for(value * factor + offset, kind, imperial=True)
    shown = in_unit(value * factor + offset, kind, other)
    if half is None:
        digits = number(shown)
        digits = digits.rstrip("0").rstrip(".") if "." in digits else digits
        return f"{digits}{NARROW_SPACE}{other}"
    width = in_unit(float(half) * factor + offset, kind, other) - in_unit(offset, kind, other)
    return f"{number(shown, width)} ± {number(width, width)}{NARROW_SPACE}{other}"
