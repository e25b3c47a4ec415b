"""The numbers of one record as a letter quotes them."""

from __future__ import annotations

from guidegen.language import gettext
from guidegen.record import Assessment
from guidegen.record.places import known_figures, undecided, way
from guidegen.site.charts.quantity import in_unit, shown_at, turned


class Quoted:
    """The numbers of one record in words; it remembers whether any was printed."""

    def __init__(self, record: Assessment) -> None:
        self.record = record
        self.known = known_figures(record)
        self.numbers = False

    def way(self, place: str) -> str:
        """Which way the whole range at a place points."""
        return way(place, self.known[place])

    def n(self, place: str, ranged: bool = False, unit: str = "", other_sign: bool = False, alone: bool = False) -> str:
        """The number at a place in both systems, as the pages print it, and its range; `alone`: the range only."""
        figure, how = self.known[place], shown_at(place)
        if figure.value is None:
            return figure.reason or gettext("no value")
        self.numbers = True
        figure = turned(figure) if other_sign else figure
        systems = dict.fromkeys((how.metric, how.imperial))
        alone = figure.ranged and (alone or undecided(place, figure))
        value, *other = dict.fromkeys(in_unit(figure, how, one, only_range=alone) + unit for one in systems)
        beside = list(other)
        if ranged and figure.ranged and not alone:
            ends = dict.fromkeys(in_unit(figure, how, one, only_range=True) + unit for one in systems)
            beside.append(gettext("range {range}").format(range=", ".join(ends)))
        return f"{value} ({'; '.join(beside)})" if beside else value

    def sides(self, message: str, place: str) -> str:
        """A sentence about one quantity without and with the kit; `{}` in the place is the side."""
        return gettext(message).format(with_kit=self.n(place.format("with")), without=self.n(place.format("without")))
