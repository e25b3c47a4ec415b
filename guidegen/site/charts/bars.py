"""Bars that are no drops: energy, the budget of mass and heat, and what the result depends on."""

from __future__ import annotations

from markupsafe import Markup

from guidegen.language import gettext, marked
from guidegen.record import Assessment, Figure
from guidegen.record.places import HEADLINES
from guidegen.site.charts.axes import (
    CORRELATION_ACROSS,
    ENERGY_ACROSS,
    SHARE_ACROSS,
    origin,
    rows_of,
    short,
    told,
)
from guidegen.site.charts.figure import Bar, BarSide, Label, Layer, Table, chart
from guidegen.site.charts.frame import frame
from guidegen.site.charts.quantity import both, shown_as

ROW, BAR_ROW = 62.0, 40.0
SHOWN_INPUTS = 8


def energy(record: Assessment) -> Markup:
    """Day energy without and with the kit; the other energies stand in the table."""
    found = record.energy
    layers: list[Layer] = []
    for i, (name, side) in enumerate((("without", found.without), ("with", found.with_))):
        day = side.day_wh
        if day.value is None:
            continue
        y = 1.55 - i
        layers.append(Bar("without" if name == "without" else "with", y, 0.5, day.value, day.low, day.high))
        words = gettext("{value} with") if i else gettext("{value} without")
        words = words.format(value=short(day, "wh"))
        layers.append(Label(words, ENERGY_ACROSS.high, y, "with" if i else "without", right=10, below=4.5))
    ratio = found.day_ratio
    return chart(
        "chart-energy",
        frame(ENERGY_ACROSS, rows_of(2), "x", height=140, aside=122),
        layers,
        says=_says_energy(ratio),
        title=gettext("Energy of a day"),
        description=gettext("{without} without and {with_kit} with the kit.").format(
            without=short(found.without.day_wh, "wh"), with_kit=short(found.with_.day_wh, "wh")
        ),
        caption=" ".join((gettext("Usage: {usage}.").format(usage=found.usage), origin(record))),
        table=Table(
            ("", gettext("Without"), gettext("With the kit")),
            [
                (gettext("Day"), told(found.without.day_wh, "wh"), told(found.with_.day_wh, "wh")),
                (gettext("Session"), told(found.without.session_wh, "wh"), told(found.with_.session_wh, "wh")),
                (gettext("Power at idle"), told(found.without.idle_w, "w"), told(found.with_.idle_w, "w")),
            ],
        ),
    )


def _says_energy(ratio: Figure) -> str:
    if ratio.value is None:
        return gettext("There is no energy to compare.")
    percent = round((ratio.value - 1) * 100)
    if percent == 0:
        return gettext("The kit changes the energy of a day by less than a hundredth.")
    words = gettext("A day takes {percent} % less energy with the kit.")
    if percent > 0:
        words = gettext("A day takes {percent} % more energy with the kit.")
    return words.format(percent=abs(percent))


SHARES = marked(
    "Hollow: share of the mass. Full: share of the heat capacity. A gram of water holds ten times the heat of a gram "
    "of brass."
)

# --- mass and heat -----------------------------------------------------------------------------------


