"""A shot before and after: the sensor as it is read, the outlet as a band that only a run can settle."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from markupsafe import Markup

from guidegen.language import gettext, marked
from guidegen.record import Assessment, Figure, Trace
from guidegen.record.claims import SETPOINTS, stated
from guidegen.record.curves import Shot
from guidegen.record.drinks import Drink
from guidegen.site.charts.axes import SHOT_HEIGHT, SHOT_SECONDS, SHOT_TEMPERATURE, of_one_machine
from guidegen.site.charts.change import change_with_range
from guidegen.site.charts.figure import Table, chart
from guidegen.site.charts.frame import frame
from guidegen.site.charts.layers import Band, Curve, Dots, Label, Layer, Lead, Point, Reach, Side, Spread
from guidegen.site.charts.quantity import both, in_unit, shown_as, turned
from guidegen.site.charts.words import around, settled

TABLE_STEP_S = 10.0
HARDLY = 0.05
"""A change of less than this share is not worth a word."""
SETPOINT_AT = 1.2
"""Seconds at which the setpoint for the same cup is marked, beside the one of now."""
HIGHER = marked("For the same mean temperature in the cup the kit wants the setpoint {change} higher, at {there}.")
LOWER = marked("For the same mean temperature in the cup the kit wants the setpoint {change} lower, at {there}.")
EITHER = marked("For the same mean temperature in the cup the kit may want the setpoint higher or lower: {there}.")
NEEDS_A_RUN = marked(
    "Bands: water leaving the group, for a boiler that mixes well or hardly at all; only a run with a probe at the "
    "outlet settles it."
)


def shot_chart(record: Assessment) -> Markup:
    """The chart of the record's main drink at equal setpoint."""
    drink = record.drinks[record.shot.drink]
    without, with_kit = (_drop(trace) for trace in (record.shot.without, record.shot.with_))
    says = _says(drink.name, _ratio(record, drink))
    phased = any(side.sensor_drop_phases_k is not None for side in (drink.without, drink.with_))
    if phased:
        says = gettext(
            "With a thermostat a {drink} depends on when in the cycle you pull. This is one moment of many."
        ).format(drink=drink.name)
    return _chart(
        "chart-shot",
        record.shot,
        says=says,
        title=gettext("A {drink} at equal setpoint").format(drink=drink.name),
        description=gettext(
            "Sensor temperature over a minute, both at the same setpoint. Without the kit it falls by "
            "{without} degrees, with the kit by {with_kit} degrees."
        ).format(without=f"{without:.1f}", with_kit=f"{with_kit:.1f}"),
        caption=" ".join(
            (
                _setpoint(record),
                *([gettext("Both start as it switches on.")] if phased else []),
                gettext("Lines: the sensor, with a mark at its lowest."),
                gettext(NEEDS_A_RUN),
                of_one_machine(record),
            )
        ),
    )


def same_cup_chart(record: Assessment) -> Markup | None:
    """The same with the kit at the setpoint that gives the same cup; None where a thermostat has one temperature."""
    setpoint, shot = record.same_cup_degc, record.same_cup_shot
    if shot is None or setpoint.value is None:
        return None
    drink = record.drinks[shot.drink]
    without, with_kit = (_drop(trace) for trace in (shot.without, shot.with_))
    return _chart(
        "chart-same-cup",
        shot,
        says=_says_setpoint(setpoint, record.variant.setpoint_degc),
        title=gettext("A {drink} at equal mean outlet").format(drink=drink.name),
        marks=_setpoints(record, setpoint),
        description=gettext(
            "Sensor temperature over a minute. Without the kit at {own} degrees it falls by {without}, "
            "with the kit at {there} degrees by {with_kit}."
        ).format(
            own=f"{record.variant.setpoint_degc:.0f}",
            without=f"{without:.1f}",
            there=f"{setpoint.value:.0f}",
            with_kit=f"{with_kit:.1f}",
        ),
        caption=" ".join(
            (
                gettext("The stated mixing of the boiler decides by how much."),
                gettext(NEEDS_A_RUN),
                of_one_machine(record),
            )
        ),
    )


