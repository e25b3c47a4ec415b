"""How a number of the record is printed, in drawings and on pages: both systems of units, to two digits of its
half-width.

The unit stands in the record's key (`sensor_drop_k`, see `record.outputs`); the table below says in what units such a
number is shown. Factors are those of `guidegen.units`, so that nothing is converted in two ways.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from markupsafe import Markup, escape

from guidegen.language import gettext
from guidegen.record import Figure, places
from guidegen.record.outputs import UNITS as UNITS_OF_KEYS
from guidegen.record.outputs import ending
from guidegen.units import NARROW_SPACE, UNITS

PLAIN_DIGITS = 3
"""Significant digits of a number that has no range yet."""


@dataclass(frozen=True)
class Shown:
    """How a kind of number is shown: its dimension, the unit it is kept in, and the unit of either system."""

    dimension: str
    kept: str
    metric: str
    imperial: str


SYSTEMS = {
    "degc": ("°C", "°F"),
    "k": ("K", "°F"),
    "kg": ("kg", "lb"),
    "g": ("g", "oz"),
    "ml": ("ml", "fl oz"),
    "mm": ("mm", "in"),
    "m": ("m", "in"),
    "pa": ("kPa", "psi"),
    "bar": ("bar", "psi"),
    "n_m": ("N·m", "in·lbf"),
    "share": ("%", "%"),
}
"""By the end of a key the unit of either system, where a number is not shown in the unit that it is kept in."""


def shown_as(key: str) -> Shown:
    """How numbers under this key are shown: its end decides."""
    end = ending(key)
    dimension, kept = UNITS_OF_KEYS[end]
    return Shown(dimension, kept, *SYSTEMS.get(end, (kept, kept)))


def shown_at(place: str) -> Shown:
    """How the figure at a place of the record is shown."""
    return shown_as(places.key(place))


def decimals(value: float, half_width: float | None) -> int:
    """How many decimals to print: two digits of the half-width, or three significant digits without one.

    A value keeps two significant digits however wide its range: a ratio of 0.66 that may be 20 is not 1.

    >>> decimals(5.4123, 0.31), decimals(674.2, 45.0), decimals(5.4123, None), decimals(0.66, 16.0)
    (2, 0, 2, 2)
    """
    if not half_width:
        return _places(value, PLAIN_DIGITS) if value else 0
    return max(_places(half_width, 2), _places(value, 2) if value else 0)


def _places(value: float, digits: int) -> int:
    return max(0, digits - 1 - math.floor(math.log10(abs(value))))


def converted(value: float, how: Shown, unit: str) -> float:
    """The number in another unit of its dimension."""
    factor, offset = UNITS[how.dimension][how.kept]
    into, into_offset = UNITS[how.dimension][unit]
    return (value * factor + offset - into_offset) / into


def in_unit(figure: Figure, how: Shown, unit: str, *, only_range: bool = False) -> str:
    """One figure in one unit, as `5.4 K` or, where only the range is asked for, `4.1 to 6.9 K`."""
    if how.dimension == "time":
        unit = _time_unit(figure)
    if figure.value is None:
        return "—"
    value = converted(figure.value, how, unit)
    low = None if figure.low is None else converted(figure.low, how, unit)
    high = None if figure.high is None else converted(figure.high, how, unit)
    half = abs(high - low) / 2 if low is not None and high is not None else None
    places = decimals(value, half)
    tail = f"{NARROW_SPACE}{unit}" if unit else ""
    if only_range:
        if low is None or high is None:
            return ""
        ends = gettext("{low} to {high}").format(low=f"{low:.{places}f}", high=f"{high:.{places}f}")
        return f"{ends}{tail}".replace("-", "−")
    return f"{value:.{places}f}{tail}".replace("-", "−")


def _time_unit(figure: Figure) -> str:
    """Seconds for what one waits out standing, minutes and hours for the rest."""
    value = figure.value or 0.0
    return "s" if value < 150 else "min" if value < 4 * 3600 else "h"


def both(figure: Figure, how: Shown, *, only_range: bool = False) -> Markup:
    """The figure in both systems; the reader's switch chooses, and without scripts both stand there."""
    metric = in_unit(figure, how, how.metric, only_range=only_range)
    imperial = in_unit(figure, how, how.imperial, only_range=only_range)
    return two_systems(metric, imperial)


@lru_cache(maxsize=65536)
def two_systems(metric: str, imperial: str) -> Markup:
    """The same in both systems of units, for the reader's switch; once where they do not differ."""
    one, other = escape(metric), escape(imperial)
    if metric == imperial:
        return one
    # Put together as text: a page has hundreds of these, and formatting markup is ten times slower.
    return Markup(f'<span class="q"><span class="q-metric">{one}</span><span class="q-imperial">{other}</span></span>')
