"""Recorded builds of a kit.

A build comes from an owner's report (`guidegen fitted add`), which was held against its edition before it was written.
"""

from __future__ import annotations

import datetime
from typing import Annotated, Literal

from pydantic import Field, StringConstraints

from guidegen.workshop.base import Document, Id, Line, Model, Prose

StepKey = Annotated[str, StringConstraints(pattern=r"^[a-z0-9-]+(/[a-z0-9-]+)+$")]


class RecordedHold(Model):
    """What came of one hold point: the step's key in the edition, and the reading as written where there was one."""

    step: StepKey
    result: Literal["passed", "failed", "not-done"]
    reading: Line | None = None


class RecordedFailure(Model):
    """A hold point that failed on the way, and what helped."""

    step: StepKey
    number: Line
    reading: Line | None = None
    helped: Prose


class PhaseTaken(Model):
    """How many minutes of work a phase took, without waiting."""

    phase: Id
    took: int = Field(gt=0, le=10_000)


class MeasuredFact(Model):
    """A fact that somebody measured on this one machine, by its dotted name; `is` as written."""

    fact: Line
    is_: Line = Field(alias="is")


class RecordedBuild(Model):
    """One build that somebody carried out.

    `case` are the conditions of the instruction that applied. `signed` says who signed before the power came on, by
    role. `publish` is the owner's consent; `accepted` the day on which the maker read the report and accepted it.
    Without both, no page says anything of it.
    """

    id: Id
    variant: Id
    kit: Id
    revision: Line
    edition: Line
    date: datetime.date
    role: Literal["owner", "workshop", "maker"]
    signed: Literal["electrically-skilled", "nobody"]
    publish: bool
    accepted: datetime.date | None = None
    invented: bool = False
    case: tuple[Line, ...] = ()
    minutes: tuple[PhaseTaken, ...] = ()
    holds: tuple[RecordedHold, ...] = Field(min_length=1)
    failed: tuple[RecordedFailure, ...] = ()
    facts: tuple[MeasuredFact, ...] = ()
    findings: tuple[Prose, ...] = ()

    @property
    def is_public(self) -> bool:
        """Return whether pages may speak of it: the owner agrees, and the maker accepted it."""
        return self.publish and self.accepted is not None

    @property
    def is_carried_out(self) -> bool:
        """Return whether it shows that the instruction was carried out on the variant."""
        return self.is_public and self.is_passed

    @property
    def is_passed(self) -> bool:
        """Return whether every hold point passed, and somebody electrically skilled signed."""
        return self.signed == "electrically-skilled" and all(one.result == "passed" for one in self.holds)


class Builds(Document):
    """machines/<family>/builds.yml."""

    builds: tuple[RecordedBuild, ...]
