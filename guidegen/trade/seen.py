"""Facts of a machine that depend on the coil that goes on it: what is in its way, and whether that can be trimmed."""

from __future__ import annotations

from collections.abc import Sequence

from guidegen.trade.cutting import FLUSH, Action, Decision, span
from guidegen.trade.machine import Machine
from guidegen.trade.paths import evidence_of_wall, weakest
from guidegen.units import Quantity
from guidegen.workshop.facts import Choice, Evidence, Fact


def with_coil(machine: Machine, decisions: Sequence[Decision]) -> Machine:
    """Return the machine as a kit's requirements see it, its protrusions being those in the way of the kit's coil."""
    return machine.seen(
        {
            "protrusions.stand_out": stand_out(decisions, evidence_of_wall(machine)),
            "protrusions.carry_device": carry_device(decisions, evidence_of_wall(machine)),
            "protrusions.trimmable": trimmable(decisions),
        }
    )


def stand_out(decisions: Sequence[Decision], of_wall: Evidence) -> Fact:
    """Return how far the highest thing in the coil's way stands out; unknown where one of them was not measured.

    `of_wall` is the evidence that nothing else does.
    """
    met = [one for one in decisions if one.in_way is not False]
    unknown = [one.protrusion.stands_out for one in met if not one.protrusion.stands_out.known]
    if unknown:
        return unknown[0]
    if len(met) == 1 and met[0].in_way:
        return met[0].protrusion.stands_out
    # What may not be in the way may as well stand out not at all.
    low = max((one.protrusion.stands_out.low if one.in_way else 0.0 for one in met), default=0.0)
    high = max((one.protrusion.stands_out.high for one in met), default=0.0)
    middle, half = (low + high) / 2, (high - low) / 2
    text = f"{middle * 1e3:g} mm" + (f" ± {half * 1e3:g} mm" if half else "")
    evidence = weakest((one.protrusion.stands_out.evidence for one in met), of_wall)
    return Fact(text=text, dimension="length", quantity=Quantity(middle, half, "length", text), evidence=evidence)


def carry_device(decisions: Sequence[Decision], of_wall: Evidence) -> Choice:
    """Return whether something in the coil's way carries a device; `of_wall` is the evidence that nothing else does."""
    words = {_carries(one) for one in decisions if one.in_way is not False}
    word = "yes" if "yes" in words else "unknown" if "unknown" in words else "no"
    met = (one.protrusion.carries.evidence for one in decisions if one.in_way is not False)
    known = word != "unknown"
    return Choice(text=word, word=word if known else None, known=known, evidence=weakest(met, of_wall))


def _carries(one: Decision) -> str:
    carries, out = one.protrusion.carries, one.protrusion.stands_out
    if carries.known and carries.value == "nothing":
        return "no"
    return "yes" if carries.known and one.in_way and out.known and span(out).low > FLUSH else "unknown"


def trimmable(decisions: Sequence[Decision]) -> Choice:
    """Return whether everything in the coil's way can be trimmed."""
    stuck = [one for one in decisions if one.action is Action.CANNOT]
    word = "yes" if not stuck else "unknown" if all(one.undecided for one in stuck) else "no"
    return Choice(text=word, word=None if word == "unknown" else word, known=word != "unknown")
