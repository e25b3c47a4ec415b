"""A kit: parts, what it asks of a machine, what it costs, and data about the changes it makes to the network."""

from __future__ import annotations

import re
from typing import Annotated, Any, Literal, Self

from pydantic import Field, model_validator

from guidegen.problems import nearest, one_of
from guidegen.trade.machine import Control, Machine
from guidegen.trade.paths import known_facts
from guidegen.workshop.base import Document, Id, Line, Model, Prose, complain, quoted, shaped
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
    "mass.added", "energy.idle_added", "energy.day_added", "energy.ratio", "warm_up.added", "minutes", "cuts", "bolts",
)  # fmt: skip
Figure = Literal[
    "mass.added", "energy.idle_added", "energy.day_added", "energy.ratio", "warm_up.added", "minutes", "cuts", "bolts",
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
    """A coil of tube round the boiler, through which the feed water passes.

    `put_on`: a finished coil slides over the wall from above or from below and passes whatever stands there; one that
    is bent round the wall in place passes nothing. `outer_layer`: where a last layer of fewer turns stands.
    """

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
    put_on: (
        Annotated[
            Choice,
            Choices(("from-above", "from-below", "in-place")),
            Spec("How the coil comes onto the wall", settles="the kit's instruction"),
        ]
        | None
    ) = None
    outer_layer: (
        Annotated[
            Choice,
            Choices(("lower-end", "upper-end")),
            Spec("End of the wall at which a shorter outer layer stands", settles="look at the coil"),
        ]
        | None
    ) = None


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


_BRACES = re.compile(r"\{([^{}]*)\}")


def names_in(size: str | None) -> tuple[str, ...]:
    """Return the facts that a size names in braces.

    >>> names_in("for a boiler of {boiler.diameter}")
    ('boiler.diameter',)
    """
    return tuple(_BRACES.findall(size or ""))


def size_on(machine: Machine, size: str | None) -> str | None:
    """Return a size as it is for one machine, the facts in braces filled in."""

    def fill(match: re.Match[str]) -> str:
        fact = machine.fact(match[1])
        return fact.text if fact is not None and fact.known else f"{match[1]}, still to be measured"

    return None if size is None else _BRACES.sub(fill, size)


class Seal(Model):
    """A seal, sold with the part that needs it. `size` may name a fact in braces: `{boiler.gasket}`."""

    id: Id
    name: Line
    size: Line
    material: Line
    count: int = Field(ge=1, le=99)


class Key(Model):
    """A key for the boiler's bolts: what it needs over a bolt's head while it is put in or lifted off."""

    height: Annotated[Length, Spec("Height of the key over the bolt's head", ("4 mm", "80 mm"), "calliper")]
    width: Annotated[Length, Spec("Outside diameter of the key", ("3 mm", "30 mm"), "calliper")]


class Part(Model):
    """A part of the kit; with `when` only for machines of which it holds. `size` may name a fact in braces.

    A part with `key` is a shortened key for the boiler's bolts, sold where the usual one does not reach.
    """

    id: Id
    name: Line
    count: int = Field(ge=1, le=99)
    size: Line | None = None
    seals: tuple[Seal, ...] = ()
    when: dict[str, Any] | None = None
    key: Key | None = None


class Tool(Model):
    """A tool that the work needs. A tool with `key` is the usual one for the boiler's bolts."""

    id: Id
    name: Line
    when: dict[str, Any] | None = None
    key: Key | None = None


class Consumable(Model):
    """What is used up."""

    id: Id
    name: Line
    amount: Line
    when: dict[str, Any] | None = None


class Wetted(Model):
    """A part that touches the water, with the filler and flux of its joints."""

    part: Id
    material: Line
    filler: Line
    flux: Line
    source: Line | None = None


class Downside(Model):
    """What a kit costs: said before anything that could lead to an order."""

    id: Id
    about: About
    what: Prose
    computed: Figure | None = None
    likely: Literal["certain", "likely", "possible", "rare"]
    do: Prose


class Restore(Model):
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
    wetted: tuple[Wetted, ...]
    requirements: tuple[Requirement, ...]
    downsides: tuple[Downside, ...] = Field(min_length=1)
    restore: Restore

    _id: str = ""

    @model_validator(mode="after")
    def _gives_what_there_is(self) -> Self:
        for name, value in self.gives.items():
            field = known_facts().get(name)
            if field is None:
                near = nearest(name, known_facts())
                fix = f"write {near}" if near else "look at `guidegen show` for the names of facts"
                raise complain("X03", f"no machine has a fact {quoted(name)}", fix, ("gives", name))
            if field.words and value not in field.words:
                fix = f"use one of {one_of(field.words)}"
                raise complain("S04", f"got {quoted(value)}, {name} is never that", fix, ("gives", name))
        return self

    @property
    def id(self) -> str:
        """Return the file's stem."""
        return self._id

    @property
    def coil(self) -> FeedCoil | None:
        """Return the coil that the kit brings, if it brings one."""
        return next((effect for effect in self.effects if isinstance(effect, FeedCoil)), None)

    @property
    def key(self) -> Tool | None:
        """Return the tool for the boiler's bolts, where the kit says how large it is."""
        return next((tool for tool in self.tools if tool.key is not None), None)

    @property
    def short_key(self) -> Part | None:
        """Return the part that is a shortened key for the boiler's bolts."""
        return next((part for part in self.parts if part.key is not None), None)
