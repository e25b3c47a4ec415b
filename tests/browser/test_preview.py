"""The preview in a browser: an edit reloads the open page, a mistake shows in it and goes when fixed."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from conftest import PATIENCE, Open

from guidegen.commands.serve import Background, Draft, server, snapshot, watch

RANGES = "The ranges come from our assumptions"


@pytest.fixture
def preview(tmp_path: Path, lay_down_small_workshop: Callable[[Path], Path]) -> Iterator[tuple[Path, str]]:
    """Three of the demonstration's machines being served and watched; their root and their address."""
    root = lay_down_small_workshop(tmp_path / "a workshop é")
    draft, stop = Draft(root, draws=16), threading.Event()

    def refresh() -> bool:
        draft.refresh()
        return draft.unfinished

    with server(draft, 0) as serving:
        before = snapshot(root)
        draft.refresh()
        threads = [
            threading.Thread(target=serving.serve_forever, kwargs={"poll_interval": 0.01}),
            threading.Thread(target=watch, args=(root, refresh, stop, before)),
            threading.Thread(target=Background(draft).work, args=(stop,)),
        ]
        for thread in threads:
            thread.start()
        yield root, f"http://127.0.0.1:{serving.server_port}/"
        stop.set()
        serving.shutdown()
        for thread in threads:
            thread.join()


def test_edit_mistake_and_fix_reach_the_open_page(open_page: Open, preview: tuple[Path, str]) -> None:
    """Nobody presses reload; the page's own content policy lets the listening script work."""
    root, address = preview
    source = root / "content" / "pages" / "safety.md"
    watched = open_page(address + "safety.html")
    page = watched.page
    page.evaluate("window.first = true")

    source.write_text("# After\n", encoding="utf-8")
    page.get_by_role("heading", name="After", level=1).wait_for(timeout=PATIENCE)

    source.write_text("# After\n\n{{ nothing }}\n", encoding="utf-8")
    shown = page.get_by_role("alert")
    shown.wait_for(timeout=PATIENCE)
    assert "content/pages/safety.md:3:1" in shown.inner_text()
    assert "'nothing' is undefined" in shown.inner_text()
    assert page.locator("h1").inner_text() == "After"

    source.write_text("# Fixed\n", encoding="utf-8")
    page.get_by_role("heading", name="Fixed", level=1).wait_for(timeout=PATIENCE)
    assert page.get_by_role("alert").count() == 0
    assert watched.errors == []
    assert watched.outside == []


def test_page_opened_on_a_mistake_shows_it(open_page: Open, preview: tuple[Path, str]) -> None:
    """Who comes later sees it too, on whatever page."""
    root, address = preview
    page = open_page(address).page
    (root / "mkdocs.yml").write_text("site_name: [\n", encoding="utf-8")
    page.get_by_role("alert").wait_for(timeout=PATIENCE)
    later = open_page(address + "compare.html").page
    later.get_by_role("alert").wait_for(timeout=PATIENCE)
    assert "mkdocs.yml:2:1" in later.get_by_role("alert").inner_text()


def test_guide_is_reloaded_by_its_own_edit_and_gets_its_ranges_later(
    open_page: Open, preview: tuple[Path, str]
) -> None:
    """Another machine's guide, open beside it, stays the very same document."""
    root, address = preview
    shown = open_page(address + "guides/bracken-c/feed-preheater/numbers.html").page
    beside = open_page(address + "guides/tamsin-mk2/feed-preheater/numbers.html").page
    for page in (shown, beside):
        page.get_by_text(RANGES).first.wait_for(timeout=PATIENCE)
    beside.evaluate("window.same = true")
    leaf = root / "machines" / "bracken" / "c.yml"
    leaf.write_text(leaf.read_text(encoding="utf-8").replace("640 g ± 10 g", "612 g ± 10 g"), encoding="utf-8")
    shown.get_by_text("612 g ± 10 g").first.wait_for(timeout=PATIENCE)
    shown.get_by_text(RANGES).first.wait_for(timeout=PATIENCE)
    assert beside.evaluate("window.same") is True
