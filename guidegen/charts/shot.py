"""A shot before and after: the sensor as it is read, the outlet as a band that only a run can settle."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from guidegen.charts.figure import Band, Curve, Label, Layer, Point, Side, Span, Table, chart
from guidegen.charts.frame import Axis, frame
from guidegen.record import Assessment, Trace
from guidegen.record.computed import Shot


def _fahrenheit(celsius: float) -> float:
    return celsius * 9 / 5 + 32


SECONDS = Axis("seconds from the start of the shot", 0, 180, (0, 30, 60, 90, 120, 150, 180))
TEMPERATURE = Axis(
    "°C", 80, 115, (80, 85, 90, 95, 100, 105, 110, 115), None, "°F", _fahrenheit, (180, 190, 200, 210, 220, 230)
)
TABLE_STEP_S = 10.0


def shot_chart(record: Assessment) -> Markup:
    """The chart of the record's main drink at equal setpoint."""
    axes = frame(SECONDS, TEMPERATURE)
    shot = record.shot
    drink = record.drinks[shot.drink]
    without, with_kit = drink.without.sensor_drop_k.value, drink.with_.sensor_drop_k.value
    if without is None or with_kit is None:
        raise ValueError("a shot always has a drop")
    layers: list[Layer] = [Span(0, shot.flow_end_s)]
    layers += _side("without", shot.without)
    layers += _side("with", shot.with_)
    layers += _labels(shot)
    return chart(
        "chart-shot",
        axes,
        layers,
        says=_says(drink.name, without, with_kit),
        title=f"Temperatures during and after a {drink.name.lower()}",
        description=(
            f"Sensor temperature over three minutes. Without the kit it falls by {without:.1f} kelvin, "
            f"with the kit by {with_kit:.1f} kelvin."
        ),
        caption=(
            f"Computed for {record.variant.name} at {record.variant.setpoint_degc:.0f} °C, edition "
            f"{record.edition}. Lines: the sensor. Bands: water leaving the group, for a boiler that mixes well "
            "to hardly; this needs a run with a probe at the outlet."
        ),
        table=_table(shot.without, shot.with_),
    )


SHADE_TEXT = 81.0


def _says(drink: str, without: float, with_kit: float) -> str:
    """What to see, in one sentence, from the same numbers as the curves."""
    if abs(with_kit - without) < 0.05 * abs(without):
        return f"In a {drink.lower()} the kit hardly changes what the sensor sees."
    word = "drops" if with_kit < without else "still drops, and further:"
    return f"In a {drink.lower()} with the kit the sensor {word} {with_kit / without:.2f} times as far."


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
    """Words beside the lines, where nothing else runs: below the lower dip, above both lines, in the draw."""
    start = shot.flow_end_s + 6
    beside = [
        max(one, other)
        for time, one, other in zip(
            shot.without.time_s, shot.without.sensor_degc, shot.with_.sensor_degc, strict=True
        )
        if start <= time <= start + 70
    ]
    lowest = min(shot.without.sensor_degc)
    return [
        Label("sensor with the kit", start, min(max(beside) + 1.2, TEMPERATURE.high - 2), "with"),
        Label("sensor without", start, max(lowest - 1.5, TEMPERATURE.low + 4), "without"),
        Label("leaving the group", start, _outlet_height(shot), None),
        Label("flow", shot.flow_end_s / 2, SHADE_TEXT, anchor="middle"),
    ]


def _outlet_height(shot: Shot) -> float:
    """Where the outlet's label stands: at the end of its bands, clear of the other labels."""
    ends = [value for trace in (shot.without, shot.with_) for value in trace.outlet_low_degc if value is not None]
    return min(max(min(ends, default=88.0) + 1, TEMPERATURE.low + 2), min(shot.without.sensor_degc) - 4)


def _known(times: Sequence[float], values: Sequence[float | None]) -> list[Point]:
    return [(time, value) for time, value in zip(times, values, strict=False) if value is not None]


def _table(without: Trace, with_kit: Trace) -> Table:
    """Both sensors every ten seconds."""
    pairs = zip(without.time_s, without.sensor_degc, with_kit.sensor_degc, strict=True)
    rows = [
        (f"{time:.0f} s", f"{one:.1f} °C", f"{other:.1f} °C") for time, one, other in pairs if time % TABLE_STEP_S == 0
    ]
    return Table(("Time", "Sensor without", "Sensor with the kit"), rows)
