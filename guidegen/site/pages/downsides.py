"""What a kit costs beside money: how much of each downside, how likely, and which of them this variant has at all."""

from __future__ import annotations

from typing import Any

from markupsafe import Markup

from guidegen.language import gettext, marked
from guidegen.language.choices import choice
from guidegen.record import Assessment
from guidegen.record.claims import brings_coil, claimed
from guidegen.record.places import figure_at, neutral, way
from guidegen.record.stated import Downside
from guidegen.site.pages.numbers import ShownNumbers
from guidegen.site.pages.sentences import minutes
from guidegen.site.pages.unknown import cuts, not_yet

NONE = "none"
"""How likely a downside is of which the kit says that there is none."""


def of_variant(record: Assessment) -> list[Downside]:
    """The downsides that the kit has on this variant.

    Not what the kit says is none, no cut where it is known that none is needed, and nothing that the computation says
    is the other way round.
    """
    return [one for one in record.downsides if one.likely != NONE and not _spared(record, one)]


def unchanged(record: Assessment) -> list[Downside]:
    """What the kit says stays as it is."""
    return [one for one in record.downsides if one.likely == NONE]


def shown(record: Assessment, numbers: ShownNumbers) -> dict[str, Any]:
    """The rows of the table of downsides, and what stands below it."""
    rows = [
        {
            **one.model_dump(include={"id", "what", "do"}),
            "amount": amount(record, numbers, one),
            "likely": likely(record, one),
        }
        for one in of_variant(record)
    ]
    return {"downsides": rows, "unchanged": [one.what for one in unchanged(record)]}


def _spared(record: Assessment, downside: Downside) -> bool:
    if downside.figure == "protrusions":
        return not cuts(record).words
    return _way(record, downside) == "less"


def _way(record: Assessment, downside: Downside) -> str:
    """Which way the figure of a downside points; each of these sentences says that something grows."""
    place = downside.figure or ""
    figure = figure_at(record, place)
    if figure is None or neutral(place) is None or not claimed(record, place):
        return ""
    return way(place, figure)


def likely(record: Assessment, downside: Downside) -> str:
    """How likely a downside is: as the kit says, or as the computed figure beside it decides."""
    if _way(record, downside) == "either":
        return gettext("nobody knows whether more or less")
    return choice(downside.likely)


def amount(record: Assessment, numbers: ShownNumbers, downside: Downside) -> Markup | None:
    """How much a downside is, where it was computed for this pair."""
    if downside.figure is None:
        return None
    if downside.figure == "protrusions":
        words = cuts(record).words
        return Markup("{}").format(words) if words else None
    if downside.figure == "bolts":
        return Markup("{}").format(bolts(record)) if record.bolts else None
    if downside.figure == "procedure.minutes":
        unknown = Markup("{}").format(not_yet()) if record.withheld else None
        return Markup("{}").format(minutes(record.procedure.minutes)) if record.procedure else unknown
    if downside.figure not in numbers.known:
        # Of a coil that cannot be laid out there are no figures.
        return Markup("{}").format(not_yet()) if brings_coil(record) else None
    return numbers.show(downside.figure)


BOLTS = {
    "usual": marked("the boiler's bolts can be reached with the coil on"),
    "short-key": marked("only the shortened key of the kit reaches the boiler's bolts: keep it with the machine"),
    "coil-off-first": marked("the coil has to come off before the boiler's bolts can be reached: {time} each time"),
    "unknown": marked("not known whether the boiler's bolts can be reached with the coil on"),
}


def bolts(record: Assessment) -> str:
    """What it means for later work on the boiler that the coil stands over its bolts."""
    access = record.bolts
    if access is None:
        return ""
    time = minutes(access.coil_off_minutes) if access.coil_off_minutes is not None else gettext("some time")
    return gettext(BOLTS.get(access.way, BOLTS["unknown"])).format(time=time)
