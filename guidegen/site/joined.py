"""The style sheets of a page, those of one folder joined into one file, because a page waits for each before it shows.

The pages of an engine link to many small sheets, one after the other. What stands in one folder is joined in the order
of the links, so relative addresses in it still hold, and the cascade stays what it was: a sheet moves only past sheets
that it was joined with.
"""

from __future__ import annotations

import hashlib
import posixpath
import re
from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby
from urllib.parse import unquote, urlsplit

_PLAIN = rb'<link rel="stylesheet" href="[^"]+">'
_RUN = re.compile(rb"(%s(?:\s*%s)+)" % (_PLAIN, _PLAIN))
_ONE = re.compile(rb'<link rel="stylesheet" href="([^"]+)">')
_CHARSET = re.compile(rb'^\s*@charset "[^"]*";')
"""Holds at the very beginning of a file alone."""


def join_sheets(files: Mapping[str, bytes], root: str = "") -> dict[str, bytes]:
    """The files with the sheets joined, and without those that no page asks for any more.

    Parameters:
        files: the engine's site, by place.
        root: the path of the site's address, which the links of a page shown anywhere begin with.
    Returns: the same pages, linked to the joined sheets, and all else.
    """
    made: dict[str, bytes] = {}
    joined: set[str] = set()
    linked: dict[str, bytes] = {}
    for page, data in files.items():
        if page.endswith(".html"):
            pieces = _RUN.split(data)
            for at in range(1, len(pieces), 2):
                pieces[at] = _links([*_joined(page, pieces[at], files, root, made, joined)])
            linked[page] = b"".join(pieces)
    still = {_place(page, one.decode(), root) for page, data in linked.items() for one in _ONE.findall(data)}
    return {**{path: data for path, data in files.items() if path not in joined - still}, **linked, **made}


def _joined(
    page: str, run: bytes, files: Mapping[str, bytes], root: str, made: dict[str, bytes], joined: set[str]
) -> Iterator[str]:
    """The addresses in place of those of a run of links; what was made, and of which, goes into `made` and `joined`."""
    addresses = [found.decode() for found in _ONE.findall(run)]
    for folder, group in groupby(addresses, key=lambda one: posixpath.dirname(urlsplit(one).path)):
        held = list(group)
        places = [_place(page, one, root) for one in held]
        if len(held) == 1 or any(place not in files or b"@import" in files[place] for place in places):
            yield from held
            continue
        data = b"\n".join([files[places[0]], *(_CHARSET.sub(b"", files[place]) for place in places[1:])])
        name = f"all.{hashlib.sha256(data).hexdigest()[:8]}.css"
        made[posixpath.join(posixpath.dirname(places[0]), name)] = data
        joined.update(places)
        yield posixpath.join(folder, name)


def _links(addresses: Iterable[str]) -> bytes:
    return "\n".join(f'<link rel="stylesheet" href="{one}">' for one in addresses).encode()


def _place(page: str, address: str, root: str) -> str:
    """Where a sheet that a page links to lies in the site."""
    path = unquote(urlsplit(address).path)
    if path.startswith("/"):
        return path.removeprefix(root.rstrip("/")).lstrip("/")
    return posixpath.normpath(posixpath.join(posixpath.dirname(page), path))
