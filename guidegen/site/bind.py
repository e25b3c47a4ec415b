"""Setting finished pages into the frame that the engine built, once per folder depth.

The engine builds one empty page per depth from ``web/overrides/guide.html``; its slots are marks of the form
``@@guidegen:name@@``. A frame is cut at its marks once, and each page is then a join of bytes, which is why a
thousand pages take about a second.
"""

from __future__ import annotations

import hashlib
import html
import json
import re
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any
from urllib.parse import urljoin, urlsplit
from xml.sax.saxutils import escape as xml_escape

from guidegen.site.found import found
from guidegen.site.joined import join_sheets
from guidegen.site.pages.page import Heading, Page, rel

SLOTS: Mapping[str, int] = {
    "meta": 1,
    "title": 1,
    "topic": 1,
    "head": 1,
    "offers": 1,
    "contents": 1,
    "contents-small": 1,
    "kind": 1,
    "breadcrumbs": 1,
    "body": 1,
}
"""How often each slot occurs in a frame; anything else means that theme and binder do not fit together."""

_MARK = re.compile(rb"@@guidegen:([a-z-]+)(?: ([^@]*))?@@")
"""A slot's name, and what the theme passes to the binder with it: ``meta`` carries the site's address, ``offers`` the
script that shows prices."""
_PRICED = ("data-offer", "data-self-check")
"""What the script that shows prices looks for in a page."""

_SITEMAP = "http://www.sitemaps.org/schemas/sitemap/0.9"
_ADDRESS = re.compile(rb"@@guidegen:meta ([^@]*)@@")
_FRAME_FOLDER, _FRAME = "guidegen-frames/", "guidegen-frame.html"
_SITE_LINK = re.compile(rb'href="[^":]*site:([^"]*)"')
"""A link to a page that the engine does not know, as ``[machines](site:machines.html)`` or an entry of ``nav``.

Some engines write their own relative way before it; that is dropped."""
_NOT_PUBLISHED = (".map", ".xml.gz")
"""Source maps are ten times the scripts and help nobody; a gzipped sitemap carries the hour of the build."""


class FrameError(Exception):
    """The engine's frame does not have the slots that pages are set into: a fault of the theme."""


def frame_path(depth: int) -> str:
    """Where the frame for pages that lie ``depth`` folders deep is found in the engine's site.

    >>> frame_path(2)
    'guidegen-frames/guidegen-frames/guidegen-frame.html'
    """
    return _FRAME_FOLDER * depth + _FRAME


def _site_url(path: str, data: bytes) -> str:
    """The site's address that a frame carries."""
    found = _ADDRESS.search(data) if path.endswith(_FRAME) else None
    return html.unescape(found[1].decode().strip()) if found else ""


class PageFrame:
    """One frame, cut at its slots."""

    def __init__(self, data: bytes, path: str) -> None:
        pieces = _MARK.split(data)
        self._texts, self._slots = pieces[::3], [name.decode() for name in pieces[1::3]]
        named = dict(zip(self._slots, pieces[2::3], strict=True))
        self.offers = (named.get("offers") or b"").decode().strip()
        found = {name: self._slots.count(name) for name in {*SLOTS, *self._slots}}
        wrong = [
            f"{name} {number} times instead of {SLOTS.get(name, 0)}"
            for name, number in sorted(found.items())
            if number != SLOTS.get(name, 0)
        ]
        if wrong:
            raise FrameError(f"{path}: the frame has the slot {', '.join(wrong)}")

    def fill(self, contents: Mapping[str, str]) -> bytes:
        """The frame with ``contents`` in its slots."""
        out = [self._texts[0]]
        for slot, text in zip(self._slots, self._texts[1:], strict=True):
            out += (contents[slot].encode(), text)
        return b"".join(out)


