"""The measured curve of one side over the computed range, both as the same probe shows them."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from guidegen.language import gettext, marked
from guidegen.record import Assessment, Figure
from guidegen.record.measured import MeasuredCurve
from guidegen.site.charts.axes import SHOT_HEIGHT, SHOT_SECONDS, SHOT_TEMPERATURE, origin
from guidegen.site.charts.figure import Table, chart
from guidegen.site.charts.frame import frame
from guidegen.site.charts.layers import Band, Curve, Label, Layer, Point, Side
from guidegen.site.charts.quantity import both, shown_as
from guidegen.site.charts.words import around, settled

TABLE_STEP_S = 10.0
TITLES: dict[Side, str] = {
    "without": marked("Measured without the kit, over the computed range"),
    "with": marked("Measured with the kit, over the computed range"),
}
INSIDE: dict[Side, str] = {
    "without": marked("Without the kit {percent} % of the logged points lie in the computed range."),
    "with": marked("With the kit {percent} % of the logged points lie in the computed range."),
}
NEARLY_ALIKE = 1.5
"""K: shots that differ by less are one line in the drawing."""
LINE, SHOTS, RANGE = marked("measured, mean"), marked("lowest and highest shot"), marked("computed range")


def measured_chart(record: Assessment, side: Side) -> Markup | None:
    """The chart of one side; None where nobody logged it."""
    found = record.measured
    curve = None if found is None else found.without if side == "without" else found.with_
    if found is None or curve is None:
        return None
    last = sum(time <= SHOT_SECONDS.high for time in curve.time_s)
    axes = frame(SHOT_SECONDS, SHOT_TEMPERATURE, height=SHOT_HEIGHT)
    layers, labels = _drawn(side, curve, last)
    title = gettext(TITLES[side])
    caption = [gettext("Line: the mean of all shots from rest.")]
    if _apart(curve):
        caption.append(gettext("Thin lines: the lowest and the highest of them."))
    if curve.inside is not None:
        caption.append(
            gettext("Band: what is computed, through the lag of the same probe, from where the measured line starts.")
        )
    if found.invented:
        caption.append(gettext("These logs are invented; nobody measured them."))
    return chart(
        f"chart-measured-{side}",
        axes,
        [*layers, *settled(axes, layers, labels)],
        says=says_inside(curve, side) or gettext("The sensor as it was logged; no range was computed."),
        title=title,
        description=gettext(
            "Sensor temperature over a minute: the measured mean starts at {start} degrees and falls to {lowest}."
        ).format(start=f"{curve.mean_degc[0]:.1f}", lowest=f"{min(curve.mean_degc[:last]):.1f}"),
        caption=" ".join((*caption, origin(record))),
        table=_table(curve),
    )


def says_inside(curve: MeasuredCurve, side: Side) -> str:
    """How much of what was logged the computation holds; empty where no range was computed."""
    return "" if curve.inside is None else gettext(INSIDE[side]).format(percent=f"{100 * curve.inside:.0f}")


def _apart(curve: MeasuredCurve) -> bool:
    """Whether the shots differ by enough to be drawn beside their mean."""
    return max(high - low for low, high in zip(curve.low_degc, curve.high_degc, strict=True)) > NEARLY_ALIKE


def _drawn(side: Side, curve: MeasuredCurve, last: int) -> tuple[list[Layer], list[list[Label]]]:
    def points(values: Sequence[float]) -> list[Point]:
        ends = SHOT_TEMPERATURE.low, SHOT_TEMPERATURE.high
        return [(x, min(max(y, ends[0]), ends[1])) for x, y in zip(curve.time_s[:last], values[:last], strict=True)]

    layers: list[Layer] = []
    labels: list[list[Label]] = []
    if curve.computed_low_degc is not None and curve.computed_high_degc is not None:
        low, high = points(curve.computed_low_degc), points(curve.computed_high_degc)
        layers.append(Band(side, low, high))
        labels.append(around(gettext(RANGE), *high[len(high) * 2 // 3], side, above=False))
    mean = points(curve.mean_degc)
    if _apart(curve):
        layers += [Curve(side, points(values), fine=True) for values in (curve.low_degc, curve.high_degc)]
        labels.append(around(gettext(SHOTS), *points(curve.low_degc)[len(mean) // 2], side, above=False))
    layers.append(Curve(side, mean))
    labels.append(around(gettext(LINE), *mean[len(mean) // 2], side, above=_apart(curve)))
    return layers, labels


def _table(curve: MeasuredCurve) -> Table:
    heads = (gettext("Time"), gettext("Measured, mean"), gettext("Shots, lowest to highest"), gettext("Computed range"))
    rows = []
    for at, time in enumerate(curve.time_s):
        if time % TABLE_STEP_S == 0:
            lows, highs = curve.computed_low_degc, curve.computed_high_degc
            computed = _ends(lows[at], highs[at]) if lows is not None and highs is not None else Markup("—")
            mean = Figure(value=curve.mean_degc[at], low=curve.mean_degc[at] - 1.0, high=curve.mean_degc[at] + 1.0)
            ends = _ends(curve.low_degc[at], curve.high_degc[at])
            rows.append((f"{time:.0f} s", both(mean, shown_as("degc")), ends, computed))
    return Table(heads, rows)


def _ends(low: float, high: float) -> Markup:
    figure = Figure(value=(low + high) / 2, low=low, high=high)
    return both(figure, shown_as("degc"), only_range=True) if high > low else both(figure, shown_as("degc"))
