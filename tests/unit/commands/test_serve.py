"""The preview's answers: what it serves, what it adds, and how it reports an edit or a mistake."""

from __future__ import annotations

import json
import re
import threading
import time
import urllib.error
import urllib.parse
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from guidegen.commands.serve import server, snapshot, watch
from guidegen.problems import EnvironmentProblem, Problem
from tests.waiting import PATIENT

MISTAKE = Problem("machines/a/b.yml", 14, 9, "Q03", "a volume needs a unit", "write 80 ml")


class Draft:
    """Stands in for the draft: what is served is what the test puts there."""

    def __init__(self) -> None:
        self.files = {
            "index.html": b"<html><body>one</body></html>",
            "guides/a/fit.html": b"<html><body>fit</body></html>",
        }
        self.problems: tuple[Problem, ...] = ()
        self.number, self.looks = 1, b"styles"
        self.changed = threading.Condition()

    def bytes_of(self, path: str) -> bytes | None:
        """What is at a path."""
        return self.files.get(path)

    def wait(self, number: int, seconds: float) -> int:
        """As the draft does."""
        with self.changed:
            self.changed.wait_for(lambda: self.number != number, seconds)
            return self.number

    def put(self, path: str, text: str) -> None:
        """Let a page be another."""
        with self.changed:
            self.files[path] = text.encode()
            self.number += 1
            self.changed.notify_all()


Get = Callable[[str], tuple[int, str, dict[str, str]]]


@pytest.fixture
def draft() -> Draft:
    """Two pages."""
    return Draft()


@pytest.fixture
def get(draft: Draft) -> Iterator[Get]:
    """Ask the running preview: status, text, headers."""
    with server(draft, 0) as running:  # type: ignore[arg-type]
        thread = threading.Thread(target=running.serve_forever, kwargs={"poll_interval": 0.01})
        thread.start()

        def ask(path: str) -> tuple[int, str, dict[str, str]]:
            try:
                answer = urllib.request.urlopen(f"http://127.0.0.1:{running.server_port}{path}", timeout=PATIENT)
            except urllib.error.HTTPError as refused:
                answer = refused
            with answer:
                return answer.status, answer.read().decode(), dict(answer.headers)

        yield ask
        running.shutdown()
        thread.join()


def state_of(text: str) -> str:
    """The state that the script in a page says it is of."""
    found = re.search(r'<script src="/guidegen-live/live\.js\?of=([0-9a-f]{16})" defer></script>', text)
    assert found, text
    return found[1]


def news(get: Get, page: str, of: str, shown: str = "") -> dict[str, Any]:
    """What the listening script of a page is answered."""
    question = urllib.parse.urlencode({"page": page, "of": of, "shown": shown})
    answer: dict[str, Any] = json.loads(get(f"/guidegen-live/state?{question}")[1])
    return answer


def test_page_is_served_with_the_listening_script(get: Get) -> None:
    """The script names the state that the page is of, and stands at the end of the body."""
    status, text, headers = get("/")
    assert status == 200
    assert re.sub(r"<script.*</script>", "", text) == "<html><body>one</body></html>"
    assert text.endswith("</script></body></html>")
    assert state_of(text)
    assert headers["Cache-Control"] == "no-store"
    assert get("/guidegen-live/live.js?of=1")[1].startswith("/* Added by `guidegen serve` only")


def test_pages_run_under_the_policy_that_the_built_site_asks_for(get: Get, draft: Draft) -> None:
    """With the hash of the page's own script; the digest is that of FIPS 180-4's first example, the text "abc"."""
    draft.files["index.html"] = b"<html><body><script>abc</script></body></html>"
    policy = get("/")[2]["Content-Security-Policy"]
    assert "script-src 'self' 'sha256-ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0='" in policy


def test_other_files_are_served_as_they_are(get: Get, draft: Draft) -> None:
    """With their type, and without the script."""
    draft.files["a.css"] = b"</body>"
    status, text, headers = get("/a.css?x=1")
    assert (status, text, headers["Content-Type"]) == (200, "</body>", "text/css; charset=utf-8")


def test_the_draft_answers_by_its_folder_in_the_site_too(get: Get, draft: Draft) -> None:
    """The links of the page for what is not here begin there."""
    assert get("/next/index.html")[:2] == get("/index.html")[:2]
    assert get("/next/")[:2] == get("/")[:2]
    assert get("/next")[0] == 404


