"""Reduced ordered decision diagrams with many-way nodes: equal parts are kept once, useless questions vanish.

The method is that of Bryant's ordered binary decision diagrams (R. E. Bryant, Graph-Based Algorithms for Boolean
Function Manipulation, IEEE Transactions on Computers C-35, 1986; cited from memory), with as many branches per node
as a question has distinct answers and with any value at the ends. For a fixed order the diagram of a function is
unique, so two rules that judge alike are the same diagram.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from typing import Any

LEAF = -1
"""The level of an end."""


class TooLarge(ValueError):
    """The diagram outgrew its limit. The message says what to do."""


class Store:
    """All nodes of some diagrams. A diagram is the number of its top node."""

    def __init__(self, limit: int) -> None:
        """Start empty; refuse to hold more than `limit` nodes."""
        self._limit = limit
        self._numbers: dict[Hashable, int] = {}
        self._levels: list[int] = []
        self._children: list[tuple[int, ...]] = []
        self._values: list[Any] = []

    def end(self, value: Hashable) -> int:
        """Return the end with this value."""
        return self._keep((LEAF, type(value), value), LEAF, (), value)

    def node(self, level: int, children: Sequence[int]) -> int:
        """Return the node that asks question `level`; where the answer changes nothing, what comes after."""
        if all(child == children[0] for child in children):
            return children[0]
        return self._keep((level, tuple(children)), level, tuple(children), None)

    def is_end(self, number: int) -> bool:
        """Return whether nothing is asked any more."""
        return self._levels[number] == LEAF

    def level(self, number: int) -> int:
        """Return which question a node asks."""
        return self._levels[number]

    def children(self, number: int) -> tuple[int, ...]:
        """Return where the answers lead."""
        return self._children[number]

    def value(self, number: int) -> Any:
        """Return the value of an end."""
        return self._values[number]

    def join(self, of: Callable[..., Hashable], *diagrams: int) -> int:
        """Return the diagram of `of(values…)`, asked in the common order."""
        memo: dict[tuple[int, ...], int] = {}

        def joined(parts: tuple[int, ...]) -> int:
            if parts in memo:
                return memo[parts]
            open_levels = [self._levels[part] for part in parts if self._levels[part] != LEAF]
            if not open_levels:
                result = self.end(of(*(self._values[part] for part in parts)))
            else:
                first = min(open_levels)
                width = next(len(self._children[part]) for part in parts if self._levels[part] == first)
                branches = (
                    joined(tuple(self._children[part][way] if self._levels[part] == first else part for part in parts))
                    for way in range(width)
                )
                result = self.node(first, tuple(branches))
            memo[parts] = result
            return result

        return joined(diagrams)

    def reachable(self, top: int) -> list[int]:
        """Return the nodes and ends of one diagram, each before those it leads to."""
        seen: dict[int, int] = {}
        waiting = [top]
        while waiting:
            number = waiting.pop()
            if number not in seen:
                seen[number] = len(seen)
                waiting.extend(reversed(self._children[number]))
        return sorted(seen, key=lambda number: (self.is_end(number), self._levels[number], seen[number]))

    def _keep(self, key: Hashable, level: int, children: tuple[int, ...], value: Any) -> int:
        if key in self._numbers:
            return self._numbers[key]
        if len(self._levels) >= self._limit:
            raise TooLarge(
                f"the self-check would need more than {self._limit} steps: ask fewer facts, or settle more of them "
                "in the variant's data"
            )
        self._numbers[key] = len(self._levels)
        self._levels.append(level)
        self._children.append(children)
        self._values.append(value)
        return self._numbers[key]
