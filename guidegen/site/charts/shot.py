"""A shot before and after: the sensor as it is read, the outlet as a band that only a run can settle."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from guidegen.language import gettext, marked
from guidegen.record import Assessment, Figure, Trace
from guidegen.record.claims import SETPOINTS, stated
from guidegen.record.curves import Shot
from guidegen.record.drinks import Drink
from guidegen.record.places import HEADLINES, way
from guidegen.site.charts.axes import SHOT_SECONDS, SHOT_TEMPERATURE, of_one_machine
from guidegen.site.charts.figure import Band, Curve, Label, Layer, Point, Reach, Side, Table, chart
from guidegen.site.charts.frame import frame
from guidegen.site.charts.quantity import both, in_unit, shown_as, turned

TABLE_STEP_S = 10.0
HARDLY = 0.05
"""A change of less than this share is not worth a word."""
FLOW_LABEL = 81.0
HIGHER = marked("For the same mean temperature in the cup the kit wants the setpoint {change} higher, at {there}.")
LOWER = marked("For the same mean temperature in the cup the kit wants the setpoint {change} lower, at {there}.")
EITHER = marked("For the same mean temperature in the cup the kit may want the setpoint higher or lower: {there}.")
SAYS = {
    "more": marked("In a {drink} with the kit the sensor still drops, and further: {ratio} times as far."),
    "less": marked("In a {drink} with the kit the sensor drops {ratio} times as far."),
    "either": marked("In a {drink} with the kit the sensor may drop less far, or further: {ratio} times as far."),
}
NEEDS_A_RUN = marked(
    "Bands: water leaving the group, for a boiler that mixes well to hardly; only a run with a probe at the outlet "
    "settles it."
)


def shot_chart(record: Assessment) -> Markup:
    """The chart of the record's main drink at equal setpoint."""
    drink = record.drinks[record.shot.drink]
    without, with_kit, ratio = _drops(record, drink)
    says = _says(drink.name, ratio)
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
            "Sensor temperature over three minutes, both at the same setpoint. Without the kit it falls by "
            "{without} degrees, with the kit by {with_kit} degrees."
        ).format(without=f"{without:.1f}", with_kit=f"{with_kit:.1f}"),
        caption=" ".join(
            (
                _setpoint(record),
                *([gettext("Both start as it switches on.")] if phased else []),
                gettext("Lines: the sensor."),
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
        description=gettext(
            "Sensor temperature over three minutes. Without the kit at {own} degrees it falls by {without}, "
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
        words = gettext("At {setpoint} °C, which stands in for a setpoint that nobody knows.")
    return words.format(setpoint=f"{record.variant.setpoint_degc:.0f}")


def _chart(identity: str, shot: Shot, *, says: str, title: str, description: str, caption: str) -> Markup:
    layers: list[Layer] = [Reach(0, shot.flow_end_s)]
    layers += _side("without", shot.without)
    layers += _side("with", shot.with_)
    layers += _labels(shot)
    return chart(
        identity,
        frame(SHOT_SECONDS, SHOT_TEMPERATURE),
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


def _drops(record: Assessment, drink: Drink) -> tuple[float, float, Figure]:
    """What the chart's words say: the record's drops and their ratio; the curve's own where there are none."""
    found = drink.without.sensor_drop_k.value, drink.with_.sensor_drop_k.value
    if record.typical and found[0] is not None and found[1] is not None:
        return found[0], found[1], drink.drop_ratio.sensor
    without, with_kit = (_drop(trace) for trace in (record.shot.without, record.shot.with_))
    return without, with_kit, Figure(value=with_kit / without if without > 0 else None)


def _says(drink: str, ratio: Figure) -> str:
    """What to see, in one sentence that holds for the whole range."""
    ends = [one for one in (ratio.ends[1:] if ratio.ranged else ratio.ends[:1]) if one is not None]
    if not ends or all(abs(one - 1) < HARDLY for one in ends):
        return gettext("In a {drink} the kit hardly changes what the sensor sees.").format(drink=drink)
    found = way(HEADLINES[0].place, ratio)
    times = in_unit(ratio, shown_as("ratio"), "", only_range=ratio.ranged)
    return gettext(SAYS[found]).format(drink=drink, ratio=times)


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


def _labels(shot: Shot) -> list[Layer]:
    """Words beside the lines where nothing else runs: the higher line's above both, the lower one's below both."""
    start = shot.flow_end_s + 6
    near = [
        (one, other)
        for time, one, other in zip(shot.without.time_s, shot.without.sensor_degc, shot.with_.sensor_degc, strict=True)
        if shot.flow_end_s <= time <= start + 70
    ]
    above, below = max(map(max, near)) + 1.2, min(map(min, near)) - 2.2
    with_is_higher = near[0][1] >= near[0][0]
    names: dict[bool, tuple[str, Side]] = {
        True: (gettext("sensor with the kit"), "with"),
        False: (gettext("sensor without"), "without"),
    }
    (upper, upper_side), (lower, lower_side) = names[with_is_higher], names[not with_is_higher]
    top, bottom = SHOT_TEMPERATURE.high - 2, SHOT_TEMPERATURE.low + 1
    labels: list[Layer] = [
        Label(upper, start, min(above, top), upper_side),
        Label(lower, start, max(below, bottom + 2), lower_side),
        Label(gettext("flow"), shot.flow_end_s / 2, FLOW_LABEL, anchor="middle"),
    ]
    ends = [value for trace in (shot.without, shot.with_) for value in trace.outlet_low_degc if value is not None]
    if ends:
        labels.append(Label(gettext("leaving the group"), start, max(min(min(ends) + 1, below - 2.5), bottom), None))
    return labels


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
