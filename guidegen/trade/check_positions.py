"""Where a machine's things are said to be: they are there, within wall and plate, and not in one another's place."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator

from guidegen.problems import Code, Problem, nearest
from guidegen.trade.contradiction import problem
from guidegen.trade.machine import Machine
from guidegen.trade.positions import Position
from guidegen.workshop.base import Loc
from guidegen.workshop.clock import bearing
from guidegen.workshop.facts import Fact
from guidegen.workshop.inventory import InventoryThing

APART = 4e-3
"""m; the middles of two things on the top plate are further apart. The smallest, a screw's head, is wider."""


def check_positions(machine: Machine, relatives: Collection[Machine]) -> Iterator[Problem]:
    """What a position names is on this machine, or on another variant of its family; and it can be where it is said."""
    known = {name for one in relatives for name in _things(one)}
    for name, at in machine.positions.items():
        loc: Loc = ("positions", name)
        if name not in known:
            near = nearest(name, known)
            fix = f"write {near}" if near else f"add it to the inventory, or write {name}: null"
            yield problem(machine, loc, Code.UNKNOWN_THING, f'no thing "{name}"', fix, key=True)
        yield from _within(machine, loc, at)
    yield from _apart(machine)


def _things(machine: Machine) -> set[str]:
    """Every thing of a machine that can be somewhere."""
    return {
        *machine.inventory,
        *(one.id for one in machine.safety_devices),
        *(one.id for one in machine.boiler.protrusions),
    }


def _within(machine: Machine, loc: Loc, at: Position) -> Iterator[Problem]:
    boiler = machine.boiler
    out, up = _of(at.out), _of(at.up)
    if out is not None and boiler.diameter.known and out.low > boiler.diameter.high / 2:
        words = f"{out.text} from the axis of a boiler of {boiler.diameter.text}"
        yield problem(machine, (*loc, "out"), Code.POSITION, words, "measure it again from the middle of the top plate")
    top = _of(boiler.height) or _of(boiler.straight_wall)
    if up is not None and top is not None and up.low > top.high:
        words = f"{up.text} up a boiler of {top.text}"
        yield problem(machine, (*loc, "up"), Code.POSITION, words, "measure it again from the wall's lower edge")


def _apart(machine: Machine) -> Iterator[Problem]:
    """Two things of which neither is named in the place of the other, nor a joint of it, have two places."""
    placed = [(name, *_middle(at)) for name, at in machine.positions.items() if _on_top(machine, name, at)]
    for number, (name, x, y) in enumerate(placed):
        for other, x2, y2 in placed[:number]:
            if math.hypot(x - x2, y - y2) < APART:
                words = f"in the place of {other}"
                fix = "look from above again, and correct one of the two"
                yield problem(machine, ("positions", name), Code.POSITION, words, fix)


def _on_top(machine: Machine, name: str, at: Position) -> bool:
    """Whether it has a place of its own on the top plate; joints and inlets share one with what they belong to."""
    thing = machine.inventory.get(name)
    own = not (isinstance(thing, InventoryThing) and thing.kind == "port") and getattr(thing, "kind", "") != "joint"
    there = name in _things(machine)
    return own and there and _of(at.out) is not None and at.clock is not None and at.clock.known


def _middle(at: Position) -> tuple[float, float]:
    angle = math.radians(bearing(at.clock.value if at.clock is not None else "12:00"))
    out = at.out.value if at.out is not None else 0.0
    return out * math.sin(angle), out * math.cos(angle)


def _of(fact: Fact | None) -> Fact | None:
    """A length that somebody stated."""
    return fact if fact is not None and fact.known else None
