"""The table of outputs, by their places, as the record's models declare them; and the parts that they stand in."""

from __future__ import annotations

import types
from collections.abc import Iterator, Mapping
from functools import cache, lru_cache
from typing import Any, Union, get_args, get_origin

from guidegen.record import Assessment
from guidegen.record.base import Figure, Record
from guidegen.record.outputs import Chapter, Output
from guidegen.record.places import ANY


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


@lru_cache(maxsize=4096)
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


@cache
def chapters() -> Mapping[str, Chapter]:
    """The parts of the record that hold figures, by name, in the order of the numbers page."""
    fields = Assessment.model_fields.items()
    found = {name: one for name, field in fields for one in field.metadata if isinstance(one, Chapter)}
    return types.MappingProxyType(dict(sorted(found.items(), key=lambda item: item[1].order)))
