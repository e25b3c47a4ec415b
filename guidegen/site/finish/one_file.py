"""A whole instruction in one file: its text, drawings, pictures, styles and the scripts that need nothing else.

It is made from the finished page, so it says what the page says. The theme is left out: the file has a style of
its own, reads the same without scripts, and may run nothing but what it carries.
"""

from __future__ import annotations

import base64
import mimetypes
import re
from collections.abc import Iterator, Mapping
from importlib import resources
from urllib.parse import urljoin

from markupsafe import Markup, escape

from guidegen.language import gettext, translated
from guidegen.site.drawings.colours import palette
from guidegen.site.finish.links import place_of
from guidegen.site.finish.policy import source_of

NEEDS_THE_SITE = frozenset(
    f"assets/guidegen/{name}.js"
    for name in ("along", "finder", "iframe-worker", "keys", "notices", "offers", "step-load", "versions")
)
"""Scripts that serve a page only where the rest of the site is."""
_THEME = "assets/stylesheets/"

_BODY = re.compile(r'<div class="guide" id="guide".*</div>(?=\s*</article>)', re.DOTALL)
_LANGUAGE = re.compile(r"<html[^>]*\blang=\"([^\"]*)\"")
_TITLE = re.compile(r"<title>.*?</title>", re.DOTALL)
_SWITCH = re.compile(r'<form class="units-switch".*?</form>', re.DOTALL)
_CANONICAL = re.compile(r'<link rel="canonical" href="([^"]*)"')
_SHEET = re.compile(r'<link rel="stylesheet" href="([^"]*)"(?: media="(\w+)")?[^>]*>')
_PRINTED = re.compile(r'<style media="print">.*?</style>', re.DOTALL)
_SCRIPT = re.compile(r'<script src="([^"]*)"([^>]*)></script>')
_FETCHED_LATER = re.compile(r' data-scripts="([^"]*)"')
_ONLY_THERE = re.compile(r"<!-- only on the site -->.*?<!-- /only on the site -->", re.DOTALL)
_CRUMBS = re.compile(r'<nav class="crumbs".*?</nav>', re.DOTALL)
_PICTURE = re.compile(r"<picture>.*?(<img\b[^>]*>)\s*</picture>", re.DOTALL)
_IMAGE = re.compile(r'(<img\b[^>]*?)\ssrc="([^"]*)"([^>]*>)')
_SETS = re.compile(r'\s(?:srcset|sizes|loading)="[^"]*"')
_LINK = re.compile(r'(<a\b[^>]*?)\shref="([^"#:]+(?:#[^"]*)?)"')
_NAMED_FILE = re.compile(r"url\(\s*[\"']?([^\"')]+)[\"']?\s*\)")


def one_file(path: str, files: Mapping[str, bytes]) -> bytes:
    """The finished page at `path` and all that it shows, as one HTML file.

    Parameters:
        path: the page's place in the site.
        files: the finished site, by place.
    Returns: the file's bytes.
    """
    page = files[path].decode()
    whole = _CANONICAL.search(page)
    style = "\n".join(_styles(path, page, files))
    first, last = _scripts(path, page, files)
    parts = {
        "language": _found(_LANGUAGE, page, 1),
        "policy": _policy(first + last),
        "title": _found(_TITLE, page),
        "style": style,
        "first": "".join(f"<script>{text}</script>" for _, text in first),
        "switch": _found(_SWITCH, page),
        "note": _note(whole.group(1) if whole else ""),
        "body": _body(path, page, files, whole.group(1) if whole else ""),
        "last": "".join(f"<script{attributes}>{text}</script>" for attributes, text in last),
    }
    return _FRAME.format(**parts).encode()


_FRAME = """<!doctype html>
<html lang="{language}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width,initial-scale=1">
<meta name="robots" content="noindex">
<meta http-equiv="Content-Security-Policy" content="{policy}">
<link rel="icon" href="data:,">
{title}
{style}
{first}
</head>
<body data-md-color-scheme="alone" data-md-color-primary="alone" data-md-color-accent="alone">
<header class="md-header__inner one-head">{switch}</header>
<main class="md-typeset one-body">
{note}
{body}
</main>
{last}
</body>
</html>
"""


def fetched_later(page: str) -> list[str]:
    """The addresses of scripts that a page fetches once somebody wants them, in their order.

    >>> fetched_later('<section data-scripts="../a.js ../b.js">')
    ['../a.js', '../b.js']
    """
    return [address for found in _FETCHED_LATER.findall(page) for address in found.split()]


def _found(pattern: re.Pattern[str], page: str, group: int = 0) -> str:
    found = pattern.search(page)
    return found.group(group) if found else ""


