"""What the record holds of an instruction: everything that is printed, in printed order.

Fields with "absent before" in their docstring were added while the format stayed the same: records of older editions
lack them, and then they have the empty value that they have here.
"""

from __future__ import annotations

from pydantic import Field

from guidegen.record.base import Record
from guidegen.record.step import Branch, HazardStatement, InstructionStep


class WorkNote(Record):
    """Something to know before the work. `source`: absent before it was printed."""

    id: str
    says: str
    because: str | None
    source: str | None = None


class CareNote(WorkNote):
    """Something to do after the work.

    `occasion`, in words, and the name of the `act`: absent before after-care was acts.
    """

    occasion: str | None = None
    act: str | None = None


class AppliesTo(Record):
    """Which machines an instruction is for, and how to recognise them."""

    applies_to: str
    does_not_apply: tuple[str, ...]
    how_to_tell: str


class FaultRow(Record):
    """One row of the table of faults. `sign`, the name of the symptom: absent before it had one."""

    symptom: str
    cause: str
    check: str
    do: str
    stop_use: bool
    sign: str | None = None


class PrintedWaiver(Record):
    """A rule that somebody answers for in writing, by role and date."""

    rule: str
    step: str | None
    because: str
    role: str
    date: str


class ResidualRisk(Record):
    """What remains of a hazard although every step is followed."""

    hazard: str
    remains: str


class UsedItem(Record):
    """A tool, part or consumable of a course, with the numbers of the steps that take it in hand.

    `only_if` says for whom it is, where all of these steps are for the same readers. `details` and `only_if`: absent
    before they were printed.
    """

    id: str
    name: str
    details: str | None = None
    only_if: str | None = None
    steps: tuple[str, ...]


class CourseUses(Record):
    """Everything to lay out for a course."""

    tools: tuple[UsedItem, ...]
    parts: tuple[UsedItem, ...]
    consumables: tuple[UsedItem, ...]


class WettedPart(Record):
    """What of the kit touches the water."""

    part: str
    material: str
    filler: str | None
    flux: str | None
    source: str | None


class SafeStop(Record):
    """Where the work may rest for the night."""

    id: str
    say: str


class InstructionPhase(Record):
    """Steps under one heading. `waits`: how long to wait within, absent before they were printed."""

    id: str
    number: str
    name: str
    minutes: float
    only_if: str | None
    waits: tuple[str, ...] = ()
    stop: SafeStop | None
    steps: tuple[InstructionStep, ...]


class InstructionRemedy(Record):
    """What is done when a check fails, and where the work then goes on.

    `ends`, the names of the acts that end it: absent before such an end was acts.
    """

    id: str
    letter: str
    name: str
    steps: tuple[InstructionStep, ...]
    then: Branch | None
    ends: tuple[str, ...] = ()


class InstructionCourse(Record):
    """The way there, or the way back: phases in order, then the remedies that they may lead to."""

    minutes: float
    phases: tuple[InstructionPhase, ...]
    remedies: tuple[InstructionRemedy, ...]

    @property
    def groups(self) -> tuple[InstructionPhase | InstructionRemedy, ...]:
        """The phases and then the remedies."""
        return (*self.phases, *self.remedies)

    @property
    def steps(self) -> tuple[InstructionStep, ...]:
        """Every step, in printed order."""
        return tuple(step for group in self.groups for step in group.steps)


class Instruction(Record):
    """The instruction of a pair, resolved for its machine.

    `restoring_uses`, `wetted` and `contact`: absent before they were printed. `authored`, of all parts: absent before
    format 2. `stop_signs`, the names of what `stop_use` says: absent before these had one. `visits`, for each visit of
    an electrically skilled person the numbers of the phases: absent before there was a brief for him.
    """

    title: str
    version: str | None
    supersedes: str | None
    target_group: str
    place: str
    role: str
    mains_work: bool
    effectivity: AppliesTo | None
    notice: str | None
    minutes: float
    shortest_minutes: float
    preliminary: tuple[WorkNote, ...]
    aftercare: tuple[CareNote, ...]
    faults: tuple[FaultRow, ...]
    stop_use: tuple[str, ...]
    stop_signs: tuple[str, ...] = ()
    waivers: tuple[PrintedWaiver, ...]
    hazards: tuple[HazardStatement, ...]
    residual: tuple[ResidualRisk, ...]
    uses: CourseUses
    restoring_uses: CourseUses | None = None
    wetted: tuple[WettedPart, ...] = ()
    contact: str | None = None
    fitting: InstructionCourse
    restoring: InstructionCourse | None
    lasting: tuple[str, ...]
    visits: tuple[tuple[str, ...], ...] = ()
    authored: dict[str, str] = Field(default_factory=dict)
