"""What goes along with a guide away from the network: the list of its files, and one file with everything in it.

Both follow from finished pages alone, so they hold what a reader saw. The list is what `along.js` puts into the
browser's own store; `one_file` makes the other.
"""

from __future__ import annotations

import html
import json
import posixpath
import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from urllib.parse import urlsplit

from guidegen.site.finish.links import Inspected, inspect, place_of
from guidegen.site.finish.one_file import fetched_later, one_file
from guidegen.site.pages.place import ALONG, ONE_FILE

Files = Mapping[str, bytes]

_INSTRUCTION = re.compile(r"guides/[^/]+/[^/]+/install\.html")
_HEADING = re.compile(r"<h1[^>]*>(.*?)</h1>", re.DOTALL)
_IN_STYLE = re.compile(r"url\(\s*[\"']?([^\"')]+)")


def files(finished: Files, pages: Mapping[str, Inspected]) -> dict[str, bytes]:
    """The list and the one file of each guide whose instruction leads to them."""
    made: dict[str, bytes] = {}
    beside: dict[str, set[str]] = defaultdict(set)
    for path in pages:
        beside[posixpath.dirname(path)].add(path)
    for path in filter(_INSTRUCTION.fullmatch, pages):
        if any(address == ONE_FILE for address, _ in pages[path].links):
            folder = posixpath.dirname(path)
            made[f"{folder}/{ONE_FILE}"] = one_file(path, finished)
            made[f"{folder}/{ALONG}"] = _list(path, beside[folder], finished, pages)
    return made


def paths(pages: Iterable[str]) -> Iterator[str]:
    """Where these files may lie, of all instructions among the pages."""
    for path in filter(_INSTRUCTION.fullmatch, pages):
        yield from (f"{posixpath.dirname(path)}/{name}" for name in (ONE_FILE, ALONG))


def file_at(path: str, finished: Files) -> bytes | None:
    """One of these files made when it is asked for, from pages that are; None where there is none at the path."""
    folder, name = posixpath.split(path)
    instruction = f"{folder}/install.html"
    if name not in (ONE_FILE, ALONG) or not _INSTRUCTION.fullmatch(instruction) or instruction not in finished:
        return None
    if name == ONE_FILE:
        return one_file(instruction, finished)
    own = [one for one in finished if posixpath.dirname(one) == folder and _is_page(one)]
    pages = {one: inspect(finished[one].decode()) for one in own}
    led = {one for one in _led_to(instruction, pages) if _is_page(one) and one in finished}
    pages |= {one: inspect(finished[one].decode()) for one in sorted(led - {*pages})}
    return _list(instruction, {*own}, finished, pages)


def _is_page(path: str) -> bool:
    """Whether it is a page of the site, and not an instruction to keep."""
    return path.endswith(".html") and not path.endswith(f"/{ONE_FILE}")


def _list(path: str, own: set[str], finished: Files, pages: Mapping[str, Inspected]) -> bytes:
    """What the instruction at `path` needs offline: its guide's `own` pages, those it leads to, and what all show."""
    taken = own | {name for name in _led_to(path, pages) if name in pages}
    shown = {name for page in taken for name in _loaded(page, finished, pages)}
    for sheet in sorted(name for name in shown if name.endswith(".css") and name in finished):
        shown |= {*_named(sheet, _IN_STYLE.findall(finished[sheet].decode()))}
    names = [*sorted(taken), *sorted(name for name in shown - taken if name in finished)]
    title = _HEADING.search(finished[path].decode())
    held = {
        "format": 1,
        "title": html.unescape(re.sub(r"<[^>]+>", "", title.group(1))).strip() if title else path,
        "page": path,
        "bytes": sum(len(finished[one]) for one in names),
        "files": names,
    }
    return (json.dumps(held, ensure_ascii=False, separators=(",", ":")) + "\n").encode()


def _led_to(path: str, pages: Mapping[str, Inspected]) -> Iterator[str]:
    """The places that a page has links to."""
    return _named(path, (address for address, _ in pages[path].links))


def _loaded(path: str, finished: Files, pages: Mapping[str, Inspected]) -> Iterator[str]:
    """The places of what a page fetches by itself, now or once somebody wants it."""
    yield from _named(path, (address for address, loads in pages[path].links if loads))
    yield from _named(path, fetched_later(finished[path].decode()))


def _named(at: str, addresses: Iterable[str]) -> Iterator[str]:
    """The places in the site that addresses on a page or in a style sheet name."""
    for address in addresses:
        parts = urlsplit(address)
        if parts.path and not parts.scheme and not parts.netloc:
            yield place_of(at, address)
