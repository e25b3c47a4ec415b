"""From cold: how sensor, group and coil come up in the first half hour."""

from __future__ import annotations

from collections.abc import Iterator

from markupsafe import Markup

from guidegen.language import gettext, marked
from guidegen.record import Assessment, Figure
from guidegen.record.computed import WarmUpSide
from guidegen.record.curves import ColdSide, FromCold
from guidegen.record.places import way
from guidegen.site.charts.axes import COLD_MINUTES, WARMING_TEMPERATURE, of_one_machine
from guidegen.site.charts.figure import Table, chart
from guidegen.site.charts.frame import frame
from guidegen.site.charts.layers import Curve, Dots, Label, Layer, Lead, Side
from guidegen.site.charts.quantity import both, in_unit, shown_as, turned
from guidegen.site.charts.words import around, settled
from guidegen.units import NARROW_SPACE

MINUTE = 60.0
TABLE_STEP_S = 300.0
TENTHS = (Figure(value=99.9),)
"""What the curves' temperatures are printed like: to tenths of a degree."""
SAYS = {
    "more": marked("Counted to {means}, the machine is ready {time} later with the kit."),
    "less": marked("Counted to {means}, the machine is ready {time} earlier with the kit."),
    "either": marked("Counted to {means}, the machine may be ready later with the kit, or earlier: {time}."),
}
HEIGHT = 360.0
ALIKE_K = 2.5
"""Lines that are closer than this share one name."""
ARROW = 27.0
"""Height in °C of the arrow between the two marks: under the curves, over the marks' words."""
LEAST_ARROW = 1.0
"""Minutes: two marks that are closer have no room for an arrow."""


def warming(record: Assessment) -> Markup:
    """Temperatures from switching on, without and with the kit, and when either is ready."""
    cold = record.from_cold
    minutes = [time / MINUTE for time in cold.time_s]
    layers: list[Layer] = []
    # Without the kit comes last: a dashed line over a solid one is seen, under it it is not.
    drawn: tuple[tuple[Side, ColdSide], ...] = (("with", cold.with_), ("without", cold.without))
    for side, found in drawn:
        layers += _curves(side, found, minutes)
    marks, names = _ready(record)
    layers += marks
    axes = frame(COLD_MINUTES, WARMING_TEMPERATURE, height=HEIGHT)
    layers += settled(axes, layers, [*names, *_labels(cold, minutes)])
    heads = [gettext("After"), gettext("Sensor without"), gettext("Group without"), gettext("Sensor with the kit"),
             gettext("Group with the kit")]  # fmt: skip
    if cold.with_.coil_degc:
        heads.append(gettext("Water in the coil"))
    return chart(
        "chart-warming",
        axes,
        layers,
        says=_says(record),
        title=gettext("Warming up"),
        description=_description(record),
        caption=" ".join(
            (
                gettext("Dashed: without the kit. Thin: the sensor. Vertical: when it is ready, the median."),
                of_one_machine(record),
            )
        ),
        table=Table(heads, _rows(record)),
    )


def _curves(side: Side, found: ColdSide, minutes: list[float]) -> Iterator[Layer]:
    yield Curve(side, list(zip(minutes, found.sensor_degc, strict=True)), fine=True)
    yield Curve(side, list(zip(minutes, found.group_degc, strict=True)))
    if found.coil_degc:
        yield Curve(side, list(zip(minutes, found.coil_degc, strict=True)))


def _labels(cold: FromCold, minutes: list[float]) -> Iterator[list[Label]]:
    """What each line is: one name where both sides lie on each other, else one for each."""
    columns: list[tuple[str, tuple[float, ...], tuple[float, ...]]] = [
        (gettext("sensor"), cold.without.sensor_degc, cold.with_.sensor_degc),
        (gettext("group"), cold.without.group_degc, cold.with_.group_degc),
    ]
    for name, without, with_kit in columns:
        i = len(minutes) * 2 // 3
        above = name == columns[0][0]
        if abs(without[i] - with_kit[i]) < ALIKE_K:
            words = gettext("{line}, with and without").format(line=name)
            yield _beside(words, minutes, max((without, with_kit), key=lambda one: one[i]), None, above)
        else:
            higher = with_kit[i] > without[i]
            words = gettext("{line} with the kit").format(line=name)
            yield _beside(words, minutes, with_kit, "with", higher)
            yield _beside(gettext("{line} without").format(line=name), minutes, without, "without", not higher)
    if cold.with_.coil_degc:
        yield _beside(gettext("water in the coil"), minutes, cold.with_.coil_degc, "with", False)


