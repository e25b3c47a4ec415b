"""The cases of a course: which of its steps are done on one machine, where the instruction prints those of all."""

from __future__ import annotations

import re
from dataclasses import dataclass

from guidegen.record.procedure import InstructionCourse
from guidegen.record.step import InstructionStep


@dataclass(frozen=True)
class WorkCase:
    """One way through a course. `names` are those of the record that take the same steps; `says` what holds in it."""

    names: tuple[str, ...] = ()
    says: tuple[str, ...] = ()
    common: tuple[str, ...] = ()

    @property
    def id(self) -> str:
        """What a command and a file call it: what its names have in common; nothing where there is one case.

        >>> WorkCase(common=("exchanged",)).id, WorkCase().id
        ('exchanged', '')
        """
        return re.sub("[^a-z0-9]+", "-", "-".join(self.common).lower()).strip("-")

    @property
    def words(self) -> str:
        """What holds in it before all else; nothing where there is one case."""
        return next(iter(self.says), "")

    def takes(self, step: InstructionStep) -> bool:
        """Whether a step is done in this case."""
        return not step.cases or any(name in step.cases for name in self.names)


EVERY = WorkCase()
"""The case of a sheet that is the same in all of them."""


def cases_of(course: InstructionCourse) -> tuple[WorkCase, ...]:
    """Every case in which other steps are done, in the record's order: the least change of the machine first."""
    steps = [step for step in course.steps if step.cases]
    names = tuple(dict.fromkeys(name for step in steps for name in step.cases))
    alike: dict[tuple[bool, ...], list[str]] = {}
    for name in names:
        alike.setdefault(tuple(name in step.cases for step in steps), []).append(name)
    if len(alike) < 2:
        return (WorkCase(names),)
    made = []
    for group in alike.values():
        parts = [name.split(", ") for name in group]
        common = tuple(part for part in parts[0] if all(part in other for other in parts))
        said = [step.only_if for step in steps if step.only_if and any(name in step.cases for name in group)]
        made.append(WorkCase(tuple(group), tuple(dict.fromkeys(said)), common))
    return tuple(made)
