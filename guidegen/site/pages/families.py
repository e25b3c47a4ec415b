"""Pages that list every variant: one for all while they are few, else a short list and a page per family."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from guidegen.language import ngettext
from guidegen.record import Assessment
from guidegen.record.stated import VariantPart
from guidegen.site.pages.page import rel
from guidegen.site.pages.place import WHICH, family_path
from guidegen.site.pages.site import Pair, Site

MOST_TOGETHER = 24
"""Variants on one page: the heaviest, the finder, is then some 113 kB of text and data with three kits each, 15 kB
compressed: measured with a made-up workshop (`tests.bench.synthetic`)."""


@dataclass(frozen=True)
class Family:
    """One family of the site: `site` is the same site with its variants alone."""

    id: str
    name: str
    site: Site


class OfFamily(Mapping[Pair, Assessment]):
    """The records of some variants, each taken only when it is asked for."""

    def __init__(self, records: Mapping[Pair, Assessment], variants: Mapping[str, VariantPart]) -> None:
        self._records = records
        self._pairs = dict.fromkeys(pair for pair in records if pair[0] in variants)

    def __getitem__(self, pair: Pair) -> Assessment:
        if pair not in self._pairs:
            raise KeyError(pair)
        return self._records[pair]

    def __iter__(self) -> Iterator[Pair]:
        return iter(self._pairs)

    def __len__(self) -> int:
        return len(self._pairs)


def families(site: Site) -> tuple[Family, ...]:
    """The families that have pages of their own, in the order of their variants.

    None where one page holds all variants, and where there is only one family.
    """
    if not _are_many(site):
        return ()
    of: dict[str, dict[str, VariantPart]] = {}
    for one in site.variants.values():
        of.setdefault(one.family, {})[one.id] = one
    return tuple(
        Family(
            family,
            next(iter(some.values())).family_name,
            replace(site, records=OfFamily(site.records, some), variants=some),
        )
        for family, some in of.items()
    )


def _are_many(site: Site) -> bool:
    variants = site.variants.values()
    return len(variants) > MOST_TOGETHER and len({one.family for one in variants}) > 1


def finder(page: str, variant: VariantPart, site: Site) -> str:
    """Where a variant is told from its neighbours, as seen from a page: on its family's own page where it has one."""
    return rel(page, family_path(WHICH, variant.family) if _are_many(site) else WHICH)


def listed(page: str, parted: str, found: tuple[Family, ...]) -> list[dict[str, Any]]:
    """For the template of a page: each family's name, how many variants it has, and its own part of a parted page."""
    return [
        {"name": one.name, "count": len(one.site.variants), "href": rel(page, family_path(parted, one.id))}
        for one in found
    ]


def named(variants: Sequence[str]) -> str:
    """Some variants in a sentence: by name, or how many where one page does not hold all."""
    if len(variants) <= MOST_TOGETHER:
        return "; ".join(variants)
    return ngettext("{count} variant", "{count} variants", len(variants)).format(count=len(variants))
