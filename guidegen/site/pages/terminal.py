"""A record for the terminal in a screenful: verdict, gain, costs."""

from __future__ import annotations

from collections.abc import Iterator

from guidegen.record import Assessment
from guidegen.record.claims import claimed
from guidegen.record.places import ANY, known_figures
from guidegen.site.charts.quantity import in_kelvin, in_unit, shown_at
from guidegen.site.pages import dip, gains, sentences, worth
from guidegen.site.pages.place import gain_is
from guidegen.site.pages.terms import term
from guidegen.site.pages.unknown import not_yet

SHOWN = (
    "drinks.*.drop_ratio.sensor",
    "drinks.*.without.sensor_drop_k",
    "drinks.*.with.sensor_drop_k",
    "same_cup_degc",
    "warm_up.added_s",
    "energy.day_ratio",
    "energy.idle_added_w",
    "budget.added_kg",
    "coil.parked_degc",
    "coil.height_mm",
)
"""The figures of a summary; those of a drink are the main drink's."""


def summary(record: Assessment) -> str:
    """The summary as text, one line per figure."""
    return "\n".join(_lines(record))


def _lines(record: Assessment) -> Iterator[str]:
    yield f"{record.variant.name} with {record.kit.name}, revision {record.kit.revision}"
    yield f"{sentences.outcome(record.fit.outcome)}; {sentences.status(record)}"
    yield from worth.lines(record)
    if gain_is(record) == "claimed":
        yield dip.of_main(record)
    for reason in record.fit.reasons:
        if reason.met is not True:
            tail = reason.remedy or reason.settles
            state = "not met" if reason.met is False else "not known"
            yield f"  {state}: {reason.detail}" + (f" -> {tail}" if tail else "")
    yield from gains.lines(record)
    if gain_is(record) != "stated":
        yield from _figures(record)
    yield sentences.basis(record)


def _figures(record: Assessment) -> Iterator[str]:
    known = known_figures(record)
    for place in (one.replace(ANY, record.main_drink) for one in SHOWN):
        if place not in known:
            continue
        figure = known[place]
        how = in_kelvin(shown_at(place))
        value = in_unit(figure, how, how.metric) if figure.value is not None else figure.reason or ""
        value = value if claimed(record, place) else not_yet()
        side = {"without": " without", "with": " with the kit"}.get(place.split(".")[-2] if "." in place else "", "")
        ends = in_unit(figure, how, how.metric, only_range=True)
        yield f"  {term(place).name + side:<34} {value:>12}  {ends}".rstrip()
