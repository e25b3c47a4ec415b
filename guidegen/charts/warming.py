"""From cold: how sensor, group and coil come up in the first half hour."""

from __future__ import annotations

from markupsafe import Markup

from guidegen.charts.axes import COLD_MINUTES, WARMING_TEMPERATURE, origin
from guidegen.charts.figure import Curve, Label, Layer, Side, Table, chart
from guidegen.charts.frame import frame
from guidegen.charts.quantity import both, in_unit, shown_as
from guidegen.record import Assessment, Figure
from guidegen.record.computed import ColdSide

MINUTE = 60.0
TABLE_STEP_S = 300.0
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
    heads = ["After", "Sensor without", "Group without", "Sensor with the kit", "Group with the kit"]
    if cold.with_.coil_degc:
        heads.append("Water in the coil")
    return chart(
        "chart-warming",
        frame(COLD_MINUTES, WARMING_TEMPERATURE),
        layers,
        says=_says(record),
        title="Warming up",
        description=_description(record),
        caption=f"Dashed: without the kit. Thin: the sensor. {origin(record)}",
        table=Table(heads, _rows(record)),
    )


def _labels(found: ColdSide, minutes: list[float]) -> list[Layer]:
    """Names at the right end, kept a line's height apart."""
    middle = len(minutes) * 2 // 3
    wanted: list[tuple[float, str, Side | None]] = [(found.sensor_degc[middle], "sensor", None)]
    wanted.append((found.group_degc[middle], "group", None))
    if found.coil_degc:
        wanted.append((found.coil_degc[middle], "water in the coil", "with"))
    labels: list[Layer] = []
    for i, (value, name, side) in enumerate(sorted(wanted, key=lambda one: -one[0])):
        # The hottest is named above its line, the others below theirs.
        labels.append(Label(name, minutes[middle], value, side, "middle", below=-7 if i == 0 else 16))
    return labels


def _says(record: Assessment) -> str:
    added, means = record.warm_up.added_s, record.warm_up.added_means
    if added.value is None:
        return "The boiler is hot long before the group is."
    if abs(added.value) < MINUTE / 2:
        return f"Counted to {means}, the kit changes the warm-up by less than half a minute."
    half = abs(added.high - added.low) / 2 if added.low is not None and added.high is not None else None
    size = abs(added.value)
    shown = Figure(value=size, low=size - half, high=size + half) if half else Figure(value=size)
    later = in_unit(shown, shown_as("s"), "s")
    return f"Counted to {means}, the machine is ready {later} {'later' if added.value > 0 else 'earlier'} with the kit."


def _description(record: Assessment) -> str:
    parts = []
    for name, side in (("Without", record.warm_up.without), ("With", record.warm_up.with_)):
        for what, figure in (
            ("boiler", side.boiler_ready_s),
            ("group", side.group_ready_s),
            ("coil", side.coil_settled_s),
        ):
            if figure.value is not None:
                parts.append(f"{name} the kit the {what} is ready after {figure.value / MINUTE:.1f} minutes")
    return "; ".join(parts) or "Temperatures rise from the room's to their values at rest."


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
        rows.append([f"{time / MINUTE:g} min", *(both(Figure(value=column[i]), celsius) for column in columns)])
    return rows
