"""Records become the site's pages and files, each from its path alone.

What a page shows is decided in the module of its kind. The build makes all of them, the preview one that is asked for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from guidegen.record import Assessment
from guidegen.record.reference import Reference
from guidegen.site.pages import downloads
from guidegen.site.pages.acts import acts_page
from guidegen.site.pages.comparison import comparison_of, comparison_page
from guidegen.site.pages.families import Family, families
from guidegen.site.pages.fields import fields_page
from guidegen.site.pages.kits import kit_page, kits_of
from guidegen.site.pages.methods import checks_page, methods_page
from guidegen.site.pages.page import Page
from guidegen.site.pages.pair import pair_page
from guidegen.site.pages.paper.press import Press
from guidegen.site.pages.place import (
    ACTS,
    CHECKS,
    CODES,
    COMPARE,
    FIELDS,
    FORMULAS,
    GLOSSARY,
    RULES,
    SOURCES,
    WHICH,
    family_path,
    kinds_of,
    kit_path,
    path_of,
    variant_path,
)
from guidegen.site.pages.reference import codes_page, glossary_page, rules_page, sources_of, sources_page
from guidegen.site.pages.site import Site, by_pair
from guidegen.site.pages.together import together_page, together_paths
from guidegen.site.pages.variants import variant_page
from guidegen.site.pages.which import which_of, which_page

TO_LOOK_UP: Mapping[str, Callable[[Site], Page]] = {
    WHICH: which_page,
    COMPARE: comparison_page,
    FORMULAS: methods_page,
    CHECKS: checks_page,
    GLOSSARY: glossary_page,
    SOURCES: sources_page,
    RULES: rules_page,
    ACTS: acts_page,
    CODES: codes_page,
    FIELDS: fields_page,
}
"""Pages that stand once in the site."""
OF_FAMILY: Mapping[str, Callable[[Family], Page]] = {
    WHICH: which_of,
    COMPARE: comparison_of,
    SOURCES: sources_of,
}
"""What of these is a page per family where there are many variants."""


@dataclass(frozen=True)
class Guides:
    """Everything that goes into the site beside what the engine makes."""

    pages: tuple[Page, ...]
    files: dict[str, bytes]


def render(
    records: Sequence[Assessment], reference: Reference, address: str = "", press: Press | None = None
) -> Guides:
    """All pages of all pairs and variants, the pages to look things up, and the downloads.

    `address` is where the site's root stands, as in `Site`; `press` makes the sheets for paper.
    """
    site = Site.of(by_pair(records), reference, address=address, press=press)
    pages = [page for path in page_paths(site) if (page := page_at(path, site)) is not None]
    return Guides(tuple(pages), dict(downloads.files(site)))


def page_paths(site: Site) -> Iterator[str]:
    """The path of every page."""
    for record in site.records.values():
        yield from (path_of(record, kind) for kind in kinds_of(record))
        yield from together_paths(record, site)
    yield from map(variant_path, site.variants)
    yield from map(kit_path, kits_of(site))
    yield from TO_LOOK_UP
    yield from _of_families(site)


def page_at(path: str, site: Site) -> Page | None:
    """The page at a path, or None where the site has none there."""
    match path.split("/"):
        case ["guides", variant, "index.html"] if variant in site.variants:
            return variant_page(variant, site)
        case ["guides", variant, kit, _] if (variant, kit) in site.records:
            record = site.records[variant, kit]
            found = (kind for kind in kinds_of(record) if path_of(record, kind) == path)
            kind = next(found, None)
            other = path.rsplit("/with-", 1)[-1].removesuffix(".html")
            return pair_page(record, kind, site) if kind else together_page(record, other, site)
        case ["kits", kit, "index.html"] if kit in kits_of(site):
            return kit_page(kit, site)
        case [name] if name in TO_LOOK_UP:
            return TO_LOOK_UP[name](site)
        case [_, _]:
            made = _of_families(site).get(path)
            return made() if made else None
        case _:
            return None


def _of_families(site: Site) -> dict[str, Callable[[], Page]]:
    """What makes the page at each path that is about one family."""
    return {family_path(page, one.id): partial(make, one) for page, make in OF_FAMILY.items() for one in families(site)}
