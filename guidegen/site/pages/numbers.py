"""The one way a number reaches a page, and the rows of the numbers page that it leads to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from guidegen.language import gettext, marked
from guidegen.record import Assessment, Figure
from guidegen.record.claims import claimed
from guidegen.record.places import ANY, known_figures, undecided
from guidegen.record.table import chapters
from guidegen.site.charts.bars import input_names, signed
from guidegen.site.charts.quantity import both, in_kelvin, shown_at, turned
from guidegen.site.pages.listed import DEPENDS_ON, input_anchor, inputs, listed, row_of
from guidegen.site.pages.terms import term
from guidegen.site.pages.unknown import not_yet

OPENS_FIRST = {
    "relief-valve": marked("With the water path as it is now, before any remedy, the relief valve opens first."),
    "tube": marked(
        "With the water path as it is now, before any remedy, no valve opens before the coil's tube yields."
    ),
    "unknown": marked("It is not known yet whether a valve opens before the coil's tube yields."),
}
"""What gives way first when the coil's water warms up, as the record has it."""


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
    stated: tuple[Markup, ...]
    meaning: str
    depends: Markup
    method: str


@dataclass(frozen=True)
class Typical:
    """A headline's median, and what it is on the machine of the curves."""

    name: str
    median: Markup
    there: Markup


@dataclass(frozen=True)
class Section:
    """The figures of one part of the record, and what its table's two columns are called."""

    id: str
    title: str
    lead: str
    rows: tuple[Row, ...]


