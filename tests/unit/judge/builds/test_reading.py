"""Readings against limits, by hand."""

from __future__ import annotations

import pytest

from guidegen.judge.builds.reading import accepted, reads


@pytest.mark.parametrize(
    ("sense", "limit", "reading", "passes"),
    [
        ("at_most", "40 °C", "40 °C", True),
        ("at_most", "40 °C", "40.1 °C", False),
        ("at_most", "40 °C", "104 °F", True),  # 40 °C by the definition of the scale
        ("at_most", "40 °C", "105 °F", False),
        ("at_most", "0.3 Ω", "300 mΩ", True),
        ("at_least", "0.3 MΩ", "0.29 MΩ", False),
        ("at_least", "8 mm", "0.8 cm", True),
        ("at_least", "24 bar", "2.4 MPa", True),
        ("at_least", "24 bar", "2.39 MPa", False),
        ("at_most", "0 damp tissues", "0", True),
        ("at_most", "0 damp tissues", "1", False),
        ("within", "103 °C ± 0.5 K", "103.5 °C", True),
        ("within", "103 °C ± 0.5 K", "102.4 °C", False),
        ("within", "103 °C ± 0.5 K", "376.15 K", True),  # 103 + 273.15
        ("at_most", "3 min", "180 s", True),
        ("at_most", "3 min", "181 s", False),
    ],
)
def test_a_reading_is_held_against_its_limit(sense: str, limit: str, reading: str, passes: bool) -> None:
    """Exactly on the limit is within it, whatever unit it was read in."""
    assert accepted(sense, limit, reading) is passes


@pytest.mark.parametrize(
    ("limit", "reading"),
    [("40 °C", "38"), ("40 °C", "warm"), ("40 °C", "38 mm"), ("0 drops", "-1"), ("", "1 Ω"), ("1 Ω", "٣ Ω")],
)
def test_what_cannot_be_compared_is_none(limit: str, reading: str) -> None:
    """A number without its unit, another dimension, no number, digits of another script."""
    assert reads(limit, reading) is None
    with pytest.raises(ValueError, match="cannot be compared"):
        accepted("at_most", limit, reading)
