"""The links of a page that a reader can click, by a strict parser and not by the program's own link check."""

from __future__ import annotations

import posixpath
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import unquote, urlsplit

import html5lib


def targets(site: Path, page: str) -> Iterator[str]:
    """The files of the site that its links lead to, as places from the root."""
    tree = html5lib.parse((site / page).read_bytes(), namespaceHTMLElements=False, transport_encoding="utf-8")
    for link in tree.iter("a"):
        parts = urlsplit(link.get("href", ""))
        if parts.scheme or parts.netloc or not parts.path:
            continue
        target = posixpath.normpath(posixpath.join(posixpath.dirname(page), unquote(parts.path)))
        if target.startswith("../"):
            # The root's pages, as the price list, which no edition holds.
            continue
        yield posixpath.normpath(posixpath.join(target, "index.html")) if (site / target).is_dir() else target
