"""One whole build of a workshop in a process of its own, stage by stage: times, sizes and the most memory it took.

Started by `site.py`: `python -m tests.bench._stages WORKSHOP PEER`. It also writes the peer's pages: the text of every
page of ours as Markdown, headings, lists and tables included, drawings left out.
"""

from __future__ import annotations

import html
import json
import re
import resource
import statistics
import sys
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from guidegen import pipeline, trade
from guidegen.assess.reference import reference
from guidegen.site import bind, engine, finish, output, pages
from guidegen.site.charts import CHARTS
from guidegen.site.pages.page import Page

SETTINGS = "site_name: Peer\ntheme:\n  name: material\n  font: false\nplugins:\n  - search\n"


def build(root: Path, peer: Path) -> dict[str, Any]:
    """What the build took, in seconds by stage."""
    spent: dict[str, float] = {}
    charts: list[float] = []

    @contextmanager
    def stage(name: str) -> Iterator[None]:
        began = time.perf_counter()
        yield
        spent[name] = time.perf_counter() - began

    time_charts(charts)
    with stage("catalogue"):
        known = trade.load(root)
    pipeline.assess_pair(known, *next((m, k) for m in known.machines for k in known.kits), draws=0)
    with stage("assessment"):
        records = pipeline.assess_all(known, root, draws=0)
    with stage("pages"):
        shared = reference(known)
        guides = pages.render(records, shared)
    spent["charts"] = sum(charts)
    spent["pages"] -= spent["charts"]
    with stage("engine"):
        site = engine.run(root, "mkdocs", pages.shell_context(records, shared, {page.path for page in guides.pages}))
    with stage("bind"):
        bound = bind.bind(guides.pages, site)
        files = {**bound, **guides.files, **dict(pages.pictures_on(bound, shared.shelf))}
    with stage("finish"):
        files, problems = finish.finish(files)
    with stage("write"):
        output.OutputTree(root / "site" / "next", output.manifest_path(root, "next"), durable=False).write(files)
    with stage("write again"):
        output.OutputTree(root / "site" / "next", output.manifest_path(root, "next"), durable=False).write(files)
    if problems:
        raise SystemExit("\n".join(map(str, problems[:5])))
    # In kilobytes on Linux.
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e3
    text = write_peer(peer, guides.pages)
    return {
        "guides": len(records),
        "pages": len(guides.pages),
        "kilobytes": text / len(guides.pages) / 1e3,
        "spent": spent,
        "charts": len(charts),
        "chart_ms": statistics.median(charts) * 1e3,
        "peak_mb": peak,
    }


def time_charts(charts: list[float]) -> None:
    """Let every chart that is drawn from now on add the seconds that it took."""

    def timed(draw: Callable[..., Any]) -> Callable[..., Any]:
        def drawn(record: Any) -> Any:
            began = time.perf_counter()
            made = draw(record)
            if made is not None:
                charts.append(time.perf_counter() - began)
            return made

        return drawn

    CHARTS.update({name: timed(draw) for name, draw in CHARTS.items()})


def write_peer(peer: Path, written: Iterable[Page]) -> int:
    """Lay the same pages down for the peer, as Markdown; return how many bytes they are."""
    text = 0
    for page in written:
        place = peer / "docs" / page.path.replace(".html", ".md")
        place.parent.mkdir(parents=True, exist_ok=True)
        markdown = as_markdown(page.body)
        text += len(markdown.encode())
        place.write_text(markdown, encoding="utf-8")
    (peer / "docs" / "index.md").write_text("# Home\n", encoding="utf-8")
    (peer / "mkdocs.yml").write_text(SETTINGS, encoding="utf-8")
    return text


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


if __name__ == "__main__":
    print(json.dumps(build(Path(sys.argv[1]), Path(sys.argv[2]))))
