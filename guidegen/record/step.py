"""One step of an instruction as pages print it: its words, what it takes, its hold point and hazards.

Fields with "absent before" in their docstring were added while the format stayed the same.
"""

from __future__ import annotations

from pydantic import Field

from guidegen.record.base import Record
from guidegen.record.pictures import Picture
from guidegen.record.stated import StepEvidence


class AuthoredStep(Record):
    """Hashes of what an author wrote of a step, and of the values that filled it: later editions compare them."""

    source: str
    filled: str


class HazardSign(Record):
    """A safety sign by its id, with its meaning in words."""

    id: str
    alt: str


class HazardStatement(Record):
    """A hazard statement with its derived signal word. A statement that nobody wrote has an id and no more."""

    id: str
    kind: str | None = None
    word: str | None
    type_of_hazard: str | None = None
    consequence: str | None = None
    how_to_avoid: tuple[str, ...] = ()
    sign: HazardSign | None = None
    designed_out: str | None = None
    authored: str | None = None


class Branch(Record):
    """Where the work goes on: at a printed step, or nowhere, and then who can help."""

    stop: str | None
    who_can_help: str | None
    number: str | None
    anchor: str | None


class AcceptedLimit(Record):
    """What a reading has to be. `read_with`: the instrument as the kit lists it, absent before it was printed."""

    sense: str
    limit: str
    instrument: str | None
    read_with: str | None = None
    evidence: StepEvidence
    source: str | None


class HoldPoint(Record):
    """Where the work stops until something is seen or measured. `looks`: the parts of a criterion that has several."""

    criterion: str
    looks: tuple[str, ...] = ()
    method: str | None
    accept: AcceptedLimit | None
    record: str | None
    on_fail: Branch | None


class StepNumber(Record):
    """A number that a step prints, by the dotted name of its fact."""

    name: str
    text: str
    evidence: StepEvidence
    source: str | None


class StepTorque(Record):
    """A tightening torque with its thread and the thread's state."""

    is_: str = Field(alias="is")
    thread: str
    state: str
    evidence: StepEvidence
    source: str | None


class PressureRelease(Record):
    """How pressure is let off, and what shows that it is off."""

    by: str
    proof: str


class DeviceSeat(Record):
    """Where a safety device sits, and what holds it there."""

    position: str
    clamp: str


class StepUses(Record):
    """What a step takes in hand, by name."""

    tools: tuple[str, ...]
    parts: tuple[str, ...]
    consumables: tuple[str, ...]


class InstructionStep(Record):
    """One printed step. `restraint` and `watched`: absent before they were printed; `act`: before steps were acts;
    `pictures`: before there were any.

    `cases`: in which cases of the course it is done, by name, for a step that says `only_if`; none of one that is
    always done. Absent before there were sheets of one case.

    `after_night`: the keys of the steps that come again if a night lies directly before this one, in their order; null
    where nobody can say, and then one asks. Absent, as null, before there was a page of one step at a time.

    `objects` are the ids of what it is done to: absent before there were drawings. Bolts are `bolt-1`, `bolt-2`, …
    """

    key: str
    anchor: str
    number: str
    do: str
    why: str | None
    only_if: str | None
    cases: tuple[str, ...] = ()
    after_night: tuple[str, ...] | None = None
    role: str
    minutes: float
    reversible: bool
    figure: str | None
    hazards: tuple[HazardStatement, ...]
    notes: tuple[str, ...]
    keeps_control: str | None
    release: PressureRelease | None
    seat: DeviceSeat | None
    restraint: str | None = None
    watched: bool = False
    uses: StepUses
    numbers: tuple[StepNumber, ...]
    torque: StepTorque | None
    hold: HoldPoint | None
    place: str
    act: str | None = None
    objects: tuple[str, ...] = ()
    authored: AuthoredStep | None = None
    pictures: tuple[Picture, ...] = ()
