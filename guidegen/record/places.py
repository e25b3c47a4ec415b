"""Where the figures of a record stand: names joined by dots, as in `drinks.double.with.sensor_drop_k`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from guidegen.record.base import Figure, Record
from guidegen.record.drinks import Waiting

SIDES = ("without", "with")
ANY = "*"
"""Stands for a drink's id or a wait in the place of an output."""


def figures(part: Any, place: str = "") -> Iterator[tuple[str, Figure]]:
    """Every figure below a part of the record, with its place."""
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


_SEEN: list[tuple[Record, Mapping[str, Figure]]] = []
_MOST_SEEN = 4


def known_figures(record: Record) -> Mapping[str, Figure]:
    """Every figure of a record by its place; those of the last few records are remembered, for their many pages.

    A record is known by being the same object, which never changes.
    """
    for one, known in _SEEN:
        if one is record:
            return known
    made = dict(figures(record))
    _SEEN.insert(0, (record, made))
    del _SEEN[_MOST_SEEN:]
    return made


def figure_at(record: Record, place: str) -> Figure | None:
    """The figure at a place, where there is one: without walking through all others."""
    first = place.partition(".")[0]
    parts = (name for name, field in type(record).model_fields.items() if (field.alias or name) == first)
    return next((dict(figures(getattr(record, name), first)).get(place) for name in parts), None)


def key(place: str) -> str:
    """The name at a place that ends in its unit: the last one that is not a side.

    >>> key("waiting.30.sensor_drop_k.without"), key("drinks.double.drop_ratio.sensor")
    ('sensor_drop_k', 'sensor')
    """
    return [part for part in place.split(".") if part not in SIDES][-1]


def neutral(place: str) -> float | None:
    """What the figure at a place is where the kit changes nothing: of a ratio one, of what is added zero.

    >>> neutral("drinks.double.drop_ratio.sensor"), neutral("warm_up.added_s"), neutral("same_cup_degc")
    (1.0, 0.0, None)
    """
    if "_ratio" in place:
        return 1.0
    return 0.0 if "added" in key(place).split("_") else None


def undecided(place: str, figure: Figure) -> bool:
    """Whether the figure's range holds more as well as less than no change, so that its median decides nothing."""
    same = neutral(place)
    if same is None or not figure.ranged:
        return False
    return (figure.low is None or figure.low < same) and (figure.high is None or figure.high > same)


def way(place: str, figure: Figure) -> Literal["more", "less", "either"]:
    """Which way the whole range of a ratio, or of what is added, points."""
    if undecided(place, figure):
        return "either"
    known = next((one for one in (figure.value, figure.low, figure.high) if one is not None), None)
    return "less" if known is not None and known < (neutral(place) or 0.0) else "more"


# --- headlines ---------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Headline:
    """A figure that a guide is judged by: its place, and what it is called over a column."""

    words: str
    place: str


HEADLINES = (
    Headline("drop ratio", "drinks.*.drop_ratio.sensor"),
    Headline("drop with the kit", "drinks.*.with.sensor_drop_k"),
    Headline("mean outlet with the kit", "drinks.*.with.mean_outlet_degc"),
    Headline("warm-up added", "warm_up.added_s"),
    Headline("energy ratio", "energy.day_ratio"),
)
"""The first before all; those of a drink are the main drink's."""


def headlines(main_drink: str) -> tuple[str, ...]:
    """The places of the headlines, the first before all."""
    return tuple(one.place.replace(ANY, main_drink) for one in HEADLINES)
