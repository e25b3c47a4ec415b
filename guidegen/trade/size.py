"""How large a machine is, and what machines of that size have: the plausible ranges of the specs follow it.

The ranges in the models are those of boilers of 80 ml to 110 ml. Another boiler's water goes with its size, its metal
and what passes through its wall with the surface, two thirds of that; of the heater only the outer end moves, as a
large boiler may well have a small one.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from guidegen.trade.machine import Machine
from guidegen.trade.paths import known_facts
from guidegen.workshop.fact_table import FactTable
from guidegen.workshop.facts import Fact, Spec

USUAL = (80e-6, 110e-6)
"""m³ of water in the boilers for which the ranges are written; the range of `boiler.water` itself."""
FILLED = 0.62
"""Water over the cylinder of outside diameter and straight wall: engineering judgement, walls and heater taken off."""
APART = (0.75, 1.33)
"""What such boilers hold, over that estimate, at the least and at the most."""
LARGEST = 20.0
"""The ranges follow a boiler up to so many times the usual ones, some two litres; what is beyond is looked at again."""
SURFACE = 2 / 3
WHOLE = {"boiler.water": 1.0, "boiler.mass": SURFACE, "boiler.to_water": SURFACE, "losses.boiler_to_case": SURFACE}
OUTER = dict.fromkeys(("heater.power", "heater.heat_capacity", "heater.to_boiler", "heater.to_water"), SURFACE)
_NUMBER = re.compile(r"[0-9.]+")


def times_usual(machine: Machine) -> float:
    """How many times as large as the usual ones the boiler is; 1 for those, and where nobody knows.

    Its water says it, else the water that diameter and straight wall leave room for.
    """
    water = machine.boiler.water
    return _beyond(water.value) if water.known else _by_room(machine)


def _by_room(machine: Machine) -> float:
    """The same by the room for water; what the estimate itself leaves open says nothing."""
    across, tall = machine.boiler.diameter, machine.boiler.straight_wall
    if not (across.known and tall.known):
        return 1.0
    times = _beyond(FILLED * math.pi / 4 * across.value**2 * tall.value)
    return 1.0 if APART[0] <= times <= APART[1] else times


def _beyond(water: float) -> float:
    times = water / USUAL[1] if water > USUAL[1] else min(1.0, water / USUAL[0])
    return min(LARGEST, max(1 / LARGEST, times))


def ranges(machine: Machine) -> Iterator[tuple[str, tuple[str, str]]]:
    """The names of facts whose plausible range is another one on a boiler of this size, with that range."""
    times, room = times_usual(machine), _by_room(machine)
    if times == 1:
        return
    for name, power in WHOLE.items():
        apart = APART if name == "boiler.water" and room != 1 else (1.0, 1.0)
        size = room if name == "boiler.water" and room != 1 else times
        yield from _scaled(name, *(size**power * one for one in apart))
    for name, power in OUTER.items():
        yield from _scaled(name, min(1.0, times**power), max(1.0, times**power))


def _scaled(name: str, low: float, high: float) -> Iterator[tuple[str, tuple[str, str]]]:
    spec = known_facts()[name].spec
    if spec is not None and spec.plausible is not None and (low, high) != (1.0, 1.0):
        yield name, (_times(spec.plausible[0], low), _times(spec.plausible[1], high))


def _times(text: str, by: float) -> str:
    """A quantity, so many times as large.

    >>> _times("0.40 kg", 2.0), _times("1500 W", 2.08)
    ('0.8 kg', '3100 W')
    """
    return _NUMBER.sub(lambda one: f"{float(f'{float(one[0]) * by:.2g}'):g}", text, count=1)


def sized(machine: Machine) -> Machine:
    """The machine, its facts held against what machines of its size have."""
    made = machine
    for name, ends in ranges(machine):
        fact = machine.fact(name)
        if isinstance(fact, Fact) and fact.spec is not None:
            made = _with(made, name.split("."), replace(fact, spec=replace(fact.spec, plausible=ends)))
    return made


def _with(node: Any, path: list[str], fact: Fact) -> Any:
    name, *rest = path
    return node.model_copy(update={name: _with(getattr(node, name), rest, fact) if rest else fact})


def facts_for(machine: Machine) -> FactTable:
    """The table of names that may be asked of this machine, with the ranges of its size."""
    table = known_facts(type(machine))
    return table.having({name: replace(kind, spec=_spec(kind.spec, ends))
                         for name, ends in ranges(machine) if (kind := table[name])})  # fmt: skip


def _spec(spec: Spec | None, ends: tuple[str, str]) -> Spec | None:
    return spec and replace(spec, plausible=ends)
