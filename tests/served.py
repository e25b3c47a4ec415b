"""What a delivered site says lies under its own address, and does not: read by a strict parser, as a visitor would.

Run by itself it names every such reference of a folder: `python -m tests.served FOLDER https://guides.example/`.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urljoin, urlsplit
from xml.etree import ElementTree

import html5lib

LINKS = ("href", "src", "poster", "action")
ADDRESSES = ("url", "image", "contentUrl", "@id")
"""What holds an address in linked data (schema.org and JSON-LD 1.1; from memory)."""
SHOWN_ANYWHERE = "404.html"


@dataclass(frozen=True, order=True)
class Reference:
    """One address that a file of the site names, and how."""

    place: str
    how: str
    address: str


def broken(folder: Path, site_url: str) -> list[Reference]:
    """Every reference into the site that leads to no file of it."""
    files = {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}
    found = (one for path in sorted(files) for one in references(folder, path))
    return sorted({one for one in found if not _is_served(one, files, site_url)})


def references(folder: Path, path: str) -> Iterator[Reference]:
    """Every address that a file names."""
    file = folder / path
    name = path.rpartition("/")[2]
    read = _of_page if name.endswith(".html") else READERS.get(name)
    return read(path, file.read_bytes()) if read else iter(())


def _of_list(path: str, data: bytes) -> Iterator[Reference]:
    for part in ElementTree.fromstring(data).iter():
        if part.tag.endswith(("}loc", "}link")):
            yield Reference(path, part.tag.rpartition("}")[2], part.get("href") or (part.text or "").strip())


def _of_robots(path: str, data: bytes) -> Iterator[Reference]:
    for line in data.decode().splitlines():
        name, _, value = line.partition(":")
        if name.lower() == "sitemap":
            yield Reference(path, "robots", value.strip())


def _of_notices(path: str, data: bytes) -> Iterator[Reference]:
    for edition in json.loads(data)["editions"].values():
        yield from (Reference(path, "notice", one["href"]) for one in edition.values() if one["href"])


def _of_search(path: str, data: bytes) -> Iterator[Reference]:
    for entry in json.loads(data)["docs"]:
        yield Reference(path, "search", f"../{entry['location']}")


READERS: Mapping[str, Callable[[str, bytes], Iterator[Reference]]] = {
    "sitemap.xml": _of_list,
    "feed.xml": _of_list,
    "robots.txt": _of_robots,
    "notices.json": _of_notices,
    "search_index.json": _of_search,
}
"""What reads a file of a name."""


def _of_page(path: str, data: bytes) -> Iterator[Reference]:
    tree = html5lib.parse(data, namespaceHTMLElements=False, transport_encoding="utf-8")
    for part in tree.iter():
        if not isinstance(part.tag, str):
            continue
        for name in LINKS:
            if part.get(name) is not None:
                yield Reference(path, f"{part.get('rel') or part.tag} {name}", part.get(name, ""))
        if part.tag == "meta":
            name, content = part.get("property") or part.get("http-equiv") or "", part.get("content") or ""
            if name in ("og:url", "og:image"):
                yield Reference(path, name, content)
            if name == "refresh":
                yield Reference(path, name, content.partition("url=")[2])
        if part.tag == "script" and part.get("type") == "application/ld+json":
            yield from (Reference(path, "linked data", one) for one in _addresses(json.loads(part.text or "null")))


def _addresses(data: Any, key: str = "") -> Iterator[str]:
    if isinstance(data, dict):
        for name, value in data.items():
            yield from _addresses(value, name)
    elif isinstance(data, list):
        for value in data:
            yield from _addresses(value, key)
    elif isinstance(data, str) and key in ADDRESSES:
        yield data


def _is_served(one: Reference, files: set[str], site_url: str) -> bool:
    """Whether an address leads to a file, as a server of plain files answers; what is elsewhere is not asked."""
    # It is shown in the place of any page, so only what begins at the root of the server means one thing.
    anywhere = one.place.rpartition("/")[2] == SHOWN_ANYWHERE and not urlsplit(one.address).scheme
    if anywhere and not one.address.startswith(("/", "#")):
        return False
    address = urljoin(urljoin(site_url, one.place), one.address)
    parts, home = urlsplit(address), urlsplit(site_url)
    if (parts.scheme, parts.netloc) != (home.scheme, home.netloc):
        # An address of the old kind, or of another host, is a mistake only where it must be our own.
        return one.how not in ("canonical href", "og:url", "og:image", "loc", "robots", "linked data")
    if not parts.path.startswith(home.path):
        return False
    path = unquote(parts.path).removeprefix(home.path)
    return (path in files) or ((path.endswith("/") or not path) and f"{path}index.html" in files)


if __name__ == "__main__":
    found = broken(Path(sys.argv[1]), sys.argv[2])
    for each in found:
        print(f"{each.place}: {each.how}: {each.address}")
    print(len(found), "references lead nowhere")
    sys.exit(bool(found))
