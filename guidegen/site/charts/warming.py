"""From cold: how sensor, group and coil come up in the first half hour."""

from __future__ import annotations

from markupsafe import Markup

from guidegen.language import gettext, marked
from guidegen.record import Assessment, Figure
from guidegen.record.curves import ColdSide
from guidegen.record.places import way
from guidegen.site.charts.axes import COLD_MINUTES, WARMING_TEMPERATURE, of_one_machine
from guidegen.site.charts.figure import Curve, Label, Layer, Side, Table, chart
from guidegen.site.charts.frame import frame
from guidegen.site.charts.quantity import both, in_unit, shown_as, turned

MINUTE = 60.0
TABLE_STEP_S = 300.0
TENTHS = (Figure(value=99.9),)
"""What the curves' temperatures are printed like: to tenths of a degree."""
SAYS = {
    "more": marked("Counted to {means}, the machine is ready {time} later with the kit."),
    "less": marked("Counted to {means}, the machine is ready {time} earlier with the kit."),
    "either": marked("Counted to {means}, the machine may be ready later with the kit, or earlier: {time}."),
}
SIDES: tuple[Side, ...] = ("without", "with")


def warming(record: Assessment) -> Markup:
    """Temperatures from switching on, without and with the kit."""
    cold = record.from_cold
    minutes = [time / MINUTE for time in cold.time_s]
    layers: list[Layer] = []
    for side, found in zip(SIDES, (cold.without, cold.with_), strict=True):
        layers.append(Curve(side, list(zip(minutes, found.sensor_degc, strict=True)), fine=True))
        layers.append(Curve(side, list(zip(minutes, found.group_degc, strict=True))))
        if found.coil_degc:
            layers.append(Curve(side, list(zip(minutes, found.coil_degc, strict=True))))
    layers += _labels(cold.with_, minutes)
    heads = [gettext("After"), gettext("Sensor without"), gettext("Group without"), gettext("Sensor with the kit"),
             gettext("Group with the kit")]  # fmt: skip
    if cold.with_.coil_degc:
        heads.append(gettext("Water in the coil"))
    return chart(
        "chart-warming",
        frame(COLD_MINUTES, WARMING_TEMPERATURE),
        layers,
        says=_says(record),
        title=gettext("Warming up"),
        description=_description(record),
        caption=" ".join((gettext("Dashed: without the kit. Thin: the sensor."), of_one_machine(record))),
        table=Table(heads, _rows(record)),
    )


def _labels(found: ColdSide, minutes: list[float]) -> list[Layer]:
    """Names at the right end, kept a line's height apart."""
    middle = len(minutes) * 2 // 3
    wanted: list[tuple[float, str, Side | None]] = [(found.sensor_degc[middle], gettext("sensor"), None)]
    wanted.append((found.group_degc[middle], gettext("group"), None))
    if found.coil_degc:
        wanted.append((found.coil_degc[middle], gettext("water in the coil"), "with"))
    labels: list[Layer] = []
    for i, (value, name, side) in enumerate(sorted(wanted, key=lambda one: -one[0])):
        # The hottest is named above its line, the others below theirs.
        labels.append(Label(name, minutes[middle], value, side, "middle", below=-7 if i == 0 else 16))
    return labels


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
