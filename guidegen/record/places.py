"""Where the figures of a record stand: names joined by dots, as in `drinks.double.with.sensor_drop_k`.

What is known of a figure by its place alone is read from the record's models, which declare it.
"""

from __future__ import annotations

import types
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Union, get_args, get_origin

from guidegen.record import Assessment
from guidegen.record.base import Figure, Record
from guidegen.record.drinks import Waiting
from guidegen.record.outputs import Chapter, Output

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


# --- what is declared --------------------------------------------------------------------------------


@cache
def outputs() -> Mapping[str, Output]:
    """Every output by its place, in the record's order; a figure that is not declared as one is a fault of ours."""
    return types.MappingProxyType(dict(declared(Assessment, "", None)))


def declared(kind: Any, place: str, output: Output | None) -> Iterator[tuple[str, Output]]:
    """Every output below a field's type, with its place; `output` is what the field itself is declared as."""
    origin, inner = get_origin(kind), get_args(kind)
    if origin in (Union, types.UnionType):
        for one in inner:
            yield from declared(one, place, output)
    elif origin in (dict, tuple) and inner:
        yield from declared(inner[1] if origin is dict else inner[0], f"{place}.{ANY}", output)
    elif kind is Figure:
        if output is None:
            raise TypeError(f"{place}: a figure of the record without an Output")
        yield place, output
    elif isinstance(kind, type) and issubclass(kind, Record):
        for name, field in kind.model_fields.items():
            own = next((one for one in field.metadata if isinstance(one, Output)), output)
            name = field.alias or name
            yield from declared(field.annotation, f"{place}.{name}" if place else name, own)


def output_at(place: str) -> Output:
    """What the figure at a place is; raises `KeyError` where today's record has none, as an old one may.

    >>> output_at("waiting.30.sensor_drop_k.without").name
    'Sensor drop'
    """
    head, *rest = place.split(".")
    # A wait of half a second has a dot in it.
    tried = (place, *(".".join((head, ANY, *rest[i:])) for i in range(1, len(rest))))
    known = outputs()
    found = next((known[one] for one in tried if one in known), None)
    if found is None:
        raise KeyError(place)
    return found


def key(place: str) -> str:
    """The name at a place that ends in its unit: the last one that is not a side.

    >>> key("waiting.30.sensor_drop_k.without"), key("drinks.double.drop_ratio.sensor")
    ('sensor_drop_k', 'sensor')
    """
    return [part for part in place.split(".") if part not in SIDES][-1]


@cache
def chapters() -> Mapping[str, Chapter]:
    """The parts of the record that hold figures, by name, in the order of the numbers page."""
    fields = Assessment.model_fields.items()
    found = {name: one for name, field in fields for one in field.metadata if isinstance(one, Chapter)}
    return types.MappingProxyType(dict(sorted(found.items(), key=lambda item: item[1].order)))


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
