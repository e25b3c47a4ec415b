"""How far the machines of a family reach, so that plan and elevation of each of them are drawn at one scale."""

from __future__ import annotations

from collections.abc import Iterable

from guidegen.record.base import rounded
from guidegen.record.scene import SYMBOL_MM, SceneFamily
from guidegen.trade import Catalogue
from guidegen.trade.machine import Machine
from guidegen.workshop.facts import Fact

MM = 1e3


def family_of(known: Catalogue, machine: Machine) -> SceneFamily | None:
    """The reaches of a machine's family, itself included; None where nobody has stated a size of any of them."""
    members = [one for one in known.machines.values() if one.family == machine.family]
    across = _largest(_across(one) for one in members)
    return None if across is None else SceneFamily(across_mm=across, clear_mm=_largest(map(_clear, members)) or across)


def _across(machine: Machine) -> float | None:
    """How far boiler, flange and bolts reach from the axis, mm."""
    boiler = machine.boiler
    circle = _millimetres(boiler.bolts.circle)
    halves = (_millimetres(boiler.diameter), _millimetres(boiler.flange), circle and circle + 2 * SYMBOL_MM)
    return _largest(one and one / 2 for one in halves)


def _clear(machine: Machine) -> float | None:
    """The same with the free room round the boiler's wall."""
    wide, room = _millimetres(machine.boiler.diameter), _millimetres(machine.boiler.clearance)
    return _largest((_across(machine), wide / 2 + room if wide and room else None))


def _largest(sizes: Iterable[float | None]) -> float | None:
    return max((rounded(one) for one in sizes if one), default=None)


def _millimetres(fact: Fact | None) -> float | None:
    return None if fact is None or not fact.known else fact.value * MM
