"""Records become the site's pages and files. What each page shows is decided in the module of its kind."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from guidegen.catalogue import Catalogue
from guidegen.pages import downloads
from guidegen.pages.comparison import comparison_page
from guidegen.pages.methods import checks_page, methods_page
from guidegen.pages.page import Page
from guidegen.pages.pair import pair_pages
from guidegen.pages.reference import reference_pages
from guidegen.pages.site import Site
from guidegen.pages.variants import variant_page
from guidegen.record import Assessment


@dataclass(frozen=True)
class Guides:
    """Everything that goes into the site beside what the engine makes."""

    pages: tuple[Page, ...]
    files: dict[str, bytes]


def render(records: Sequence[Assessment], known: Catalogue) -> Guides:
    """All pages of all pairs and variants, the pages to look things up, and the downloads."""
    site = Site.of(records, known)
    pages = [page for record in records for page in pair_pages(record, site)]
    pages += [variant_page(group, site) for group in site.by_variant().values()]
    pages += [comparison_page(site), methods_page(), checks_page(), *reference_pages(site)]
    return Guides(tuple(pages), dict(downloads.files(records)))
