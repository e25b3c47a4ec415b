"""The preview in a browser: an edit reloads the open page, a mistake shows in it and goes when mended."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from conftest import Open
from samples import pages

from guidegen import bind, engine, finish, output
from guidegen.serve import Preview, server, snapshot, watch


@pytest.fixture
def preview(tmp_path: Path) -> Iterator[tuple[Path, str]]:
    """A small workshop being served and watched; its root and its address."""
    root = tmp_path / "a workshop é"
    (root / "content" / "pages").mkdir(parents=True)
    (root / "content" / "pages" / "index.md").write_text("# Before\n", encoding="utf-8")
    (root / "content" / "pages" / "safety.md").write_text("# Safety\n", encoding="utf-8")
    (root / "mkdocs.yml").write_text("site_name: Sample\ntheme: {name: material, palette: {}}\n", encoding="utf-8")
    folder = root / "site" / "next"
    folder.mkdir(parents=True)

    def build() -> None:
        files, _ = finish.finish(bind.bind(pages(), engine.run(root)))
        output.OutputTree(folder, output.manifest_path(root, "next")).write(files)

    running, stop = Preview(root, build), threading.Event()
    before = snapshot(root)
    running.build()
    with server(folder, running, 0) as serving:
        threads = [
            threading.Thread(target=serving.serve_forever, kwargs={"poll_interval": 0.01}),
            threading.Thread(target=watch, args=(running, stop, before)),
        ]
        for thread in threads:
            thread.start()
        yield root, f"http://127.0.0.1:{serving.server_port}/"
        stop.set()
        serving.shutdown()
        for thread in threads:
            thread.join()


def test_edit_mistake_and_mend_reach_the_open_page(open_page: Open, preview: tuple[Path, str]) -> None:
    """Nobody presses reload; the page's own content policy lets the listening script work."""
    root, address = preview
    source = root / "content" / "pages" / "index.md"
    watched = open_page(address)
    page = watched.page
    assert page.locator("h1").inner_text() == "Before"

    source.write_text("# After\n", encoding="utf-8")
    page.get_by_role("heading", name="After", level=1).wait_for(timeout=10_000)

    source.write_text("# After\n\n{{ nothing }}\n", encoding="utf-8")
    shown = page.get_by_role("alert")
    shown.wait_for(timeout=10_000)
    assert "content/pages/index.md:3:1" in shown.inner_text()
    assert "'nothing' is undefined" in shown.inner_text()
    assert page.locator("h1").inner_text() == "After"

    source.write_text("# Mended\n", encoding="utf-8")
    page.get_by_role("heading", name="Mended", level=1).wait_for(timeout=10_000)
    assert page.get_by_role("alert").count() == 0
    assert watched.complaints == []
    assert watched.outside == []


def test_page_opened_on_a_mistake_shows_it(open_page: Open, preview: tuple[Path, str]) -> None:
    """Who comes later is told too, on whatever page."""
    root, address = preview
    page = open_page(address).page
    (root / "mkdocs.yml").write_text("site_name: [\n", encoding="utf-8")
    page.get_by_role("alert").wait_for(timeout=10_000)
    later = open_page(address + "safety.html").page
    later.get_by_role("alert").wait_for(timeout=10_000)
    assert "mkdocs.yml:2:1" in later.get_by_role("alert").inner_text()