def _note(address: str) -> Markup:
    """What the file says of itself before all else."""
    text = Markup(escape(gettext("The whole instruction in one file, as it was when it was saved.")))
    if address:
        text += Markup(" ") + translated("On the site it stands at {address}", address=address) + Markup("<br>")
    kept = {
        "file": gettext("What you tick is kept in this browser, where every file opened from a folder can read it."),
        "site": gettext("What you tick is kept in this browser, on this device."),
        "none": gettext("This browser lets the file keep nothing: what you tick here is gone when it is closed."),
    }
    said = gettext("Without scripts nothing that you tick here is kept; print it, or write on paper.")
    words = Markup("").join(Markup(' data-{}="{}"').format(name, text) for name, text in kept.items())
    keeps = Markup('<span class="one-keeps" role="status"{}>{}</span>').format(words, said)
    return Markup('<p class="one-note">{} {}</p>').format(text, keeps)


def _styles(path: str, page: str, files: Mapping[str, bytes]) -> Iterator[str]:
    """The page's own style sheets and its foot on paper; the theme is left out, with what stands in for it."""
    dark = "".join(f"{name}:{colour};" for name, colour in palette("dark").items())
    for address, media in _SHEET.findall(page):
        place = place_of(path, address)
        if place in files and not place.startswith(_THEME):
            of = f' media="{media}"' if media else ""
            yield f"<style{of}>{_carried(place, files)}</style>"
    yield from _PRINTED.findall(page.partition("</head>")[0])
    yield f"<style>@media screen and (prefers-color-scheme:dark){{:root{{color-scheme:dark;{dark}}}}}</style>"
    yield f"<style>{_text('css')}</style>"


def _carried(sheet: str, files: Mapping[str, bytes]) -> str:
    """A style sheet with the files that it names inside; what the site does not have stays as it stands."""

    def carried(found: re.Match[str]) -> str:
        place = place_of(sheet, found.group(1))
        return f"url({_data(place, files)})" if place in files else found.group()

    return _NAMED_FILE.sub(carried, files[sheet].decode())


def _scripts(path: str, page: str, files: Mapping[str, bytes]) -> tuple[list[tuple[str, str]], list[tuple[str, str]]]:
    """The page's own scripts with their attributes: those that run before the first paint, and the others."""
    first: list[tuple[str, str]] = []
    last: list[tuple[str, str]] = [("", _text("js"))]
    for address, attributes in _SCRIPT.findall(page):
        place = place_of(path, address)
        if place in files and place.startswith("assets/guidegen/") and place not in NEEDS_THE_SITE:
            waits = " defer" in attributes
            (last if waits else first).append((attributes.replace(" defer", ""), files[place].decode()))
    later = (place_of(path, address) for address in fetched_later(page))
    last += [("", files[place].decode()) for place in later if place in files]
    return first, last


def _policy(scripts: list[tuple[str, str]]) -> str:
    """What the file may do: run these scripts, show what it carries, ask nobody for anything."""
    sources = " ".join(dict.fromkeys(source_of(text) for _, text in scripts))
    rules = ("default-src 'none'", f"script-src {sources}", "style-src 'unsafe-inline'", "img-src data:",
             "font-src data:", "base-uri 'none'", "form-action 'none'")  # fmt: skip
    return "; ".join(rules)


def _body(path: str, page: str, files: Mapping[str, bytes], address: str) -> str:
    """The guide itself, its pictures inside, its links whole, or mere words where nobody knows where they lead."""
    body = _FETCHED_LATER.sub("", _CRUMBS.sub("", _ONLY_THERE.sub("", _found(_BODY, page))))
    body = _PICTURE.sub(r"\1", body)
    body = _IMAGE.sub(lambda found: _SETS.sub("", _shown(path, found, files)), body)
    return _LINK.sub(lambda found: _led(found, address), body)


def _shown(path: str, found: re.Match[str], files: Mapping[str, bytes]) -> str:
    place = place_of(path, found.group(2))
    source = _data(place, files) if place in files else found.group(2)
    return f'{found.group(1)} src="{source}"{found.group(3)}'


def _led(found: re.Match[str], address: str) -> str:
    return f'{found.group(1)} href="{escape(urljoin(address, found.group(2)))}"' if address else found.group(1)


def _data(place: str, files: Mapping[str, bytes]) -> str:
    kind = mimetypes.guess_type(place)[0] or "application/octet-stream"
    return f"data:{kind};base64,{base64.b64encode(files[place]).decode()}"


def _text(kind: str) -> str:
    """What comes into each such file alone."""
    return (resources.files("guidegen.site.web") / "one_file" / f"one-file.{kind}").read_text(encoding="utf-8")
