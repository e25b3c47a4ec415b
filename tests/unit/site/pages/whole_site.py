"""All pages of a site, as its own list of paths has them."""

from __future__ import annotations

from guidegen.site.pages.page import Page
from guidegen.site.pages.render import page_at, page_paths
from guidegen.site.pages.site import Site


def every_page(shared: Site) -> list[Page]:
    """All pages of a site."""
    return [page for path in page_paths(shared) if (page := page_at(path, shared)) is not None]
