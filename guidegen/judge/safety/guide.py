"""Everything a lint rule may look at: the resolved procedure, its statements, and plain facts of machine and kit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from guidegen.judge.safety.flow import Run, runs_of
from guidegen.judge.safety.model import ResolvedProcedure
from guidegen.judge.safety.signal_words import Word, signal_word
from guidegen.language import marked
from guidegen.workshop.base import Place
from guidegen.workshop.procedures import Hazard, Hazards

NOT_YET = marked("Not yet carried out on this variant.")


@dataclass(frozen=True)
class Device:
    """A safety device of the machine. `duty` is control, protective or unknown; `sits_on` a protrusion's id."""

    id: str
    name: str
    kind: str
    duty: str
    rating: str | None = None
    sits_on: str | None = None


@dataclass(frozen=True)
class Outstanding:
    """What stands out of a wall: left, trimmed, or not to be cut (`cannot`); and the metal in m that must remain."""

    id: str
    action: str
    keeps: float | None = None


@dataclass(frozen=True)
class ScrewSide:
    """What a screw bears: its thread, the greatest torque in N·m dry and greased, and which end of the joint decides.

    `asks` are the facts that are not known; `fault` says why nothing can be computed.
    """

    thread: str
    dry: tuple[float, str] = (0.0, "")
    greased: tuple[float, str] = (0.0, "")
    asks: tuple[str, ...] = ()
    fault: str | None = None


@dataclass(frozen=True)
class MachineSide:
    """What the rules ask of the machine. `circuit`: ids of what the heater's current passes; empty: nobody knows.

    `loads` are the pressures in Pa, by the fact that states them, that everything wet must bear, None where nobody
    knows; `hottest` the water of its boiler in K, or the facts that nobody knows of it. `screws` are those that are
    tightened by torque, by id.
    `metals`: what its wetted parts are of, by part, or `unknown`.
    """

    id: str
    connection: str
    devices: tuple[Device, ...] = ()
    protrusions: tuple[Outstanding, ...] = ()
    circuit: tuple[str, ...] = ()
    loads: Mapping[str, float | None] = field(default_factory=dict)
    hottest: float | tuple[str, ...] = 0.0
    screws: Mapping[str, ScrewSide] = field(default_factory=dict)
    metals: Mapping[str, str] = field(default_factory=dict)

    @property
    def hard_wired(self) -> bool:
        """Return whether it has, or may have, no plug: what is unknown is not corded."""
        return self.connection != "corded"

    def device(self, name: str) -> Device | None:
        """Return a device by id."""
        return next((one for one in self.devices if one.id == name), None)

    @property
    def guards(self) -> tuple[str, ...]:
        """Return the protective devices in the heater's circuit; every protective one where nobody knows it."""
        protective = [one for one in self.devices if one.duty != "control" and one.kind != "relief-valve"]
        return tuple(one.id for one in protective if one.id in self.circuit or not self.circuit)

    def protrusion(self, name: str | None) -> Outstanding | None:
        """Return what stands out of the wall, by id."""
        return next((one for one in self.protrusions if one.id == name), None)


@dataclass(frozen=True)
class Wetted:
    """A surface that water touches: its material, and for a joint its filler and flux.

    `pressure` in Pa and `temperature` in K are what it is rated for, `drinking_water` is yes or no; None: unknown.
    `ways` are those of the water into all of these parts.
    """

    part: str
    material: str
    filler: str | None = None
    flux: str | None = None
    source: str | None = None
    hot: bool = True
    pressure: float | None = None
    temperature: float | None = None
    drinking_water: str | None = None
    place: Place | None = None
    ways: int = 2


@dataclass(frozen=True)
class Drawback:
    """One downside as the kit states it."""

    about: str
    what: str
    likely: str
    do: str


@dataclass(frozen=True)
class KitSide:
    """What the rules ask of the kit: its lists by id, whether it brings a coil, its honesty.

    `kinds` say what a tool is where its id does not, `ranges` the least and the most that it can be set to.
    `speaks_of` is what its downsides have to name because of what it does to the machine. `boiler` is the part that
    takes the boiler's place on this machine.
    """

    id: str
    revision: str
    tools: Mapping[str, str]
    parts: Mapping[str, str]
    consumables: Mapping[str, str]
    details: Mapping[str, str] = field(default_factory=dict)
    kinds: Mapping[str, str] = field(default_factory=dict)
    ranges: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    coil: bool = False
    wetted: tuple[Wetted, ...] = ()
    screws: Mapping[str, ScrewSide] = field(default_factory=dict)
    boiler: str | None = None
    downsides: tuple[Drawback, ...] = ()
    speaks_of: tuple[str, ...] = ()
    restore_possible: bool | None = None
    restore_text: str = ""
    place: Place = field(default_factory=lambda: Place("content/kits", 1, 1))


@dataclass(frozen=True)
class Paper:
    """The guide as a document. `notice` stands on page one until a build is recorded."""

    edition: str
    contact: str
    language: str
    builds: int = 0
    notice: str = NOT_YET


@dataclass(frozen=True)
class Guide:
    """One machine, one kit, one procedure. `read` are the hashes of texts that somebody read; None asks nobody."""

    resolved: ResolvedProcedure
    hazards: Hazards = field(repr=False)
    machine: MachineSide
    kit: KitSide
    paper: Paper
    avoided_words: Mapping[str, str] = field(default_factory=dict)
    read: frozenset[str] | None = None

    @cached_property
    def runs(self) -> tuple[Run, ...]:
        """Every course in every scenario, walked to the fixpoint."""
        return runs_of(self.resolved)

    def kind_of(self, tool: str | None) -> str:
        """Return what a tool is, whatever the kit calls it."""
        return self.kit.kinds.get(tool or "", tool or "")

    def screw(self, name: str) -> ScrewSide | None:
        """Return the screw of a joint, a lead's end or a bolt, where machine or kit say what it is."""
        return self.kit.screws.get(name) or self.machine.screws.get(name)

    @cached_property
    def fitting_runs(self) -> tuple[Run, ...]:
        """The runs of the fitting alone."""
        return tuple(run for run in self.runs if run.graph.course is self.resolved.fitting)

    @cached_property
    def used_hazards(self) -> tuple[str, ...]:
        """Ids of the statements that a step carries, each once, in printed order."""
        return tuple(dict.fromkeys(name for course in self.resolved.courses for step in course.steps
                                   for name in step.step.hazards))  # fmt: skip

    def hazard(self, name: str) -> Hazard | None:
        """Return a statement by id."""
        return self.hazards.hazards.get(name)

    def word(self, name: str) -> Word | None:
        """Return the signal word of a statement."""
        hazard = self.hazard(name)
        return signal_word(hazard.severity, hazard.probability) if hazard else None

    @property
    def has_coil(self) -> bool:
        """Return whether the kit brings a feed coil."""
        return self.kit.coil

    @cached_property
    def is_wet(self) -> bool:
        """Return whether the work opens or makes a joint of the water path."""
        return any(kind == "joints" for course in self.resolved.courses for step in course.steps
                   for kind, _ in (*step.removes, *step.refits))  # fmt: skip

    @cached_property
    def is_wet_as_planned(self) -> bool:
        """Return whether it does so where nothing fails: a remedy makes a joint anew of the spare seals alone."""
        return any(kind == "joints" for course in self.resolved.courses for phase in course.phases
                   for step in phase.steps for kind, _ in (*step.removes, *step.refits))  # fmt: skip
