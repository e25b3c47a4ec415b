"""A kit: parts, what it asks of a machine, what it costs, and the effects that it has on the network."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Annotated, Any, Literal, Self

from pydantic import Field, model_validator

from guidegen.problems import nearest, one_of
from guidegen.trade.effects import AnyEffect, numbered
from guidegen.trade.effects.feed_coil import FeedCoil
from guidegen.trade.machine import Machine
from guidegen.trade.paths import known_facts
from guidegen.trade.uncertain import Uncertain
from guidegen.workshop.base import Document, Id, Line, Model, Prose, complain, quoted, shaped
from guidegen.workshop.facts import Fact
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


class Part(Model):
    """A part of the kit; with `when` only for machines of which it holds. `size` may name a fact in braces."""

    id: Id
    name: Line
    count: int = Field(ge=1, le=99)
    size: Line | None = None
    seals: tuple[Seal, ...] = ()
    when: dict[str, Any] | None = None


class Tool(Model):
    """A tool that the work needs."""

    id: Id
    name: Line
    when: dict[str, Any] | None = None


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
    effects: tuple[AnyEffect, ...] = Field(min_length=1)
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

    @model_validator(mode="after")
    def _not_too_many_of_a_kind(self) -> Self:
        for index, (effect, number) in enumerate(numbered(self.effects)):
            if number > effect.most:
                words = f"effect {number} of this kind, where a kit has at most {effect.most}"
                raise complain("S07", words, "write them as one", ("effects", index, "kind"))
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
    def mains_work(self) -> bool:
        """Return whether fitting it takes work on mains wiring."""
        return any(effect.mains_work for effect in self.effects)

    def inputs(self) -> Iterator[Uncertain]:
        """Yield the uncertain inputs that its effects bring."""
        for effect, number in numbered(self.effects):
            yield from effect.inputs(number)

    def facts(self) -> Iterator[tuple[str, Fact]]:
        """Yield the facts of its effects by the names of their inputs: what a procedure may print."""
        for effect, number in numbered(self.effects):
            yield from ((name, fact) for name, fact, _ in effect.facts(number))
