"""A kit: parts, what it asks of a machine, what it costs, and data about the changes it makes to the network."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from guidegen.problems import Code, nearest, one_of
from guidegen.trade.machine import Control
from guidegen.trade.paths import known_facts
from guidegen.workshop.base import Document, Id, Line, Model, Prose, quoted, refused, shaped
from guidegen.workshop.fields import (
    Choice,
    Choices,
    Conductance,
    HeatCapacity,
    Length,
    Mass,
    Material,
    Power,
    Ratio,
    Spec,
    Volume,
)
from guidegen.workshop.parts import Consumable, Part, Tool
from guidegen.workshop.requirements import Requirement

#: What a downside can be about; a kit says something on each of them before anyone orders.
ABOUT = (
    "irreversible", "warranty", "approval", "mass", "energy", "warm-up", "noise", "leak", "scale", "water",
    "service", "resale", "time", "skills",
)  # fmt: skip
About = Literal[
    "irreversible", "warranty", "approval", "mass", "energy", "warm-up", "noise", "leak", "scale", "water",
    "service", "resale", "time", "skills",
]  # fmt: skip
#: Figures that the assessment computes and a downside may show.
FIGURES = (
    "mass.added", "energy.idle_added", "energy.day_added", "energy.ratio", "warm_up.added", "minutes", "cuts",
)  # fmt: skip
Figure = Literal[
    "mass.added", "energy.idle_added", "energy.day_added", "energy.ratio", "warm_up.added", "minutes", "cuts",
]  # fmt: skip


class Tube(Model):
    """The tube of a coil."""

    material: Annotated[Material, Spec("Tube material", settles="look", stand_in="copper")]
    outside: Annotated[Length, Spec("Tube, outside", ("4 mm", "12 mm"), "calliper")]
    wall: Annotated[Length, Spec("Tube wall", ("0.5 mm", "1.5 mm"), "micrometer at a cut end")]
    temper: Annotated[
        Choice,
        Choices(("annealed", "half-hard", "hard")),
        Spec("Temper", settles="the tube's certificate", stand_in="annealed"),
    ]


class FeedCoil(Model):
    """A coil of tube round the boiler, through which the feed water passes."""

    kind: Literal["feed_coil"]
    tube: Tube
    holds: Annotated[Volume, Spec("Water in the coil", ("20 ml", "120 ml"), "weigh full minus empty")]
    layers_max: int = Field(ge=1, le=3)
    gap: Annotated[Length, Spec("Gap between turns", ("0 mm", "3 mm"), "feeler gauge")]
    tails: Annotated[Length, Spec("Both tails together", ("50 mm", "600 mm"), "tape measure")]
    fittings_mass: Annotated[Mass, Spec("Fittings", ("10 g", "200 g"), "weigh them")]
    contact: Annotated[Conductance, Spec("Boiler to coil", ("0.3 W/K", "6 W/K"), "the coil's time constant")]
    to_case: Annotated[Conductance, Spec("Coil to the case's air", ("0.15 W/K", "1.0 W/K"), "parked temperature")]
    shields: Annotated[Ratio, Spec("Share of the boiler's skin it shields", ("30 %", "90 %"), "idle watts")]


class SetControl(Model):
    """Another control in place of the one there is."""

    kind: Literal["set_control"]
    control: Control


class AddMass(Model):
    """More metal on the boiler or the group."""

    kind: Literal["add_mass"]
    to: Literal["boiler", "group"]
    mass: Annotated[Mass, Spec("Mass added", ("5 g", "1 kg"), "weigh it")]
    material: Annotated[Material, Spec("Material", settles="look", stand_in="brass")]


class ScaleLoss(Model):
    """A loss or a path of heat that becomes larger or smaller."""

    kind: Literal["scale_loss"]
    loss: Literal["boiler_to_case", "group_to_room", "boiler_to_group"]
    by: Annotated[Ratio, Spec("Factor", ("10 %", "200 %"), "idle watts before and after")]


class SetHeater(Model):
    """Another heating element."""

    kind: Literal["set_heater"]
    power: Annotated[Power, Spec("Heater power", ("700 W", "1500 W"), "power meter while heating")]
    heat_capacity: Annotated[HeatCapacity, Spec("Heat capacity", ("30 J/K", "120 J/K"), "a cold start")]
    to_boiler: Annotated[Conductance, Spec("Element to boiler metal", ("15 W/K", "80 W/K"), "a cold start")]


class NoEffect(Model):
    """A kit that changes nothing of the heat, and says so."""

    kind: Literal["none"]
    because: Line


Effect = Annotated[FeedCoil | SetControl | AddMass | ScaleLoss | SetHeater | NoEffect, Field(discriminator="kind")]


class WettedSurface(Model):
    """A part that touches the water, with the filler and flux of its joints."""

    part: Id
    material: Line
    filler: Line
    flux: Line
    source: Line | None = None


class WrittenDownside(Model):
    """What a kit costs: said before anything that could lead to an order."""

    id: Id
    about: About
    what: Prose
    computed: Figure | None = None
    likely: Literal["certain", "likely", "possible", "rare"]
    do: Prose


class WayBack(Model):
    """The way back to the original, or why there is none."""

    possible: bool
    how: Prose


class Kit(Document):
    """A kit as written. `gives`: facts of the machine that are so once it is fitted, for kits that come after it."""

    name: Line
    invented: bool = False
    revision: Annotated[str, shaped(r"[A-Z0-9][A-Za-z0-9.-]{0,9}", "B")]
    summary: Prose
    reason: Prose
    status: Literal["draft", "prototype", "sold", "withdrawn"]
    effects: tuple[Effect, ...] = Field(min_length=1)
    gives: dict[str, Line] = Field(default_factory=dict)
    parts: tuple[Part, ...] = Field(min_length=1)
    tools: tuple[Tool, ...]
    consumables: tuple[Consumable, ...]
    wetted: tuple[WettedSurface, ...]
    requirements: tuple[Requirement, ...]
    downsides: tuple[WrittenDownside, ...] = Field(min_length=1)
    restore: WayBack

    _id: str = ""

    @model_validator(mode="after")
    def _gives_what_there_is(self) -> Self:
        for name, value in self.gives.items():
            field = known_facts().get(name)
            if field is None:
                near = nearest(name, known_facts())
                fix = f"write {near}" if near else "look at `guidegen show` for the names of facts"
                raise refused(Code.UNKNOWN_FACT, f"no machine has a fact {quoted(name)}", fix, ("gives", name))
            if field.words and value not in field.words:
                fix = f"use one of {one_of(field.words)}"
                raise refused(Code.WRONG_CHOICE, f"got {quoted(value)}, {name} is never that", fix, ("gives", name))
        return self

    @property
    def id(self) -> str:
        """Return the file's stem."""
        return self._id

    @property
    def mains_work(self) -> bool:
        """Return whether fitting it is work on the mains: another control, another heater."""
        return any(isinstance(effect, SetControl | SetHeater) for effect in self.effects)

    @property
    def coil(self) -> FeedCoil | None:
        """Return the coil that the kit brings, if it brings one."""
        return next((effect for effect in self.effects if isinstance(effect, FeedCoil)), None)
