"""The one way a number reaches a page, and the rows of the numbers page that it leads to."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from guidegen.charts.quantity import Shown, both, shown_as
from guidegen.language import gettext, marked
from guidegen.pages.terms import SIDES, key, term
from guidegen.record import Assessment, Figure, Waiting
from guidegen.record.base import Record

SECTIONS = (
    ("drinks", marked("Drinks"),
     marked("What one shot takes out of a warm, idle machine, and how it comes back.")),
    ("waiting", marked("The same drink again"),
     marked("The second drink after a wait, the machine left alone in between.")),
    ("same_cup_degc", marked("The same cup"), ""),
    ("display", marked("What the display shows"),
     marked("Is mine right? A test shot of the main drink, with the kit.")),
    ("after_steam", marked("After steam"),
     marked("Steam itself is not modelled; the way back from it is.")),
    ("warm_up", marked("From cold"), ""),
    ("energy", marked("Energy"), ""),
    ("budget", marked("Mass and heat"), ""),
    ("coil", marked("The coil"), ""),
    ("cool_down", marked("Cooling down"),
     marked("Upper bounds for planning. A contact thermometer decides, never the clock.")),
)  # fmt: skip


@dataclass(frozen=True)
class Cell:
    """One figure of a row, where links to it lead."""

    anchor: str
    value: Markup
    range: Markup


@dataclass(frozen=True)
class Row:
    """One quantity: a single figure, or one without and one with the kit."""

    name: str
    cells: tuple[Cell, ...]
    meaning: str
    method: str


@dataclass(frozen=True)
class Section:
    """The figures of one part of the record, and what its table's two columns are called."""

    id: str
    title: str
    lead: str
    rows: tuple[Row, ...]


def figures(part: Any, place: str = "") -> Iterator[tuple[str, Figure]]:
    """Every figure below a part of the record, with its place: names joined by dots."""
    if isinstance(part, Figure):
        yield place, part
        return
    if isinstance(part, Record):
        fields = type(part).model_fields
        children = {fields[name].alias or name: getattr(part, name) for name in fields}
    elif isinstance(part, Mapping):
        children = dict(part)
    elif isinstance(part, tuple) and part and isinstance(part[0], Waiting):
        children = {f"{one.wait_s:g}": one for one in part}
    else:
        return
    for name, child in children.items():
        yield from figures(child, f"{place}.{name}" if place else name)


class Numbers:
    """Prints the figures of one record by their place, each linked to its row on the numbers page."""

    def __init__(self, record: Assessment, numbers_page: str) -> None:
        self.known = dict(figures(record))
        self.record = record
        self.numbers_page = numbers_page

    def show(self, place: str, lead: str = "", ranged: bool = False) -> Markup:
        """The number at a place, as both systems print it; an unknown place is a fault of the template."""
        figure = self.known[place]
        how = how_at(place)
        if figure.value is None:
            return Markup('<a class="n" href="{}#{}">{}</a>').format(
                self.numbers_page, anchor(place), figure.reason or gettext("no value")
            )
        spaced = f"{lead}\u202f" if lead else ""
        shown = Markup('<a class="n" href="{}#{}" title="{}">{}{}</a>').format(
            self.numbers_page, anchor(place), term(place).name, spaced, both(figure, how)
        )
        if not ranged or figure.low is None:
            return shown
        return shown + Markup(' <span class="gg-range">{}</span>').format(both(figure, how, only_range=True))

    def sections(self) -> tuple[Section, ...]:
        """All figures of the record, grouped as the record is: a table per drink, one for the waits, and so on."""
        made = []
        for part, title, lead in SECTIONS:
            groups: dict[str, list[str]] = {}
            for place in self.known:
                if place.split(".")[0] == part:
                    groups.setdefault(place.split(".")[1] if part == "drinks" else "", []).append(place)
            for name, places in groups.items():
                words = gettext(title)
                words = f"{words}: {self.record.drinks[name].name}" if name else words
                ident = "-".join(filter(None, (part.replace("_", "-"), name)))
                made.append(Section(ident, words, gettext(lead), tuple(self._rows(places))))
        return tuple(made)

    def _rows(self, places: list[str]) -> Iterator[Row]:
        """One row per quantity; its two sides stand beside each other."""
        rows: dict[str, list[str]] = {}
        for place in places:
            rows.setdefault(".".join(part for part in place.split(".") if part not in SIDES), []).append(place)
        for same in rows.values():
            what = term(same[0])
            yield Row(self._name(same[0]), tuple(map(self._cell, same)), what.meaning, what.method)

    def _cell(self, place: str) -> Cell:
        figure, how = self.known[place], how_at(place)
        value = both(figure, how) if figure.value is not None else Markup("{}").format(figure.reason or "—")
        return Cell(anchor(place), value, both(figure, how, only_range=True))

    def _name(self, place: str) -> str:
        """The term's name; of a second drink with its wait."""
        parts = place.split(".")
        name = term(place).name
        if parts[0] != "waiting":
            return name
        return gettext("{quantity}, {minutes} min later").format(quantity=name, minutes=f"{float(parts[1]) / 60:g}")


def how_at(place: str) -> Shown:
    """How the figure at a place is shown; ratios have no unit."""
    return shown_as("ratio" if ".drop_ratio." in place else key(place))


def anchor(place: str) -> str:
    """The id of a figure's row on the numbers page."""
    return "n-" + place.replace(".", "-").replace("_", "-")
