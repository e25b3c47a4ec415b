"""Quantities in sentences, in both systems. An inch is 25.4 mm exactly (ISO 31-1); the rest is worked out here."""

from __future__ import annotations

import pytest

from guidegen.site.pages.measures import both, parts

CASES = {
    # 26 / 25.4 = 1.0236, 1 / 25.4 = 0.0394; 19 / 25.4 = 0.748; 2 / 25.4 = 0.0787
    "Free room 26 ± 1 mm, at least 19 mm needed: short by 2.0 mm": (
        "Free room 1.024 ± 0.039 in, at least 0.748 in needed: short by 0.0787 in"
    ),
    "12.0 mm ± 0.5 mm": "0.472 ± 0.020 in",
    "room at least 20 mm (at least 0.787 in)": "room at least 0.787 in",
    # 93 °C = 199.4 °F
    "water of 93 °C": "water of 199 °F",
    # sizes of the trade, threads and mixed units stay as they are
    "seal 10 × 14 × 1.5 mm on G 1/8, M4 × 16 mm": "seal 10 × 14 × 1.5 mm on G 1/8, M4 × 16 mm",
    "93 °C ± 1 K": "93 °C ± 1 K",
    "2.5 mm² of earth": "2.5 mm² of earth",
    "set 96.7 to 103.5 °C (206.1 to 218.3 °F)": "set 96.7 to 103.5 °C (206.1 to 218.3 °F)",
    "3 places, not known": "3 places, not known",
}


@pytest.mark.parametrize("text", CASES)
def test_each_quantity_is_there_in_both_systems(text: str) -> None:
    made = parts(text)
    metric = "".join(one if isinstance(one, str) else one[0] for one in made)
    imperial = "".join(one if isinstance(one, str) else one[1] for one in made)
    assert imperial.replace("\u202f", " ") == CASES[text]
    assert metric == text.replace(" (at least 0.787 in)", "")


def test_markup_in_a_sentence_is_text() -> None:
    assert str(both("<b>5 mm</b>")).startswith('&lt;b&gt;<span class="q">')
