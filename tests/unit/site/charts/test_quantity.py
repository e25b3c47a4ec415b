"""Numbers as pages and drawings print them: digits, both systems, and conversions held against an outside library."""

from __future__ import annotations

import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from guidegen.record import Figure
from guidegen.record.outputs import UNITS
from guidegen.site.charts.quantity import both, converted, decimals, in_unit, shown_as

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
    wanted = "delta_degF" if how.dimension == "temperature_difference" and unit == "°F" else UNITS_OF_PINT[unit]
    expected = PINT.Quantity(value, UNITS_OF_PINT[how.kept]).to(wanted).magnitude
    assert converted(value, how, unit) == pytest.approx(expected, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize(
    ("value", "low", "high", "metric", "imperial"),
    [
        # Two digits of the half-width: 0.35 K gives hundredths, and so does 0.63 °F.
        (5.41234, 5.1, 5.8, "5.41\u202fK", "9.74\u202f°F"),
        # A half-width of 3.5 K gives tenths.
        (5.41234, 2.0, 9.0, "5.4\u202fK", "9.7\u202f°F"),
        # A value keeps two digits even where its range is wider than itself.
        (0.66, 0.0, 32.0, "0.66\u202fK", "1.2\u202f°F"),
        # No range: three digits.
        (0.001234, None, None, "0.00123\u202fK", "0.00222\u202f°F"),
        (-5.4, None, None, "−5.40\u202fK", "−9.72\u202f°F"),
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
    assert shown_as("sensor_drop_k").metric == "K"


def test_where_both_systems_agree_the_number_stands_once() -> None:
    """Nothing for the switch to choose."""
    assert in_unit(Figure(value=3.0), shown_as("w"), "W") == both(Figure(value=3.0), shown_as("w"))
