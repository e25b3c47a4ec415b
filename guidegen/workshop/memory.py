"""What one look at a workshop made, kept for the next: from the same bytes come the very same objects.

So a second look after an edit costs only what the edit touched, and whoever holds on to a document sees by
identity whether it changed. Only what the last look used is kept.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

T = TypeVar("T")


class Memory:
    """Results by what they were made from. Text, bytes and types count by value, every other input by identity."""

    def __init__(self) -> None:
        self._kept: dict[tuple[Any, ...], tuple[tuple[object, ...], Any]] = {}
        self._used: dict[tuple[Any, ...], tuple[tuple[object, ...], Any]] = {}

    def of(self, what: str, inputs: tuple[object, ...], make: Callable[[], T]) -> T:
        """Return what was made of these inputs, made now where it was not yet."""
        key = (what, *(one if isinstance(one, str | bytes | type) else id(one) for one in inputs))
        entry = self._used.get(key) or self._kept.get(key)
        if entry is None:
            # The inputs are held on to, so that no other object can come to have their identity.
            entry = (inputs, make())
        self._used[key] = entry
        made: T = entry[1]
        return made

    def end(self) -> None:
        """Forget what this look did not use."""
        self._kept, self._used = self._used, {}
