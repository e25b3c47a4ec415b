"""What the worker answers where a server leads elsewhere or fails, on a small site whose server does as it is told."""

from __future__ import annotations

import functools
import http.server
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar

import pytest
from conftest import Open

import guidegen.editions
import guidegen.site.web

if TYPE_CHECKING:
    from playwright.sync_api import Page as Tab

WORKER = Path(guidegen.editions.__file__).parent / "templates" / "worker.js"
NOTICES = Path(guidegen.site.web.__file__).parent / "assets" / "notices.js"
PAGE = "guides/one/kit/install.html"
TOLD = '{"editions": {"2026.9": {"one/kit": {"state": "notice", "says": "Tighten it."}}}}'
WORDS = 'data-edition="2026.9" data-as-of="As of {date}" data-not-asked="Offline" data-no-answer="Down"'
SHELL = """<!doctype html><title>A page</title><main id="guide"><h1>NAME</h1></main>
<script src="../../../assets/guidegen/notices.js" WORDS></script>""".replace("WORDS", WORDS)


class _Told(http.server.SimpleHTTPRequestHandler):
    """Serves a folder; some paths fail, some lead elsewhere."""

    says: ClassVar[dict[str, tuple[int, str]]] = {}
    """By path: a status, and where it leads."""

    def log_message(self, *args: Any) -> None:
        """Say nothing."""

    def do_GET(self) -> None:
        """Answer as told, else with the file."""
        status, leads = self.says.get(self.path, (200, ""))
        if status == 200:
            super().do_GET()
            return
        self.send_response(status)
        if leads:
            self.send_header("Location", leads)
        self.send_header("Content-Type", "text/html")
        self.end_headers()
        self.wfile.write(b"" if leads else b"<h1>The server fails</h1>")


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """An edition and a draft of one page each, with the worker above them."""
    (tmp_path / "worker.js").write_bytes(WORKER.read_bytes())
    (tmp_path / "away.html").write_text("<h1>Away</h1><ul><!-- taken --></ul>", encoding="utf-8")
    (tmp_path / "notices.json").write_text(TOLD, encoding="utf-8")
    for folder in ("2026.9", "next"):
        for path, text in (
            (PAGE, SHELL.replace("NAME", folder)),
            ("assets/guidegen/notices.js", NOTICES.read_text("utf-8")),
        ):
            (tmp_path / folder / path).parent.mkdir(parents=True, exist_ok=True)
            (tmp_path / folder / path).write_text(text, encoding="utf-8")
    return tmp_path


@pytest.fixture
def address(site: Path) -> Iterator[str]:
    """The site over HTTP; nothing fails yet."""
    _Told.says = {}
    handler = functools.partial(_Told, directory=str(site))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        thread = threading.Thread(target=server.serve_forever, daemon=True)
        thread.start()
        yield f"http://127.0.0.1:{server.server_port}/"
        server.shutdown()
        thread.join()


def along(open_page: Open, address: str, *paths: str) -> Tab:
    """A page that the worker answers for, with some files taken along."""
    page = open_page(address + "away.html").page
    page.evaluate("navigator.serviceWorker.register('/worker.js').then(() => navigator.serviceWorker.ready)")
    for path in paths:
        folder, _, _ = path.partition("/")
        page.evaluate(
            """([name, path]) => caches.open(name).then((held) => held.add(new Request(path, { cache: "reload" })))""",
            [f"guidegen-along:{folder}", f"/{path}"],
        )
    page.goto(address + "away.html")
    page.wait_for_function("navigator.serviceWorker.controller !== null")
    return page


def test_a_page_that_was_taken_by_a_redirected_answer_opens(open_page: Open, address: str) -> None:
    """A browser refuses a redirected answer for a page, so it is given without that mark."""
    _Told.says = {f"/2026.9/{PAGE}?old": (302, f"/2026.9/{PAGE}")}
    page = along(open_page, address, f"2026.9/{PAGE}?old")
    kept = "caches.match('/2026.9/' + path, { ignoreSearch: true }).then((one) => one.redirected)"
    assert page.evaluate(f"(path) => {kept}", PAGE) is True
    page.context.set_offline(True)
    page.goto(f"{address}2026.9/{PAGE}")
    assert page.locator("h1").inner_text() == "2026.9"


def test_a_redirect_that_was_not_taken_is_followed(open_page: Open, address: str) -> None:
    """The browser goes where the server leads it."""
    page = along(open_page, address)
    _Told.says = {"/2026.9/old.html": (302, f"/2026.9/{PAGE}")}
    page.goto(f"{address}2026.9/old.html")
    assert page.url == f"{address}2026.9/{PAGE}"


@pytest.mark.parametrize("folder", ["2026.9", "next"])
def test_a_server_that_fails_counts_as_none_where_the_page_was_taken(
    open_page: Open, address: str, folder: str
) -> None:
    """What was taken is shown, of the draft too; what was not is the server's own answer."""
    page = along(open_page, address, f"{folder}/{PAGE}")
    _Told.says = {f"/{folder}/{PAGE}": (503, ""), f"/{folder}/other.html": (503, "")}
    page.goto(f"{address}{folder}/{PAGE}")
    assert page.locator("h1").inner_text() == folder
    answer = page.goto(f"{address}{folder}/other.html")
    assert answer is not None
    assert answer.status == 503
    assert page.locator("h1").inner_text() == "The server fails"


def test_notices_that_cannot_be_told_are_those_of_before(open_page: Open, address: str) -> None:
    """With their day, where the server fails and where it leads to a page to sign in at."""
    page = along(open_page, address)
    page.goto(f"{address}2026.9/{PAGE}")
    page.locator('[data-state="notice"]', has_text="Tighten it.").wait_for()
    assert page.locator('[data-state="offline"]').count() == 0
    for told in ((503, ""), (302, "/away.html")):
        _Told.says = {"/notices.json": told}
        page.reload()
        page.locator('[data-state="notice"]', has_text="Tighten it.").wait_for()
        page.locator('[data-state="offline"]', has_text="As of 20").wait_for()


@pytest.mark.parametrize("with_worker", [False, True])
def test_a_server_that_fails_with_nothing_kept_is_not_passed_over(
    open_page: Open, address: str, with_worker: bool
) -> None:
    """Whoever reads has to know that nobody was asked; without any notices on a site nothing is said."""
    page = along(open_page, address) if with_worker else open_page(address + "away.html").page
    _Told.says = {"/notices.json": (500, "")}
    page.goto(f"{address}2026.9/{PAGE}")
    page.locator('[data-state="offline"]', has_text="Down").wait_for()
    _Told.says = {"/notices.json": (404, "")}
    with page.expect_response("**/notices.json"):
        page.reload()
    page.wait_for_load_state("networkidle")
    assert page.locator(".gg-notice").count() == 0
