"""What recorded builds say together: how long each phase took, what failed and what helped, what was measured."""

from __future__ import annotations

import statistics
from collections.abc import Iterable
from dataclasses import dataclass

from guidegen.record.stated import Build, BuildFact, BuildFailure


@dataclass(frozen=True)
class MinutesTaken:
    """Minutes of one phase, or of the whole, over several builds."""

    count: int
    least: float
    median: float
    most: float


def complete(builds: Iterable[Build]) -> tuple[Build, ...]:
    """The builds in which every hold point passed and was signed for: what “carried out” means."""
    return tuple(one for one in builds if one.passed)


def spread(minutes: Iterable[float]) -> MinutesTaken | None:
    """Least, median and most of some minutes; None of none.

    The median of an even number is the mean of the two in the middle.

    >>> spread([50, 41, 74, 47])
    MinutesTaken(count=4, least=41, median=48.5, most=74)
    """
    found = sorted(minutes)
    return MinutesTaken(len(found), found[0], statistics.median(found), found[-1]) if found else None


def phase_spreads(builds: Iterable[Build]) -> dict[str, MinutesTaken]:
    """Minutes by phase, over the builds that were carried out and say how long the phase took."""
    taken: dict[str, list[float]] = {}
    for one in complete(builds):
        for phase in one.phases:
            taken.setdefault(phase.phase, []).append(phase.took)
    return {phase: found for phase, minutes in taken.items() if (found := spread(minutes))}


def failures(builds: Iterable[Build]) -> dict[str, tuple[tuple[Build, BuildFailure], ...]]:
    """By step, every time that its hold point failed, with the build; the most frequent first."""
    found: dict[str, list[tuple[Build, BuildFailure]]] = {}
    for one in builds:
        for failure in one.failures:
            found.setdefault(failure.step, []).append((one, failure))
    return {step: tuple(many) for step, many in sorted(found.items(), key=lambda item: (-len(item[1]), item[0]))}


def measured(builds: Iterable[Build]) -> dict[str, tuple[tuple[Build, BuildFact], ...]]:
    """By fact, what was measured on the machines, with the build."""
    found: dict[str, list[tuple[Build, BuildFact]]] = {}
    for one in builds:
        for fact in one.facts:
            found.setdefault(fact.fact, []).append((one, fact))
    return {fact: tuple(many) for fact, many in found.items()}
