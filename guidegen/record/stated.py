"""What the record repeats from the catalogue, and what was decided from it: words, verdicts, parts, inputs."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from guidegen.record.base import Record
from guidegen.record.pictures import Picture

Outcome = Literal["fits", "fits-with-conditions", "does-not-fit", "cannot-tell-yet", "has-already"]
Evidence = Literal["measured", "maker-document", "standard", "calculated", "assumed"]
StepEvidence = Evidence | Literal["common-practice"]
"""Of a number in a step: `common-practice` is what the table of acts itself asks for, without a source."""


class Mark(Record):
    """An outside mark: where to look, what this variant shows there, and photographs of it, absent before 2026."""

    look: str
    see: str
    pictures: tuple[Picture, ...] = ()


class VariantPart(Record):
    """Which machine this is and how to distinguish it from its neighbours. `pictures`: absent before 2026."""

    id: str
    family: str
    name: str
    family_name: str
    years: str
    summary: str
    status: Literal["reported", "seen", "measured", "built"]
    invented: bool
    voltage_v: float | None
    connection: Literal["corded", "hard-wired", "unknown"]
    boiler_material: str
    control: Literal["pid", "thermostat"]
    setpoint_degc: float
    marks: tuple[Mark, ...]
    water_path: tuple[str, ...]
    pictures: tuple[Picture, ...] = ()


REFUSED = ("does-not-fit", "has-already")
"""The outcomes with which nobody should order a kit for a variant."""


class KitPart(Record):
    """Which kit this is, at which revision. `pictures`, and `parts` by name: absent before 2026."""

    id: str
    name: str
    revision: str
    summary: str
    reason: str
    invented: bool
    parts: dict[str, str] = Field(default_factory=dict)
    pictures: tuple[Picture, ...] = ()


class ReasonEvidence(Record):
    """How one fact that a requirement asks for is known; null where nobody knows it.

    `settles` is false where that is too weak for what hangs on the fact.
    """

    fact: str
    title: str
    evidence: Evidence | None
    source: str | None = None
    settles: bool


class Reason(Record):
    """One requirement of the kit on this variant. `met` is null while that is not known.

    `remedies` names, by id, the remedies that are not ruled out on this variant; null in old records. Of
    `unsure_remedies` it is not known yet whether they can be carried out. `evidence` says how each fact is known; old
    records do not say it.
    """

    id: str
    says: str
    met: bool | None
    detail: str
    remedy: str | None = None
    remedies: tuple[str, ...] | None = None
    unsure_remedies: tuple[str, ...] = ()
    settles: str | None = None
    evidence: tuple[ReasonEvidence, ...] = ()


class Fit(Record):
    """Whether the kit goes on, and why; `rests_on` are assumed facts that decide it and that no question settles.

    The last are absent before 2027.
    """

    outcome: Outcome
    reasons: tuple[Reason, ...]
    rests_on: tuple[str, ...] = ()

    @property
    def refused(self) -> bool:
        """Whether nobody should order it for this variant: it does not go on, or brings what is there already."""
        return self.outcome in REFUSED


class Torque(Record):
    """A tightening torque with its tolerance, thread state and origin."""

    id: str
    what: str
    nominal_n_m: float
    plus_minus_n_m: float
    thread: str
    state: str
    source: str


class Protrusion(Record):
    """Something that stands out of the boiler's straight wall, and what has to happen to it.

    A length that nobody measured is null. `reason` is the code of the decision and `why` its sentence; `undecided`
    where a measurement may change it. `keeps_mm` of metal must remain where it is trimmed.
    """

    id: str
    name: str
    kind: str
    carries: str | None
    stands_out_mm: float | None
    overlap_mm: float | None
    action: Literal["leave", "trim", "cannot"]
    why: str
    reason: str = ""
    undecided: bool = False
    keeps_mm: float | None = None
    metal_mm3: float | None = None
    minutes: float | None = None


class BoltAccess(Record):
    """How the boiler's bolts are reached once the coil is on, and the room over their heads that each key needs.

    `way` is `usual`, `short-key`, `coil-off-first` (which takes `coil_off_minutes`), or `unknown`.
    """

    way: str
    coil_off_minutes: float | None = None
    key_room_mm: float | None = None
    short_key_room_mm: float | None = None


class Downside(Record):
    """What the kit costs: shown before anything that could lead to an order.

    `likely` is `none` where the kit says that there is no such downside; then `do` is empty.
    """

    id: str
    about: str
    what: str
    figure: str | None
    likely: str
    do: str


class Restore(Record):
    """Whether the original can be restored, and how, or why not."""

    possible: bool
    how: str


class Input(Record):
    """One number that went into the computation, with its evidence and what would settle it."""

    id: str
    name: str
    value: float
    low: float
    high: float
    unit: str
    text: str
    evidence: Evidence
    source: str | None
    settles: str | None
    place: str
    stated: bool = True
    """False where nobody knows it, and the range of such machines stands in."""


class Missing(Record):
    """A fact that nobody knows and without which the fitting instruction cannot be written.

    `place` is the line of the variant that says `unknown`, or the one below which the fact would stand. `stated` is
    what it says instead, where that is assumed and life and limb hang on it; absent before 2027.
    """

    name: str
    title: str
    settles: str
    place: str
    absent: bool
    stated: str = ""


class KitNote(Record):
    """What another kit, whose id this is, has to do with this one on a machine that has or gets both."""

    id: str
    says: str
    because: str | None


class BuildPhase(Record):
    """How many minutes of work a phase took in one build, without waiting."""

    phase: str
    took: float


class BuildFailure(Record):
    """A hold point that failed in one build, by the key and the number of its step there, and what helped."""

    step: str
    number: str
    reading: str | None
    helped: str


class BuildFact(Record):
    """A fact that was measured in one build. `stated` is what the variant says; `outside` where the two exclude."""

    fact: str
    title: str
    is_: str = Field(alias="is")
    stated: str | None
    outside: bool


class Build(Record):
    """One recorded build of this kit on this variant that may be published.

    `passed` says that every hold point passed and was signed for. `minutes` is the sum of its phases. From `number`
    on: absent before builds came from reports.
    """

    date: str
    role: str
    minutes: float | None
    findings: str
    number: str = ""
    edition: str = ""
    invented: bool = False
    passed: bool = True
    case: tuple[str, ...] = ()
    phases: tuple[BuildPhase, ...] = ()
    failures: tuple[BuildFailure, ...] = ()
    facts: tuple[BuildFact, ...] = ()


class Origin(Record):
    """What a record was made by and from, as short hashes: equal hashes are the same program, and the same text.

    `program` covers the sources that compute and judge, and their numerical libraries. `made_from` has one for the
    machine, the kit, and whatever else was written that the figures and verdicts follow from.
    """

    program: str
    made_from: dict[str, str]
