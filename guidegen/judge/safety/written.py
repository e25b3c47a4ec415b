"""What a procedure could say on some machine, before anything is left out of it."""

from __future__ import annotations

from collections.abc import Iterator

from guidegen.workshop.procedures import Phase, Procedure, Remedy, SharedBlocks
from guidegen.workshop.steps import Each, Entry, Include


def hazards_written(procedure: Procedure, shared: SharedBlocks) -> Iterator[str]:
    """Yield the hazards of every step that the procedure could have on some machine."""
    parts: list[Phase | Remedy] = [*procedure.phases, *procedure.remedies, *shared.remedies]
    if procedure.restore:
        parts += [*procedure.restore.phases, *procedure.restore.remedies]
    for part in parts:
        for entry in part.steps:
            yield from _entry_hazards(entry, shared)


def _entry_hazards(entry: Entry, shared: SharedBlocks) -> Iterator[str]:
    if isinstance(entry, Include):
        block = shared.blocks.get(entry.include)
        for inner in block.steps if block else ():
            yield from _entry_hazards(inner, shared)
    elif isinstance(entry, Each):
        for step in entry.steps:
            yield from step.hazards
    else:
        yield from entry.hazards
