"""The link check over finished HTML: every address of every page, with fragments, pictures and scripts."""

from __future__ import annotations

import html
import posixpath
import re
from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from functools import lru_cache
from urllib.parse import unquote, urlsplit

from guidegen.problems import Problem
from guidegen.site.codes import SiteCode
from guidegen.site.pages.place import PRICES

_SILENT = re.compile(r"<(?:!--.*?-->|((script|style)\b[^>]*>)[^<]*+(?:<(?!/\2>)[^<]*+)*+(</\2>))", re.DOTALL)
"""What holds no markup: comments, and the insides of scripts and styles. Each way to begin has the same first sign, and
what is inside is taken in one go: a page is searched eight times as fast as with `.*?`."""
_TAG = re.compile(r"""<([a-zA-Z][\w:-]*+)\s((?:[^'">]++|"[^"]*+"|'[^']*+')*+)>""")
_ATTRIBUTE = re.compile(r"""([^\s"'>/=]+)(?:\s*=\s*(?:"([^"]*)"|'([^']*)'|([^\s"'>]+)))?""")
_MATTERS = re.compile(r"""(?:^|[\s"'])(?:id|name|href|xlink:href|src|srcset|poster|action|data|on\w+)\b""")
"""Tags without any of these attributes, most of a page, are not looked at further."""
_LOADS: Mapping[str, tuple[str, ...]] = {"href": ("link",), "src": (), "poster": (), "data": ()}
"""Attributes whose address the browser fetches by itself, and on which elements (none named: on all)."""
_LINK_ONLY = frozenset({"canonical", "alternate", "license", "author", "help", "next", "prev", "me"})


@dataclass
class Inspected:
    """What one page offers to link to, and what it links to."""

    ids: Counter[str] = field(default_factory=Counter)
    links: list[tuple[str, bool]] = field(default_factory=list)
    """Addresses as written, and whether the browser fetches them by itself."""
    forbidden: list[str] = field(default_factory=list)
    base: bool = False


def inspect(page: str) -> Inspected:
    """Read one page's ids and addresses.

    >>> found = inspect('<p id="a"><a href="b.html#c">x</a></p>')
    >>> list(found.ids), found.links
    (['a'], [('b.html#c', False)])
    """
    found = Inspected()
    # Most tags of a page are the same few, so each kind of tag is read once.
    for (name, written), times in Counter(_TAG.findall(_SILENT.sub(_emptied, page))).items():
        element = name.lower()
        if not _MATTERS.search(written):
            continue
        pairs = _attributes(written)
        rel = set(pairs.get("rel", "").split())
        for name, value in pairs.items():
            if name == "id" or (name == "name" and element == "a" and value != pairs.get("id")):
                found.ids[value] += times
            elif name.startswith("on"):
                found.forbidden.append(f"{name}=")
            elif name == "srcset":
                found.links += [(part.split()[0], True) for part in value.split(",") if part.strip()]
            elif name in ("href", "xlink:href", "src", "poster", "action") or (name, element) == (
                "data",
                "object",
            ):
                loads = name in _LOADS and (not _LOADS[name] or element in _LOADS[name])
                found.links.append((value.strip(), loads and not (element == "link" and rel & _LINK_ONLY)))
    return found


def _emptied(found: re.Match[str]) -> str:
    """The tags of a script or a style without what is between them; of a comment nothing."""
    return f"<{found[1]}{found[3]}" if found[1] else ""


@lru_cache(maxsize=16384)
def _attributes(written: str) -> Mapping[str, str]:
    """The attributes of a tag; those of the frame are the same on every page."""
    return {name: html.unescape(a or b or c) for name, a, b, c in _ATTRIBUTE.findall(written)}


def check(pages: Mapping[str, Inspected], files: Collection[str], site_url: str = "") -> list[Problem]:
    """Every broken or forbidden address of the pages among all files of the site, sorted by page.

    A problem's path is the page's place in the site; no line is given, because a page is not what anybody wrote.
    """
    problems: list[Problem] = []
    for path in sorted(pages):
        problems += _of_page(path, pages, files, site_url)
    return sorted(set(problems))


def _of_page(path: str, pages: Mapping[str, Inspected], files: Collection[str], site_url: str) -> Iterator[Problem]:
    page = pages[path]
    for name, times in page.ids.items():
        if times > 1:
            yield _problem(SiteCode.DUPLICATE_ID, path, f'the id "{name}" stands {times} times', "keep it once")
    for what in page.forbidden:
        yield _problem(SiteCode.FORBIDDEN_SCRIPT, path, f"{what} in the page", "put it into a script file")
    for address, loads in dict.fromkeys(page.links):
        parts = urlsplit(address)
        if parts.scheme == "javascript":
            yield _problem(SiteCode.FORBIDDEN_SCRIPT, path, f'a link to "{address[:40]}"', "use a button")
        elif parts.scheme or parts.netloc:
            if loads and parts.scheme != "data":
                yield _problem(SiteCode.OTHER_HOST, path, f"it loads {address}", "put the file into the site")
        else:
            yield from _inside(path, address, pages, files, site_url)


def _inside(
    path: str, address: str, pages: Mapping[str, Inspected], files: Collection[str], site_url: str
) -> Iterator[Problem]:
    """An address within the site, resolved as a browser would."""
    parts = urlsplit(address)
    if parts.path.startswith("/"):
        target = unquote(parts.path).removeprefix(urlsplit(site_url).path.rstrip("/")).lstrip("/")
    elif parts.path:
        target = place_of(path, address)
    else:
        target = path
    if parts.path.endswith("/") or target in ("", "."):
        target = posixpath.normpath(posixpath.join(target, "index.html"))
    if target == PRICES:
        # It lies beside every edition and follows from today's prices, so it is not among the files of any.
        return
    if target.startswith("../") or target not in files:
        near = get_close_matches(target, files, n=1, cutoff=0.6)
        hint = f"did you mean {near[0]}?" if near else "add the page, or take the link out"
        yield _problem(SiteCode.BROKEN_LINK, path, f'"{address}" leads to {target}, which is not there', hint)
        return
    fragment = unquote(parts.fragment)
    if fragment and fragment != "top" and target in pages and fragment not in pages[target].ids:
        near = get_close_matches(fragment, pages[target].ids, n=1, cutoff=0.6)
        hint = f"did you mean #{near[0]}?" if near else f"give a heading of {target} that id"
        message = f'"{address}": {target} has no place called "{fragment}"'
        yield _problem(SiteCode.BROKEN_FRAGMENT, path, message, hint)


def place_of(at: str, address: str) -> str:
    """Where an address written on a page, or in a style sheet, leads to in the site.

    >>> place_of("guides/a/b/install.html", "../../../assets/x.css?1")
    'assets/x.css'
    """
    return posixpath.normpath(posixpath.join(posixpath.dirname(at), unquote(urlsplit(address).path)))


def _problem(code: SiteCode, path: str, message: str, fix: str) -> Problem:
    return Problem(path, 1, 1, code, message, fix)