class Shell:
    """The engine's site as bytes, ready to set pages into; makes one page at a time, or all of them."""

    def __init__(self, files: Mapping[str, bytes]) -> None:
        self._frames: dict[int, PageFrame] = {}
        self.files: dict[str, bytes] = {}
        self.site_url = next(filter(None, (_site_url(path, data) for path, data in sorted(files.items()))), "")
        root = urlsplit(self.site_url).path or "/"
        for path, data in sorted(join_sheets(files, root).items()):
            if path.endswith(_FRAME):
                self._frames[path.count("/")] = PageFrame(_with_site_links(path, data), path)
            elif not path.endswith(_NOT_PUBLISHED):
                self.files[path] = data
        for path, data in self.files.items():
            if path == "404.html":
                # This page is shown at any address, so its links start at the site's root, as the engine's do.
                self.files[path] = _SITE_LINK.sub(rb'href="%s\1"' % root.encode(), data)
            elif path.endswith(".html"):
                self.files[path] = _with_site_links(path, data)
        whole = hashlib.sha256()
        for path in sorted(self.files):
            if path.endswith((".css", ".js", ".svg")) and not path.startswith("search"):
                whole.update(path.encode() + b"\0" + self.files[path])
        self.assets_digest = whole.digest()
        """A hash of styles and scripts: what a page looks like depends on them too."""

    def page(self, page: Page) -> bytes:
        """The whole HTML of one page."""
        depth = page.path.count("/")
        if depth not in self._frames:
            raise FrameError(f"{page.path}: the engine built no frame for pages {depth} folders deep")
        frame = self._frames[depth]
        return frame.fill(
            {
                "meta": self._meta(page),
                "title": html.escape(page.title),
                "topic": html.escape(page.title),
                "head": page.head,
                "offers": frame.offers if any(mark in page.body for mark in _PRICED) else "",
                "contents": _contents(page.headings),
                "contents-small": _contents_small(page.headings),
                "kind": html.escape(page.kind),
                "breadcrumbs": _breadcrumbs(page),
                "body": page.body,
            }
        )

    def of_all(self, pages: Sequence[Page]) -> dict[str, bytes]:
        """What is made of all pages together: the search index and the sitemap. Their bodies are not looked at."""
        made = _search(self.files, pages)
        if self.site_url:
            # A sitemap takes whole addresses only; a site that has none yet goes without.
            paths = (path for path in (*self.files, *(page.path for page in pages)) if path.endswith(".html"))
            # Home goes by its folder, which is where the version selector looks for it.
            places = ("" if path == "index.html" else path for path in paths if path != "404.html")
            made["sitemap.xml"] = sitemap(urljoin(self.site_url, path) for path in places)
        return made

    def _meta(self, page: Page) -> str:
        title, description = html.escape(page.title), html.escape(page.description)
        lines = [
            f'<meta name="description" content="{description}">',
            f'<meta property="og:title" content="{title}">',
            f'<meta property="og:description" content="{description}">',
            '<meta property="og:type" content="article">',
        ]
        if self.site_url:
            address = html.escape(urljoin(self.site_url, page.path))
            lines += [
                f'<link rel="canonical" href="{address}">',
                f'<meta property="og:url" content="{address}">',
            ]
            if page.image:
                # Those who show it take whole addresses only.
                image, words = html.escape(urljoin(self.site_url, page.image)), html.escape(page.image_words)
                lines += [
                    f'<meta property="og:image" content="{image}">',
                    f'<meta property="og:image:alt" content="{words}">',
                ]
        return "\n".join(lines)


def _with_site_links(path: str, data: bytes) -> bytes:
    """The page with its ``site:`` links made relative to where it lies."""
    return _SITE_LINK.sub(lambda found: f'href="{rel(path, found.group(1).decode())}"'.encode(), data)


def bind(pages: Sequence[Page], engine_site: Path) -> dict[str, bytes]:
    """Every file of the site: the engine's own, the pages in their frames, search index and sitemap extended."""
    return bind_files(pages, files_of(engine_site))


def files_of(engine_site: Path) -> dict[str, bytes]:
    """Every file of the engine's site, by path."""
    found = (path for path in sorted(engine_site.rglob("*")) if path.is_file())
    return {path.relative_to(engine_site).as_posix(): path.read_bytes() for path in found}


def bind_files(pages: Sequence[Page], engine_files: Mapping[str, bytes]) -> dict[str, bytes]:
    """The same over bytes alone: reads and writes nothing."""
    shell = Shell(engine_files)
    files = dict(shell.files)
    for page in pages:
        if page.path in files:
            raise ValueError(f"two pages want the place {page.path}")
        files[page.path] = shell.page(page)
    files.pop("sitemap.xml", None)
    files.update(shell.of_all(pages))
    return files


