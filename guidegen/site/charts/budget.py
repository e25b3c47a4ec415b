"""Bars of the budget: each part's share of the mass and of the heat capacity."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from markupsafe import Markup

from guidegen.language import gettext, marked
from guidegen.record import Assessment, Figure
from guidegen.record.computed import BudgetPart
from guidegen.site.charts.axes import SHARE_ACROSS, origin, rows_of
from guidegen.site.charts.figure import Table, chart
from guidegen.site.charts.frame import frame
from guidegen.site.charts.layers import Bar, BarSide, Label, Layer
from guidegen.site.charts.quantity import both, shown_as

ROW = 62.0
SHARES = marked(
    "Hollow: share of the mass. Full: share of the heat capacity. A gram of water holds ten times the heat of a gram "
    "of brass."
)


@dataclass(frozen=True)
class Share:
    """A part with its share of the mass and of the heat capacity, in percent."""

    part: BudgetPart
    mass: float
    heat: float


@dataclass(frozen=True)
class BudgetRow:
    """The two bars of a row: percent of the mass and of the heat capacity."""

    name: str
    mass: float
    heat: float
    kit: bool

    def drawn(self, top: float) -> Iterator[Layer]:
        """The name of the row, and both bars with their values at the ends."""
        side: BarSide = "with" if self.kit else "plain"
        yield Label(self.name, 0, top - 0.24, "with" if self.kit else None)
        yield Bar(side, top - 0.47, 0.24, self.mass, hollow=True)
        yield Bar(side, top - 0.77, 0.24, self.heat)
        mass_words, heat_words = gettext("{percent} % of the mass"), gettext("{percent} % of the heat")
        yield Label(mass_words.format(percent=f"{self.mass:.0f}"), self.mass, top - 0.47, right=6, below=4.5)
        yield Label(heat_words.format(percent=f"{self.heat:.0f}"), self.heat, top - 0.77, right=6, below=4.5)


def budget(record: Assessment) -> Markup:
    """Each part's share of the mass and of the heat capacity, beside each other."""
    rows = _shares(record.budget.parts)
    water = [row for row in rows if "water" in row.part.id]
    bars = [BudgetRow(_named(row.part), row.mass, row.heat, row.part.kit) for row in rows]
    if len(water) > 1:
        bars.insert(
            0,
            BudgetRow(
                gettext("all water together"), sum(one.mass for one in water), sum(one.heat for one in water), False
            ),
        )
    words = gettext("{part}: {mass} percent of the mass, {heat} percent of the heat capacity")
    return chart(
        "chart-budget",
        frame(SHARE_ACROSS, rows_of(len(bars)), "x", height=len(bars) * ROW + 62),
        [layer for i, bar in enumerate(bars) for layer in bar.drawn(float(len(bars) - i))],
        says=gettext("Water is {mass} % of the mass and {heat} % of the heat: mass alone misleads.").format(
            mass=f"{sum(row.mass for row in water):.0f}", heat=f"{sum(row.heat for row in water):.0f}"
        ),
        title=gettext("Where the mass is, and where the heat is"),
        description="; ".join(
            words.format(part=row.part.name, mass=f"{row.mass:.0f}", heat=f"{row.heat:.0f}") for row in rows
        ),
        caption=" ".join((gettext(SHARES), origin(record))),
        table=_table(rows),
    )


def _shares(parts: tuple[BudgetPart, ...]) -> list[Share]:
    mass = sum(one.mass_kg for one in parts)
    heat = sum(one.heat_capacity_j_per_k for one in parts)
    return [Share(one, 100 * one.mass_kg / mass, 100 * one.heat_capacity_j_per_k / heat) for one in parts]


def _named(part: BudgetPart) -> str:
    """A part's name; what comes with the kit says so in words too."""
    return gettext("{part} (kit)").format(part=part.name) if part.kit else part.name


def _table(rows: list[Share]) -> Table:
    masses = [Figure(value=row.part.mass_kg) for row in rows]
    heats = [Figure(value=row.part.heat_capacity_j_per_k) for row in rows]
    kilograms, capacity = shown_as("kg"), shown_as("j_per_k")
    return Table(
        (
            gettext("Part"),
            gettext("Mass"),
            gettext("Heat capacity"),
            gettext("Share of the mass"),
            gettext("Share of the heat"),
        ),
        [
            (
                row.part.name,
                both(mass, kilograms, like=masses),
                both(heat, capacity, like=heats),
                f"{row.mass:.1f} %",
                f"{row.heat:.1f} %",
            )
            for row, mass, heat in zip(rows, masses, heats, strict=True)
        ],
    )
