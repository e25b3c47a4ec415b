"""Laws that hold for every quantity."""

from __future__ import annotations

import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from guidegen.unit_table import LIMITS, UNITS
from guidegen.units import UnitError, imperial, in_unit, metric, parse

DIMENSIONS = sorted(UNITS)
UNIT = st.sampled_from([(dimension, unit) for dimension in DIMENSIONS for unit in sorted(UNITS[dimension])])


@given(UNIT, st.floats(0, 1), st.floats(0, 0.5))
def test_what_is_written_in_a_unit_is_read_back(unit: tuple[str, str], share: float, spread: float) -> None:
    """Value and half-width survive writing and reading, in every unit of the table."""
    dimension, name = unit
    factor, offset = UNITS[dimension][name]
    low, high = LIMITS[dimension]
    value = low + share * 0.999 * (high - low)
    bare = (value - offset) / factor
    half = abs(bare) * spread
    kind = "~" if dimension == "voltage" else ""
    difference = "K" if name == "K" else name
    read = parse(f"{bare!r} {name}{kind} ± {half!r} {difference}", dimension)
    assert read.value == pytest.approx(value, rel=1e-9, abs=1e-9 * high)
    assert read.plus_minus == pytest.approx(half * factor, rel=1e-9)
    assert in_unit(read.value, dimension, name) == pytest.approx(bare, rel=1e-9, abs=1e-9 * high / factor)


@given(st.text(), st.sampled_from(DIMENSIONS))
@example("1e999 g", "mass")
@example("±", "length")
@example("5 g ± ± g", "mass")
@example("²", "count")
def test_any_text_is_a_quantity_or_is_refused_with_a_code(text: str, dimension: str) -> None:
    """Nothing but `UnitError` is ever raised, and what is read is finite and inside the limits."""
    try:
        quantity = parse(text, dimension)
    except UnitError as error:
        refusal = error
    else:
        low, high = LIMITS[dimension]
        assert math.isfinite(quantity.value)
        assert low <= quantity.value <= high
        assert quantity.plus_minus >= 0
        return
    assert refusal.code.startswith("Q")
    assert refusal.message


@given(
    st.from_regex(
        r"-?[0-9]{1,4}(\.[0-9]{0,3})? ?(g|kg|mm|Nm|ml|°C|V~|%|W/K)?( ?± ?[0-9]{1,3} ?(g|mm|K|%)?)?", fullmatch=True
    ),
    st.sampled_from(DIMENSIONS),
)
def test_nearly_right_text_is_refused_with_a_code(text: str, dimension: str) -> None:
    """The same for text that looks like a quantity."""
    test_any_text_is_a_quantity_or_is_refused_with_a_code.hypothesis.inner_test(text, dimension)  # type: ignore[attr-defined]


@given(st.sampled_from(DIMENSIONS), st.floats(1e-6, 1), st.floats(1e-4, 1))
def test_printing_moves_a_value_by_less_than_its_half_width(dimension: str, share: float, spread: float) -> None:
    """Rounded to two digits of the half-width, a value moves by at most a tenth of it."""
    value = LIMITS[dimension][1] * share
    half = value * spread
    for text in (metric(value, dimension, half), imperial(value, dimension, half)):
        number, _, unit = text.partition("\u202f")
        factor, offset = UNITS[dimension][unit]
        printed = float(number.replace("−", "-")) * factor + offset
        assert abs(printed - value) <= 0.1 * half + 1e-9 * value
