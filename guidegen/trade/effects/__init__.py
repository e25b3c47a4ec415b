"""What a kit can do to a machine: one file per effect, and this list of them.

A new effect is a file beside these with a subclass of `Effect`, and its name in the union below. Schema, inputs,
network, budget, cool-down, checks and the remedies' mains work follow from what it says of itself; the columns of its
inputs are given by `python -m tests.draw_columns`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from typing import Annotated, cast, get_args

from pydantic import Field

from guidegen.trade.effects.add_mass import AddMass
from guidegen.trade.effects.base import Effect, Fitted, Setting
from guidegen.trade.effects.feed_coil import FeedCoil
from guidegen.trade.effects.none import NoEffect
from guidegen.trade.effects.scale_loss import ScaleLoss
from guidegen.trade.effects.set_control import SetControl
from guidegen.trade.effects.set_heater import SetHeater
from guidegen.trade.machine import Machine
from guidegen.trade.uncertain import Values

EveryEffect = SetControl | SetHeater | AddMass | ScaleLoss | FeedCoil | NoEffect
"""In the order in which they act, however a kit lists them: the water in a coil has the density that the control and
the losses give it, so the coil comes after them; and what changes a coil comes after the coil."""
AnyEffect = Annotated[EveryEffect, Field(discriminator="kind")]
EFFECTS = cast(tuple[type[Effect], ...], get_args(EveryEffect))


def numbered(effects: Sequence[Effect]) -> Iterator[tuple[Effect, int]]:
    """Each effect with its number among those of its kind, from 1, as the kit lists them."""
    count: Counter[type[Effect]] = Counter()
    for effect in effects:
        count[type(effect)] += 1
        yield effect, count[type(effect)]


def with_effects(machine: Machine, effects: Sequence[Effect], values: Values, before: Fitted) -> Fitted:
    """The machine after every effect, whatever their order in the kit."""
    return with_several(machine, ((effects, values),), before)


def with_several(machine: Machine, kits: Iterable[tuple[Sequence[Effect], Values]], before: Fitted) -> Fitted:
    """The machine after every effect of several kits, each with its own values, whatever their order."""
    every = [(one, number, values) for effects, values in kits for one, number in numbered(effects)]
    fitted = before
    for effect, number, values in sorted(every, key=lambda one: (one[0].of_coil, EFFECTS.index(type(one[0])))):
        fitted = effect.change(fitted, Setting(machine, values, number))
    return fitted


def input_names() -> tuple[str, ...]:
    """Every name that an input of any effect can have."""
    return tuple(name for effect in EFFECTS for name in effect.input_names())
