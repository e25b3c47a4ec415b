"""What a kit asks of a machine, as frozen data: conditions, each a small tree of comparisons, with their remedies."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from guidegen.judge.comparison import Comparison, Facts, Test
from guidegen.judge.logic import Truth


@dataclass(frozen=True)
class Remedy:
    """What can be done where a condition is not met, and what that asks of the machine in turn."""

    id: str
    kind: Literal["kit", "part", "fabrication"]
    name: str
    minutes: float
    cuts: bool = False
    mains_work: bool = False
    needs: tuple[Condition, ...] = ()


@dataclass(frozen=True)
class Condition:
    """One requirement. Where it is not met: one of its remedies helps, or, without any, it disqualifies.

    `has_already`: what does not meet it has what the kit brings.
    """

    id: str
    says: str
    test: Test
    because: str = ""
    remedies: tuple[Remedy, ...] = ()
    has_already: bool = False

    def judge(self, facts: Facts, hidden: Collection[Comparison] = ()) -> Truth:
        """Return whether the condition holds; a `hidden` comparison is open whatever is known of its fact."""
        return self.test.judge(facts, hidden)


def all_conditions(conditions: Iterable[Condition]) -> Iterator[Condition]:
    """Yield the conditions in document order, each directly followed by those of its remedies."""
    for condition in conditions:
        yield condition
        for remedy in condition.remedies:
            yield from all_conditions(remedy.needs)


def all_remedies(conditions: Iterable[Condition]) -> Iterator[Remedy]:
    """Yield the remedies in document order, each followed by those that its needs may call for."""
    for condition in conditions:
        for remedy in condition.remedies:
            yield remedy
            yield from all_remedies(remedy.needs)
