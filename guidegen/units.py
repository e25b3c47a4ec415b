"""Quantities as people write them: "82 mm ± 0.5 mm" becomes a value and a half-width in SI.

The table of units is closed: a unit that is not in it is refused, with the nearest one that is. A temperature
is absolute in SI (kelvin); its uncertainty is a difference.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field
from functools import lru_cache

from guidegen.problems import Code, nearest, one_of
from guidegen.unit_table import LIMITS, MEANT, SPELLINGS
from guidegen.unit_table import NAMES as NAMES
from guidegen.unit_table import UNITS as UNITS

NARROW_SPACE = "\u202f"

_NUMBER = r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
_TERM = re.compile(rf"(?P<number>{_NUMBER})\s*(?P<unit>.*)", re.DOTALL)
_SIGN = re.compile(r"±|\+/-|\+-")
_KIND = {"~": "~", " AC": "~", "AC": "~", "⎓": "⎓", "=": "⎓", " DC": "⎓", "DC": "⎓"}


class UnitError(ValueError):
    """Text that is no quantity of the wanted dimension. Carries the code, the message and the fix."""

    def __init__(self, code: Code, message: str, fix: str) -> None:
        """Keep the three for the problem that the catalogue makes of it."""
        super().__init__(message)
        self.code, self.message, self.fix = code, message, fix


@dataclass(frozen=True)
class Quantity:
    """A value in SI with the half-width of its uncertainty (0 where none is given).

    `text` is what was written; `kind` is `~` or `⎓` for a voltage and empty otherwise. Two quantities are
    equal when they mean the same, however they were written.
    """

    value: float
    plus_minus: float
    dimension: str
    text: str = field(default="", compare=False)
    kind: str = ""

    @property
    def low(self) -> float:
        """Return the lower end."""
        return self.value - self.plus_minus

    @property
    def high(self) -> float:
        """Return the upper end."""
        return self.value + self.plus_minus


def parse(text: str, dimension: str) -> Quantity:
    """Read a quantity of one dimension; raise `UnitError` with a fix where the text is none.

    >>> parse("82 mm ± 0.5 mm", "length").value
    0.082
    >>> parse("2.5 Nm", "torque").value
    2.5
    >>> parse("230 V~", "voltage").kind
    '~'
    """
    return _parse(str(text), dimension)


@lru_cache(maxsize=8192)
def _parse(text: str, dimension: str) -> Quantity:
    """Read a quantity once; the variants of a family repeat most of theirs."""
    clean = re.sub(r"[\s\u00a0\u202f\u2009]+", " ", text).strip().replace("−", "-")
    main, *rest = _SIGN.split(clean)
    if len(rest) > 1:
        raise UnitError(
            Code.BAD_UNCERTAINTY, f"got {_quoted(text)}, only one ± is allowed", _example(dimension, " ± {}")
        )
    kind = ""
    if dimension == "voltage":
        main, kind = _voltage_kind(main.strip())
        rest = [_voltage_kind(part.strip())[0] for part in rest]
    if not rest:
        number, unit = _term(main.strip(), text, dimension)
        half = 0.0
    else:
        number, unit, half = _with_uncertainty(main.strip(), rest[0].strip(), text, dimension)
    factor, offset = UNITS[dimension][unit]
    value = number * factor + offset
    _check_limits(value, text, dimension)
    if dimension == "voltage" and not kind:
        raise UnitError(
            Code.VOLTAGE_KIND, f"got {_quoted(text)}, a voltage needs its kind", f"write {number:g} V~ or {number:g} V⎓"
        )
    return Quantity(value, half, dimension, text, kind)


def _with_uncertainty(main: str, rest: str, text: str, dimension: str) -> tuple[float, str, float]:
    """Return number, unit and half-width in SI; `520 ± 10 g` and `520 g ± 10 g` mean the same."""
    other = "temperature_difference" if dimension == "temperature" else dimension
    try:
        half_number, half_unit = _term(rest, text, other)
    except UnitError as error:
        if error.code is not Code.MISSING_UNIT:
            raise UnitError(Code.BAD_UNCERTAINTY, error.message, error.fix) from None
        number, unit = _term(main, text, dimension)
        half_number, half_unit = float(_TERM.fullmatch(rest)["number"]), unit  # type: ignore[index]
    else:
        if re.fullmatch(_NUMBER, main) and half_unit in UNITS[dimension]:
            main = f"{main} {half_unit}"
        number, unit = _term(main, text, dimension)
    half = half_number * UNITS[other][half_unit][0]
    if half < 0:
        raise UnitError(Code.BAD_UNCERTAINTY, f"got {_quoted(text)}, an uncertainty is not negative", "delete the sign")
    if not half <= LIMITS[dimension][1]:
        raise UnitError(Code.TOO_BIG, f"got {_quoted(text)}, an uncertainty of no bench matter", "look at the unit")
    return number, unit, half


def _term(part: str, text: str, dimension: str) -> tuple[float, str]:
    """Split one term into number and unit of the dimension."""
    name = NAMES[dimension]
    if re.fullmatch(r"[+-]?\.?((inf|infinity|nan)\b|∞).*", part, re.IGNORECASE):
        raise UnitError(Code.NOT_FINITE, f"got {_quoted(text)}, {name} is a finite number", "write a number or unknown")
    match = _TERM.fullmatch(part)
    if match is None:
        raise UnitError(Code.NO_NUMBER, f"got {_quoted(text)}, {name} starts with a number", _example(dimension))
    written = match["unit"].strip()
    if re.match(r"[,'’]\s?[0-9]", written) or re.match(r"[0-9]*\s?/\s?[0-9]", written):
        comma = re.fullmatch(r"[+-]?[0-9]+,[0-9]+\D*", part)
        fix = f"write {part.replace(',', '.')}" if comma else "write it out with a decimal point"
        raise UnitError(
            Code.DECIMAL_SIGN, f"got {_quoted(text)}, the decimal sign is a point; no separators or fractions", fix
        )
    number = float(match["number"])
    if not math.isfinite(number):
        raise UnitError(Code.TOO_BIG, f"got {_quoted(text)}, too large for {name}", _example(dimension))
    unit = SPELLINGS.get(written, written)
    if unit in UNITS[dimension]:
        return number, unit
    if not unit:
        raise UnitError(
            Code.MISSING_UNIT,
            f"got {_quoted(text)}, {name} needs a unit",
            f"write {match['number']} {_first(dimension)}",
        )
    for other, table in UNITS.items():
        if unit in table:
            fix = f"write it like {match['number']} {_first(dimension)}".strip()
            raise UnitError(
                Code.WRONG_DIMENSION, f"got {_quoted(text)}, {unit} measures {NAMES[other]}, not {name}", fix
            )
    known = [unit for unit in UNITS[dimension] if unit]
    meant = MEANT.get(unit)
    near = meant if meant in known else nearest(unit, known) if known else ""
    fix = f"write {match['number']} {near}".strip() if near is not None else f"use one of {one_of(known)}"
    raise UnitError(Code.UNKNOWN_UNIT, f"got {_quoted(text)}, {_quoted(written)} is not in the table of units", fix)


def written_unit(text: str, dimension: str) -> str:
    """Return the unit that a quantity of the dimension was written in; empty for a plain number.

    >>> written_unit("520 ± 10 g", "mass"), written_unit("62 dB(A)", "sound_level"), written_unit("3", "ratio")
    ('g', 'dB(A)', '')
    """
    terms = (_TERM.fullmatch(_voltage_kind(part.strip())[0]) for part in _SIGN.split(text))
    units = (SPELLINGS.get(term["unit"], term["unit"]) for term in terms if term is not None)
    return next((unit for unit in units if unit and unit in UNITS[dimension]), "")


def _voltage_kind(main: str) -> tuple[str, str]:
    for ending, kind in _KIND.items():
        if main.endswith(ending):
            return main[: -len(ending)].rstrip(), kind
    return main, ""


def _check_limits(value: float, text: str, dimension: str) -> None:
    low, high = LIMITS[dimension]
    if value < low:
        what = "lies above absolute zero" if dimension == "temperature" else "is not negative"
        raise UnitError(Code.NEGATIVE, f"got {_quoted(text)}, {NAMES[dimension]} {what}", "look at the sign")
    if value > high:
        raise UnitError(Code.TOO_BIG, f"got {_quoted(text)}, too large for {NAMES[dimension]}", "look at the unit")


def _quoted(text: str) -> str:
    """Return the text in quotes, shortened, so that a message stays on one line."""
    short = " ".join(text.split())
    return f'"{short[:60]}…"' if len(short) > 60 else f'"{short}"'


def _first(dimension: str) -> str:
    return next(iter(UNITS[dimension]))


def _example(dimension: str, more: str = "") -> str:
    unit = _first(dimension)
    return f"write it like 12 {unit}" + more.format(f"1 {unit}")


#: unit to print in, per dimension: metric steps and imperial steps, each (unit, from this SI value upwards)
_PRINTED: dict[str, tuple[tuple[tuple[str, float], ...], tuple[tuple[str, float], ...]]] = {
    "mass": ((("g", 0), ("kg", 1)), (("oz", 0), ("lb", 0.9))),
    "volume": ((("ml", 0), ("l", 1e-3)), (("fl oz", 0),)),
    "length": ((("mm", 0), ("m", 1)), (("in", 0),)),
    "temperature": ((("°C", 0),), (("°F", 0),)),
    "temperature_difference": ((("K", 0),), (("°F", 0),)),
    "energy": ((("J", 0), ("Wh", 1800), ("kWh", 3.6e6)),) * 2,
    "power": ((("W", 0), ("kW", 1e4)),) * 2,
    "pressure": ((("kPa", 0), ("bar", 1e4)), (("psi", 0),)),
    "torque": ((("N·m", 0),), (("in·lbf", 0),)),
    "area": ((("mm²", 0), ("m²", 0.01)), (("mm²", 0), ("m²", 0.01))),
    "time": ((("s", 0), ("min", 180), ("h", 10800)),) * 2,
    "resistance": ((("mΩ", 0), ("Ω", 0.1)),) * 2,
    "flow": ((("ml/s", 0),),) * 2,
    "ratio": ((("%", 0),),) * 2,
}


def metric(value: float, dimension: str, half_width: float | None = None, unit: str | None = None) -> str:
    """Return value (SI) as text in a metric unit, to two digits of its half-width or to three digits.

    >>> metric(0.5204, "mass", 0.0103).replace(NARROW_SPACE, " ")
    '520 g'
    """
    return _printed(value, half_width, dimension, unit or unit_for(value, dimension))


def imperial(value: float, dimension: str, half_width: float | None = None, unit: str | None = None) -> str:
    """Return value (SI) as text in an inch-and-pound unit; equal to `metric` where there is none.

    >>> imperial(366.15, "temperature").replace(NARROW_SPACE, " ")
    '199 °F'
    """
    return _printed(value, half_width, dimension, unit or unit_for(value, dimension, imperial=True))


def unit_for(value: float, dimension: str, *, imperial: bool = False) -> str:
    """Return the unit that a value (SI) is printed in; give it to both ends of a range."""
    if dimension not in _PRINTED:
        return _first(dimension)
    steps = _PRINTED[dimension][imperial]
    return [unit for unit, start in steps if abs(value) >= start * (1 - 1e-9)][-1]


def in_unit(value: float, dimension: str, unit: str) -> float:
    """Return the bare number of a value (SI) in a unit.

    >>> round(in_unit(366.15, "temperature", "°C"), 6)
    93.0
    """
    factor, offset = UNITS[dimension][unit]
    return (value - offset) / factor


def number(value: float, half_width: float | None = None) -> str:
    """Return a bare number to two digits of its half-width; to three significant digits where it has none.

    >>> number(12.3456, 0.3), number(1234.0, 250.0), number(0.0314159)
    ('12.35', '1230', '0.0314')
    """
    if half_width and math.isfinite(half_width):
        places = 1 - math.floor(math.log10(abs(float(f"{half_width:.1e}"))))
    elif value:
        places = 2 - math.floor(math.log10(abs(float(f"{value:.2e}"))))
    else:
        places = 0
    rounded = round(value, min(places, 12))
    text = f"{rounded:.{max(0, min(places, 12))}f}"
    return text.lstrip("-").join(("−", "")) if rounded < 0 else text.lstrip("-")


def write_count(decimals: int, count: int) -> str:
    """Return a count of the last of so many decimals as a number with all of them.

    >>> write_count(1, 573), write_count(2, 5), write_count(0, 230)
    ('57.3', '0.05', '230')
    """
    digits = str(count).rjust(decimals + 1, "0")
    return f"{digits[:-decimals]}.{digits[-decimals:]}" if decimals else digits


def _printed(value: float, half_width: float | None, dimension: str, unit: str) -> str:
    factor = UNITS[dimension][unit][0]
    digits = number(in_unit(value, dimension, unit), half_width / factor if half_width else None)
    return f"{digits}{NARROW_SPACE}{unit}" if unit else digits
