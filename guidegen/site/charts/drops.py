"""Drops of the sensor: by drink, in a second drink after a wait, and in a first drink after switching on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from markupsafe import Markup

from guidegen.language import gettext, marked
from guidegen.record import Assessment, Figure
from guidegen.record.drinks import Drink, DrinkSide
from guidegen.site.charts.axes import (
    DROP_ACROSS,
    DROP_UP,
    WAITED_MINUTES,
    origin,
    rows_of,
    short,
    shown_value,
)
from guidegen.site.charts.change import over, signed
from guidegen.site.charts.figure import Table, chart
from guidegen.site.charts.frame import frame
from guidegen.site.charts.layers import Band, Bar, Curve, Dots, Label, Layer, Point, Side, Spread
from guidegen.site.charts.words import around, settled

ROW = 62.0
"""Height of a row with a name and two bars."""
MINUTE = 60.0
SECOND_HEIGHT = 360.0
ASIDE = 128.0
"""Room for the values beside the bars, in one column."""
PHASED = marked(
    "With a thermostat a drop depends on when in its cycle you pull: bars and whiskers are of the drop that is "
    "expected over the cycle."
)


def by_drink(record: Assessment) -> Markup:
    """Bars by drink, without and with the kit, with their ranges as whiskers."""
    drinks = list(record.drinks.values())
    ratios = [one.drop_ratio.sensor for one in drinks if one.drop_ratio.sensor.value is not None]
    layers = [layer for i, drink in enumerate(drinks) for layer in _row(drink, float(len(drinks) - i), ratios)]
    if any(one.ranged for one in ratios):
        words = gettext("whiskers: ranges")
        layers.append(Label(words, DROP_ACROSS.high, len(drinks) - 0.24, anchor="end", right=-2))
    drops = [side.sensor_drop_k for drink in drinks for side in (drink.without, drink.with_)]
    relay = any(one.sensor_drop_phases_k is not None for drink in drinks for one in (drink.without, drink.with_))
    return chart(
        "chart-drinks",
        frame(DROP_ACROSS, rows_of(len(drinks)), "x", height=len(drinks) * ROW + 92, aside=ASIDE),
        layers,
        says=_says_ratios(ratios),
        title=gettext("How far the sensor drops, by drink"),
        description="; ".join(
            gettext("{drink}: {without} without and {with_kit} with the kit").format(
                drink=drink.name,
                without=short(drink.without.sensor_drop_k, "k"),
                with_kit=short(drink.with_.sensor_drop_k, "k"),
            )
            for drink in drinks
        ),
        caption=" ".join(
            (
                gettext(
                    "Hollow: without the kit. Full: with it. Per cent: how much smaller (−) or larger (+) the dip is "
                    "with it. Whiskers: the ranges; one without an end goes on beyond the drawing."
                ),
                *([gettext(PHASED)] if relay else []),
                origin(record),
            )
        ),
        table=Table(
            (gettext("Drink"), gettext("Without"), gettext("With the kit"), gettext("Ratio")),
            [
                (
                    drink.name,
                    shown_value(drink.without.sensor_drop_k, "k", drops),
                    shown_value(drink.with_.sensor_drop_k, "k", drops),
                    shown_value(drink.drop_ratio.sensor, "ratio", ratios),
                )
                for drink in drinks
            ],
        ),
    )


def _row(drink: Drink, top: float, ratios: list[Figure]) -> Iterator[Layer]:
    """A drink's name, its two drops, and the ratio that the sentence above speaks of."""
    words = gettext("{drink}, {grams} g in the cup").format(drink=drink.name, grams=f"{drink.beverage_g:.0f}")
    yield Label(words, 0, top - 0.24)
    ratio = drink.drop_ratio.sensor
    if ratio in ratios:
        yield Label(signed(ratio), DROP_ACROSS.high, top - 0.24, right=10)
    yield from _pair("without", drink.without, top - 0.47)
    yield from _pair("with", drink.with_, top - 0.77)


def _pair(side: Side, found: DrinkSide, y: float) -> Iterator[Layer]:
    drop = found.sensor_drop_k
    if drop.value is None:
        return
    yield Bar(side, y, 0.24, drop.value, drop.low, drop.high)
    words = gettext("{value} without") if side == "without" else gettext("{value} with")
    yield Label(words.format(value=short(drop, "k")), DROP_ACROSS.high, y, side, right=10, below=4.5)


def _says_ratios(ratios: list[Figure]) -> str:
    """Between what the drops of all drinks lie, over those without: from the lowest end to the highest."""
    known = [end for one in ratios for end in (one.ends[1:] if one.ranged else one.ends[:1])]
    if not known:
        return gettext("Without the kit there is no drop to compare with.")
    ends = [end for end in known if end is not None]
    low, high = min(ends), max(ends)
    if low > 0.95 and high < 1.05:
        return gettext("No drink changes by more than a twentieth.")
    return gettext("In each of these drinks the dip is {change} with the kit.").format(change=over(ratios))


# --- the second drink --------------------------------------------------------------------------------


