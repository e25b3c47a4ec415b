"""How one step of a procedure is written, and everything that can hang on it.

The models hold what the author wrote and no more; whether it is safe is for `guidegen.judge.safety` to say. A number
is text here (`at_most: low` can be read), so that the lint, not the reader, says what is wrong with it.
"""

from __future__ import annotations

from functools import cached_property
from typing import Literal

from pydantic import Field

from guidegen.workshop.base import Id, Line, Model, Prose
from guidegen.workshop.bounds import Bounds
from guidegen.workshop.step_state import StateValues
from guidegen.workshop.when import Condition

StepEvidence = Literal["measured", "maker-document", "standard", "calculated", "assumed", "common-practice"]
"""Of a number in a step. `common-practice` is what the table of acts itself asks for, without a source."""
Role = Literal["anyone", "hand-tools", "wiring", "electrically-skilled"]
"""`wiring` is hand-tools on a machine with a plug, electrically-skilled on any other and in mains work."""
Names = tuple[Line, ...]

#: what a step can do that needs no more words than its name
Act = Literal[
    "identify", "plug-ports", "unplug-ports", "hold-work", "part-out", "deburr", "flush", "swarf-check", "pump-by-hand",
    "discard", "prime", "restrain", "bond", "insulate-leads", "catch-dust", "record", "disc-check", "undo-screws",
    "close-tap",
]  # fmt: skip


class StatedNumber(Model):
    """A number with its evidence and source. `is: "{boiler.bolts.torque}"` takes all three from the machine."""

    is_: Line = Field(alias="is")
    evidence: StepEvidence | None = None
    source: Line | None = None


class WrittenTorque(StatedNumber):
    """A tightening torque: value, unit and tolerance in `is`, the thread, and whether it is dry or greased."""

    thread: Line | None = None
    state: Line | None = None


class Accept(Model):
    """What a hold point accepts: a limit with its sense, the instrument that shows it, and where it comes from."""

    at_most: Line | None = None
    at_least: Line | None = None
    within: Line | None = None
    instrument: Id | None = None
    evidence: StepEvidence | None = None
    source: Line | None = None


class BoundedNumber(StatedNumber):
    """A number of a step with its bounds. `name`: limit, amount, or a value that the words print."""

    name: Line
    bounds: Bounds


class Way(Model):
    """Where a hold point, or a remedy, leads: to a step, phase or remedy, or to a stop."""

    goto: Line | None = None
    stop: Prose | None = None
    who_can_help: Prose | None = None


class Hold(Model):
    """A point that nobody passes before its criterion is met. `looks` are its parts where it has several."""

    criterion: Prose
    looks: tuple[Prose, ...] = ()
    method: Prose | None = None
    accept: Accept | None = None
    record: Line | None = None
    on_pass: Literal["go on"] = "go on"
    on_fail: Way | None = None


class Uses(Model):
    """What a step takes in hand, by the ids of the kit's lists."""

    tools: tuple[Id, ...] = ()
    parts: tuple[Id, ...] = ()
    consumables: tuple[Id, ...] = ()


class Moves(Model):
    """What a step takes off or puts back, by name. `permanent`: it stays off; `rating`: of what is put on."""

    devices: Names = ()
    joints: Names = ()
    leads: Names = ()
    permanent: bool = False
    rating: Line | None = None


class Disturbed(Model):
    """What a step may have disturbed, by name; `earth`: the path of the protective earth. Nobody knows more of it."""

    devices: Names = ()
    joints: Names = ()
    leads: Names = ()
    earth: bool = False


class Isolate(Model):
    """Cutting off the supply: by what, and how nobody else can undo it meanwhile.

    `guarded`: it was cut off before, and whoever had undone it since would have had to break what guards it.
    """

    by: Literal["plug", "disconnector"]
    control: Prose | None = None
    in_sight: bool = False
    pins_clear: bool = False
    guarded: bool = False


class Prove(Model):
    """Proving dead: with what, between which conductors, in what order."""

    tester: Id
    pairs: Names = ()
    order: Names = ()


class Supply(Model):
    """Energising: behind which residual-current device, and how it is watched."""

    rcd: StatedNumber | None = None
    watched: bool = False
    hands_off: bool = False


