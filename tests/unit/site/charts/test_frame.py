"""Frames and figures: curves lie where the axes say, and a chart can stand in any page."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from guidegen.site.charts.figure import Table, chart
from guidegen.site.charts.frame import Axis, _drawn, frame
from guidegen.site.charts.layers import Band, Bar, Curve, Label, Reach

X = Axis("seconds", 0, 180, (0, 60, 120, 180))
Y = Axis("°C", 80, 110, (80, 90, 100, 110), None, "°F", lambda celsius: celsius * 1.8 + 32, (180, 200, 220))


def ticks(svg: str) -> list[tuple[float, float]]:
    """Where matplotlib put the tick marks: the translations of its short strokes."""
    return [(float(x), float(y)) for x, y in re.findall(r"translate\(([\d.]+) ([\d.]+)\)", svg)]


@pytest.mark.parametrize("value", X.ticks)
def test_a_value_lies_on_its_tick_of_the_x_axis(value: float) -> None:
    """Our own scale agrees with the ticks that matplotlib drew."""
    axes = frame(X, Y)
    assert any(abs(x - axes.across(value)) < 0.01 and abs(y - axes.bottom) < 0.01 for x, y in ticks(axes.svg))


@pytest.mark.parametrize("value", Y.ticks)
def test_a_value_lies_on_its_tick_of_the_y_axis(value: float) -> None:
    """The same upwards."""
    axes = frame(X, Y)
    assert any(abs(y - axes.down(value)) < 0.01 and abs(x - axes.left) < 0.01 for x, y in ticks(axes.svg))


def test_the_second_axis_shows_the_same_height_in_the_other_unit() -> None:
    """200 °F is 93.33 °C (exact conversion, 1.8 and 32): both lie at one height."""
    axes = frame(X, Y)
    right = sorted({y for x, y in ticks(axes.svg) if abs(x - axes.right) < 0.01 and y < axes.bottom})
    assert any(abs(y - axes.down((200 - 32) / 1.8)) < 0.02 for y in right)


def test_a_value_outside_is_held_at_the_edge() -> None:
    """Nothing is drawn outside the frame, and `holds` knows."""
    axes = frame(X, Y)
    assert axes.down(500) == axes.top
    assert not axes.holds(500)
    assert axes.holds(95)


def test_a_frame_carries_nothing_that_reaches_the_rest_of_a_page() -> None:
    """No style sheet, no ids, no date, no named font, no fixed colour."""
    svg = frame(X, Y).svg
    for unwanted in ("<style", " id=", "metadata", "font-family", "#", "url(", "xlink"):
        assert unwanted not in svg


def drawn(**changes: str) -> str:
    """One chart with each kind of layer."""
    words = {"says": "The line falls.", "title": "A title", "description": "Words", "caption": "Caption"}
    return str(
        chart(
            "chart-x",
            frame(X, Y),
            [
                Reach(0, 28),
                Band("with", [(0, 90), (60, 91)], [(0, 95), (60, 96)]),
                Curve("without", [(0, 100), (60, 95)]),
                Bar("with", 95, 4, 30, 20, 40),
                Label("<b>", 10, 100, "with"),
            ],
            table=Table(("Time", "Value"), [("0 s", "100 °C"), ("60 s", "95 °C")]),
            **{**words, **changes},
        )
    )


def test_a_chart_is_well_formed_and_has_a_text_alternative() -> None:
    """Title and description are there, referred to by the image, with the numbers in a table."""
    root = ElementTree.fromstring(drawn())
    image = root.find("svg")
    assert image is not None
    labels = image.attrib["aria-labelledby"].split()
    texts = {child.attrib["id"]: child.text for child in image if child.tag in ("title", "desc")}
    assert [texts[label] for label in labels] == ["A title", "Words"]
    cells = [cell.text for cell in root.iter("td")]
    assert cells == ["100 °C", "95 °C"]


def test_a_layer_of_nothing_draws_nothing() -> None:
    """A chart without ranges: a path without a point would be an error on a browser's console."""
    bare = chart(
        "chart-x", frame(X, Y), [Band("with", [], []), Curve("with", [])], says="", title="", description="",
        caption="", table=Table(("Time",), []),
    )  # fmt: skip
    assert "gg-band" not in bare
    assert not re.search(r'\bd="z?"', bare)


def test_words_never_become_markup() -> None:
    """A label, title or caption with angle brackets is shown as written."""
    text = drawn(title="<script>alert(1)</script>", caption="a < b & c")
    assert "<script>" not in text
    assert "a &lt; b &amp; c" in text


def test_the_same_chart_has_the_same_bytes() -> None:
    """Frames and curves carry neither date nor random ids."""
    first = drawn()
    _drawn.cache_clear()
    assert drawn() == first