def second_drink(record: Assessment) -> Markup:
    """The drop of a second main drink against the minutes since the first."""
    drink = record.main
    waits = [one.sensor_drop_k for one in record.waiting]
    waits += [record.after_flush.sensor_drop_k] if record.after_flush else []
    drops = [one for two in waits for one in (two.without, two.with_)]
    layers, relay = _both_waits(record)
    axes = frame(WAITED_MINUTES, DROP_UP, height=SECOND_HEIGHT)
    layers += settled(axes, layers, list(_second_labels(record)))
    return chart(
        "chart-second",
        axes,
        layers,
        says=_says_second(record),
        title=gettext("The drop of a second {drink}").format(drink=drink.name),
        description="; ".join(
            gettext("after {minutes} minutes {without} without and {with_kit} with the kit").format(
                minutes=f"{one.wait_s / MINUTE:g}",
                without=short(one.sensor_drop_k.without, "k"),
                with_kit=short(one.sensor_drop_k.with_, "k"),
            )
            for one in record.waiting
        ),
        caption=" ".join(
            (
                gettext("Dots: computed waits, the machine left alone in between. Hollow and dashed: without the kit."),
                *([gettext(ENDS_ANYWHERE)] if relay else []),
                origin(record),
            )
        ),
        table=Table(
            (gettext("After"), gettext("Without"), gettext("With the kit")),
            [
                (
                    f"{one.wait_s / MINUTE:g} min",
                    shown_value(one.sensor_drop_k.without, "k", drops),
                    shown_value(one.sensor_drop_k.with_, "k", drops),
                )
                for one in record.waiting
            ]
            + _flushed(record, drops),
        ),
    )


def _flushed(record: Assessment, drops: Sequence[Figure]) -> list[tuple[str, Markup, Markup]]:
    """A row more: the drink after a flush."""
    flush = record.after_flush
    if flush is None:
        return []
    without, with_ = (shown_value(one, "k", drops) for one in (flush.sensor_drop_k.without, flush.sensor_drop_k.with_))
    words = gettext("{seconds} s, a flush of {grams} g instead of the first")
    return [(words.format(seconds=f"{flush.pause_s:g}", grams=f"{flush.flush_g:g}"), without, with_)]


def _both_waits(record: Assessment) -> tuple[list[Layer], bool]:
    """The layers of both sides, bands under lines under dots; and whether a thermostat rules one of them."""
    sides: tuple[tuple[Side, DrinkSide], ...] = (("without", record.main.without), ("with", record.main.with_))
    # Between two waits a thermostat may be anywhere in its cycle; a line would claim to know.
    phased = {side: found.sensor_drop_phases_k is not None for side, found in sides}
    drawn = [layer for side, _ in sides for layer in _waits(record, side, joined=not phased[side])]
    order = (Band, Spread, Curve, Dots)
    return sorted(drawn, key=lambda layer: order.index(type(layer))), any(phased.values())


def _of_waits(record: Assessment, side: Side) -> list[tuple[float, Figure]]:
    """The drops of one side by the minutes waited, where there is one."""
    found = [(one.wait_s / MINUTE, one.sensor_drop_k.without if side == "without" else one.sensor_drop_k.with_)
             for one in record.waiting]  # fmt: skip
    return [(x, figure) for x, figure in found if figure.value is not None]


def _waits(record: Assessment, side: Side, joined: bool) -> Iterator[Layer]:
    figures = _of_waits(record, side)
    points: list[Point] = [(x, figure.value) for x, figure in figures if figure.value is not None]
    ends = [(x, one.low, one.high) for x, one in figures if one.low is not None and one.high is not None]
    if joined:
        yield Band(side, [(x, low) for x, low, _ in ends], [(x, high) for x, _, high in ends])
        yield Curve(side, points)
    else:
        yield from (Spread(side, x, low, high, -2.5 if side == "without" else 2.5) for x, low, high in ends)
    yield Dots(side, points)
    if side == "with" and joined:
        yield Dots(side, [points[0], points[-1]] if points else [], large=True)


def _second_labels(record: Assessment) -> Iterator[list[Label]]:
    """The two drops that the sentence names, then the lines, then their ranges at the right end."""
    names = {"without": gettext("without the kit"), "with": gettext("with the kit")}
    ranges = {"without": gettext("range without"), "with": gettext("range with the kit")}
    sides: tuple[Side, ...] = ("with", "without")
    found = {side: figures for side in sides if (figures := _of_waits(record, side))}
    means = {side: figures[-1][1].value or 0.0 for side, figures in found.items()}
    higher = max(means, key=lambda side: means[side], default="with")
    for side, figures in found.items():
        joined = (record.main.with_ if side == "with" else record.main.without).sensor_drop_phases_k is None
        above = side == higher
        if side == "with" and joined:
            for x, figure in (figures[0], figures[-1])[: len(figures)]:
                assert figure.value is not None
                yield around(short(figure, "k"), x, figure.value, side, above=above)
        x, figure = figures[len(figures) * 3 // 4]
        assert figure.value is not None
        yield around(names[side], x, figure.value, side, above=above)
        if figure.low is not None and figure.high is not None:
            yield around(ranges[side], x, min(figure.high, DROP_UP.high), side, above=False)


def _says_second(record: Assessment) -> str:
    """From the shortest wait to the longest, with the kit; only where a line may be drawn."""
    drink = record.main
    first, last = record.waiting[0], record.waiting[-1]
    if drink.with_.sensor_drop_phases_k is not None:
        return gettext(
            "With a thermostat a second {drink} meets any part of the cycle; waiting does not order the drops."
        ).format(drink=drink.name)
    early, late = first.sensor_drop_k.with_, last.sensor_drop_k.with_
    return gettext(
        "With the kit a second {drink} drops the sensor by {early} if it follows after {seconds} s, by {late} after "
        "{minutes} min."
    ).format(
        drink=drink.name,
        early=short(early, "k"),
        seconds=f"{first.wait_s:g}",
        late=short(late, "k"),
        minutes=f"{last.wait_s / MINUTE:g}",
    )


ENDS_ANYWHERE = marked("With a thermostat each depends on where in its cycle the wait ends; no line joins them.")