def _contents(headings: Sequence[Heading]) -> str:
    """The contents list in the theme's own markup, because its scroll-spy reads that."""
    if not headings:
        return ""
    return f'<ul class="md-nav__list" data-md-component="toc" data-md-scrollfix>{_branch(headings)}</ul>'


def _branch(headings: Sequence[Heading]) -> str:
    """List items, those of a deeper level within the item before them."""
    out: list[str] = []
    position, top = 0, min(heading.level for heading in headings)
    while position < len(headings):
        heading = headings[position]
        end = position + 1
        while end < len(headings) and headings[end].level > top:
            end += 1
        below = headings[position + 1 : end]
        text, address = html.escape(heading.text), html.escape(heading.id)
        link = f'<a class="md-nav__link" href="#{address}"><span class="md-ellipsis">{text}</span></a>'
        if below:
            link += f'<nav class="md-nav" aria-label="{text}"><ul class="md-nav__list">{_branch(below)}</ul></nav>'
        out.append(f'<li class="md-nav__item">{link}</li>')
        position = end
    return "".join(out)


def _contents_small(headings: Sequence[Heading]) -> str:
    """The entries of the folded contents list of narrow screens: the upper level, where there are several."""
    top = min((heading.level for heading in headings), default=0)
    listed = [heading for heading in headings if heading.level == top]
    items = (f'<li><a href="#{html.escape(entry.id)}">{html.escape(entry.text)}</a></li>' for entry in listed)
    return "".join(items) if len(listed) > 1 else ""


def _breadcrumbs(page: Page) -> str:
    items = []
    for text, target in page.breadcrumbs:
        if not target or target == page.path:
            items.append(f'<li aria-current="page">{html.escape(text)}</li>')
        else:
            items.append(f'<li><a href="{html.escape(rel(page.path, target))}">{html.escape(text)}</a></li>')
    return "".join(items)


def _search(files: Mapping[str, bytes], pages: Iterable[Page]) -> dict[str, bytes]:
    """The engine's search index with the pages' entries; as a script too, for a site opened from a folder."""
    if "search.json" in files:
        index = json.loads(files["search.json"])
        index["items"] = search_docs(index["items"], pages, {"level": 1, "tags": []})
        return {"search.json": _json(index), "search.js": _as_script(index)}
    if "search/search_index.json" not in files:
        return {}
    index = json.loads(files["search/search_index.json"])
    index["docs"] = search_docs(index["docs"], pages, {})
    return {"search/search_index.json": _json(index), "search/search_index.js": _as_script(index)}


def _as_script(index: object) -> bytes:
    """The index as a script: what themes read where browsers refuse to fetch, in a site opened from a folder."""
    return b"var __index = " + _json(index).strip() + b";\n"


def search_docs(
    theirs: Iterable[Mapping[str, Any]], pages: Iterable[Page], more: Mapping[str, Any]
) -> list[Mapping[str, Any]]:
    """The entries of the index: the engine's own, then those of the pages, each with `more` beside it."""
    entries = [entry for entry in theirs if "guidegen-frame" not in entry["location"]]
    for page, entry in found(pages):
        place = page.path + (f"#{entry.location_fragment}" if entry.location_fragment else "")
        path = {"path": [text for text, _ in page.breadcrumbs]} if more else {}
        boost = {"boost": entry.boost} if entry.boost != 1 else {}
        text = html.escape(entry.text, quote=False)
        entries.append({"location": place, "title": html.escape(entry.title), "text": text, **boost, **more, **path})
    return entries


def _json(value: object) -> bytes:
    # "</" cannot end a script element early, and the two line separators are newlines to old script readers.
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
    return text.replace("</", "<\\/").replace("\u2028", "\\u2028").replace("\u2029", "\\u2029").encode() + b"\n"


def sitemap(addresses: Iterable[str]) -> bytes:
    """A list of pages by their whole addresses, sorted, without dates."""
    rows = "".join(f"  <url><loc>{xml_escape(one)}</loc></url>\n" for one in sorted({*addresses}))
    return f'<?xml version="1.0" encoding="UTF-8"?>\n<urlset xmlns="{_SITEMAP}">\n{rows}</urlset>\n'.encode()