def budget(record: Assessment) -> Markup:
    """Each part's share of the mass and of the heat capacity, beside each other."""
    parts = record.budget.parts
    mass = sum(one.mass_kg for one in parts)
    heat = sum(one.heat_capacity_j_per_k for one in parts)
    rows = [(one, 100 * one.mass_kg / mass, 100 * one.heat_capacity_j_per_k / heat) for one in parts]
    layers: list[Layer] = []
    for i, (part, by_mass, by_heat) in enumerate(rows):
        top = float(len(rows) - i)
        side: BarSide = "with" if part.kit else "plain"
        layers.append(Label(part.name, 0, top - 0.24, "with" if part.kit else None))
        layers.append(Bar(side, top - 0.47, 0.24, by_mass, hollow=True))
        layers.append(Bar(side, top - 0.77, 0.24, by_heat))
        mass_words, heat_words = gettext("{percent} % of the mass"), gettext("{percent} % of the heat")
        layers.append(Label(mass_words.format(percent=f"{by_mass:.0f}"), by_mass, top - 0.47, right=6, below=4.5))
        layers.append(Label(heat_words.format(percent=f"{by_heat:.0f}"), by_heat, top - 0.77, right=6, below=4.5))
    water_mass = sum(by_mass for part, by_mass, _ in rows if "water" in part.id)
    water_heat = sum(by_heat for part, _, by_heat in rows if "water" in part.id)
    kilograms, capacity = shown_as("kg"), shown_as("j_per_k")
    return chart(
        "chart-budget",
        frame(SHARE_ACROSS, rows_of(len(rows)), "x", height=len(rows) * ROW + 62),
        layers,
        says=gettext("Water is {mass} % of the mass and {heat} % of the heat: mass alone misleads.").format(
            mass=f"{water_mass:.0f}", heat=f"{water_heat:.0f}"
        ),
        title=gettext("Where the mass is, and where the heat"),
        description="; ".join(
            gettext("{part}: {mass} percent of the mass, {heat} percent of the heat capacity").format(
                part=part.name, mass=f"{by_mass:.0f}", heat=f"{by_heat:.0f}"
            )
            for part, by_mass, by_heat in rows
        ),
        caption=" ".join((gettext(SHARES), origin(record))),
        table=Table(
            (
                gettext("Part"),
                gettext("Mass"),
                gettext("Heat capacity"),
                gettext("Share of the mass"),
                gettext("Share of the heat"),
            ),
            [
                (
                    part.name,
                    both(Figure(value=part.mass_kg), kilograms),
                    both(Figure(value=part.heat_capacity_j_per_k), capacity),
                    f"{by_mass:.1f} %",
                    f"{by_heat:.1f} %",
                )
                for part, by_mass, by_heat in rows
            ],
        ),
    )


# --- what it depends on ------------------------------------------------------------------------------

RANKS = marked(
    "Rank correlation over the draws of the uncertain inputs: to the right, more of it makes the ratio larger; to the "
    "left, smaller. Measuring what stands on top narrows the range most."
)
HEADS = (
    marked("drop ratio"), marked("drop with the kit"), marked("mean outlet with the kit"), marked("warm-up added"),
    marked("energy ratio"),
)  # fmt: skip
"""What the headlines are called over their columns."""


def influence(record: Assessment) -> Markup | None:
    """The inputs that move the drop ratio most; None while there are no draws, or none matters."""
    ranked = list(record.influence.get(HEADLINES[0], {}).items())[:SHOWN_INPUTS]
    if not ranked:
        return None
    names = input_names(record)
    layers: list[Layer] = []
    for i, (name, rho) in enumerate(ranked):
        top = float(len(ranked) - i)
        layers.append(Label(names.get(name, name), -1, top - 0.3))
        layers.append(Bar("plain", top - 0.68, 0.36, rho))
        sign = "+" if rho > 0 else "−"
        layers.append(
            Label(f"{sign}{abs(rho):.2f}", rho, top - 0.68, None, "start" if rho > 0 else "end",
                  right=6 if rho > 0 else -6, below=4.5)
        )  # fmt: skip
    first = names.get(ranked[0][0], ranked[0][0])
    every = list(dict.fromkeys(name for place in HEADLINES for name in record.influence.get(place, {})))
    return chart(
        "chart-influence",
        frame(CORRELATION_ACROSS, rows_of(len(ranked)), "x", height=len(ranked) * BAR_ROW + 62),
        layers,
        says=gettext("The drop ratio depends most on: {input}.").format(input=first[:1].lower() + first[1:]),
        title=gettext("What the drop ratio depends on"),
        description="; ".join(f"{names.get(name, name)} {rho:+.2f}" for name, rho in ranked),
        caption=" ".join((gettext(RANKS), origin(record))),
        table=Table(
            (gettext("Input"), *(gettext(words).capitalize() for words in HEADS)),
            [
                (
                    names.get(name, name),
                    *(signed(record.influence.get(place, {}).get(name)) for place in HEADLINES),
                )
                for name in every
            ],
        ),
    )


def input_names(record: Assessment) -> dict[str, str]:
    """What the inputs are called, by their ids."""
    return {one.id: one.name for one in record.inputs} | {
        "model.phase": gettext("When in the thermostat's cycle you pull")
    }


def signed(rho: float | None) -> str:
    """A correlation with its sign; a dot where it is too weak to be told from noise."""
    return f"{rho:+.2f}".replace("-", "−") if rho is not None else "·"
