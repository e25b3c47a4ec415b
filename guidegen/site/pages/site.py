"""What a page needs to know beside its own record: the other records, sources and words of the workshop."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from markupsafe import Markup

from guidegen.language.choices import choice
from guidegen.record import Assessment
from guidegen.record.stated import VariantPart
from guidegen.site.pages.page import rel
from guidegen.site.pages.place import SOURCES
from guidegen.trade import Catalogue
from guidegen.trade.machine import Machine
from guidegen.trade.shop import Source, WrittenTerm
from guidegen.workshop.questions import Questions

Pair = tuple[str, str]
"""The ids of a variant and a kit."""


def by_pair(records: Iterable[Assessment]) -> dict[Pair, Assessment]:
    """The records by the pair they are of, in their order."""
    return {(one.variant.id, one.kit.id): one for one in records}


@dataclass(frozen=True)
class Site:
    """Everything that pages share.

    The records may be made only when they are asked for; then a page costs what it shows. `variants` are known before.
    """

    records: Mapping[Pair, Assessment]
    variants: Mapping[str, VariantPart]
    sources: Mapping[str, Source] = field(default_factory=dict)
    terms: Mapping[str, WrittenTerm] = field(default_factory=dict)
    workshop: str = ""
    contact: str = ""
    machines: Mapping[str, Machine] = field(default_factory=dict)
    kits: Mapping[str, str] = field(default_factory=dict)
    """Names of the kits by their ids."""
    questions: Questions = field(default_factory=Questions)

    @classmethod
    def of(
        cls,
        records: Mapping[Pair, Assessment],
        known: Catalogue,
        variants: Mapping[str, VariantPart] | None = None,
    ) -> Site:
        """The site of a catalogue."""
        if variants is None:
            variants = {one.variant.id: one.variant for one in records.values()}
        return cls(
            records,
            variants,
            sources=known.sources.sources,
            terms=known.glossary.terms,
            workshop=known.workshop.name,
            contact=known.workshop.contact,
            machines={name: machine for name, machine in known.machines.items() if name in variants},
            kits={name: kit.name for name, kit in known.kits.items()},
            questions=known.questions or Questions(),
        )

    def of_variant(self, variant: str) -> list[Assessment]:
        """The records of a variant, in the order of their kits."""
        return [self.records[pair] for pair in self.records if pair[0] == variant]

    def evidence(self, evidence: str, source: str | None, page: str) -> Markup:
        """Where a number comes from, with a link to its source as seen from a page."""
        words = choice(evidence)
        if not source:
            return Markup("{}").format(words)
        title = self.sources[source].title if source in self.sources else source
        if source not in self.sources:
            return Markup("{}, {}").format(words, title)
        return Markup('{}, <a href="{}">{}</a>').format(words, rel(page, f"{SOURCES}#{source}"), title)
