"""What search engines read at the site's root: which pages there are, and where that list lies.

The list names the root's own pages and those of the newest edition; whoever holds an older one has its address.
Sitemaps protocol 0.9 and RFC 9309; from memory.
"""

from __future__ import annotations

from collections.abc import Iterator

from guidegen.editions import withdrawals
from guidegen.editions.root_pages import EDITIONS, FRONT, NOT_FOUND, WHICH, Root, kit_address
from guidegen.editions.selling import PAGE as PRICES
from guidegen.site.bind import sitemap
from guidegen.site.pages.place import ONE_FILE

SITEMAP = "sitemap.xml"
ROBOTS = "robots.txt"


def files(root: Root) -> dict[str, bytes]:
    """Both files. A site without an address has no list of pages, since that names whole addresses only."""
    robots = "User-agent: *\nDisallow:\n"
    if not root.site_url:
        return {ROBOTS: robots.encode()}
    found = (root.address(path) for path in _pages(root))
    return {
        ROBOTS: f"{robots}\nSitemap: {root.address(SITEMAP)}\n".encode(),
        SITEMAP: sitemap(found),
    }


def _pages(root: Root) -> Iterator[str]:
    yield from (FRONT, WHICH, PRICES, EDITIONS)
    yield from (f"{kit_address(one.kit)}index.html" for one in root.resolved() if one.fits)
    if not root.line:
        return
    newest = root.line[-1]
    gone = withdrawals.of_edition(root.withdrawn, newest.edition)
    for path in root.paths:
        is_page = path.endswith(".html") and path != NOT_FOUND and not path.endswith(f"/{ONE_FILE}")
        if is_page and withdrawals.concerned(path, gone) is None:
            yield root.in_newest(path)