class ShownNumbers:
    """Prints the figures of one record by their place, each linked to its row on the numbers page."""

    def __init__(self, record: Assessment, numbers_page: str) -> None:
        self.known = known_figures(record)
        self.record = record
        self._evidence = {one.id: one.evidence for one in inputs(record)}
        self.numbers_page = numbers_page

    def at(self, place: str) -> str:
        """The address of a figure's row on the numbers page; of that page, where it has none."""
        return f"{self.numbers_page}#{anchor(place)}" if place in listed(self.record) else self.numbers_page

    def show(
        self,
        place: str,
        lead: str = "",
        ranged: bool = False,
        other_sign: bool = False,
        like: Sequence[Figure] = (),
        alone: bool = False,
    ) -> Markup:
        """The number at a place (`*`: the main drink) as both systems print it; another place is a template's fault.

        What may not be claimed of this variant is described as not known yet; its row says of what it is a range.
        """
        place = place.replace(ANY, self.record.main_drink)
        figure, how = self.known[place], shown_at(place)
        if not claimed(self.record, place):
            return Markup('<a class="n gg-unknown" href="{}">{}</a>').format(self.at(place), not_yet())
        if figure.value is None:
            return Markup('<a class="n" href="{}">{}</a>').format(self.at(place), figure.reason or gettext("no value"))
        spaced = f"{lead}\u202f" if lead else ""
        if other_sign:
            figure = turned(figure)
        # A median between more and less says less than nothing: then the range stands alone.
        alone = alone or undecided(place, figure)
        shown = Markup('<a class="n" href="{}" title="{}">{}{}</a>').format(
            self.at(place), term(place).name, spaced, both(figure, how, only_range=alone, like=like)
        )
        if alone or not ranged or not figure.ranged:
            return shown
        return shown + Markup(' <span class="gg-range">{}</span>').format(both(figure, how, only_range=True, like=like))

    def listed(self) -> dict[str, Any]:
        """What the template of the numbers page needs of its rows."""
        return {
            "sections": self.sections(),
            "inputs": [{**one.model_dump(), "anchor": input_anchor(one.id)} for one in inputs(self.record)],
            "medians": any(one.stated is not None for one in self.known.values()),
            "typical": tuple(self.typical()),
        }

    def sections(self) -> tuple[Section, ...]:
        """The listed figures, grouped as the record is: a table per drink, one for the waits, and so on."""
        made, rows = [], listed(self.record)
        for part, chapter in chapters().items():
            groups: dict[str, list[str]] = {}
            for place in self.known:
                if place in rows and place.split(".")[0] == part:
                    groups.setdefault(place.split(".")[1] if part == "drinks" else "", []).append(place)
            for name, places in groups.items():
                words = gettext(chapter.name)
                words = f"{words}: {self.record.drinks[name].name}" if name else words
                ident = "-".join(filter(None, (part.replace("_", "-"), name)))
                made.append(Section(ident, words, self._lead(part, chapter.meaning), tuple(self._rows(places))))
        return tuple(made)

    def _lead(self, part: str, meaning: str) -> str:
        coil = self.record.closed_coil
        first = OPENS_FIRST[coil.opens_first] if part == "closed_coil" and coil else ""
        return " ".join(gettext(one) for one in (meaning, first) if one)

    def _rows(self, places: list[str]) -> Iterator[Row]:
        """One row per quantity; its two sides stand beside each other."""
        rows: dict[str, list[str]] = {}
        for place in places:
            rows.setdefault(row_of(place), []).append(place)
        for same in rows.values():
            what = term(same[0])
            like = [self.known[place] for place in same]
            cells = tuple(self._cell(place, like) for place in same)
            stated = tuple(self._stated(place, like) for place in same)
            yield Row(self._name(same[0]), cells, stated, what.meaning, self._depends(same[-1]), what.method)

    def _cell(self, place: str, like: Sequence[Figure]) -> Cell:
        figure, how = self.known[place], in_kelvin(shown_at(place))
        value = both(figure, how, like=like) if figure.value is not None else Markup("{}").format(figure.reason or "—")
        return Cell(anchor(place), value, both(figure, how, only_range=True, like=like))

    def _stated(self, place: str, like: Sequence[Figure]) -> Markup:
        """What the stated values give by themselves, to as many digits as the median beside it."""
        figure = self.known[place]
        if figure.stated is None:
            return Markup("—")
        return both(figure.model_copy(update={"value": figure.stated}), in_kelvin(shown_at(place)), like=like)

    def typical(self) -> Iterator[Typical]:
        """The headlines as they are on the machine of the curves, beside their medians."""
        for place, value in self.record.typical.items():
            if place not in listed(self.record):
                continue
            figure, how = self.known[place], in_kelvin(shown_at(place))
            there = figure.model_copy(update={"value": value})
            yield Typical(self._name(place), both(figure, how), both(there, how, like=(figure,)))

    def _depends(self, place: str) -> Markup:
        """The inputs that move the figure at a place most, with their rank correlations, and which are assumed."""
        names, ranks = input_names(self.record), self.record.influence.get(place, {})
        return Markup("; ").join(
            self._input(name, names.get(name, name), rho) for name, rho in list(ranks.items())[:DEPENDS_ON]
        )

    def _input(self, ident: str, name: str, rho: float) -> Markup:
        evidence = self._evidence.get(ident)
        if evidence is None:  # nobody states it, as when in a thermostat's cycle a drink is pulled
            return Markup("{} {}").format(name, signed(rho))
        words = Markup('<a href="#{}">{}</a> {}').format(input_anchor(ident), name, signed(rho))
        return words + Markup(" ({})").format(gettext("assumed")) if evidence == "assumed" else words

    def _name(self, place: str) -> str:
        """The term's name; of a second drink with its wait, of one after a flush with that."""
        parts = place.split(".")
        name, flush = term(place).name, self.record.after_flush
        if parts[0] == "waiting":
            return gettext("{quantity}, {minutes} min later").format(quantity=name, minutes=f"{float(parts[1]) / 60:g}")
        if parts[0] == "after_flush" and flush is not None:
            return gettext("{quantity}, {seconds} s after a flush of {grams} g").format(
                quantity=name, seconds=f"{flush.pause_s:g}", grams=f"{flush.flush_g:g}"
            )
        return name


def anchor(place: str) -> str:
    """The id of a figure's row on the numbers page."""
    return "n-" + place.replace(".", "-").replace("_", "-")
