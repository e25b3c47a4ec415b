"""What to do where something is not met: every smallest set of remedies that makes the kit fit.

A remedy that needs another (a kit that itself needs a kit) brings it along. A remedy whose own needs are not known
yet is still named, with what has to hold first: a ready-trimmed exchange part is worth knowing of before anyone cuts.
Sets are ranked: first those that surely suffice, least effort first, then those that may.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from guidegen.judge.fit.tree import Condition, Remedy
from guidegen.judge.logic import Truth

MOST_SETS = 64
"""More alternatives than that help nobody to choose, and point at a mistake in the requirements."""

_Token = Remedy | Condition
_Set = frozenset[str]
_NOTHING_NEEDED: frozenset[_Set] = frozenset({frozenset()})


class TooManyRemedies(ValueError):
    """The remedies can be combined in more ways than anybody would read."""


@dataclass(frozen=True)
class RemedySet:
    """Remedies that together make the kit fit, none of them superfluous, in document order.

    `provided` are needs of these remedies that are not known yet: the set suffices if all of them hold.
    """

    remedies: tuple[Remedy, ...]
    provided: tuple[Condition, ...] = ()

    @property
    def ids(self) -> tuple[str, ...]:
        """Return the ids of the remedies."""
        return tuple(remedy.id for remedy in self.remedies)

    @property
    def minutes(self) -> float:
        """Return the effort of all of them."""
        return sum(remedy.minutes for remedy in self.remedies)

    @property
    def cuts(self) -> bool:
        """Return whether any of them cuts something that cannot be put back."""
        return any(remedy.cuts for remedy in self.remedies)

    @property
    def mains_work(self) -> bool:
        """Return whether any of them needs work on mains parts."""
        return any(remedy.mains_work for remedy in self.remedies)

    @property
    def rank(self) -> tuple[bool, float, int, tuple[str, ...]]:
        """Return what sets are sorted by."""
        return bool(self.provided), self.minutes, len(self.remedies), self.ids


def sufficient_sets(conditions: Iterable[Condition], truths: Mapping[str, Truth]) -> tuple[RemedySet, ...]:
    """Return the smallest sufficient sets, best first; one empty set where nothing is needed."""
    tokens: dict[str, _Token] = {}
    found = []
    for one in _for_all(conditions, truths, tokens, needed=False):
        named = [token for name, token in tokens.items() if name in one]
        remedies = tuple(token for token in named if isinstance(token, Remedy))
        found.append(RemedySet(remedies, tuple(token for token in named if isinstance(token, Condition))))
    return tuple(sorted(found, key=lambda one: one.rank))


def without_cutting(sets: Iterable[RemedySet]) -> RemedySet | None:
    """Return the first set that cuts nothing, or None where each of them cuts."""
    return next((one for one in sets if not one.cuts), None)


def _for_all(
    conditions: Iterable[Condition], truths: Mapping[str, Truth], tokens: dict[str, _Token], needed: bool
) -> frozenset[_Set]:
    """Return the smallest sets of tokens that make all conditions true; no set at all where none can."""
    joined = _NOTHING_NEEDED
    for condition in conditions:
        ways = _for_one(condition, truths, tokens, needed)
        joined = _smallest(one | other for one in joined for other in ways)
    return joined


def _for_one(
    condition: Condition, truths: Mapping[str, Truth], tokens: dict[str, _Token], needed: bool
) -> frozenset[_Set]:
    truth = truths[condition.id]
    if truth is Truth.TRUE:
        return _NOTHING_NEEDED
    if truth is Truth.UNKNOWN:
        # What the kit itself asks must be known; what only a remedy asks can still be found out.
        if not needed:
            return frozenset()
        tokens.setdefault(f"?{condition.id}", condition)
        return frozenset({frozenset({f"?{condition.id}"})})
    found: list[_Set] = []
    for remedy in condition.remedies:
        tokens.setdefault(remedy.id, remedy)
        found += [one | {remedy.id} for one in _for_all(remedy.needs, truths, tokens, needed=True)]
    return _smallest(found)


def _smallest(sets: Iterable[_Set]) -> frozenset[_Set]:
    """Drop every set that contains another."""
    kept: list[_Set] = []
    for one in sorted(set(sets), key=lambda one: (len(one), sorted(one))):
        if not any(other <= one for other in kept):
            kept.append(one)
    if len(kept) > MOST_SETS:
        raise TooManyRemedies(f"more than {MOST_SETS} sets of remedies would do: join or drop some of them")
    return frozenset(kept)
