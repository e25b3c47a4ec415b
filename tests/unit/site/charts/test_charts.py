"""Every kind of chart: its table holds the record's own numbers, its sentence follows from them, words stay words."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from guidegen.record import Assessment, Figure
from guidegen.record.places import headlines
from guidegen.site.charts import CHARTS, axes
from guidegen.site.charts.quantity import both, in_unit, shown_as
from tests.fixtures.records import record, with_texts

SYSTEMS = re.compile(
    r'<span class="q"><span class="q-metric">([^<]*)</span><span class="q-imperial">[^<]*</span></span>'
)


def rows(name: str, one: Assessment | None = None) -> list[list[str]]:
    """The chart's table in the first system, row by row."""
    drawn = CHARTS[name](one or record())
    assert drawn is not None
    root = ElementTree.fromstring(SYSTEMS.sub(r"\1", str(drawn)))
    body = root.find(".//tbody")
    assert body is not None
    return [["".join(cell.itertext()) for cell in row] for row in body]


def metric(value: float | None, key: str, low: float | None = None, high: float | None = None) -> str:
    """A number as the table prints it."""
    how = shown_as(key)
    return in_unit(Figure(value=value, low=low, high=high), how, how.metric)


def ranged(figure: Figure, key: str) -> str:
    """A figure with its range as the table prints it."""
    how = shown_as(key)
    return f"{in_unit(figure, how, how.metric)} ({in_unit(figure, how, how.metric, only_range=True)})"


@pytest.mark.parametrize("name", CHARTS)
def test_a_chart_is_well_formed_with_sentence_alternative_caption_and_table(name: str) -> None:
    """And its ids start with its own name, so that all kinds can stand on one page."""
    drawn = CHARTS[name](record())
    assert drawn is not None
    root = ElementTree.fromstring(str(drawn))
    ids = [one.attrib["id"] for one in root.iter() if "id" in one.attrib]
    assert len(ids) == len(set(ids)) == 3
    assert all(one.startswith(f"chart-{name}") for one in ids)
    # Beside the drawing in the head of an overview the page itself says what to see, and the numbers.
    told = () if name == "dips" else (".//p[@class='gg-chart__says']", ".//tbody/tr/td")
    for place in (*told, ".//svg/title", ".//svg/desc", ".//figcaption"):
        found = root.find(place)
        assert found is not None, place
        assert "".join(found.itertext()).strip(), place
    caption = "".join(root.find(".//figcaption").itertext())  # type: ignore[union-attr]
    assert record().variant.name in caption
    assert "draft of the next edition" in caption
    assert "ranges from our assumptions" in caption


@pytest.mark.parametrize("name", CHARTS)
def test_hostile_words_stay_words(name: str) -> None:
    """No text of the record becomes markup in a drawing."""
    drawn = CHARTS[name](with_texts(record(), "<script>alert(1)</script>"))
    assert drawn is not None
    assert "<script" not in drawn
    ElementTree.fromstring(str(drawn))


def test_drops_by_drink_are_the_records() -> None:
    """Both drops and the ratio of each drink, with their ranges."""
    for row, drink in zip(rows("drinks"), record().drinks.values(), strict=True):
        assert row == [
            drink.name,
            ranged(drink.without.sensor_drop_k, "k"),
            ranged(drink.with_.sensor_drop_k, "k"),
            ranged(drink.drop_ratio.sensor, "ratio"),
        ]


def test_second_drinks_are_the_records() -> None:
    """A row per wait, and one for a drink after a flush."""
    *waits, flushed = rows("second")
    for row, one in zip(waits, record().waiting, strict=True):
        assert row == [
            f"{one.wait_s / 60:g} min",
            ranged(one.sensor_drop_k.without, "k"),
            ranged(one.sensor_drop_k.with_, "k"),
        ]
    flush = record().after_flush
    assert flush is not None
    assert flushed[1:] == [ranged(flush.sensor_drop_k.without, "k"), ranged(flush.sensor_drop_k.with_, "k")]


def test_first_drinks_are_the_records() -> None:
    """A row per minute that is listed; null is "not ready"."""
    one = record()
    cold = one.from_cold.model_copy(
        update={
            "drop_minutes": (1, 5, 30),
            "without": one.from_cold.without.model_copy(update={"drop_k": (None, 5.0, 4.0)}),
            "with_": one.from_cold.with_.model_copy(update={"drop_k": (None, 3.0, 1.5)}),
        }
    )
    assert rows("first", one.model_copy(update={"from_cold": cold})) == [
        ["1 min", "not ready", "not ready"],
        ["5 min", metric(5.0, "k"), metric(3.0, "k")],
        ["30 min", metric(4.0, "k"), metric(1.5, "k")],
    ]


def test_shot_and_same_cup_show_the_sensor_of_their_own_trace() -> None:
    """Tenths of a degree at each ten seconds."""
    one = record()
    trace = one.shot.with_.model_copy(update={"time_s": (0.0, 10.0), "sensor_degc": (101.04, 99.96)})
    there = one.shot.with_.model_copy(update={"time_s": (0.0, 10.0), "sensor_degc": (96.5, 95.5)})
    shot = one.shot.model_copy(update={"flow_end_s": 5.0, "without": trace, "with_": trace})
    moved = shot.model_copy(update={"with_": there})
    changed = one.model_copy(update={"shot": shot, "same_cup_shot": moved})
    assert [row[1:3] for row in rows("shot", changed)] == [["101.0\u202f°C"] * 2, ["100.0\u202f°C"] * 2]
    assert [row[1:3] for row in rows("same-cup", changed)] == [
        ["101.0\u202f°C", "96.5\u202f°C"],
        ["100.0\u202f°C", "95.5\u202f°C"],
    ]


