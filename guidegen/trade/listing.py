"""What a catalogue holds, for the terminal: a list of it, and one variant with where each value comes from."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from pydantic import BaseModel

from guidegen.trade.catalogue import Catalogue
from guidegen.trade.machine import Machine
from guidegen.workshop.base import Place
from guidegen.workshop.facts import Choice, Fact
from guidegen.workshop.walk import everything, name_of


@dataclass(frozen=True)
class ListedFact:
    """One value of a variant: its dotted name, what was written, on what evidence, where, and whether inherited."""

    name: str
    text: str
    evidence: str
    source: str
    place: Place
    inherited: bool
    known: bool
    settles: str


def values(machine: Machine) -> tuple[ListedFact, ...]:
    """Return every value of a variant in the order of its model."""
    own = machine.places[("name",)].path
    rows = []
    for loc, value in everything(machine):
        if loc not in machine.places or isinstance(value, dict | tuple | BaseModel):
            continue
        place = machine.places[loc]
        name = name_of(machine, loc)
        if isinstance(value, Fact | Choice):
            text = " or ".join(str(getattr(one, "text", one)) for one in value.options) or value.text
            text = f"some units: {text}" if value.options else text
            evidence = value.evidence if value.known else ""
            row = ListedFact(
                name, text, evidence, value.source or "", place, place.path != own, value.known, value.settles
            )
        else:
            row = ListedFact(name, _plain(value), "", "", place, place.path != own, True, "")
        rows.append(row)
    return tuple(rows)


def show(known: Catalogue, variant: str) -> str:
    """Return a variant with every value, its evidence, and the place it was written at."""
    machine = known.machine(variant)
    rows = [
        (row.name, _cut(row.text, 44), " ".join((row.evidence, row.source)).strip(), _origin(row))
        for row in values(machine)
    ]
    unknown = [row for row in values(machine) if not row.known]
    head = f"{machine.id}: {machine.name} ({machine.family_name}), {machine.status}"
    tail = f"{len(rows)} values, {sum(row.inherited for row in values(machine))} inherited, {len(unknown)} not known"
    return "\n".join((head, "", *table(("value", "is", "evidence", "written at"), rows), "", tail))


def listing(known: Catalogue) -> str:
    """Return all variants and kits, one per line."""
    machines = [
        (one.id, one.name, _years(one), one.mains.voltage.text, one.boiler.material.text, one.control.kind, one.status)
        for one in known.machines.values()
    ]
    kits = [(kit.id, kit.name, kit.revision, kit.status) for kit in known.kits.values()]
    return "\n".join(
        (
            *table(("variant", "name", "years", "mains", "boiler", "control", "status"), machines),
            "",
            *table(("kit", "name", "revision", "status"), kits),
        )
    )


def table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> list[str]:
    """Return aligned lines, two spaces between columns."""
    lines = [head, *rows]
    widths = [max(len(line[column]) for line in lines) for column in range(len(head))]
    return ["  ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True)).rstrip() for line in lines]


def _origin(row: ListedFact) -> str:
    return f"{row.place.path}:{row.place.line}" + (" (inherited)" if row.inherited else "")


def _years(machine: Machine) -> str:
    last = machine.years.to
    return f"{machine.years.from_}–{last}" if last else f"{machine.years.from_}–"


def _plain(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    return str(value)


def _cut(text: str, width: int) -> str:
    line = " ".join(text.split())
    return line if len(line) <= width else line[: width - 1] + "…"
