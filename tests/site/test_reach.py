"""From the home page every page can be reached by links, in the demonstration and in a workshop's first site."""

from __future__ import annotations

from collections import deque
from pathlib import Path

import pytest

from guidegen import pipeline
from guidegen.commands import starting
from tests.site.links import targets

NOT_LINKED = {"404.html"}
"""Shown by a web server where there is no page."""
ONE_FILE = "one-file.html"
"""An instruction to keep: no page of the site."""
FAR = 3
"""Clicks from home, at most."""


def clicks(site: Path) -> dict[str, int]:
    """How many clicks each page is away from home; a link to a page that is not there fails."""
    found = {"index.html": 0}
    waiting = deque(found)
    while waiting:
        page = waiting.popleft()
        for target in targets(site, page):
            assert (site / target).is_file(), f"{page} leads to {target}"
            if target.endswith(".html") and not target.endswith(f"/{ONE_FILE}") and target not in found:
                found[target] = found[page] + 1
                waiting.append(target)
    return found


def pages(site: Path) -> set[str]:
    """Every page that lies there."""
    found = {path.relative_to(site).as_posix() for path in site.rglob("*.html") if path.name != ONE_FILE}
    return found - NOT_LINKED


@pytest.fixture(scope="module")
def first_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What a maker has after the first two commands."""
    root = tmp_path_factory.mktemp("first") / "workshop"
    starting.new_workshop(root)
    pipeline.build(root, draws=0)
    return root / "site" / "next"


def test_every_page_of_the_demonstration_is_within_three_clicks(workshop: Path, built_site: Path) -> None:
    """And what changed is linked from home, because the demonstration has editions."""
    found = clicks(built_site)
    assert any((workshop / "content" / "editions").iterdir())
    assert set(found) == pages(built_site)
    assert max(found.values()) <= FAR
    assert {found[f"{name}.html"] for name in ("glossary", "safety-rules", "publish", "changes")} == {1}


def test_every_page_of_a_workshops_first_site_is_within_three_clicks(first_site: Path) -> None:
    """With pages that were copied from the demonstration, and none that is for makers."""
    found = clicks(first_site)
    assert set(found) == pages(first_site)
    assert max(found.values()) <= FAR
    assert "publish.html" not in found
