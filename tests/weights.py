"""What a page of the built site weighs before anything of it can be seen, as it goes over the wire."""

from __future__ import annotations

import gzip
import posixpath
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path

WEIGHT_LIMIT = 150_000
"""Bytes of the first view of a page, each file compressed as gzip -9 would."""
SHOWN = frozenset({"stylesheet", "icon", "preload"})


class Asked(HTMLParser):
    """The addresses that a page asks for by itself: style sheets, scripts, and images that are not left for later."""

    def __init__(self, page: Path) -> None:
        super().__init__()
        self.found: list[str] = []
        self.feed(page.read_text(encoding="utf-8"))

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note what the element asks for."""
        named = {name: value or "" for name, value in attrs}
        if tag == "link" and SHOWN & {*named.get("rel", "").split()}:
            self.found.append(named.get("href", ""))
        if tag == "script" or (tag == "img" and named.get("loading") != "lazy"):
            self.found.append(named.get("src", ""))


def first_view(site: Path, page: str) -> Iterator[str]:
    """The page and every file of the site that it asks for by itself, by their place in the site, each once."""
    places = (posixpath.normpath(posixpath.join(posixpath.dirname(page), one.partition("?")[0].partition("#")[0]))
              for one in Asked(site / page).found if one and ":" not in one)  # fmt: skip
    yield from dict.fromkeys((page, *(one for one in places if (site / one).is_file())))


def packed(site: Path, page: str) -> int:
    """Bytes of one file as gzip -9 would send it."""
    return len(gzip.compress((site / page).read_bytes(), 9))
