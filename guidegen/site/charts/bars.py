"""Bars that are no drops: energy, and what the result depends on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from markupsafe import Markup

from guidegen.language import gettext, marked
from guidegen.record import Assessment, Figure
from guidegen.record.places import HEADLINES, headlines, way
from guidegen.site.charts.axes import (
    CORRELATION_ACROSS,
    ENERGY_ACROSS,
    origin,
    rows_of,
    short,
    shown_value,
)
from guidegen.site.charts.figure import Table, chart
from guidegen.site.charts.frame import frame
from guidegen.site.charts.layers import Bar, Label, Layer, Lead, Side

BAR_ROW = 40.0
SHOWN_INPUTS = 8


def energy(record: Assessment) -> Markup:
    """Day energy without and with the kit; the other energies stand in the table."""
    found = record.energy
    layers = list(_days(record))
    ratio = found.day_ratio
    return chart(
        "chart-energy",
        frame(ENERGY_ACROSS, rows_of(3), "x", height=190, aside=134),
        layers,
        says=_says_energy(ratio),
        title=gettext("Energy of a day"),
        description=gettext("{without} without and {with_kit} with the kit.").format(
            without=short(found.without.day_wh, "wh"), with_kit=short(found.with_.day_wh, "wh")
        ),
        caption=" ".join(
            (
                gettext("Hollow: without the kit. Full: with it. Whiskers: the ranges; the lowest is of the ratio."),
                gettext("Usage: {usage}.").format(usage=found.usage),
                origin(record),
            )
        ),
        table=Table(
            ("", gettext("Without"), gettext("With the kit")),
            [
                (name, *(shown_value(one, key, sides) for one in sides))
                for name, key, sides in (
                    (gettext("Day"), "wh", (found.without.day_wh, found.with_.day_wh)),
                    (gettext("Session"), "wh", (found.without.session_wh, found.with_.session_wh)),
                    (gettext("Power at idle"), "w", (found.without.idle_w, found.with_.idle_w)),
                )
            ],
        ),
    )


def _days(record: Assessment) -> Iterator[Layer]:
    """Both days, and below them how much more the one with the kit takes: what the sentence says."""
    without, with_kit, ratio = record.energy.without.day_wh, record.energy.with_.day_wh, record.energy.day_ratio
    days: tuple[tuple[Side, Figure, float], ...] = (("without", without, 2.5), ("with", with_kit, 1.5))
    for side, day, y in days:
        if day.value is None:
            continue
        yield Bar(side, y, 0.5, day.value, day.low, day.high)
        words = gettext("{value} without") if side == "without" else gettext("{value} with")
        yield Label(words.format(value=short(day, "wh")), ENERGY_ACROSS.high, y, side, right=10, below=4.5)
    if without.value is None or ratio.value is None:
        return
    yield Lead([(without.value, 2.25), (without.value, 0.1)], "without")
    ends = [None if one is None else one * without.value for one in ratio.ends]
    if ratio.ranged:
        yield Bar("with", 0.5, 0.25, ends[0] or 0.0, ends[1], ends[2], start=without.value)
    else:
        yield Bar("with", 0.5, 0.25, ends[0] or 0.0, start=without.value)
    yield Label(gettext("with ÷ without"), 0, 0.5, "with", right=4, below=4.5)
    yield Label(_change(ratio), ENERGY_ACROSS.high, 0.5, "with", right=10, below=4.5)


def _change(ratio: Figure) -> str:
    """How much more or less, in percent, with its sign."""
    ends = ratio.ends[1:] if ratio.ranged else ratio.ends[:1]
    low, *high = (gettext("?") if one is None else f"{round(100 * one - 100):+d}".replace("-", "−") for one in ends)
    low = low if round(100 * (ends[0] or 0) - 100) else "0"
    words = gettext("{low} to {high} %").format(low=low, high=high[0]) if high and high[0] != low else f"{low} %"
    return words


def _says_energy(ratio: Figure) -> str:
    if ratio.value is None:
        return gettext("There is no energy to compare.")
    low, high = (ratio.low, ratio.high) if ratio.ranged else (ratio.value, ratio.value)
    if low is None or high is None:
        return gettext("How much more a day takes with the kit is not known at one end.")
    ends = sorted(round(abs(end - 1) * 100) for end in (low, high))
    if not any(ends):
        return gettext("The kit changes the energy of a day by less than a hundredth.")
    found = way("energy.day_ratio", ratio)
    if found == "either":
        words = gettext("A day may take more energy with the kit, or less: from {less} % less to {more} % more.")
        return words.format(less=round((1 - low) * 100), more=round((high - 1) * 100))
    percent = f"{ends[0]}" if ends[0] == ends[1] else gettext("{low} to {high}").format(low=ends[0], high=ends[1])
    words = gettext("A day takes {percent} % less energy with the kit.")
    if found == "more":
        words = gettext("A day takes {percent} % more energy with the kit.")
    return words.format(percent=percent)


# --- what it depends on ------------------------------------------------------------------------------

RANKS = marked(
    "Rank correlation over the draws of the uncertain inputs: to the right, more of it makes the ratio larger; to the "
    "left, smaller. Measuring what stands on top narrows the range most."
)


def influence(record: Assessment) -> Markup | None:
    """The inputs that move the drop ratio most; None while there are no draws, or none matters."""
    ranked = list(record.influence.get(headlines(record.main_drink)[0], {}).items())[:SHOWN_INPUTS]
    if not ranked:
        return None
    names = input_names(record)
    first = names.get(ranked[0][0], ranked[0][0])
    return chart(
        "chart-influence",
        frame(CORRELATION_ACROSS, rows_of(len(ranked) + 1), "x", height=(len(ranked) + 1) * BAR_ROW + 62),
        [
            Label(gettext("← smaller ratio"), 0, len(ranked) + 0.5, anchor="end", right=-8),
            Label(gettext("larger ratio →"), 0, len(ranked) + 0.5, right=8),
            *(layer for i, one in enumerate(ranked) for layer in _correlation(names, i, *one, float(len(ranked) - i))),
        ],
        says=gettext("The drop ratio depends most on: {input}.").format(input=first[:1].lower() + first[1:]),
        title=gettext("What the drop ratio depends on"),
        description="; ".join(f"{names.get(name, name)} {rho:+.2f}" for name, rho in ranked),
        caption=" ".join((gettext(RANKS), origin(record))),
        table=_correlations(record, names),
    )


def _correlation(names: Mapping[str, str], rank: int, name: str, rho: float, top: float) -> Iterator[Layer]:
    """The rank and name of an input, its bar, and the correlation beside it; full is the one the sentence names."""
    yield Label(f"{rank + 1}. {names.get(name, name)}", -1, top - 0.26, right=4)
    yield Bar("plain", top - 0.68, 0.36, rho, hollow=rank > 0)
    # Across zero from the bar: at the end of a long one there is no room.
    yield Label(signed(rho), 0, top - 0.68, None, "end" if rho > 0 else "start", right=-6 if rho > 0 else 6, below=4.5)


def _correlations(record: Assessment, names: Mapping[str, str]) -> Table:
    """The inputs of all headlines, a column for each headline."""
    ranks = [record.influence.get(place, {}) for place in headlines(record.main_drink)]
    return Table(
        (gettext("Input"), *(gettext(one.words).capitalize() for one in HEADLINES)),
        [
            (names.get(name, name), *(signed(one.get(name)) for one in ranks))
            for name in dict.fromkeys(name for one in ranks for name in one)
        ],
    )


def input_names(record: Assessment) -> dict[str, str]:
    """What the inputs are called, by their ids."""
    return {one.id: one.name for one in record.inputs} | {
        "model.phase": gettext("When in the thermostat's cycle you pull")
    }


def signed(rho: float | None) -> str:
    """A correlation with its sign; a dot where it is too weak to stand out from noise."""
    return f"{rho:+.2f}".replace("-", "−") if rho is not None else "·"
