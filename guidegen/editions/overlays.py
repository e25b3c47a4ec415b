"""Charts of two editions drawn over each other: thick or full is the newer, thin or hollow the older.

Each is drawn only where the two can be distinguished by eye.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from markupsafe import Markup

from guidegen.language import gettext, marked
from guidegen.record import Assessment, Figure
from guidegen.site.charts.axes import (
    COLD_MINUTES,
    DROP_ACROSS,
    SHOT_SECONDS,
    SHOT_TEMPERATURE,
    WARMING_TEMPERATURE,
    rows_of,
    short,
    shown_value,
)
from guidegen.site.charts.drops import ASIDE, ROW
from guidegen.site.charts.figure import Table, chart
from guidegen.site.charts.frame import frame
from guidegen.site.charts.layers import Bar, Curve, Label, Layer, Point, Reach

Data = Mapping[str, Any]

SHOT_APART_K, WARMING_APART_K = 0.15, 0.5
"""Curves that are closer than about a line's width on their chart look like one."""
MINUTE = 60.0
SHOT_SAYS = marked("With the kit the sensor's curve in a shot moved by up to {apart} °C.")
WARMING_SAYS = marked("From cold, with the kit, the group's curve moved by up to {apart} °C.")


def overlays(record: Assessment, before: Data, older: str, newer: str) -> list[Markup]:
    """The charts of a guide in both editions; `older` and `newer` are what they are called in a sentence."""
    found = (make(record, before, older, newer) for make in (_drops, _shot, _warming))
    return [drawn for drawn in found if drawn is not None]


def _drops(record: Assessment, before: Data, older: str, newer: str) -> Markup | None:
    """The sensor's drop by drink with the kit, with its range: how much surer the newer edition is."""
    pairs = []
    for name, drink in record.drinks.items():
        was = ((before.get("drinks") or {}).get(name) or {}).get("with", {}).get("sensor_drop_k")
        if was and was["value"] is not None and drink.with_.sensor_drop_k.value is not None:
            pairs.append((drink.name, Figure.model_validate(dict(was)), drink.with_.sensor_drop_k))
    if all(shown_value(old, "k") == shown_value(new, "k") for _, old, new in pairs):
        return None
    layers: list[Layer] = []
    for i, (name, old, new) in enumerate(pairs):
        top = float(len(pairs) - i)
        layers.append(Label(name, 0, top - 0.24))
        for figure, y, what in ((old, top - 0.47, marked("{value} before")), (new, top - 0.77, marked("{value} now"))):
            assert figure.value is not None
            layers.append(Bar("with", y, 0.24, figure.value, figure.low, figure.high, hollow=figure is old))
            words = gettext(what).format(value=short(figure, "k"))
            layers.append(Label(words, DROP_ACROSS.high, y, "with", right=10, below=4.5))
    return chart(
        "chart-editions-drops",
        frame(DROP_ACROSS, rows_of(len(pairs)), "x", height=len(pairs) * ROW + 92, aside=ASIDE),
        layers,
        says=gettext("How far the sensor drops with the kit, and how sure that is."),
        title=gettext("Drop of the sensor with the kit in both editions"),
        description="; ".join(
            gettext("{drink}: {old} before, {new} now").format(drink=name, old=short(old, "k"), new=short(new, "k"))
            for name, old, new in pairs
        ),
        caption=gettext(
            "Hollow: {older}. Full: {newer}. Whiskers: the ranges; one without an end goes on beyond the drawing."
        ).format(older=older, newer=newer),
        table=Table(
            (gettext("Drink"), sentence(older), sentence(newer)),
            [(name, shown_value(old, "k"), shown_value(new, "k")) for name, old, new in pairs],
        ),
    )


