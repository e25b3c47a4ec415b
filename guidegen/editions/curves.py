"""Curves in a snapshot: a row of numbers that several records hold stands once, and is named where it is held.

The same machine without a kit is drawn beside each of its kits, and all curves share a few time scales.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

SHORTEST = 12
_MARK = "curve"


def share(records: Sequence[dict[str, Any]], table: dict[str, Any]) -> None:
    """Replace, in place, each row of numbers that occurs more than once by the name it has in the table."""
    seen: dict[tuple[Any, ...], list[str]] = {}

    def note(row: list[Any], place: str) -> Any:
        seen.setdefault(tuple(row), []).append(place)
        return row

    def named(row: list[Any], place: str) -> Any:
        places = seen[tuple(row)]
        if len(places) == 1:
            return row
        table[places[0]] = row
        return {_MARK: places[0]}

    for change in (note, named):
        for record in records:
            top = f"{record['variant']['id']}/{record['kit']['id']}"
            for key, part in record.items():
                record[key] = _walk(part, f"{top}/{key}", change)


def spread(part: Any, table: Mapping[str, Any]) -> Any:
    """The part with every name of the table replaced by its row."""
    if isinstance(part, dict):
        if part.keys() == {_MARK} and part[_MARK] in table:
            return list(table[part[_MARK]])
        return {key: spread(entry, table) for key, entry in part.items()}
    return [spread(entry, table) for entry in part] if isinstance(part, list) else part


def _walk(part: Any, place: str, change: Callable[[list[Any], str], Any]) -> Any:
    if isinstance(part, dict):
        return {key: _walk(entry, f"{place}.{key}", change) for key, entry in part.items()}
    if not isinstance(part, list):
        return part
    if len(part) >= SHORTEST and all(entry is None or isinstance(entry, int | float) for entry in part):
        return change(part, place)
    return [_walk(entry, f"{place}.{index}", change) for index, entry in enumerate(part)]
