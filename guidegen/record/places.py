"""Where the figures of a record stand: names joined by dots, as in `drinks.double.with.sensor_drop_k`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from guidegen.record.base import Figure, Record
from guidegen.record.computed import Waiting

HEADLINES = (
    "drinks.double.drop_ratio.sensor",
    "drinks.double.with.sensor_drop_k",
    "drinks.double.with.mean_outlet_degc",
    "warm_up.added_s",
    "energy.day_ratio",
)
"""The figures that a guide is judged by, the first before all."""


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