def test_energy_is_the_records() -> None:
    """Day, session and idle of both sides."""
    one = record().energy
    assert rows("energy") == [
        ["Day", ranged(one.without.day_wh, "wh"), ranged(one.with_.day_wh, "wh")],
        ["Session", ranged(one.without.session_wh, "wh"), ranged(one.with_.session_wh, "wh")],
        ["Power at idle", ranged(one.without.idle_w, "w"), ranged(one.with_.idle_w, "w")],
    ]


def test_shares_of_the_budget_are_of_the_whole() -> None:
    """1 kg and 3 kg, 300 and 100 J/K: a quarter of the mass holds three quarters of the heat."""
    one = record()
    parts = tuple(
        part.model_copy(update={"mass_kg": mass, "heat_capacity_j_per_k": heat})
        for part, mass, heat in zip(one.budget.parts, (1.0, 3.0), (300.0, 100.0), strict=True)
    )
    changed = one.model_copy(update={"budget": one.budget.model_copy(update={"parts": parts})})
    assert [row[1:] for row in rows("budget", changed)] == [
        ["1.00\u202fkg", "300\u202fJ/K", "25.0 %", "75.0 %"],
        ["3.00\u202fkg", "100\u202fJ/K", "75.0 %", "25.0 %"],
    ]


def test_influence_names_inputs_in_words_strongest_first() -> None:
    """Ids do not reach the reader; signs are kept."""
    ranks = record().influence[headlines(record().main_drink)[0]]
    names = {one.id: one.name for one in record().inputs}
    assert [row[:2] for row in rows("influence")] == [
        [names[name], f"{rho:+.2f}".replace("-", "−")] for name, rho in ranks.items()
    ]
    drawn = str(CHARTS["influence"](record()))
    assert not any(f">{name}<" in drawn for name in ranks)


def test_warming_shows_what_the_record_holds_at_five_minutes() -> None:
    """Sensor and group of both sides, and the coil."""
    one = record()
    warm = {"sensor_degc": (22.0, 100.5), "group_degc": (22.0, 70.5), "coil_degc": (22.0, 60.5)}
    sides = {
        name: side.model_copy(update=warm)
        for name, side in (("without", one.from_cold.without), ("with_", one.from_cold.with_))
    }
    cold = one.from_cold.model_copy(update={"time_s": (0.0, 300.0), **sides})
    table = rows("warming", one.model_copy(update={"from_cold": cold}))
    hundred, seventy, sixty = (f"{degrees}\u202f°C" for degrees in ("100.5", "70.5", "60.5"))
    assert table[1] == ["5 min", hundred, seventy, hundred, seventy, sixty]


def test_a_chart_without_anything_to_show_is_not_drawn() -> None:
    """No draws, no influence; a thermostat alone, no same cup and no first drink."""
    one = record()
    assert CHARTS["influence"](one.model_copy(update={"influence": {}})) is None
    assert CHARTS["same-cup"](one.model_copy(update={"same_cup_shot": None})) is None
    none = {
        name: side.model_copy(update={"drop_k": (None, None)})
        for name, side in (("without", one.from_cold.without), ("with_", one.from_cold.with_))
    }
    assert CHARTS["first"](one.model_copy(update={"from_cold": one.from_cold.model_copy(update=none)})) is None


def test_with_a_thermostat_no_line_joins_the_waits_and_no_shot_speaks_for_all() -> None:
    """The drop depends on when you pull; a line or a ratio from one moment would claim to know."""
    drawn, shot = str(CHARTS["second"](record())), str(CHARTS["shot"](record()))
    assert "gg-dot" in drawn
    assert "gg-line" not in drawn
    assert "one moment of many" in shot
    one = record()
    steady = {
        name: drink.model_copy(update={
            "without": drink.without.model_copy(update={"sensor_drop_phases_k": None}),
            "with_": drink.with_.model_copy(update={"sensor_drop_phases_k": None}),
        })
        for name, drink in one.drinks.items()
    }  # fmt: skip
    electronic = one.model_copy(update={"drinks": steady})
    assert str(CHARTS["second"](electronic)).count('class="gg-line') == 2
    assert "one moment of many" not in str(CHARTS["shot"](electronic))


def test_second_axes_are_exact_conversions() -> None:
    """Fahrenheit by its definition: 100 °C is 212 °F, a difference of 5 K is one of 9 °F."""
    assert axes.fahrenheit(100) == 212
    assert axes.fahrenheit_difference(5) == 9


def test_every_guide_has_the_same_frame() -> None:
    """Two records, other numbers: axes and ticks are the same bytes."""
    other = record().model_copy(update={"waiting": record().waiting[:1]})
    frames = []
    for one in (record(), other):
        text = str(CHARTS["second"](one))
        frames.append(text.partition("</desc>")[2].partition(' class="gg-')[0])
    assert frames[0] == frames[1]
    assert len(frames[0]) > 1000


def test_a_missing_figure_says_why() -> None:
    """The reason stands in the table instead of a number."""
    assert axes.shown_value(Figure(value=None, reason="no coil"), "k") == "no coil"
    assert axes.shown_value(None, "k") == "—"
    assert str(axes.shown_value(Figure(value=2.0, low=1.5, high=2.5), "g")).count("q-metric") == 2
    assert both(Figure(value=3.0), shown_as("w")) == "3.00\u202fW"
