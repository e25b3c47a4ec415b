"""Quantities as people write them, and how they are printed."""

from __future__ import annotations

import pint
import pytest

from guidegen.unit_table import LIMITS, NAMES, SPELLINGS, UNITS
from guidegen.units import NARROW_SPACE, UnitError, imperial, in_unit, metric, number, parse, unit_for

#: our unit -> what pint calls it; temperatures and differences apart, since pint distinguishes them by name
PINT = {
    "g": "gram", "kg": "kilogram", "oz": "ounce", "lb": "pound", "ml": "milliliter", "l": "liter",
    "fl oz": "US_fluid_ounce", "mm": "millimeter", "cm": "centimeter", "m": "meter", "in": "inch", "W": "watt",
    "kW": "kilowatt", "J": "joule", "kJ": "kilojoule", "Wh": "watt_hour", "kWh": "kilowatt_hour", "bar": "bar",
    "kPa": "kilopascal", "Pa": "pascal",
    "MPa": "megapascal", "psi": "psi", "N·m": "newton * meter", "in·lbf": "inch * force_pound",
    "mm²": "millimeter ** 2", "m²": "meter ** 2", "s": "second", "min": "minute", "h": "hour", "V": "volt",
    "A": "ampere", "Ω": "ohm", "mΩ": "milliohm", "W/K": "watt / kelvin", "J/K": "joule / kelvin",
    "W/(m·K)": "watt / meter / kelvin", "J/(kg·K)": "joule / kilogram / kelvin",
    "W/(K·s)": "watt / kelvin / second", "W·s/K": "watt * second / kelvin", "rpm": "revolutions_per_minute",
    "ml/s": "milliliter / second", "ml/min": "milliliter / minute", "l/h": "liter / hour", "%": "percent",
    "": "dimensionless", "dB(A)": "dimensionless", "K": "delta_degC", "°C": "delta_degC", "°F": "delta_degF",
}  # fmt: skip
SI = {
    "mass": "kilogram", "volume": "meter ** 3", "length": "meter", "temperature": "kelvin",
    "temperature_difference": "kelvin", "power": "watt", "energy": "joule", "pressure": "pascal",
    "torque": "newton * meter", "area": "meter ** 2", "time": "second", "voltage": "volt", "current": "ampere",
    "resistance": "ohm", "conductance": "watt / kelvin", "heat_capacity": "joule / kelvin",
    "conductivity": "watt / meter / kelvin", "specific_heat": "joule / kilogram / kelvin",
    "integral_gain": "watt / kelvin / second", "derivative_gain": "joule / kelvin", "speed": "radian / second",
    "flow": "meter ** 3 / second", "sound_level": "dimensionless", "ratio": "dimensionless", "count": "dimensionless",
}  # fmt: skip
EVERY = [(dimension, unit) for dimension, table in UNITS.items() for unit in table]


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry:
    """The outside authority on factors."""
    return pint.UnitRegistry()


@pytest.mark.parametrize(("dimension", "unit"), EVERY)
def test_each_factor_is_that_of_pint(registry: pint.UnitRegistry, dimension: str, unit: str) -> None:
    """One of each unit is as much in SI as pint says."""
    factor = UNITS[dimension][unit][0]
    expected = registry.Quantity(1.0, PINT[unit]).to(SI[dimension]).magnitude
    assert factor == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(("unit", "name"), [("°C", "degC"), ("°F", "degF"), ("K", "kelvin")])
@pytest.mark.parametrize("reading", [0.0, 37.0, 212.0])
def test_absolute_temperatures_are_those_of_pint(
    registry: pint.UnitRegistry, unit: str, name: str, reading: float
) -> None:
    """A reading on each scale is the kelvin that pint says."""
    expected = registry.Quantity(reading, name).to("kelvin").magnitude
    assert parse(f"{reading} {unit}", "temperature").value == pytest.approx(expected, abs=1e-9)


def test_newton_metres_are_read_as_people_write_them(registry: pint.UnitRegistry) -> None:
    """`Nm` without a dot is a torque here; some releases of pint read it as another unit, later ones refuse it."""
    assert parse("2.5 Nm", "torque").value == registry.Quantity(2.5, "newton * meter").to_base_units().magnitude


def test_every_dimension_has_a_name_and_limits() -> None:
    """No dimension is half done."""
    assert set(UNITS) == set(NAMES) == set(LIMITS) == set(SI)


def test_every_other_spelling_leads_to_a_unit() -> None:
    """A spelling never leads nowhere."""
    units = {unit for table in UNITS.values() for unit in table}
    assert set(SPELLINGS.values()) <= units


