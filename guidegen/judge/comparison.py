"""Comparisons of facts, as frozen data: one fact against something that is known, and trees of them.

`not` does not occur: it is pushed down to the comparisons when a tree is built (De Morgan's laws hold in strong Kleene
logic), where it becomes `negated`.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from guidegen.judge.logic import Interval, Truth, all_of, among, any_of, at_least, at_most
from guidegen.workshop.base import HasPlaces, Loc

Known = Interval | frozenset[str]
"""What is known of a fact: the interval of a quantity, or the words that may apply. Absent means unknown."""

Facts = Mapping[str, Known]


class RequirementError(ValueError):
    """A requirement that cannot be judged as it is written. The message is for its author.

    `document` and `loc` say where it was written, where that is known; `fix` what to write instead.
    """

    def __init__(self, message: str, document: HasPlaces | None = None, loc: Loc = (), fix: str = "") -> None:
        """Keep place and fix beside the message."""
        super().__init__(message)
        self.document, self.loc, self.fix = document, loc, fix


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
class Comparison:
    """One fact against one bound. `limit` is the computed name that the bound came from."""

    fact: str
    test: Within | OneOf
    negated: bool = False
    limit: str | None = None

    def judge(self, facts: Facts, hidden: Collection[Comparison] = ()) -> Truth:
        """Return whether the comparison holds on what is known; not known where it is `hidden`."""
        known = None if self in hidden else facts.get(self.fact)
        return Truth.UNKNOWN if known is None else self.judge_known(known)

    def judge_known(self, known: Known) -> Truth:
        """Return whether the comparison holds for this value of its fact."""
        try:
            truth = self.test.judge(known)
        except RequirementError as error:
            raise RequirementError(f"{self.fact}: {error}") from None
        return ~truth if self.negated else truth


@dataclass(frozen=True)
class Connective:
    """Tests of which all, or at least one, must hold."""

    kind: Literal["all", "any"]
    members: tuple[Test, ...]

    def judge(self, facts: Facts, hidden: Collection[Comparison] = ()) -> Truth:
        """Return whether the group holds on what is known, the `hidden` comparisons being open."""
        join = all_of if self.kind == "all" else any_of
        return join(member.judge(facts, hidden) for member in self.members)


Test = Comparison | Connective


def comparisons_of(test: Test) -> Iterator[Comparison]:
    """Yield the comparisons in document order."""
    if isinstance(test, Comparison):
        yield test
    else:
        for member in test.members:
            yield from comparisons_of(member)