def _says_setpoint(setpoint: Figure, now: float) -> str:
    """How the setpoint has to change, as the whole range says: it rests on the outlet, which nobody has measured."""
    value, low, high = (None if one is None else one - now for one in setpoint.ends)
    there = in_unit(setpoint, shown_as("degc"), "°C", only_range=setpoint.ranged)
    change = Figure(value=value, low=low, high=high)
    ends = [one for one in change.ends if one is not None]
    if max(map(abs, ends)) < HARDLY * 10:
        return gettext("For the same mean temperature in the cup the setpoint stays about where it is.")
    if min(ends) < 0 < max(ends):
        return gettext(EITHER).format(there=there)
    words = HIGHER if min(ends) >= 0 else LOWER
    size = change if min(ends) >= 0 else turned(change)
    return gettext(words).format(change=in_unit(size, shown_as("k"), "°C", only_range=change.ranged), there=there)


def _setpoint(record: Assessment) -> str:
    """At what the machine is set, or what stands in for a setpoint that nobody knows."""
    words = gettext("At {setpoint} °C.")
    if not stated(record, SETPOINTS):
        words = gettext("At {setpoint} °C, assumed because the setpoint is not known.")
    return words.format(setpoint=f"{record.variant.setpoint_degc:.0f}")


def _setpoints(record: Assessment, there: Figure) -> tuple[list[Layer], list[list[Label]]]:
    """The setpoint as it is, and the one that gives the same cup, which the sentence speaks of, with its range.

    They stand where the curves begin, at the setpoint; their words where no curve comes, at the top.
    """
    assert there.value is not None
    now = record.variant.setpoint_degc
    layers: list[Layer] = []
    if there.low is not None and there.high is not None:
        layers.append(Spread("with", SETPOINT_AT, there.low, there.high))
    layers.append(Dots("without", [(0.0, now)], large=True))
    layers.append(Dots("with", [(SETPOINT_AT, there.value)], large=True))
    then = in_unit(there, shown_as("degc"), "°C", only_range=there.ranged)
    sides: tuple[tuple[str, Side, float], ...] = (
        (gettext("set now: {setpoint} °C").format(setpoint=f"{now:.0f}"), "without", 34.0),
        (gettext("with the kit: {setpoint}").format(setpoint=then), "with", 51.0),
    )
    top = SHOT_TEMPERATURE.high
    return layers, [[Label(words, SETPOINT_AT, top, side, below=below)] for words, side, below in sides]


def _chart(
    identity: str,
    shot: Shot,
    *,
    says: str,
    title: str,
    description: str,
    caption: str,
    marks: tuple[list[Layer], list[list[Label]]] = ([], []),
) -> Markup:
    layers: list[Layer] = [Reach(0, shot.flow_end_s)]
    sides: tuple[tuple[Side, Trace], ...] = (("without", shot.without), ("with", shot.with_))
    for side, trace in sides:
        layers += _side(side, trace)
    for side, trace in sides:
        layers += _fall(side, trace)
    axes = frame(SHOT_SECONDS, SHOT_TEMPERATURE, height=SHOT_HEIGHT)
    layers += marks[0]
    layers += settled(axes, layers, [*marks[1], *_labels(shot)])
    return chart(
        identity,
        axes,
        layers,
        says=says,
        title=title,
        description=description,
        caption=caption,
        table=_table(shot),
    )


def _drop(trace: Trace) -> float:
    """From the start to the lowest until a minute after the end, as the curve shows it."""
    return trace.sensor_degc[0] - min(trace.sensor_degc)


def _fallen(trace: Trace) -> str:
    """The drop with a minus, which a drop of nothing has not."""
    drop = f"{_drop(trace):.1f}"
    return f"−{drop}" if float(drop) else drop.removeprefix("-")


def _ratio(record: Assessment, drink: Drink) -> Figure:
    """The ratio that the sentence says: the record's, over all draws; the curve's own where there are none."""
    if record.typical and all(one.sensor_drop_k.value is not None for one in (drink.without, drink.with_)):
        return drink.drop_ratio.sensor
    without, with_kit = (_drop(trace) for trace in (record.shot.without, record.shot.with_))
    return Figure(value=with_kit / without if without > 0 else None)


def _says(drink: str, ratio: Figure) -> str:
    """What to see, in one sentence that holds for the whole range."""
    ends = [one for one in (ratio.ends[1:] if ratio.ranged else ratio.ends[:1]) if one is not None]
    if not ends or all(abs(one - 1) < HARDLY for one in ends):
        return gettext("In a {drink} the kit hardly changes what the sensor sees.").format(drink=drink)
    words = gettext("In a {drink} the dip is {change} with the kit.")
    return words.format(drink=drink, change=change_with_range(ratio))


