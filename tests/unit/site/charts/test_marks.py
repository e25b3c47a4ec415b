"""What the sentence over a drawing says has its marks in the drawing, at the place that the record gives."""

from __future__ import annotations

import re

import pytest

from guidegen.record import Assessment, Figure
from guidegen.site.charts import CHARTS
from guidegen.site.charts.axes import (
    COLD_MINUTES,
    DROP_UP,
    ENERGY_ACROSS,
    SHOT_HEIGHT,
    SHOT_SECONDS,
    SHOT_TEMPERATURE,
    WAITED_MINUTES,
    WARMING_TEMPERATURE,
    rows_of,
)
from guidegen.site.charts.frame import Frame, frame
from tests.fixtures.records import record

SPACE = "\u202f"
NO_OUTLET: dict[str, tuple[float, ...]] = {"outlet_degc": (), "outlet_low_degc": (), "outlet_high_degc": ()}


def drawn(name: str, one: Assessment) -> str:
    """The drawing of a chart."""
    return str(CHARTS[name](one)).partition("<svg")[2].partition("</svg>")[0]


def large(svg: str) -> dict[str, list[tuple[float, float]]]:
    """Where the large marks are, by side."""
    found: dict[str, list[tuple[float, float]]] = {"with": [], "without": []}
    for side, x, y in re.findall(r'gg-dot--large gg-(\w+)" cx="([\d.]+)" cy="([\d.]+)"', svg):
        found[side].append((float(x), float(y)))
    return found


def at(axes: Frame, x: float, y: float) -> tuple[float, float]:
    """A place in units of the drawing, as it is written there."""
    return round(axes.across(x), 1), round(axes.down(y), 1)


def words(svg: str) -> list[str]:
    """What stands in the drawing."""
    return [re.sub(r"<[^>]*>", "", one) for one in re.findall(r'<text class="gg-label.*?</text>', svg)]


def with_shot(without: tuple[float, ...], with_kit: tuple[float, ...]) -> Assessment:
    """A record whose shot is these temperatures of the sensor, every ten seconds."""
    one = record()
    times = tuple(10.0 * i for i in range(len(without)))
    sensors = (("without", one.shot.without, without), ("with_", one.shot.with_, with_kit))
    sides = {
        name: trace.model_copy(update={"time_s": times, "sensor_degc": values, **NO_OUTLET})
        for name, trace, values in sensors
    }
    return one.model_copy(update={"shot": one.shot.model_copy(update={"flow_end_s": 28.0, **sides})})


def test_both_lows_of_a_shot_are_marked_with_how_far_down_they_are() -> None:
    """100 to 94 °C in 30 s without, 100 to 98.5 in 20 s with the kit: 6.0 and 1.5 degrees."""
    svg = drawn("shot", with_shot((100, 98, 95, 94, 99), (100, 99, 98.5, 99, 100)))
    axes = frame(SHOT_SECONDS, SHOT_TEMPERATURE, height=SHOT_HEIGHT)
    assert large(svg) == {"without": [at(axes, 30, 94)], "with": [at(axes, 20, 98.5)]}
    assert {"without −6.0 °C", "with the kit −1.5 °C"} <= set(words(svg))


def test_a_drink_fills_about_half_of_its_drawing() -> None:
    """The demonstration's doubles take 28 s (content/drinks.yml)."""
    assert 0.4 < 28 / (SHOT_SECONDS.high - SHOT_SECONDS.low) < 0.6
    svg = drawn("shot", with_shot((100.0,) * 19, (100.0,) * 19))
    right = frame(SHOT_SECONDS, SHOT_TEMPERATURE, height=SHOT_HEIGHT).right
    line = re.findall(r'gg-line gg-with" d="([^"]+)"', svg)[0]
    assert max(float(x) for x in re.findall(r"[ML]([\d.]+)", line)) == right
    assert line.count(" ") == 7  # every ten seconds of a minute; two more minutes are in the table


def warm(without: float | None, with_kit: float | None) -> Assessment:
    """A record whose shots are ready after so many seconds."""
    one = record()
    sides = {
        name: side.model_copy(update={"shot_ready_s": Figure(value=value, reason=None if value else "never")})
        for name, side, value in (
            ("without", one.warm_up.without, without), ("with_", one.warm_up.with_, with_kit),
        )
    }  # fmt: skip
    added = Figure(value=with_kit - without) if with_kit and without else Figure(value=None, reason="never")
    return one.model_copy(update={"warm_up": one.warm_up.model_copy(update={**sides, "added_s": added})})


