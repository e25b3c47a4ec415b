"""What to do where something is not met: every smallest set of remedies that makes the kit fit.

A remedy that needs another (a kit that itself needs a kit) brings it along. Sets are ranked by effort; the
first set that cuts nothing is worth a place of its own, whatever its effort.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from guidegen.fit.logic import Truth
from guidegen.fit.tree import Condition, Group, Node, Remedy

MOST_SETS = 64
"""More alternatives than that help nobody to choose, and point at a mistake in the requirements."""

_Set = frozenset[str]


class TooManyRemedies(ValueError):
    """The remedies can be combined in more ways than anybody would read."""


@dataclass(frozen=True)
class RemedySet:
    """Remedies that together make the kit fit, none of them superfluous; in document order."""

    remedies: tuple[Remedy, ...]

    @property
    def ids(self) -> tuple[str, ...]:
        """Return the ids."""
        return tuple(remedy.id for remedy in self.remedies)

    @property
    def minutes(self) -> float:
        """Return the effort of all of them."""
        return sum(remedy.minutes for remedy in self.remedies)

    @property
    def cuts(self) -> bool:
        """Return whether any of them cuts something that does not grow back."""
        return any(remedy.cuts for remedy in self.remedies)

    @property
    def mains_work(self) -> bool:
        """Return whether any of them needs work on mains parts."""
        return any(remedy.mains_work for remedy in self.remedies)


def sufficient_sets(node: Node, truths: Mapping[str, Truth]) -> tuple[RemedySet, ...]:
    """Return the smallest sufficient sets, least effort first; one empty set where nothing is needed."""
    known: dict[str, Remedy] = {}
    sets = _sets(node, truths, known)
    order = list(known)
    found = [RemedySet(tuple(known[name] for name in order if name in one)) for one in sets]
    return tuple(sorted(found, key=lambda one: (one.minutes, len(one.ids), one.ids)))


def without_cutting(sets: Iterable[RemedySet]) -> RemedySet | None:
    """Return the set of least effort that cuts nothing, or None where each of them cuts."""
    return next((one for one in sets if not one.cuts), None)


def _sets(node: Node, truths: Mapping[str, Truth], known: dict[str, Remedy]) -> frozenset[_Set]:
    """Return the smallest sets of remedy ids that make the node true; no set at all where none can."""
    if isinstance(node, Group):
        parts = [_sets(member, truths, known) for member in node.members]
        return _together(parts) if node.kind == "all" else _smallest(one for part in parts for one in part)
    truth = truths[node.id]
    if truth is Truth.TRUE:
        return frozenset({frozenset()})
    return _of_remedies(node, truths, known) if truth is Truth.FALSE else frozenset()


def _of_remedies(
    condition: Condition, truths: Mapping[str, Truth], known: dict[str, Remedy]
) -> frozenset[_Set]:
    found: list[_Set] = []
    for remedy in condition.remedies:
        known.setdefault(remedy.id, remedy)
        needs = frozenset({frozenset[str]()}) if remedy.needs is None else _sets(remedy.needs, truths, known)
        found += [one | {remedy.id} for one in needs]
    return _smallest(found)


def _together(parts: list[frozenset[_Set]]) -> frozenset[_Set]:
    joined: frozenset[_Set] = frozenset({frozenset()})
    for part in parts:
        joined = _smallest(one | other for one in joined for other in part)
    return joined


def _smallest(sets: Iterable[_Set]) -> frozenset[_Set]:
    """Drop every set that contains another."""
    kept: list[_Set] = []
    for one in sorted(set(sets), key=lambda one: (len(one), sorted(one))):
        if not any(other <= one for other in kept):
            kept.append(one)
    if len(kept) > MOST_SETS:
        raise TooManyRemedies(f"more than {MOST_SETS} sets of remedies would do: join or drop some of them")
    return frozenset(kept)
