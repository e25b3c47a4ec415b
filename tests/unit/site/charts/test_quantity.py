"""Numbers as pages and drawings print them: digits, both systems, and conversions held against an outside library."""

from __future__ import annotations

import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from guidegen.record import Figure
from guidegen.record.outputs import UNITS
from guidegen.site.charts.quantity import both, converted, decimals, in_kelvin, in_unit, shown_as

PINT = pint.UnitRegistry()
UNITS_OF_PINT = {
    "°C": "degC", "°F": "degF", "K": "delta_degC", "kg": "kg", "lb": "lb", "g": "g", "oz": "oz", "ml": "ml",
    "fl oz": "fluid_ounce", "mm": "mm", "m": "m", "in": "inch", "Pa": "Pa", "kPa": "kPa", "psi": "psi", "bar": "bar",
    "N·m": "N*m", "in·lbf": "inch*pound_force", "J/K": "J/delta_degC", "Wh": "Wh", "W": "W", "s": "s",
}  # fmt: skip
VALUES = (5.4123, 103.0, 0.0)


@pytest.mark.parametrize("suffix", [name for name in UNITS if name not in ("share", "ratio", "s")])
@pytest.mark.parametrize("value", VALUES)
@pytest.mark.parametrize("system", ["metric", "imperial"])
def test_a_converted_number_is_that_of_an_outside_library(suffix: str, value: float, system: str) -> None:
    """Every kind of number the record holds, in both systems, against pint."""
    how = shown_as(suffix)
    unit = getattr(how, system)
    differences = {"°C": "delta_degC", "°F": "delta_degF"} if how.dimension == "temperature_difference" else {}
    wanted = differences.get(unit, UNITS_OF_PINT[unit])
    expected = PINT.Quantity(value, UNITS_OF_PINT[how.kept]).to(wanted).magnitude
    assert converted(value, how, unit) == pytest.approx(expected, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize(
    ("value", "low", "high", "metric", "imperial"),
    [
        # Two digits of the half-width: 0.35 K gives hundredths, and so does 0.63 °F.
        (5.41234, 5.1, 5.8, "5.41\u202f°C", "9.74\u202f°F"),
        # A half-width of 3.5 K gives tenths.
        (5.41234, 2.0, 9.0, "5.4\u202f°C", "9.7\u202f°F"),
        # A value keeps two digits even where its range is wider than itself.
        (0.66, 0.0, 32.0, "0.66\u202f°C", "1.2\u202f°F"),
        # No range: three digits.
        (0.001234, None, None, "0.00123\u202f°C", "0.00222\u202f°F"),
        (-5.4, None, None, "−5.40\u202f°C", "−9.72\u202f°F"),
    ],
)
def test_digits_follow_the_half_width(
    value: float, low: float | None, high: float | None, metric: str, imperial: str
) -> None:
    """In each system by the half-width in its own unit; worked out by hand."""
    shown = both(Figure(value=value, low=low, high=high), shown_as("k"))
    assert f'q-metric">{metric}<' in shown
    assert f'q-imperial">{imperial}<' in shown


@given(st.floats(0.01, 1e4), st.floats(1e-3, 1e3))
def test_the_printed_value_is_within_half_a_digit(value: float, half: float) -> None:
    """Rounding never moves a value by more than a twentieth of its uncertainty, which has two digits at most."""
    places = decimals(value, value - half, value + half)
    limit = max(half / 20, 0.5) if places == 0 else half / 20
    assert abs(round(value, places) - value) <= limit * (1 + 1e-9)
    assert places <= max(1 - math.floor(math.log10(half * (1 - 1e-9))), 0)


@pytest.mark.parametrize(
    ("seconds", "text"), [(45.0, "45.0\u202fs"), (674.0, "11.2\u202fmin"), (8 * 3600.0, "8.00\u202fh")]
)
def test_times_are_written_as_people_say_them(seconds: float, text: str) -> None:
    """Seconds, minutes or hours, whichever is read most easily; the same in both systems."""
    assert both(Figure(value=seconds), shown_as("boiler_ready_s")) == text


def test_a_share_is_written_in_percent_and_a_ratio_bare() -> None:
    """The record keeps both as plain numbers."""
    assert both(Figure(value=0.264), shown_as("mass_share")) == "26.4\u202f%"
    assert both(Figure(value=0.264), shown_as("ratio")) == "0.264"


def test_the_longest_suffix_decides() -> None:
    """`heat_capacity_j_per_k` is no temperature difference."""
    assert shown_as("heat_capacity_j_per_k").metric == "J/K"
    assert shown_as("sensor_drop_k").metric == "°C"


def test_who_computes_reads_kelvin() -> None:
    """The numbers page: a difference in kelvin, a temperature as everywhere, Fahrenheit for both."""
    assert in_kelvin(shown_as("sensor_drop_k")).metric == "K"
    assert in_kelvin(shown_as("sensor_drop_k")).imperial == "°F"
    assert in_kelvin(shown_as("setpoint_degc")).metric == "°C"


def figure(value: float, low: float, high: float) -> Figure:
    """A figure with its range."""
    return Figure(value=value, low=low, high=high)


@pytest.mark.parametrize(
    ("figures", "texts"),
    [
        # By themselves 7.3 and 7.80 (JCGM 100, 7.2.6): beside each other both to tenths.
        ((figure(7.3, 4.5, 10.8), figure(7.8, 7.16, 8.69)), ("7.3", "7.8")),
        # Tens are no reason to print a small number as zero: one digit of each is left.
        ((figure(120.0, 80.0, 160.0), figure(0.321, 0.30, 0.34)), ("120.0", "0.3")),
        ((figure(5.4, 5.1, 5.72), figure(-0.2, -0.5, 0.1)), ("5.40", "−0.20")),
    ],
)
def test_what_stands_beside_each_other_has_equal_decimals(figures: tuple[Figure, ...], texts: tuple[str, ...]) -> None:
    """The fewest that one of them bears; worked out by hand."""
    how = shown_as("ratio")
    assert tuple(in_unit(one, how, "", like=figures) for one in figures) == texts


def test_two_times_beside_each_other_have_one_unit() -> None:
    """The longer one decides."""
    pair = (Figure(value=90.0), Figure(value=600.0))
    shown = [in_unit(one, shown_as("boiler_ready_s"), "s", like=pair) for one in pair]
    assert shown == ["1.5\u202fmin", "10.0\u202fmin"]


def test_a_negative_number_that_rounds_to_nothing_has_no_sign() -> None:
    """A range of −0.04 to 8 W is one from 0.0."""
    assert in_unit(figure(4.0, -0.04, 8.0), shown_as("w"), "W", only_range=True) == "0.0 to 8.0\u202fW"


def test_where_both_systems_agree_the_number_stands_once() -> None:
    """Nothing for the switch to choose."""
    assert in_unit(Figure(value=3.0), shown_as("w"), "W") == both(Figure(value=3.0), shown_as("w"))