def test_ready_later_has_a_mark_for_either_side_and_what_lies_between() -> None:
    """10 and 18 min: two uprights on those minutes, dashed and solid, and 8 min later between them."""
    svg = drawn("warming", warm(600, 1080))
    axes = frame(COLD_MINUTES, WARMING_TEMPERATURE, height=360)
    for side, minutes in (("without", 10), ("with", 18)):
        upright = re.findall(rf'gg-lead gg-{side}" d="M([\d.]+) [\d.]+L([\d.]+)', svg)
        assert [float(x) for x in upright[0]] == pytest.approx([axes.across(minutes)] * 2, abs=0.05)
    assert {f"ready without: 10{SPACE}min", f"ready with the kit: 18{SPACE}min", f"8.00{SPACE}min later"} <= set(
        words(svg)
    )


def test_a_machine_that_is_never_ready_has_no_mark() -> None:
    """Nor an arrow to nowhere: only where the last of boiler, group and coil stands, if it does."""
    one = warm(600, None)
    never = one.warm_up.with_.model_copy(
        update={"boiler_ready_s": Figure(value=None, low=10.0, high=None, reason="never")}
    )
    svg = drawn("warming", one.model_copy(update={"warm_up": one.warm_up.model_copy(update={"with_": never})}))
    assert large(svg)["with"] == []
    assert not any("later" in one for one in words(svg))


def test_the_waits_that_the_sentence_names_are_marked_with_their_drops() -> None:
    """The shortest wait and the longest, with the kit; a thermostat has no such pair."""
    one = record()
    assert large(drawn("second", one))["with"] == []
    steady = one.main.with_.model_copy(update={"sensor_drop_phases_k": None})
    one = one.model_copy(
        update={"drinks": {**one.drinks, one.main_drink: one.main.model_copy(update={"with_": steady})}}
    )
    axes = frame(WAITED_MINUTES, DROP_UP, height=360)
    ends = (one.waiting[0], one.waiting[-1])
    assert large(drawn("second", one))["with"] == [
        at(axes, wait.wait_s / 60, wait.sensor_drop_k.with_.value or 0) for wait in ends
    ]


def test_the_ratio_of_a_day_stands_beside_what_it_is_of() -> None:
    """200 Wh without, 0.9 to 1.3 times as much with the kit: from 180 to 260 Wh, and in words −10 to +30 %."""
    one = record()
    energy = one.energy.model_copy(
        update={
            "without": one.energy.without.model_copy(update={"day_wh": Figure(value=200.0)}),
            "day_ratio": Figure(value=1.1, low=0.9, high=1.3),
        }
    )
    svg = drawn("energy", one.model_copy(update={"energy": energy}))
    axes = frame(ENERGY_ACROSS, rows_of(3), "x", height=190, aside=134)
    last = re.findall(r'gg-whisker" d="M([\d.]+) [\d.]+H([\d.]+)', svg)[-1]
    assert [float(x) for x in last] == [round(axes.across(180), 1), round(axes.across(260), 1)]
    assert "−10 to +30 %" in words(svg)


def test_all_water_is_one_pair_of_bars_where_it_is_in_several_parts() -> None:
    """The sentence is about the sum: 1 of 4 kg and 300 of 400 J/K."""
    one = record()
    first, second = one.budget.parts[:2]
    parts = (
        first.model_copy(update={"id": "water", "mass_kg": 0.5, "heat_capacity_j_per_k": 100.0}),
        first.model_copy(update={"id": "coil-water", "mass_kg": 0.5, "heat_capacity_j_per_k": 200.0}),
        second.model_copy(update={"id": "boiler", "mass_kg": 3.0, "heat_capacity_j_per_k": 100.0}),
    )
    svg = drawn("budget", one.model_copy(update={"budget": one.budget.model_copy(update={"parts": parts})}))
    assert words(svg)[:3] == ["all water together", "25 % of the mass", "75 % of the heat"]


def test_the_input_that_the_sentence_names_has_the_only_full_bar() -> None:
    """It stands first, under the number 1."""
    svg = drawn("influence", record())
    bars = re.findall(r'class="(gg-bar[^"]*)"', svg)
    assert ["gg-bar--hollow" in one for one in bars] == [False] + [True] * (len(bars) - 1)


@pytest.mark.parametrize("name", ["shot", "drinks", "second", "warming", "energy"])
def test_sides_are_told_in_words_on_the_drawing(name: str) -> None:
    """Without colour, dash and fill they still have their names."""
    text = " ".join(words(drawn(name, record())))
    assert "without" in text
    assert re.search(r"\bwith\b", text)
