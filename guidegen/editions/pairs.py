"""The entries of two lists beside each other, as every comparison of editions needs them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

Data = Mapping[str, Any]


def both(one: Data | None, other: Data | None, text: Callable[[Data], str]) -> tuple[str | None, str | None]:
    """The text of either side; None where there is no such side."""
    return text(one) if one else None, text(other) if other else None


def pairs(old: Sequence[Data], new: Sequence[Data]) -> Iterator[tuple[Any, Any]]:
    """Entries of two lists by their id: in both, gone, new; in the newer one's order, what is gone at the end."""
    before = {one["id"]: one for one in old}
    after = {one["id"]: one for one in new}
    for name, entry in after.items():
        yield before.get(name), entry
    for name, entry in before.items():
        if name not in after:
            yield entry, None