def _shot(record: Assessment, before: Data, older: str, newer: str) -> Markup | None:
    """The sensor in a shot with the kit."""
    was = (before.get("shot") or {}).get("with") or {}
    old = _curve(was.get("time_s"), was.get("sensor_degc"))
    new = _curve(record.shot.with_.time_s, record.shot.with_.sensor_degc)
    apart = _apart(old, new)
    if apart < SHOT_APART_K:
        return None
    start = record.shot.flow_end_s + 6
    height = max([value for time, value in (*old, *new) if start <= time <= start + 70], default=100.0) + 1.2
    return chart(
        "chart-editions",
        frame(SHOT_SECONDS, SHOT_TEMPERATURE),
        [
            Reach(0, record.shot.flow_end_s),
            Curve("with", old, fine=True),
            Curve("with", new),
            Label(gettext("thick: now, thin: before"), start, min(height, SHOT_TEMPERATURE.high - 2), "with"),
        ],
        says=gettext(SHOT_SAYS).format(apart=f"{apart:.1f}"),
        title=gettext("The shot with the kit in both editions"),
        description=gettext(
            "Sensor temperature over a minute in {older} and in {newer}, up to {apart} kelvin apart."
        ).format(older=older, newer=newer, apart=f"{apart:.1f}"),
        caption=gettext("Thick: {newer}. Thin: {older}.").format(newer=newer, older=older),
        table=Table((gettext("Time"), sentence(older), sentence(newer)), list(_rows(old, new, 10.0, 1.0, "s"))),
    )


def _warming(record: Assessment, before: Data, older: str, newer: str) -> Markup | None:
    """The group from cold, with the kit: it is the last to be warm."""
    cold = before.get("from_cold") or {}
    old = _curve(cold.get("time_s"), (cold.get("with") or {}).get("group_degc"))
    new = _curve(record.from_cold.time_s, record.from_cold.with_.group_degc)
    apart = _apart(old, new)
    if apart < WARMING_APART_K:
        return None
    drawn = [[(time / MINUTE, value) for time, value in points] for points in (old, new)]
    time, value = drawn[1][len(new) * 2 // 3]
    return chart(
        "chart-editions-warming",
        frame(COLD_MINUTES, WARMING_TEMPERATURE),
        [
            Curve("with", drawn[0], fine=True),
            Curve("with", drawn[1]),
            Label(gettext("group; thick: now, thin: before"), time, value, "with", "middle", below=16),
        ],
        says=gettext(WARMING_SAYS).format(apart=f"{apart:.1f}"),
        title=gettext("Warming up with the kit in both editions"),
        description=gettext(
            "Temperature of the group from cold in {older} and in {newer}, up to {apart} kelvin apart."
        ).format(older=older, newer=newer, apart=f"{apart:.1f}"),
        caption=gettext("Thick: {newer}. Thin: {older}.").format(newer=newer, older=older),
        table=Table((gettext("After"), sentence(older), sentence(newer)), list(_rows(old, new, 300.0, MINUTE, "min"))),
    )


def _curve(times: Sequence[float] | None, values: Sequence[float] | None) -> list[Point]:
    """The points of a curve; none where an older record has no such curve, or another one."""
    return list(zip(times, values, strict=True)) if times and values and len(times) == len(values) else []


def _apart(old: Sequence[Point], new: Sequence[Point]) -> float:
    """How far two curves are apart at most, in the values' unit; 0 where there is nothing to compare."""
    before = dict(old)
    return max((abs(value - before[time]) for time, value in new if time in before), default=0.0)


def _rows(old: Sequence[Point], new: Sequence[Point], step: float, unit: float, name: str) -> Iterator[tuple[str, ...]]:
    before = dict(old)
    for time, value in new:
        if time % step == 0 and time in before:
            yield f"{time / unit:g} {name}", f"{before[time]:.1f} °C", f"{value:.1f} °C"


def sentence(words: str) -> str:
    """Words as they begin a sentence.

    >>> sentence("edition 2025.1")
    'Edition 2025.1'
    """
    return words[0].upper() + words[1:]
