"""How far one figure moves with one input: from its lower to its upper end, everything else as stated."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from guidegen.assess import inputs
from guidegen.assess.asking import question, served
from guidegen.assess.numbers import Studies, compute
from guidegen.record.base import Figure
from guidegen.record.places import figure_at
from guidegen.trade import Catalogue

CHANCE = "model.phase"
"""What no one states: when in its cycle a thermostat is met."""


@dataclass(frozen=True)
class Swing:
    """A figure at both ends of an input; None where it has no value there."""

    low: float | None
    high: float | None


def swings(known: Catalogue, variant: str, kit: str, place: str, names: Iterable[str]) -> dict[str, Swing]:
    """For each input the figure at its two ends, each computed once, without draws."""
    machine, fitted = known.machine(variant), known.kit(kit)
    listed = [*inputs.of_machine(machine, known), *fitted.inputs()]
    by_id = {one.id: one for one in listed}
    ordered, studies = served(known), Studies()

    def at(name: str, value: float) -> float | None:
        moved = [replace(one, value=value) if one.id == name else one for one in listed]
        asked, _ = question(machine, fitted, moved, ordered, 0)
        found: Figure | None = figure_at(compute(asked, studies), place)
        return found.value if found is not None else None

    wanted = [by_id[name] for name in names if name in by_id]
    return {one.id: Swing(at(one.id, one.low), at(one.id, one.high)) for one in wanted}