def _beside(words: str, minutes: list[float], line: tuple[float, ...], side: Side | None, above: bool) -> list[Label]:
    """Places along a line, from two thirds of it on to either side."""
    places = [len(minutes) * part // 12 for part in (8, 6, 9, 5, 4)]
    found = [around(words, minutes[i], line[i], side, above=above) for i in places]
    return [one for near in zip(*found, strict=True) for one in near]


def _ready(record: Assessment) -> tuple[list[Layer], list[list[Label]]]:
    """The marks at which either side is ready, their words, and between them what the sentence says."""
    layers: list[Layer] = []
    names: list[list[Label]] = []
    times: list[float] = []
    sides: tuple[tuple[Side, WarmUpSide, float], ...] = (
        ("without", record.warm_up.without, 16.0), ("with", record.warm_up.with_, 5.0),
    )  # fmt: skip
    by_shot = all(one.shot_ready_s.value is not None for _, one, _ in sides)
    for side, found, height in sides:
        figure = _last(found, by_shot)
        if figure is None or figure.value is None:
            continue
        at = min(figure.value / MINUTE, COLD_MINUTES.high)
        times.append(at)
        layers.append(Lead([(at, WARMING_TEMPERATURE.low), (at, WARMING_TEMPERATURE.high)], side))
        layers.append(Dots(side, [(at, height + 2)], large=True))
        time = f"{figure.value / MINUTE:.{0 if figure.value >= 10 * MINUTE else 1}f}{NARROW_SPACE}min"
        words = gettext("ready without: {time}") if side == "without" else gettext("ready with the kit: {time}")
        names.append(_either(words.format(time=time), at, height, side))
    added = record.warm_up.added_s
    if len(times) == 2 and by_shot and abs(times[1] - times[0]) > LEAST_ARROW:
        layers.append(Lead([(times[0], ARROW), (times[1], ARROW)], ends=True))
        words = marked("{time} later") if times[1] > times[0] else marked("{time} earlier")
        size = added if times[1] > times[0] else turned(added)
        words = gettext(words).format(time=in_unit(size, shown_as("s"), "s"))
        names.append([Label(words, sum(times) / 2, ARROW, None, "middle", below=-5)])
    return layers, names


def _last(found: WarmUpSide, by_shot: bool) -> Figure | None:
    """When the last of what counts is ready; None where one of them never gets there."""
    if by_shot:
        return found.shot_ready_s
    known = [found.boiler_ready_s, found.group_ready_s]
    if found.coil_settled_s.ranged or found.coil_settled_s.value is not None:
        known.append(found.coil_settled_s)
    if any(one.value is None for one in known):
        return None
    return max(known, key=lambda one: one.value or 0.0)


def _either(words: str, x: float, y: float, side: Side) -> list[Label]:
    """To the right of a mark, to its left, or over it where there is room on neither side."""
    return [
        Label(words, x, y, side, "start", right=8),
        Label(words, x, y, side, "end", right=-8),
        Label(words, x, y, side, "middle", below=-4),
    ]


def _says(record: Assessment) -> str:
    added, means = record.warm_up.added_s, record.warm_up.added_means
    if added.value is None:
        return gettext("The boiler is hot long before the group is.")
    if max(abs(one) for one in added.ends if one is not None) < MINUTE / 2:
        words = gettext("Counted to {means}, the kit changes the warm-up by less than half a minute.")
        return words.format(means=means)
    found = way("warm_up.added_s", added)
    size = turned(added) if found == "less" else added
    time = in_unit(size, shown_as("s"), "s", only_range=found == "either")
    return gettext(SAYS[found]).format(means=means, time=time)


def _description(record: Assessment) -> str:
    parts = []
    without, with_kit = record.warm_up.without, record.warm_up.with_
    for words, figure in (
        (marked("Without the kit the boiler is ready after {minutes} minutes"), without.boiler_ready_s),
        (marked("Without the kit the group is ready after {minutes} minutes"), without.group_ready_s),
        (marked("Without the kit the coil is ready after {minutes} minutes"), without.coil_settled_s),
        (marked("With the kit the boiler is ready after {minutes} minutes"), with_kit.boiler_ready_s),
        (marked("With the kit the group is ready after {minutes} minutes"), with_kit.group_ready_s),
        (marked("With the kit the coil is ready after {minutes} minutes"), with_kit.coil_settled_s),
    ):
        if figure.value is not None:
            parts.append(gettext(words).format(minutes=f"{figure.value / MINUTE:.1f}"))
    return "; ".join(parts) or gettext("Temperatures rise from the room's to their values at rest.")


def _rows(record: Assessment) -> list[list[str | Markup]]:
    cold = record.from_cold
    celsius = shown_as("degc")
    rows: list[list[str | Markup]] = []
    for i, time in enumerate(cold.time_s):
        if time % TABLE_STEP_S and time not in (60.0, 120.0):
            continue
        columns = [cold.without.sensor_degc, cold.without.group_degc, cold.with_.sensor_degc, cold.with_.group_degc]
        if cold.with_.coil_degc:
            columns.append(cold.with_.coil_degc)
        rows.append(
            [f"{time / MINUTE:g} min", *(both(Figure(value=column[i]), celsius, like=TENTHS) for column in columns)]
        )
    return rows
