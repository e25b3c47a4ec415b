"""The pressures of tests with cold water: of parts on the bench, of joints by hand, and of a vessel that was cut."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from guidegen.assess.gaps import value_of
from guidegen.heat.materials import MATERIALS
from guidegen.heat.vessel import AT_PROOF, pressure_borne, proof_pressure
from guidegen.judge.safety.facts import Value
from guidegen.trade.cutting import Action, Decision
from guidegen.trade.machine import Machine
from guidegen.workshop.facts import Choice, Fact

BENCH, BY_HAND, BAR = 1.5, 0.9, 1e5
"""Pressure of a test on the bench, and of one by hand, over that of the relief valve; pascals in a bar."""
Pressures = Iterator[tuple[str, Value]]


def pressures(machine: Machine, decisions: Sequence[Decision], rating: Value) -> Pressures:
    """Every pressure by the name under which procedures ask for it; `rating` is the least of the kit's wetted parts.

    The bench takes one and a half times that at which the relief valve may open; a test by hand nine tenths of that at
    which it may open first: more would open it, less would not show what the machine's own pump does to a joint. Both
    are common practice for pressure parts of this size, no source.
    """
    opens = machine.water_path.relief_opens
    known = opens.known
    unknown = value_of(opens, "water_path.relief_opens")
    yield "relief.bench", _in_bar(BENCH * opens.high) if known else unknown
    yield "relief.by_hand", _in_bar(BY_HAND * opens.low) if known else unknown
    yield "vessel.proof", _proof(machine)
    yield "vessel.bears", _bears(machine, decisions, rating)


def _proof(machine: Machine) -> Value:
    """The least pressure that proves the boiler, for the pressure at which its relief valve may open last."""
    opens, metal = machine.water_path.relief_opens, machine.boiler.material
    if not (opens.known and metal.known):
        gaps = (*value_of(opens, "water_path.relief_opens").gaps, *value_of(metal, "boiler.material").gaps)
        return Value("unknown", None, gaps=gaps)
    least = float(proof_pressure(opens.high, MATERIALS[metal.value].stronger_cold))
    return _in_bar(math.ceil(round(least / BAR * 10, 6)) * BAR / 10)


def _bears(machine: Machine, decisions: Sequence[Decision], rating: Value) -> Value:
    """The greatest pressure of a proof: what the wall bears where it is thinnest, no more than the kit's rating."""
    boiler = machine.boiler
    named: dict[str, Fact | Choice] = {
        "diameter": boiler.diameter,
        "wall": boiler.wall,
        "material": boiler.material,
    }
    gaps = tuple(gap for name, one in named.items() for gap in value_of(one, f"boiler.{name}").gaps) + rating.gaps
    if gaps or not all(one.known for one in named.values()):
        return Value("unknown", None, gaps=gaps)
    metal = MATERIALS[boiler.material.value]
    left = [one.keeps for one in decisions if one.action is Action.TRIM and one.keeps is not None]
    stress = metal.allowable_stress * metal.stronger_cold * AT_PROOF
    wall = float(pressure_borne(boiler.diameter.high, min((boiler.wall.low, *left)), stress))
    least = min((wall, *(rating.ends or ())))
    return _in_bar(math.floor(round(least / BAR * 10, 6)) * BAR / 10)


def _in_bar(pressure: float) -> Value:
    return Value(f"{pressure / BAR:.1f} bar", pressure, "pressure", "calculated")
