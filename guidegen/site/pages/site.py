"""What a page needs to know beside its own record: the other records, and what no record of a pair holds."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from urllib.parse import urljoin

from markupsafe import Markup

from guidegen.language.choices import choice
from guidegen.record import Assessment
from guidegen.record.reference import Reference
from guidegen.record.stated import VariantPart
from guidegen.site.pages.page import rel
from guidegen.site.pages.paper.press import Press
from guidegen.site.pages.place import SOURCES, corrections_page

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
    reference: Reference
    address: str = ""
    """Where the root of all editions stands, in full; empty for the draft, and where the site has no address."""
    press: Press | None = None
    """Makes the sheets for paper; without one the site has none, as where pages of an edition are made anew."""

    @classmethod
    def of(
        cls,
        records: Mapping[Pair, Assessment],
        reference: Reference,
        variants: Mapping[str, VariantPart] | None = None,
        address: str = "",
        press: Press | None = None,
    ) -> Site:
        """The site of these records, with their variants where no others are given."""
        if variants is None:
            variants = {one.variant.id: one.variant for one in records.values()}
        return cls(records, variants, reference, address, press)

    def corrections(self, edition: str) -> str:
        """Where notices for an edition stand, in full; empty without an address."""
        return urljoin(self.address, corrections_page(edition)) if self.address else ""

    def of_variant(self, variant: str) -> list[Assessment]:
        """The records of a variant, in the order of their kits."""
        return [self.records[pair] for pair in self.records if pair[0] == variant]

    def evidence(self, evidence: str, source: str | None, page: str) -> Markup:
        """Where a number comes from, with a link to its source as seen from a page."""
        words = choice(evidence)
        if not source:
            return Markup("{}").format(words)
        if source not in self.reference.sources:
            return Markup("{}, {}").format(words, source)
        title = self.reference.sources[source].title
        return Markup('{}, <a href="{}">{}</a>').format(words, rel(page, f"{SOURCES}#{source}"), title)
