"""The catalogue as one frozen object."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeVar

from guidegen.problems import CatalogueError, Code, Problem, nearest, one_of
from guidegen.runs.document import LoggedRun
from guidegen.trade.builds import Builds
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine, machine_with
from guidegen.trade.paths import known_facts
from guidegen.trade.shop import Drinks, Glossary, Sources, Workshop
from guidegen.workshop.fact_table import FactTable
from guidegen.workshop.offers import WrittenOffers
from guidegen.workshop.own_facts import OwnFacts
from guidegen.workshop.pictures.album import Album
from guidegen.workshop.pictures.written import Pictures
from guidegen.workshop.procedures import Hazards, Procedure, SharedBlocks
from guidegen.workshop.questions import Questions
from guidegen.workshop.rows import OwnActs
from guidegen.workshop.texts import ReadTexts

T = TypeVar("T")


@dataclass(frozen=True)
class Catalogue:
    """All that a workshop wrote, valid and checked against itself. Mappings are in the order of their ids."""

    workshop: Workshop
    drinks: Drinks
    sources: Sources
    glossary: Glossary
    machines: Mapping[str, Machine]
    kits: Mapping[str, Kit]
    procedures: Mapping[str, Procedure]
    shared: SharedBlocks | None
    hazards: Hazards | None
    questions: Questions | None
    read: ReadTexts | None
    builds: Mapping[str, Builds]
    runs: Mapping[str, LoggedRun]
    families: Mapping[str, str]
    warnings: tuple[Problem, ...] = ()
    acts: OwnActs | None = None
    facts: OwnFacts | None = None
    pictures: Pictures | None = None
    offers: WrittenOffers | None = None
    album: Album = field(default_factory=Album)
    root: Path = Path()
    """Where the workshop lies: logged files are read when somebody asks what they say."""

    @property
    def table(self) -> FactTable:
        """Return every name that may be asked of a machine of this workshop."""
        return known_facts(machine_with(self.facts.facts if self.facts is not None else ()))

    def machine(self, name: str) -> Machine:
        """Return a variant by id; raise `CatalogueError` with the nearest id where there is none."""
        return _named(self.machines, name, "machines", Code.UNKNOWN_FAMILY)

    def kit(self, name: str) -> Kit:
        """Return a kit by id; raise `CatalogueError` with the nearest id where there is none."""
        return _named(self.kits, name, "content/kits", Code.UNKNOWN_KIT)

    def first(self, kit: str) -> tuple[Kit, ...]:
        """Return the kits that are on a machine before a kit goes onto them, in the order of fitting."""
        found: dict[str, Kit] = {}
        one = self.kits.get(kit)
        while one is not None and one.needs is not None and one.needs not in (kit, *found):
            one = self.kits.get(one.needs)
            if one is not None:
                found[one.id] = one
        return tuple(reversed(found.values()))


def _named(entries: Mapping[str, T], name: str, where: str, code: Code) -> T:
    if name in entries:
        return entries[name]
    near = nearest(name, entries)
    fix = f"write {near}" if near else f"use one of {one_of(entries)}"
    raise CatalogueError([Problem(where, 1, 1, code, f'nothing here is called "{name[:60]}"', fix)])
