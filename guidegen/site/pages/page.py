"""What every written page is, before it is set into the site's frame.

A ``Page`` is data: the place it will have in the site, the text that goes into the frame's slots, and what
the search should find it by. Nothing here knows how the frame is made or who fills a page.
"""

from __future__ import annotations

import posixpath
from dataclasses import dataclass, field

Crumb = tuple[str, str]
"""One step of a page's path: its text, and its page as a path from the site's root ("" for no link)."""


@dataclass(frozen=True)
class Heading:
    """One entry of a page's contents list."""

    level: int
    """2 to 6; the page's title is level 1 and is not listed."""
    id: str
    """The id of the element in the body that the entry leads to."""
    text: str
    """Plain text; it is escaped when it is written."""


@dataclass(frozen=True)
class SharedBy:
    """Whose guide an entry of the search stands in: those of one kit with the same words become one entry."""

    kit: str
    family: str
    variant: str


@dataclass(frozen=True)
class SearchEntry:
    """One thing that the search can find on a page."""

    location_fragment: str
    """The id in the page that a find leads to; "" for the top of the page."""
    title: str
    text: str
    """Plain text: ids, synonyms, headings and at most 200 characters of lead."""
    boost: float = 1.0
    """Its weight among what is found; below 1 for what is older."""
    of: SharedBy | None = None


@dataclass(frozen=True)
class Page:
    """One finished page body with all that its frame needs to know about it."""

    path: str
    """Where the page lies, from the site's root: ``guides/tamsin-mk2/feed-preheater/fit.html``."""
    title: str
    description: str
    """One sentence for the page's description; plain text."""
    body: str
    """HTML of the article, from the ``<h1>`` on; links are relative to ``path``."""
    headings: tuple[Heading, ...] = ()
    search: tuple[SearchEntry, ...] = ()
    breadcrumbs: tuple[Crumb, ...] = ()
    kind: str = "page"
    """overview, fit, install, numbers, changes, variant, … : one word, becomes ``data-page-kind``."""
    head: str = field(default="")
    """HTML to add to the head, after the frame's own."""
    image: str = ""
    """The picture that goes with a link to the page, from the site's root; "" for none."""
    image_words: str = ""
    """What it shows."""

    def __post_init__(self) -> None:
        parts = self.path.split("/")
        if not self.path.endswith(".html") or any(part in ("", ".", "..") for part in parts):
            raise ValueError(f"a page's path goes from the site's root to an .html file, not {self.path!r}")


def rel(from_path: str, to_path: str) -> str:
    """The address to write on the page ``from_path`` so that it leads to ``to_path``.

    Both are paths from the site's root; ``to_path`` may carry ``#fragment`` or ``?query``.

    >>> rel("guides/tamsin-mk2/feed-preheater/fit.html", "guides/tamsin-mk2/feed-preheater/index.html#costs")
    'index.html#costs'
    >>> rel("guides/tamsin-mk2/feed-preheater/fit.html", "safety.html")
    '../../../safety.html'
    >>> rel("safety.html", "#hot")
    '#hot'
    """
    cut = min((place for mark in "#?" if (place := to_path.find(mark)) >= 0), default=len(to_path))
    target, rest = to_path[:cut], to_path[cut:]
    if not target or (target == from_path and rest.startswith("#")):
        return rest or posixpath.basename(from_path)
    return posixpath.relpath(target, posixpath.dirname(from_path) or ".") + rest