class Cooling(Model):
    """How it is known that the boiler can be touched."""

    by: Literal["measuring", "waiting"]
    wait: StatedNumber | None = None


class Release(Model):
    """Letting the pressure off: by what action, and what shows that it is gone."""

    by: Prose
    proof: Prose | None = None


class LeakTest(Model):
    """One rung of the leak ladder, and the joints it looks at."""

    rung: Literal["bench", "cold", "hot", "cooled"]
    medium: Line
    by: Literal["maker-record", "hand-pump", "machine-pump"] | None = None
    joints: Names = ()


class Relief(Model):
    """The relief device that protects the new part, and what could close between the two (nothing may)."""

    device: Line
    protects: Line
    between: Names = ()


class VesselProof(Model):
    """What is proven to bear more than it has to; `relief`: on which side of the coil the relief valve branches off."""

    vessels: Names
    relief: Line | None = None


class Clearance(Model):
    """A measured distance to live parts, and what keeps it."""

    between: Prose
    restraint: Prose | None = None


class SeatFace(Model):
    """What must be left of a seat before metal beside it may be cut."""

    face: StatedNumber
    thread_left: StatedNumber
    gauge: Id | None = None
    photo: bool = False


class WrittenCut(Model):
    """A cut: of what, along which line, and the metal that must remain."""

    of: Line
    tool: Id
    carries: Line = "nothing"
    material: Line | None = None
    line: StatedNumber | None = None
    leaves: StatedNumber | None = None
    template: StatedNumber | None = None
    seat: SeatFace | None = None


class SensorSeat(Model):
    """How a sensor or protective device sits: where, and what clamps it."""

    device: Line
    position: Prose | None = None
    clamp: Prose | None = None


class StepOrder(Model):
    """What an act asks of others: see the head of `guidegen/judge/acts/rows.yml`."""

    after: Names = ()
    owes: Names = ()
    puts: Names = ()
    leaves: Names = ()
    fits: Names = ()
    takes: Names = ()
    without: Names = ()
    amid: Names = ()
    fresh: Names = ()
    again: Names = ()
    early: bool = False


class Step(Model):
    """One imperative, with everything that hangs on it."""

    id: Id
    do: Prose
    why: Prose | None = None
    when: Condition | None = None
    only_if: Line | None = None
    requires_: StateValues = Field(default=StateValues(), alias="requires")
    sets_: StateValues = Field(default=StateValues(), alias="sets")
    hazards: tuple[Id, ...] = ()
    notes: tuple[Prose, ...] = ()
    uses: Uses = Uses()
    role: Role = "hand-tools"
    minutes: float = Field(ge=0, le=1000)
    reversible: bool = True
    as_found: bool = False
    figure: Id | None = None
    touches: tuple[Literal["boiler", "conductors"], ...] = ()
    acts: tuple[Act, ...] = ()
    removes: Moves | None = None
    refits: Moves | None = None
    disturbs: Disturbed | None = None
    act: Id | None = None
    order: StepOrder = StepOrder()
    names: Names = ()
    shows: Names = ()
    only_looks: bool = False
    looks: Id | None = None
    asks: tuple[Id, ...] = ()
    records: Names = ()
    verifies: Names = ()
    in_series: Names = ()
    values: dict[str, StatedNumber] = Field(default_factory=dict)
    bounds: tuple[BoundedNumber, ...] = ()
    isolate: Isolate | None = None
    prove: Prove | None = None
    supply: Supply | None = None
    cooling: Cooling | None = None
    release: Release | None = None
    earth_points: Names = ()
    insulation_of: Names = ()
    leak: LeakTest | None = None
    relief: Relief | None = None
    proof: VesselProof | None = None
    clearance: Clearance | None = None
    cut: WrittenCut | None = None
    seat: SensorSeat | None = None
    torque: WrittenTorque | None = None
    turn: Line | None = None
    hold: Hold | None = None

    @cached_property
    def requires(self) -> dict[str, str]:
        """What must be true before the step, by variable of the state."""
        return self.requires_.given()

    @cached_property
    def sets(self) -> dict[str, str]:
        """What is true after the step, by variable of the state."""
        return self.sets_.given()