def _side(side: Side, trace: Trace) -> list[Layer]:
    sensor = list(zip(trace.time_s, trace.sensor_degc, strict=True))
    layers: list[Layer] = []
    lower, upper = _known(trace.time_s, trace.outlet_low_degc), _known(trace.time_s, trace.outlet_high_degc)
    if lower and upper:
        layers.append(Band(side, lower, upper))
    elif outlet := _known(trace.time_s, trace.outlet_degc):
        layers.append(Curve(side, outlet, fine=True))
    layers.append(Curve(side, sensor))
    return layers


def _lowest(trace: Trace) -> Point | None:
    """When the sensor is lowest, and how low; None where the drawing ends before."""
    value, time = min(zip(trace.sensor_degc, trace.time_s, strict=True))
    return (time, value) if time <= SHOT_SECONDS.high else None


def _fall(side: Side, trace: Trace) -> Iterator[Layer]:
    """From where the sensor stood down to its lowest, which the sentence above speaks of."""
    low, start = _lowest(trace), trace.sensor_degc[0]
    if low is not None:
        yield Lead([(0.0, start), (low[0], start), low], side)
        yield Dots(side, [low], large=True)


def _labels(shot: Shot) -> Iterator[list[Label]]:
    """The lower line's words below its lowest point, the higher one's above; the bands' beside their ends."""
    falls = {True: marked("without {drop} °C"), False: marked("with the kit {drop} °C")}
    names = {True: gettext("without the kit"), False: gettext("with the kit")}
    bands = {True: gettext("outlet range, without"), False: gettext("outlet range, with")}
    last = SHOT_SECONDS.high * 0.9
    below = min(shot.without.sensor_degc) <= min(shot.with_.sensor_degc)
    both_sides = ((True, shot.without), (False, shot.with_))
    for is_without, trace in both_sides if below else both_sides[::-1]:
        side: Side = "without" if is_without else "with"
        low = _lowest(trace)
        above = is_without != below
        if low is None:
            at = max(i for i, time in enumerate(trace.time_s) if time <= last)
            yield around(names[is_without], trace.time_s[at], trace.sensor_degc[at], side, above=above)
        else:
            yield around(gettext(falls[is_without]).format(drop=_fallen(trace)), *low, side, above=above)
    for is_without, trace in both_sides:
        ends = list(zip(trace.time_s, trace.outlet_low_degc, trace.outlet_high_degc, strict=False))
        known = [(time, low, high) for time, low, high in ends if low is not None and high is not None]
        if known:
            time, low_end, high_end = known[-1]
            at_height = low_end + (high_end - low_end) * (0.15 if is_without else 0.5)
            yield around(bands[is_without], time, at_height, "without" if is_without else "with", above=False)
    words = gettext("water flows")
    yield [
        Label(words, shot.flow_end_s / 2, height, anchor="middle", below=below)
        for height, below in ((SHOT_TEMPERATURE.high, 16.0), (SHOT_TEMPERATURE.low, -8.0))
    ]


def _known(times: Sequence[float], values: Sequence[float | None]) -> list[Point]:
    return [(time, value) for time, value in zip(times, values, strict=False) if value is not None]


def _table(shot: Shot) -> Table:
    """Both sensors every ten seconds, and the water leaving the group while it flows."""
    rows = []
    for i, time in enumerate(shot.without.time_s):
        if time % TABLE_STEP_S == 0:
            ends = (_ends(shot.without, i), _ends(shot.with_, i))
            rows.append(
                (f"{time:.0f} s", _degrees(shot.without.sensor_degc[i]), _degrees(shot.with_.sensor_degc[i]), *ends)
            )
    heads = (gettext("Time"), gettext("Sensor without"), gettext("Sensor with the kit"),
             gettext("Leaving the group without"), gettext("Leaving the group with"))  # fmt: skip
    return Table(heads, rows)


def _degrees(value: float) -> Markup:
    return both(Figure(value=value, low=value - TENTHS, high=value + TENTHS), shown_as("degc"))


TENTHS = 1.0
"""K of half-width: prints tenths of a degree."""


def _ends(trace: Trace, i: int) -> Markup:
    low, high = (values[i] if values else None for values in (trace.outlet_low_degc, trace.outlet_high_degc))
    if low is None or high is None:
        return Markup("")
    return both(Figure(value=(low + high) / 2, low=low, high=high), shown_as("degc"), only_range=True)
