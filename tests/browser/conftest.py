"""A real browser on built pages. Without a Chromium the whole tier is skipped by name; under CI that is a failure."""

from __future__ import annotations

import contextlib
import functools
import http.server
import os
import shutil
import sys
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from tests.axe import violations

sys.path.insert(0, str(Path(__file__).parent))

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
SIZES = {"wide": (1280, 800), "narrow": (390, 844)}
LOOKS = (("wide", "light"), ("narrow", "dark"))
"""Each size and each scheme once: axe looks at layout or colours; `make inspect` has all four of each page."""
PATIENCE = 300_000.0
"""ms in which something comes for sure, however slow the machine; nothing waits longer than it takes."""
POLICY_FILE = "security-headers.txt"


def chromium() -> str | None:
    """The system's Chromium, or the one that GUIDEGEN_CHROMIUM names."""
    named = os.environ.get("GUIDEGEN_CHROMIUM")
    return named or shutil.which("chromium") or shutil.which("chromium-browser")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Everything in this folder needs a browser and takes longer than the fast tier may."""
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker(pytest.mark.browser)
            item.add_marker(pytest.mark.slow)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One Chromium for all tests."""
    program = chromium()
    if program is None:
        reason = "no Chromium on this machine (apt-get install chromium)"
        if os.environ.get("CI") == "true":
            pytest.fail(reason)
        pytest.skip(reason)
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=program, args=FLAGS)
        yield running
        running.close()


@pytest.fixture(scope="session")
def sample_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The shell with the two sample guides, and a hand-written page with a task list."""
    from samples import pages

    from guidegen.site import bind, engine, finish
    from guidegen.site.output import OutputTree

    root = tmp_path_factory.mktemp("a workshop é")
    (root / "content" / "pages").mkdir(parents=True)
    (root / "content" / "pages" / "index.md").write_text(HOME, encoding="utf-8")
    (root / "content" / "pages" / "safety.md").write_text("# Safety\n\n## Read first\n\nCool it.\n", encoding="utf-8")
    settings = (Path(__file__).parents[2] / "mkdocs.yml").read_text(encoding="utf-8")
    head, tail = settings.split("\nnav:\n")
    nav = "\nnav:\n  - Home: index.md\n  - Safety: safety.md\n\ntheme:\n"
    (root / "mkdocs.yml").write_text(head + nav + tail.split("\ntheme:\n")[1], encoding="utf-8")
    site = engine.run(root, context={"guides": {("sample", "kit"): "Sample guide"}})
    files, problems = finish.finish(bind.bind(pages(), site))
    assert problems == []
    OutputTree(root / "site", root / "manifest.json").write(files)
    return root / "site"


HOME = """---
title: Home
description: A home page for the browser's tests.
---

# Sample workshop

{{ guide("sample", "kit") }}

- [ ] Read the safety page
- [x] Found this page

| Drink | Ratio |
| --- | --- |
| Double | 0.29 |

!!! note "A note"
    It stands beside the text.
"""


class _Quiet(http.server.SimpleHTTPRequestHandler):
    """Serves a folder with the headers that the site itself asks for."""

    def log_message(self, *args: Any) -> None:
        """Say nothing."""

    def end_headers(self) -> None:
        """Send the site's own policy with every answer."""
        places = (Path(self.directory) / POLICY_FILE, Path(self.directory) / "next" / POLICY_FILE)
        policy = next(filter(Path.is_file, places), places[0])
        if policy.is_file():
            for line in policy.read_text(encoding="utf-8").splitlines():
                name, _, value = line.partition(": ")
                self.send_header(name, value)
        super().end_headers()


@contextlib.contextmanager
def served(folder: Path) -> Iterator[str]:
    """The folder over HTTP on a free port of this machine; yields its address."""
    handler = functools.partial(_Quiet, directory=str(folder))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        thread = threading.Thread(target=server.serve_forever, daemon=True)
        thread.start()
        yield f"http://127.0.0.1:{server.server_port}/"
        server.shutdown()
        thread.join()


@pytest.fixture(scope="session")
def sample_address(sample_site: Path) -> Iterator[str]:
    """The sample site over HTTP, under its own content policy."""
    with served(sample_site) as address:
        yield address


class Watched:
    """A page, what it asked for from elsewhere, and its errors."""

    def __init__(self, page: Page, address: str) -> None:
        self.page = page
        self.outside: list[str] = []
        self.errors: list[str] = []
        home = address.split("/", 3)[:3]
        page.on("request", lambda request: self._asked(request.url, "/".join(home)))
        page.on("console", lambda message: self._said(message.type, message.text))
        page.on("pageerror", lambda error: self.errors.append(str(error)))

    def _asked(self, url: str, home: str) -> None:
        if not url.startswith((home, "file:", "data:", "blob:", "about:")):
            self.outside.append(url)

    def _said(self, kind: str, text: str) -> None:
        if kind in ("error", "warning"):
            self.errors.append(f"{kind}: {text}")


Open = Callable[..., Watched]


@pytest.fixture
def open_page(browser: Browser) -> Iterator[Open]:
    """Open an address in a context of its own: ``open_page(address, size="narrow", scheme="dark")``."""
    contexts = []

    def opened(address: str, size: str = "wide", scheme: str = "light", **more: Any) -> Watched:
        width, height = SIZES[size]
        context = browser.new_context(
            viewport={"width": width, "height": height}, color_scheme=scheme, reduced_motion="reduce", **more
        )
        contexts.append(context)
        context.set_default_timeout(PATIENCE)
        watched = Watched(context.new_page(), address)
        watched.page.goto(address, wait_until="load")
        watched.page.wait_for_function("document.documentElement.classList.contains('js') || !window.__md_scope")
        return watched

    yield opened
    for context in contexts:
        context.close()


def axe_violations(page: Page) -> list[str]:
    """What the installed axe finds, one line each: rule, place, summary."""
    from axe_playwright_python.base import AXE_SCRIPT

    return violations(page, AXE_SCRIPT)
