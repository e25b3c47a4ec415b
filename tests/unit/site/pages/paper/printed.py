"""Records of the demonstration as they are printed: its procedures and scenes, numbers made up."""

from __future__ import annotations

from functools import cache

from guidegen.assess import verdict
from guidegen.assess.drawing import drawing_of
from guidegen.record import Assessment
from guidegen.site.pages.paper.frame import SheetOrder
from guidegen.site.pages.paper.sheets import KINDS, PrintedSheet, published
from tests.fixtures.records import record
from tests.mutants.draft import catalogue, draft

ADDRESS = "https://kettleby.example/guides/"


@cache
def printed(variant: str = "tamsin-mk2", kit: str = "feed-preheater") -> Assessment:
    """The record of a pair with its own names and drawings."""
    known = catalogue()
    machine, one = known.machines[variant], known.kits[kit]
    drawn, protrusions = drawing_of(known, machine, one)
    made = record(variant, kit)
    return made.model_copy(
        update={
            "scene": drawn,
            "protrusions": protrusions,
            "variant": made.variant.model_copy(update={"name": machine.name}),
            "kit": made.kit.model_copy(update={"name": one.name, "revision": one.revision}),
        }
    )


def order(sheet: PrintedSheet, made: Assessment) -> SheetOrder:
    """What is printed for a sheet."""
    return SheetOrder(made, sheet.paper, sheet.case, ADDRESS, KINDS[sheet.kind].back)


def sheet(made: Assessment, ending: str) -> PrintedSheet:
    """The sheet of a pair whose path ends so."""
    return next(one for one in published(made) if one.path.endswith(ending))


@cache
def pairs() -> tuple[tuple[str, str], ...]:
    """Every pair of the demonstration that has an instruction: not refused, and nothing undecided in it."""
    known, found = catalogue(), []
    for machine in known.machines.values():
        for kit in known.kits.values():
            pair = verdict.judged(known, machine, kit, "next")
            if verdict.fit_part(pair.check).refused:
                continue
            resolved = draft(machine.id, kit.id).guide().resolved
            if not resolved.fitting.undecided and not resolved.missing:
                found.append((machine.id, kit.id))
    return tuple(found)
