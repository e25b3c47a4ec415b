"""How a number of the record is printed, in drawings and on pages: both systems of units, to two digits of its
uncertainty (JCGM 100, 7.2.6).

The unit stands in the record's key (`sensor_drop_k`, see `record.outputs`); the table below says in what units such a
number is shown. Factors are those of `guidegen.units`, so that nothing is converted in two ways.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
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
    "k": ("°C", "°F"),
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
"""By the end of a key the unit of either system, where a number is not shown in the unit that it is kept in.

A difference of temperatures is one in degrees, as people say it; the pages for those who compute say kelvin.
"""


def shown_as(key: str) -> Shown:
    """How numbers under this key are shown: its end decides."""
    end = ending(key)
    dimension, kept = UNITS_OF_KEYS[end]
    return Shown(dimension, kept, *SYSTEMS.get(end, (kept, kept)))


def shown_at(place: str) -> Shown:
    """How the figure at a place of the record is shown."""
    return shown_as(places.key(place))


def in_kelvin(how: Shown) -> Shown:
    """The same for those who compute: a difference of temperatures in kelvin."""
    return replace(how, metric="K") if how.dimension == "temperature_difference" else how


def decimals(value: float, low: float | None = None, high: float | None = None) -> int:
    """How many decimals value and ends are printed with: two digits of the uncertainty towards the nearer end.

    Of a range that reaches much further to one side, the nearer end is what the value's last digit can still say
    something about: a ratio of 0.66 that may be 0.1 or 20 is not 1. Without a range three significant digits.

    >>> decimals(5.4123, 5.1, 5.72), decimals(674.2, 629.0, 719.0), decimals(5.4123), decimals(0.66, 0.1, 20.0)
    (2, 0, 2, 2)
    >>> decimals(3.7, -8.1, 20.1)
    0
    """
    apart = [abs(value - end) for end in (low, high) if end is not None and end != value]
    if not apart:
        return _places(value, PLAIN_DIGITS) if value else 0
    return _places(min(apart), 2)


def _places(value: float, digits: int) -> int:
    return max(0, digits - 1 - math.floor(math.log10(abs(value))))


def converted(value: float, how: Shown, unit: str) -> float:
    """The number in another unit of its dimension."""
    factor, offset = UNITS[how.dimension][how.kept]
    into, into_offset = UNITS[how.dimension][unit]
    return (value * factor + offset - into_offset) / into


def in_unit(figure: Figure, how: Shown, unit: str, *, only_range: bool = False, like: Sequence[Figure] = ()) -> str:
    """One figure in one unit, as `5.4 K` or, where only the range is asked for, `4.1 to 6.9 K`.

    What stands in one column or row with others is printed like them: `like` has them all, this one too.
    """
    beside = like or (figure,)
    if how.dimension == "time":
        unit = _time_unit(beside)
    value, low, high = _converted(figure, how, unit)
    known = next((one for one in (value, low, high) if one is not None), None)
    if known is None or (value is None and not only_range):
        return "" if only_range else "—"
    places = _common(tuple(_converted(one, how, unit) for one in beside))
    tail = f"{NARROW_SPACE}{unit}" if unit else ""
    if value is not None and not only_range:
        return f"{_fixed(value, places)}{tail}"
    return f"{_ends(figure, low, high, places, how, unit)}{tail}" if figure.ranged else ""


Ends = tuple[float | None, float | None, float | None]


def _converted(figure: Figure, how: Shown, unit: str) -> Ends:
    value, low, high = (None if one is None else converted(one, how, unit) for one in figure.ends)
    return value, low, high


@lru_cache(maxsize=4096)
def _common(beside: tuple[Ends, ...]) -> int:
    """The decimals of all of them: the fewest that one of them bears, but one digit at least of each."""
    known = [(next(one for one in ends if one is not None), ends[1], ends[2]) for ends in beside if any_known(ends)]
    borne = [decimals(*ends) for ends in known]
    seen = [min(own, _places(value, 1)) for own, (value, _, _) in zip(borne, known, strict=True) if value]
    return max(min(borne), *seen) if seen else min(borne)


def any_known(ends: Ends) -> bool:
    """Whether there is a number to print at all."""
    return any(one is not None for one in ends)


def _fixed(number: float, places: int) -> str:
    """A number with so many decimals, and no sign before a zero."""
    text = f"{number:.{places}f}"
    return text.replace("-", "−") if float(text) else text.removeprefix("-")


def _ends(figure: Figure, low: float | None, high: float | None, places: int, how: Shown, unit: str) -> str:
    """The ends of a range; one that lies beyond what was watched as what it is more than."""
    if low is not None and high is not None:
        return gettext("{low} to {high}").format(low=_fixed(low, places), high=_fixed(high, places))
    if low is None:
        return gettext("up to {high}").format(high=_fixed(high or 0.0, places))
    limit = "" if figure.beyond is None else _fixed(converted(figure.beyond.limit, how, unit), places)
    return gettext("{low} to more than {limit}").format(low=_fixed(low, places), limit=limit)


def _time_unit(beside: Sequence[Figure]) -> str:
    """Seconds for what one waits out standing, minutes and hours for the rest; the longest decides."""
    firsts = (next((one for one in figure.ends if one is not None), 0.0) for figure in beside)
    value = max(map(abs, firsts))
    return "s" if value < 150 else "min" if value < 4 * 3600 else "h"


def turned(figure: Figure) -> Figure:
    """The figure with the other sign, for a sentence that says the sign in words."""
    value, low, high = (None if one is None else -one for one in figure.ends)
    return figure.model_copy(update={"value": value, "low": high, "high": low})


def both(figure: Figure, how: Shown, *, only_range: bool = False, like: Sequence[Figure] = ()) -> Markup:
    """The figure in both systems; the reader's switch chooses, and without scripts both stand there."""
    metric, imperial = (
        in_unit(figure, how, unit, only_range=only_range, like=like) for unit in (how.metric, how.imperial)
    )
    return two_systems(metric, imperial)


@lru_cache(maxsize=65536)
def two_systems(metric: str, imperial: str, *, whole: bool = False) -> Markup:
    """The same in both systems of units, for the reader's switch; once where they do not differ.

    A `whole` sentence may break where it is wide.
    """
    one, other = escape(metric), escape(imperial)
    if metric == imperial:
        return one
    # Put together as text: a page has hundreds of these, and formatting markup is ten times slower.
    wide = " q-whole" if whole else ""
    return Markup(
        f'<span class="q{wide}"><span class="q-metric">{one}</span><span class="q-imperial">{other}</span></span>'
    )
