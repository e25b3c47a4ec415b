"""Whether every variant of a family says what it shows where another one has a mark: else the mark tells less."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from guidegen.problems import Code, Problem
from guidegen.trade.machine import Machine
from guidegen.workshop.facts import UNKNOWN


def check_marks(machine: Machine, relatives: Collection[Machine]) -> Iterator[Problem]:
    """A warning for each mark of a relative of which this variant says nothing.

    Who sees that mark is told that it is not this variant, which is right only where it looks otherwise here.
    """
    said = {one.id for one in machine.marks}
    looks = {one.id: one.look for other in relatives for one in other.marks if one.see != UNKNOWN}
    for name, look in looks.items():
        if name not in said:
            place = machine.places[("marks",)]
            words = f"marks: {machine.id} does not say what it shows at {name}, as others of its family do"
            fix = f"add {{id: {name}, look: {look}, see: …}}, or see: {UNKNOWN}"
            yield Problem(place.path, place.line, place.column, Code.MARK_UNSAID, words, fix, "warning")
