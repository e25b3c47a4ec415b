"""How procedures and hazards are written: content/procedures/<kit>.yml, shared.yml and content/hazards.yml.

A procedure is phases of entries; an entry is a step, a shared block that is included, or steps repeated over the
machine's parts. `guidegen.judge.safety.resolve` makes the guide of one machine out of it.
"""

from __future__ import annotations

import datetime
from typing import Literal

from pydantic import Field

from guidegen.workshop.around import Care, FaultEntry, RemedyEnd, StopUses
from guidegen.workshop.base import Id, Line, Model, Prose
from guidegen.workshop.entries import Entry
from guidegen.workshop.steps import Role, StatedNumber
from guidegen.workshop.texts import WithTexts
from guidegen.workshop.when import Condition


class NightStop(Model):
    """A safe stop at the end of a phase: its name, and what there is to say beside how the machine is left."""

    id: Id
    say: Prose | None = None


class Phase(Model):
    """A part of the work that ends in a state where one can stop."""

    id: Id
    name: Line
    steps: tuple[Entry, ...] = Field(min_length=1)
    when: Condition | None = None
    only_if: Line | None = None
    stop: NightStop | None = None


class FailingSide(Model):
    """Steps for the failing side of a hold point, and where they lead."""

    id: Id
    name: Line
    steps: tuple[Entry, ...] = Field(min_length=1)
    then: RemedyEnd
    when: Condition | None = None


class Residual(Model):
    """A risk that stays although every step is followed: the hazard, and what remains of it."""

    hazard: Id
    remains: Prose


class Note(Model):
    """A named sentence with its reason, as in preliminary requirements."""

    id: Id
    says: Prose
    because: Prose | None = None
    source: Line | None = None
    when: Condition | None = None


class Effectivity(Model):
    """What the guide is for, what it is not for, and how to tell the two apart."""

    applies_to: Prose
    does_not_apply: tuple[Prose, ...] = ()
    how_to_tell: Prose


class Waiver(Model):
    """A warning that somebody answers for: which rule, where, why, in what role, on what day. It is printed."""

    rule: Line
    step: Line | None = None
    because: Prose
    role: Line
    date: datetime.date


class Restoring(Model):
    """The way back: its phases, and what it cannot bring back."""

    phases: tuple[Phase, ...] = ()
    remedies: tuple[FailingSide, ...] = ()
    lasting: tuple[Prose, ...] = ()


class Procedure(WithTexts):
    """A fitting instruction as written."""

    title: Line | None = None
    version: Line | None = None
    supersedes: Line | None = None
    target_group: Prose | None = None
    effectivity: Effectivity | None = None
    mains_work: bool = False
    role: Role = "hand-tools"
    place: Prose | None = None
    preliminary: tuple[Note, ...] = ()
    values: dict[str, StatedNumber] = Field(default_factory=dict)
    residual: tuple[Residual, ...] = ()
    phases: tuple[Phase, ...] = Field(min_length=1)
    remedies: tuple[FailingSide, ...] = ()
    restore: Restoring | None = None
    aftercare: tuple[Care, ...] = ()
    faults: tuple[FaultEntry, ...] = ()
    stop_use: StopUses = ()
    waivers: tuple[Waiver, ...] = ()


class Block(Model):
    """Steps written once and included by name."""

    name: Line
    steps: tuple[Entry, ...] = Field(min_length=1)


class SharedBlocks(WithTexts):
    """content/procedures/shared.yml: blocks and remedies for every procedure, and the values they print."""

    values: dict[str, StatedNumber] = Field(default_factory=dict)
    blocks: dict[Id, Block]
    remedies: tuple[FailingSide, ...] = ()


class Sign(Model):
    """A safety sign and the words for whoever cannot see it."""

    id: Line
    alt: Line | None = None


class Hazard(Model):
    """A hazard statement. Its signal word is derived from severity and probability and has no field.

    For a hazard that the program knows, `how_to_avoid` adds to what it says itself.
    """

    kind: Literal["mains", "heat", "pressure", "cutting", "dust", "dry-heating", "leak", "pinch", "property"]
    type_of_hazard: Prose | None = None
    consequence: Prose | None = None
    how_to_avoid: tuple[Prose, ...] = ()
    severity: Literal["death", "serious", "moderate", "minor", "property"]
    probability: Literal["will", "could"]
    sign: Sign | None = None
    designed_out: Prose | None = None


class Hazards(WithTexts):
    """content/hazards.yml: every statement that a step may carry, by id."""

    hazards: dict[Id, Hazard]
