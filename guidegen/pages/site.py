"""What a page needs to know beside its own record: the other records, sources and words of the workshop."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from markupsafe import Markup

from guidegen.catalogue import Catalogue
from guidegen.catalogue.workshop import Source, Term
from guidegen.pages.page import rel
from guidegen.pages.place import SOURCES
from guidegen.record import Assessment

EVIDENCE = {
    "measured": "measured",
    "maker-document": "maker's document",
    "standard": "standard",
    "calculated": "calculated",
    "assumed": "assumed",
}


@dataclass(frozen=True)
class Site:
    """Everything that pages share."""

    records: Sequence[Assessment]
    sources: Mapping[str, Source] = field(default_factory=dict)
    terms: Mapping[str, Term] = field(default_factory=dict)
    workshop: str = ""

    @classmethod
    def of(cls, records: Sequence[Assessment], known: Catalogue) -> Site:
        """The site of a catalogue."""
        return cls(records, known.sources.sources, known.glossary.terms, known.workshop.name)

    def by_variant(self) -> dict[str, list[Assessment]]:
        """The records of each variant, in the order of their ids."""
        found: dict[str, list[Assessment]] = {}
        for record in self.records:
            found.setdefault(record.variant.id, []).append(record)
        return found

    def evidence(self, evidence: str, source: str | None, page: str) -> Markup:
        """Where a number comes from, with a link to its source as seen from a page."""
        words = EVIDENCE.get(evidence, evidence)
        if not source:
            return Markup("{}").format(words)
        title = self.sources[source].title if source in self.sources else source
        if source not in self.sources:
            return Markup("{}, {}").format(words, title)
        return Markup('{}, <a href="{}">{}</a>').format(words, rel(page, f"{SOURCES}#{source}"), title)
