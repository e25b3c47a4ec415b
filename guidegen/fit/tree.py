"""What a kit asks of a machine, as a frozen tree: conditions, joined by `all` and `any`, with their
remedies.

`not` does not occur: it is pushed down to the conditions when the tree is built (De Morgan's laws hold in
strong Kleene logic), where it becomes `negated`. A condition compares one fact of the machine with
something that is known when the site is built.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from guidegen.fit.logic import Interval, Truth, among, at_least, at_most

Known = Interval | frozenset[str]
"""What is known of a fact: the interval of a quantity, or the words that may apply. Absent means unknown."""

Facts = Mapping[str, Known]


class RequirementError(ValueError):
    """A requirement that cannot be judged as it is written. The message is for its author."""


@dataclass(frozen=True)
class Within:
    """A quantity between two limits, either of which may be missing; each limit is an interval in SI."""

    dimension: str
    lowest: Interval | None = None
    highest: Interval | None = None

    def judge(self, known: Known) -> Truth:
        """Return whether the quantity lies within."""
        if not isinstance(known, Interval):
            raise RequirementError("a word is compared with a quantity")
        truth = Truth.TRUE
        if self.lowest is not None:
            truth &= at_least(known, self.lowest)
        if self.highest is not None:
            truth &= at_most(known, self.highest)
        return truth


@dataclass(frozen=True)
class OneOf:
    """A word out of a set."""

    wanted: frozenset[str]

    def judge(self, known: Known) -> Truth:
        """Return whether what may be there is what is wanted."""
        if isinstance(known, Interval):
            raise RequirementError("a quantity is compared with words")
        return among(known, self.wanted)


@dataclass(frozen=True)
class Remedy:
    """What can be done where a condition is not met, and what that asks of the machine in turn."""

    id: str
    kind: Literal["kit", "part", "fabrication"]
    name: str
    minutes: float
    cuts: bool = False
    mains_work: bool = False
    needs: Node | None = None


@dataclass(frozen=True)
class Condition:
    """One comparison. Where it is not met: a remedy helps, or, without one, it disqualifies."""

    id: str
    says: str
    fact: str
    test: Within | OneOf
    negated: bool = False
    because: str = ""
    remedies: tuple[Remedy, ...] = ()

    def judge(self, facts: Facts) -> Truth:
        """Return whether the condition holds."""
        known = facts.get(self.fact)
        if known is None:
            return Truth.UNKNOWN
        try:
            truth = self.test.judge(known)
        except RequirementError as error:
            raise RequirementError(f"{self.id}: {error}: {self.fact}") from None
        return ~truth if self.negated else truth


@dataclass(frozen=True)
class Group:
    """Conditions and groups of which all, or at least one, must hold."""

    kind: Literal["all", "any"]
    members: tuple[Node, ...]


Node = Condition | Group
EVERYTHING = Group("all", ())


def conditions_of(node: Node) -> Iterator[Condition]:
    """Yield the conditions in document order, each directly followed by those of its remedies."""
    if isinstance(node, Group):
        for member in node.members:
            yield from conditions_of(member)
        return
    yield node
    for remedy in node.remedies:
        if remedy.needs is not None:
            yield from conditions_of(remedy.needs)


def remedies_of(node: Node) -> Iterator[Remedy]:
    """Yield the remedies in document order, those that remedies need included."""
    for condition in conditions_of(node):
        yield from condition.remedies
