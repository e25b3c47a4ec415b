"""The dip in words: the change is that of the draws, and its words hold for the whole range."""

from __future__ import annotations

import re

import numpy as np
import pytest

from guidegen.assess.figures import Figures
from guidegen.record import Figure
from guidegen.site.charts import change
from guidegen.site.charts.dips import dips as drawing
from guidegen.site.pages import dip
from tests.fixtures.records import record

NARROW = "\u202f"


def test_the_change_is_the_median_of_the_draws_and_no_quotient_of_medians() -> None:
    """Five machines, whose dips shrink by 90, 50, 40, 20 and 10 per cent; the medians' quotient says otherwise."""
    before = np.array([4.0, 2.0, 4.0, 10.0, 5.0, 1.0])
    shrinks = np.array([0.5, 0.9, 0.5, 0.4, 0.2, 0.1])
    after = before * (1 - shrinks)
    ratio = Figures({}, 5).ratio(after, before)
    assert float(np.median(shrinks[1:])) == 0.4
    assert change.change(ratio) == "about 40 % smaller"
    medians = float(np.median(after[1:]) / np.median(before[1:]))
    assert round((1 - medians) * 100) != 40


@pytest.mark.parametrize(
    ("low", "value", "high", "words"),
    [
        (0.12, 0.39, 0.57, "about 61 % smaller (43 to 88 %)"),
        (0.26, 0.3, 0.33, "about 70 % smaller (67 to 74 %)"),
        (0.96, 1.0, 1.02, "about the same"),
        (0.80, 1.0, 1.10, "between 20 % smaller and 10 % larger"),
        (0.07, 0.6, 3.26, "between 93 % smaller and 3.3 times as large"),
        (1.02, 1.06, 1.08, "about 6 % larger (2 to 8 %)"),
        (1.90, 2.40, 3.00, "2.4 times as large (90 to 200 %)"),
    ],
)
def test_the_words_hold_for_the_whole_range(low: float, value: float, high: float, words: str) -> None:
    """Worked out by hand: 0.39 is 61 per cent less, and the lower end of the ratio the upper of the change."""
    assert change.change_with_range(Figure(value=value, low=low, high=high)) == words


def test_both_dips_stand_beside_each_other_in_both_systems() -> None:
    """5.4 and 2.1 K are differences: 9.7 and 3.8 °F, to the decimals of the wider range."""
    drink = record().main
    sides = [
        side.model_copy(update={"sensor_drop_k": Figure(value=value, low=value - 1, high=value + 1)})
        for side, value in ((drink.without, 5.4), (drink.with_, 2.1))
    ]
    ratio = drink.drop_ratio.model_copy(update={"sensor": Figure(value=0.4, low=0.2, high=0.6)})
    drink = drink.model_copy(update={"without": sides[0], "with_": sides[1], "drop_ratio": ratio})
    assert dip.dips_text(drink) == f"5.4 → 2.1{NARROW}°C (9.7 → 3.8{NARROW}°F)"


def test_the_drawing_is_as_deep_as_the_record_says() -> None:
    """The lowest points of both lines, read back from the path by the scale of its own axis."""
    one = record()
    double = one.main
    without = double.without.model_copy(update={"sensor_drop_k": Figure(value=6.0, low=4.0, high=9.0)})
    with_kit = double.with_.model_copy(update={"sensor_drop_k": Figure(value=2.0, low=1.0, high=3.0)})
    ratio = double.drop_ratio.model_copy(update={"sensor": Figure(value=0.33, low=0.2, high=0.5)})
    drink = double.model_copy(update={"without": without, "with_": with_kit, "drop_ratio": ratio})
    svg = drawing(one.model_copy(update={"drinks": {**one.drinks, "double": drink}}))
    assert svg is not None
    lines = re.findall(r'<path class="gg-line gg-with(?:out)?" d="([^"]*)"', svg)
    depths = []
    for line in lines:
        heights = [float(one) for one in re.findall(r"[ML][\d.]+ ([\d.]+)", line)]
        depths.append(max(heights) - min(heights))
    assert depths[0] == pytest.approx(3 * depths[1], abs=0.3)
    assert f"6.0{NARROW}°C" in svg
    assert f"2.0{NARROW}°C" in svg


def test_nothing_is_drawn_where_there_is_no_dip() -> None:
    one = record()
    side = one.main.with_.model_copy(update={"sensor_drop_k": Figure(value=None, reason="none")})
    drink = one.main.model_copy(update={"with_": side})
    assert drawing(one.model_copy(update={"drinks": {**one.drinks, "double": drink}})) is None