@pytest.mark.parametrize("path", ["/gone.html", "/../../content/page.txt", "/%2e%2e/%2e%2e/content/page.txt", "/a/"])
def test_what_is_not_in_the_site_is_not_found(get: Get, path: str) -> None:
    """Nothing is read from disk, and the answer listens too, so that it goes when the page is there."""
    status, text, _ = get(path)
    assert status == 404
    assert state_of(text)
    assert "one" not in text


def test_open_page_hears_of_its_own_change_at_once_and_of_no_other(get: Get, draft: Draft) -> None:
    """The answer is held until the page itself is another; then it comes without delay."""
    of = state_of(get("/guides/a/fit.html")[1])
    shown = news(get, "/guides/a/fit.html", of)["shown"]
    heard: list[dict[str, Any]] = []
    listening = threading.Thread(target=lambda: heard.append(news(get, "/guides/a/fit.html", of, shown)))
    listening.start()
    draft.put("index.html", "<html><body>two</body></html>")
    time.sleep(0.15)
    assert heard == []
    draft.put("guides/a/fit.html", "<html><body>fits</body></html>")
    listening.join(PATIENT)
    assert heard[0]["of"] == state_of(get("/guides/a/fit.html")[1]) != of


def test_page_hears_of_new_styles(get: Get, draft: Draft) -> None:
    """A page looks different though its bytes are the same."""
    of = state_of(get("/")[1])
    draft.looks = b"other styles"
    assert news(get, "/", of)["of"] != of


def test_mistake_is_reported_with_its_place_and_goes_when_fixed(get: Get, draft: Draft) -> None:
    """The page itself stays as it was."""
    of = state_of(get("/")[1])
    well = news(get, "/", of)
    assert well["problems"] == []
    draft.problems = (MISTAKE,)
    ill = news(get, "/", of, well["shown"])
    assert ill["of"] == of
    assert ill["problems"] == [
        {
            "path": "machines/a/b.yml",
            "line": 14,
            "column": 9,
            "code": "Q03",
            "message": "a volume needs a unit",
            "fix": "write 80 ml",
            "severity": "error",
        }
    ]
    draft.problems = ()
    assert news(get, "/", of, ill["shown"])["problems"] == []


def test_edit_is_noticed_and_nothing_else(tmp_path: Path) -> None:
    """How soon is measured by `make bench`; a loaded machine is no fault."""
    (tmp_path / "content").mkdir()
    source = tmp_path / "content" / "page.txt"
    source.write_text("one", encoding="utf-8")
    noticed, stop = threading.Event(), threading.Event()

    def refresh() -> bool:
        noticed.set()
        return False

    watching = threading.Thread(target=watch, args=(tmp_path, refresh, stop, snapshot(tmp_path)))
    watching.start()
    time.sleep(0.12)
    assert not noticed.is_set()
    source.write_text("two", encoding="utf-8")
    assert noticed.wait(PATIENT)
    stop.set()
    watching.join()


def test_what_failed_is_tried_again_until_it_works(tmp_path: Path) -> None:
    """Another guidegen at work is no reason to wait for the next edit."""
    calls, stop = [], threading.Event()

    def refresh() -> bool:
        calls.append(1)
        if len(calls) == 3:
            stop.set()
        return len(calls) < 3

    (tmp_path / "mkdocs.yml").write_text("x", encoding="utf-8")
    watching = threading.Thread(target=watch, args=(tmp_path, refresh, stop, {}))
    watching.start()
    watching.join(PATIENT)
    assert len(calls) == 3


def test_only_what_a_workshop_is_made_of_is_watched(tmp_path: Path) -> None:
    """Output and working files change with every build and must not start another; editors' leftovers neither."""
    for name in ("content", "site", ".guidegen"):
        (tmp_path / name).mkdir()
    (tmp_path / "content" / "page.txt").write_text("x", encoding="utf-8")
    before = snapshot(tmp_path)
    assert len(before) == 1
    (tmp_path / "site" / "new.html").write_text("x", encoding="utf-8")
    (tmp_path / ".guidegen" / "x").write_text("x", encoding="utf-8")
    (tmp_path / "content" / "page.txt~").write_text("x", encoding="utf-8")
    assert snapshot(tmp_path) == before
    (tmp_path / "mkdocs.yml").write_text("x", encoding="utf-8")
    assert snapshot(tmp_path) != before


def test_taken_port_is_reported(draft: Draft) -> None:
    """With the option that fixes it."""
    with server(draft, 0) as running, pytest.raises(EnvironmentProblem, match="--port"):  # type: ignore[arg-type]
        server(draft, running.server_port)  # type: ignore[arg-type]
