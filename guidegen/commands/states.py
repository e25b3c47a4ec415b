"""`guidegen check --states`: the state of the machine after every step of the pairs asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

from guidegen import pipeline, trade
from guidegen.assess import guiding, verdict
from guidegen.record import Assessment
from guidegen.trade import Catalogue


def reports(root: Path, variant: str | None, kit: str | None, progress: Callable[[str], None]) -> Iterator[str]:
    """The report of each pair, in the order of their ids: of all, of one variant, or of one pair."""
    known = trade.load(root)
    if variant is None:
        records = pipeline.assess_all(known, root, progress, draws=0)
    else:
        kits = known.kits if kit is None else (kit,)
        records = tuple(pipeline.assess_kept(known, root, variant, one, draws=0) for one in kits)
    progress("")
    return (report(known, record) for record in records)


def report(known: Catalogue, record: Assessment) -> str:
    """The report of one pair, from its record."""
    values = dict(guiding.computed(record.coil, record.cool_down.with_, record.display, record.warm_up))
    machine, kit = known.machine(record.variant.id), known.kit(record.kit.id)
    pair = verdict.judged(known, machine, kit, record.edition)
    return guiding.states(known, machine, kit, record.fit, pair, values, record.edition)
