"""The order of a course's steps: where acts go that no author writes, and the numbers of all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from guidegen.judge.safety.model import ResolvedStep


def before_changes(phases: Sequence[Sequence[ResolvedStep]], cases: int) -> tuple[int, int]:
    """The phase and the index in it: once the machine is open in every case, before anything is recorded or moved.

    A course that does not open the machine, or not in every case, has it as its first step.
    """
    for phase, steps in enumerate(phases):
        opened = next((place for place, one in enumerate(steps) if _opens(one) and len(one.scenarios) == cases), None)
        if opened is not None:
            later = range(opened + 1, len(steps))
            return phase, next((place for place in later if _changes(steps[place])), len(steps))
    return 0, 0


def _opens(step: ResolvedStep) -> bool:
    return step.step.sets.get("enclosure") == "open"


def _changes(step: ResolvedStep) -> bool:
    one = step.step
    return bool(one.records or one.touches or one.removes or one.refits or one.disturbs or one.act is None)


def numbered(steps: Sequence[ResolvedStep], number: str) -> tuple[ResolvedStep, ...]:
    """The steps of a phase or failing side with their numbers."""
    return tuple(replace(step, number=f"{number}.{index}") for index, step in enumerate(steps, 1))