@pytest.mark.parametrize(
    ("text", "dimension", "value", "half"),
    [
        ("520 g ± 10 g", "mass", 0.52, 0.01),
        ("520 ± 10 g", "mass", 0.52, 0.01),
        ("520g±10", "mass", 0.52, 0.01),
        ("0.52 kg +/- 10 g", "mass", 0.52, 0.01),
        ("82 mm\u202f±\u00a00.5\u202fmm", "length", 0.082, 0.0005),
        ("22 °C ± 3 K", "temperature", 295.15, 3.0),
        ("200 °F ± 9 °F", "temperature", 366.4833333333, 5.0),
        ("−5 K", "temperature_difference", -5.0, 0.0),
        ("70 %", "ratio", 0.7, 0.0),
        ("0.7", "ratio", 0.7, 0.0),
        ("1e2 mm", "length", 0.1, 0.0),
        (".5 l", "volume", 0.0005, 0.0),
        ("3000 rpm", "speed", 314.1592653590, 0.0),
    ],
)
def test_what_people_write_is_read(text: str, dimension: str, value: float, half: float) -> None:
    """Value and half-width in SI, worked out by hand."""
    quantity = parse(text, dimension)
    assert quantity.value == pytest.approx(value, rel=1e-9)
    assert quantity.plus_minus == pytest.approx(half, rel=1e-9)


@pytest.mark.parametrize(
    ("text", "kind"), [("230 V~", "~"), ("230 V AC", "~"), ("120V~", "~"), ("24 V⎓", "⎓"), ("24 V DC", "⎓")]
)
def test_a_voltage_carries_its_kind(text: str, kind: str) -> None:
    """Alternating or direct is part of the value."""
    assert parse(text, "voltage").kind == kind


@pytest.mark.parametrize(
    ("text", "dimension", "code"),
    [
        ("", "mass", "Q01"), ("about 5 g", "mass", "Q01"), ("g", "mass", "Q01"), ("5", "mass", "Q03"),
        ("5 mm", "mass", "Q04"), ("5 stone", "mass", "Q02"), ("5 g ±", "mass", "Q05"), ("5 g ± x", "mass", "Q05"),
        ("-5 g", "mass", "Q06"), ("nan g", "mass", "Q07"), ("∞ g", "mass", "Q07"), ("9e9 kg", "mass", "Q08"),
        ("5 g ± 1e9 kg", "mass", "Q08"), ("230 V", "voltage", "Q09"), ("1,5 kg", "mass", "Q10"),
        ("1 1/2 in", "length", "Q10"), ("5 g 3", "mass", "Q02"),
    ],
)  # fmt: skip
def test_what_is_no_quantity_is_refused_with_a_code(text: str, dimension: str, code: str) -> None:
    """Each kind of mistake has its own code and a fix."""
    with pytest.raises(UnitError) as caught:
        parse(text, dimension)
    assert caught.value.code == code
    assert caught.value.fix


@pytest.mark.parametrize(
    ("value", "half", "dimension", "text_metric", "text_imperial"),
    [
        (0.5204, 0.0103, "mass", "520 g", "18.36 oz"),
        (1.3, 0.02, "mass", "1.300 kg", "2.866 lb"),
        (5.43, 0.31, "temperature_difference", "5.43 K", "9.77 °F"),
        (366.15, 0.5, "temperature", "93.00 °C", "199.40 °F"),
        (0.082, 0.0005, "length", "82.00 mm", "3.228 in"),
        (5.0, 0.5, "torque", "5.00 N·m", "44.3 in·lbf"),
        (674.0, 38.0, "time", "11.23 min", "11.23 min"),
        (-3.2, 0.4, "temperature_difference", "−3.20 K", "−5.76 °F"),
    ],
)
def test_a_number_is_printed_to_two_digits_of_its_half_width(
    value: float, half: float, dimension: str, text_metric: str, text_imperial: str
) -> None:
    """Worked out by hand: the half-width in the printed unit, its second digit, the value rounded there."""
    assert metric(value, dimension, half).replace(NARROW_SPACE, " ") == text_metric
    assert imperial(value, dimension, half).replace(NARROW_SPACE, " ") == text_imperial


def test_a_number_without_half_width_has_three_digits() -> None:
    """Nothing pretends to be known better than that."""
    assert [number(value) for value in (0.0, 1234.5, 12.345, 0.00123456)] == ["0", "1230", "12.3", "0.00123"]


def test_both_ends_of_a_range_can_share_a_unit() -> None:
    """The unit chosen for one value prints another."""
    unit = unit_for(1.2, "mass")
    assert metric(0.9, "mass", 0.05, unit).replace(NARROW_SPACE, " ") == "0.900 kg"
    assert in_unit(0.9, "mass", "g") == pytest.approx(900)
