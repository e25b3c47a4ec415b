"""What fitting takes beside money: days without the machine, visits of a skilled person, tools. All from the record."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from guidegen.record import Assessment
from guidegen.record.procedure import InstructionPhase, UsedItem
from guidegen.record.step import InstructionStep
from guidegen.units import UnitError, parse

SKILLED = "electrically-skilled"
DAY_MIN = 24 * 60
WHOLE_DAY_H, EVENING_H = 8, 3
"""How long somebody stands at the bench in a day: on a free day, and after work."""
START_EVERY_MIN = 15
"""So finely the best moment to begin is looked for."""


@dataclass(frozen=True)
class Stretch:
    """Minutes of work, or of waiting, in their order."""

    minutes: float
    is_wait: bool = False


@dataclass(frozen=True)
class Days:
    """Days without the machine: `fewest` for whole days at the bench, `most` for evenings; `waits` in minutes."""

    fewest: int
    most: int
    waits: tuple[float, ...]


@dataclass(frozen=True)
class Visit:
    """What a skilled person does on one visit: phases by number and name, and his steps in their order."""

    phases: tuple[InstructionPhase, ...]
    steps: tuple[InstructionStep, ...]

    @property
    def minutes(self) -> float:
        """How long his own steps take."""
        return sum(one.minutes for one in self.steps)


def days(record: Assessment) -> Days | None:
    """How long the machine cannot be used; None without an instruction."""
    if record.procedure is None:
        return None
    found = stretches(record.procedure.fitting.phases)
    fewest, most = (math.ceil(shortest(found, hours * 60) / DAY_MIN) for hours in (WHOLE_DAY_H, EVENING_H))
    return Days(fewest, most, tuple(one.minutes for one in found if one.is_wait))


def stretches(phases: Sequence[InstructionPhase]) -> tuple[Stretch, ...]:
    """Work and waits by turns. A wait counts at the end of its phase.

    Of phases that are for some readers only, the longest counts: who does one does not do the other.
    """
    some = [one for one in phases if one.only_if]
    longest = max(some, key=lambda one: one.minutes, default=None)
    made = []
    for phase in phases:
        if phase.only_if and phase is not longest:
            continue
        made.append(Stretch(phase.minutes))
        made += [Stretch(wait, is_wait=True) for wait in map(_minutes, phase.waits) if wait]
    return tuple(made)


def _minutes(wait: str) -> float:
    """A wait as it is printed, in minutes; none where an old edition prints it otherwise."""
    try:
        return parse(wait, "time").value / 60
    except UnitError:
        return 0.0


def shortest(found: Sequence[Stretch], bench: int) -> float:
    """Minutes from the first act to the last, of whoever begins at the best moment and works `bench` minutes a day.

    Waits run through the night.

    >>> shortest([Stretch(60), Stretch(13 * 60, is_wait=True), Stretch(60)], 8 * 60) / 60
    18.0
    """
    return min(_elapsed(found, bench, start) for start in range(0, bench, START_EVERY_MIN))


def _elapsed(found: Sequence[Stretch], bench: int, start: int) -> float:
    now = float(start)
    for one in found:
        if one.is_wait:
            now += one.minutes
            continue
        left = one.minutes
        while left > 0:
            hour = now % DAY_MIN
            if hour >= bench:
                now, hour = now + DAY_MIN - hour, 0.0
            done = min(left, bench - hour)
            now, left = now + done, left - done
    return now - start


def visits(record: Assessment) -> tuple[Visit, ...]:
    """The visits of a skilled person; none known of editions from before they were kept."""
    if record.procedure is None:
        return ()
    phases = {one.number: one for one in record.procedure.fitting.phases}
    found = []
    for numbers in record.procedure.visits:
        there = tuple(phases[one] for one in numbers if one in phases)
        found.append(Visit(there, tuple(step for one in there for step in one.steps if step.role == SKILLED)))
    return tuple(found)


def own_tools(record: Assessment) -> tuple[UsedItem, ...]:
    """The tools that whoever does the rest takes in hand."""
    return tuple(one for one, own in _tools(record) if own)


def skilled_tools(record: Assessment) -> tuple[UsedItem, ...]:
    """The tools that the skilled person alone takes in hand, and so brings."""
    return tuple(one for one, own in _tools(record) if not own)


def _tools(record: Assessment) -> Iterator[tuple[UsedItem, bool]]:
    if record.procedure is None:
        return
    role = {step.number: step.role for step in record.procedure.fitting.steps}
    for one in record.procedure.uses.tools:
        yield one, any(role.get(number) != SKILLED for number in one.steps)
