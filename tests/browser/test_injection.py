"""A page shows what somebody wrote and never runs it: markup in every text of the YAML, in Chromium, by the policy."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml

sys.path.insert(0, str(Path(__file__).parent))

from conftest import served

from guidegen import pipeline, trade
from guidegen.problems import CatalogueError
from tests.editions_workshop import guidegen, lay_down

Open = Callable[..., Any]
EVIL = (
    """ "'><img class=pwned src=x onerror="window.pwned=1"><script class=pwned>window.pwned=1</script>"""
    "<svg class=pwned onload=window.pwned=1></svg>[a](javascript:pwned) {{7*7}}${7*7}--></title></textarea>"
)
FEWEST = 30
"""Texts that take such words; fewer would mean that nothing is tried."""


def texts(path: Path) -> Iterator[tuple[int, int, str]]:
    """Start, end and value of every plain or quoted text of a file that stands on one line and is no number."""

    def below(node: Any) -> Iterator[Any]:
        if isinstance(node, yaml.MappingNode):
            for _, value in node.value:
                yield from below(value)
        elif isinstance(node, yaml.SequenceNode):
            for value in node.value:
                yield from below(value)
        else:
            yield node

    source = path.read_text(encoding="utf-8")
    for node in below(yaml.compose(source)):
        start, end = node.start_mark.index, node.end_mark.index
        if "\n" not in source[start:end] and node.value[:1].isalpha():
            yield start, end, node.value


def infected(path: Path, start: int, end: int, value: str) -> str:
    """The file with a text that says more than before."""
    source = path.read_text(encoding="utf-8")
    return source[:start] + json.dumps(value + EVIL, ensure_ascii=False) + source[end:]


def accepted(root: Path) -> bool:
    """Whether the workshop still checks."""
    try:
        trade.load(root)
        pipeline.check(root)
    except CatalogueError:
        return False
    return True


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small workshop with markup in each text that the check lets have it, built."""
    root = lay_down(tmp_path_factory.mktemp("injection") / "workshop")
    done = 0
    for path in sorted((*(root / "machines").rglob("*.yml"), *(root / "content").rglob("*.yml"))):
        # From the end, so that the places before stay where they are.
        for start, end, value in sorted(texts(path), reverse=True):
            before = path.read_text(encoding="utf-8")
            path.write_text(infected(path, start, end, value), encoding="utf-8")
            if accepted(root):
                done += 1
            else:
                path.write_text(before, encoding="utf-8")
    assert done >= FEWEST
    assert guidegen(root, "build", "--draws", "0") == 0
    return root / "site" / "next"


def test_nothing_that_somebody_wrote_runs_or_becomes_markup(open_page: Open, site: Path) -> None:
    """On every page: no code ran, no element was made, nothing was asked for, nothing stands on the console."""
    pages = sorted(path.relative_to(site).as_posix() for path in site.rglob("*.html"))
    shown = 0
    with served(site) as address:
        watched = open_page(f"{address}index.html")
        for path in pages:
            watched.page.goto(f"{address}{path}", wait_until="load")
            assert watched.page.evaluate("window.pwned") is None, path
            assert watched.page.locator(".pwned").count() == 0, path
            assert watched.page.locator("a[href^='javascript:' i]").count() == 0, path
            shown += "window.pwned" in watched.page.inner_text("body")
        assert watched.outside == []
        assert [error for error in watched.errors if "pwned" in error] == []
    assert shown > len(pages) / 4
