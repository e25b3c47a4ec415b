"""What every effect says of itself, and what a machine becomes under its kit.

An effect is one file: what is written of it, which of its facts are uncertain, what it does to the network, and what
it adds to the budget of mass and heat. Nobody else asks an effect of which kind it is.
"""

from __future__ import annotations

import inspect
from abc import ABC, abstractmethod
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any, ClassVar

import numpy as np

from guidegen.heat.coil import Wound
from guidegen.heat.network import Network, Rows
from guidegen.language import gettext
from guidegen.trade.machine import Machine
from guidegen.trade.uncertain import Uncertain, Values, of_fact
from guidegen.workshop.base import Loc, Model
from guidegen.workshop.downsides import OfEffects
from guidegen.workshop.facts import Fact


def key(name: str, number: int) -> str:
    """The name of an effect's own input: `kit.mass` of the first of its kind in a kit, `kit.2.mass` of the second.

    Counted among its own kind, so that an effect of another kind beside it renames nothing; and the first without its
    number, because that is the name in every record that was ever published.

    >>> key("mass", 1), key("mass", 2)
    ('kit.mass', 'kit.2.mass')
    """
    return f"kit.{name}" if number == 1 else f"kit.{number}.{name}"


@dataclass(frozen=True)
class MassPart:
    """One part of the budget: kg and J/K, each of shape (n,). `kit`: whether the kit brings it."""

    id: str
    name: str
    mass: Rows
    heat_capacity: Rows
    kit: bool = False


@dataclass(frozen=True)
class Fitted:
    """A machine as far as a kit's effects have been applied: its network, what it is made of, its coil as wound.

    The parts' masses and heat capacities add up to those of the whole machine.
    """

    network: Network
    parts: tuple[MassPart, ...]
    wound: Wound | None = None
    tube_length: Rows | None = None
    """Of the coil, m, shape (n,)."""

    def part(self, name: str) -> MassPart | None:
        """The part of a name, if there is one."""
        return next((one for one in self.parts if one.id == name), None)

    def having(self, *parts: MassPart) -> Fitted:
        """With parts added, or put in the place of those that have their names."""
        new = {one.id: one for one in parts}
        return replace(self, parts=tuple(({one.id: one for one in self.parts} | new).values()))

    def changed(self, **fields: Any) -> Fitted:
        """With some fields of the network changed."""
        return replace(self, network=replace(self.network, **fields))

    def scaled(self, field: str, by: Rows) -> Fitted:
        """With one field of the network multiplied."""
        return self.changed(**{field: getattr(self.network, field) * by})

    def added_mass(self) -> Rows:
        """Mass of all that the kit brings, kg, shape (n,)."""
        return sum((one.mass for one in self.parts if one.kit), start=np.zeros(len(self.network)))


@dataclass(frozen=True)
class Setting:
    """What an effect works with: the machine, all drawn values, and which of its kind in the kit it is."""

    machine: Machine
    values: Values
    number: int = 1

    def own(self, name: str) -> Rows:
        """The effect's own input of a name, shape (n,)."""
        return self.values[key(name, self.number)]


class Effect(Model, ABC):
    """A change that a kit makes to the machine."""

    most: ClassVar[int] = 1
    """How many of its kind one kit may have: each has inputs, and so columns, of its own."""
    mains_work: ClassVar[bool] = False
    """Whether it takes work on mains wiring, which is for an electrically skilled person."""
    draft: ClassVar[str] = "on-boiler"
    """The draft of an instruction that lays down how it is fitted."""
    states_mass: ClassVar[bool] = False
    """Whether it says what it weighs, or that it weighs no more."""
    speaks_of: ClassVar[tuple[OfEffects, ...]] = ()
    """What the downsides of a kit with such an effect have to name, beside what every kit does."""
    drawn: ClassVar[tuple[str, ...]] = ()
    """Its facts that are uncertain inputs, by dotted name."""
    beside: ClassVar[tuple[Uncertain, ...]] = ()
    """Inputs that no fact states: what the model itself does not know about such an effect."""

    @classmethod
    def __pydantic_init_subclass__(cls, **arguments: Any) -> None:
        """Refuse an effect that leaves something open, when it is written and not when a kit first has it."""
        super().__pydantic_init_subclass__(**arguments)
        if inspect.isabstract(cls):
            raise TypeError(f"the effect {cls.__name__} does not say: {', '.join(sorted(cls.__abstractmethods__))}")

    @property
    def of_coil(self) -> bool:
        """Whether it changes a coil, so that it acts after the one that brings it."""
        return False

    @abstractmethod
    def change(self, before: Fitted, setting: Setting) -> Fitted:
        """The machine after this effect; what it adds to the budget comes as parts."""

    def contradictions(self) -> Iterator[tuple[Loc, str, str]]:
        """Values that cannot both be right: where, what is wrong, and the fix."""
        return iter(())

    def facts(self, number: int) -> Iterator[tuple[str, Fact]]:
        """Its facts that are inputs, with their names in a kit in which it is the so-manyth of its kind."""
        for name in self.drawn:
            fact: Any = self
            for part in name.split("."):
                fact = getattr(fact, part, None)
            if isinstance(fact, Fact):
                yield key(name, number), fact

    def inputs(self, number: int) -> Iterator[Uncertain]:
        """Its uncertain inputs."""
        yield from (of_fact(name, fact, number) for name, fact in self.facts(number))
        for one in self.beside:
            yield replace(one, name=gettext(one.name), settles=gettext(one.settles) if one.settles else None)

    @classmethod
    def input_names(cls) -> tuple[str, ...]:
        """Every name that an input of such effects can have in a kit."""
        own = [key(name, number) for number in range(1, cls.most + 1) for name in cls.drawn]
        return (*own, *(one.id for one in cls.beside))
