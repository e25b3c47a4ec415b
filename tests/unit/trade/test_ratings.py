"""What a rating names, of what is written on a device."""

from __future__ import annotations

import pytest

from guidegen.trade.check_ratings import named
from guidegen.trade.draft_lines import scalar


def test_a_rating_names_its_temperatures_and_pressures() -> None:
    """184 °C are 457.15 K, a bar is 100 kPa: both by definition."""
    assert named("10 A, 184 °C", "temperature") == pytest.approx([457.15])
    assert named("opens at 6.5 bar", "pressure") == pytest.approx([650_000.0])


@pytest.mark.parametrize("rating", ["opens at ٦ bar", "opens at ６ bar", "१२ bar"])
def test_digits_of_another_script_name_nothing(rating: str) -> None:
    """They are compared with nothing, and nothing stops at them."""
    assert named(rating, "pressure") == []


@pytest.mark.parametrize("text", ["٣", "３.５", "²"])
def test_a_draft_quotes_digits_of_another_script(text: str) -> None:
    """Bare they would look like a number that is none."""
    assert scalar(text) == f'"{text}"'
