"""The preview: what it serves, what it adds, and how it tells of an edit or a mistake."""

from __future__ import annotations

import json
import threading
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from guidegen.problems import CatalogueError, EnvironmentProblem, Problem
from guidegen.serve import Preview, server, snapshot, watch

MISTAKE = Problem("machines/a/b.yml", 14, 9, "Q03", "a volume needs a unit", "write 80 ml")


class Workshop:
    """A workshop whose build copies one file, or fails as it is told to."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.source = root / "content" / "page.txt"
        self.folder = root / "site" / "next"
        self.failing: Exception | None = None
        self.builds = 0
        self.source.parent.mkdir(parents=True)
        self.folder.mkdir(parents=True)
        (root / ".guidegen").mkdir()
        self.source.write_text("one", encoding="utf-8")
        self.preview = Preview(root, self.build)

    def build(self) -> None:
        """Stand in for the pipeline."""
        self.builds += 1
        if self.failing:
            raise self.failing
        text = self.source.read_text(encoding="utf-8")
        (self.folder / "index.html").write_text(f"<html><body>{text}</body></html>", encoding="utf-8")


@pytest.fixture
def workshop(tmp_path: Path) -> Workshop:
    """A workshop that has been built once."""
    made = Workshop(tmp_path)
    made.preview.build()
    return made


Get = Callable[[str], tuple[int, str, dict[str, str]]]


@pytest.fixture
def get(workshop: Workshop) -> Iterator[Get]:
    """Ask the running preview: status, text, headers."""

    def on_demand(path: str) -> bytes | None:
        return b"<html><body>made now</body></html>" if path == "guides/a/fit.html" else None

    with server(workshop.folder, workshop.preview, 0, on_demand) as running:
        thread = threading.Thread(target=running.serve_forever, kwargs={"poll_interval": 0.01})
        thread.start()

        def ask(path: str) -> tuple[int, str, dict[str, str]]:
            try:
                answer = urllib.request.urlopen(f"http://127.0.0.1:{running.server_port}{path}", timeout=5)
            except urllib.error.HTTPError as refused:
                answer = refused
            with answer:
                return answer.status, answer.read().decode(), dict(answer.headers)

        yield ask
        running.shutdown()
        thread.join()


def test_page_is_served_with_the_listening_script(get: Get) -> None:
    """The script names the build that the page is of; the file on disk stays without it."""
    status, text, headers = get("/")
    assert status == 200
    assert text == '<html><body>one<script src="/guidegen-live/live.js?of=1" defer></script></body></html>'
    assert headers["Cache-Control"] == "no-store"
    assert get("/guidegen-live/live.js?of=1")[1].startswith("/* Added by `guidegen serve` only")


def test_disk_holds_no_trace_of_the_preview(get: Get, workshop: Workshop) -> None:
    """What is published must not listen to anything."""
    get("/index.html")
    assert "guidegen-live" not in (workshop.folder / "index.html").read_text(encoding="utf-8")


def test_other_files_are_served_as_they_are(get: Get, workshop: Workshop) -> None:
    """With their type and the site's own headers."""
    (workshop.folder / "a.css").write_text("</body>", encoding="utf-8")
    (workshop.folder / "security-headers.txt").write_text("X-One: 1\nX-Two: a; b\n", encoding="utf-8")
    status, text, headers = get("/a.css?x=1")
    assert (status, text, headers["Content-Type"]) == (200, "</body>", "text/css; charset=utf-8")
    assert (headers["X-One"], headers["X-Two"]) == ("1", "a; b")


@pytest.mark.parametrize("path", ["/gone.html", "/../../content/page.txt", "/%2e%2e/%2e%2e/content/page.txt", "/a/"])
def test_what_is_not_in_the_site_is_not_found(get: Get, path: str) -> None:
    """Nothing outside the folder is served, and the answer listens too, so that it goes when the page is there."""
    status, text, _ = get(path)
    assert status == 404
    assert "live.js" in text
    assert "one" not in text


def test_page_can_be_made_when_it_is_asked_for(get: Get) -> None:
    """It never was on disk."""
    status, text, _ = get("/guides/a/fit.html")
    assert status == 200
    assert text.startswith("<html><body>made now<script")


def test_open_page_hears_of_the_next_build_at_once(get: Get, workshop: Workshop) -> None:
    """The answer is held until there is something new."""
    heard: list[tuple[float, str]] = []
    started = time.perf_counter()
    listening = threading.Thread(target=lambda: heard.append((0, get("/guidegen-live/state?after=1")[1])))
    listening.start()
    time.sleep(0.15)
    assert heard == []
    workshop.preview.build()
    listening.join(2)
    assert json.loads(heard[0][1]) == {"number": 2, "problems": []}
    assert time.perf_counter() - started < 2


def test_mistake_is_told_with_its_place_and_goes_when_mended(get: Get, workshop: Workshop) -> None:
    """The last good page is still served meanwhile."""
    workshop.failing = CatalogueError([MISTAKE])
    workshop.preview.build()
    state = json.loads(get("/guidegen-live/state?after=")[1])
    assert state["problems"] == [
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
    assert "one" in get("/")[1]
    workshop.failing = None
    workshop.preview.build()
    assert json.loads(get("/guidegen-live/state?after=")[1])["problems"] == []


def test_fault_of_ours_is_kept_and_named(workshop: Workshop) -> None:
    """The preview goes on; the traceback is in the file that the message names."""
    workshop.failing = ZeroDivisionError("by nothing")
    (problem,) = workshop.preview.build().problems
    assert problem.path == ".guidegen/last-error.txt"
    assert "a fault of guidegen itself: by nothing" in problem.message
    assert "ZeroDivisionError" in (workshop.root / problem.path).read_text(encoding="utf-8")


def test_missing_tool_is_told(workshop: Workshop) -> None:
    """As a sentence."""
    workshop.failing = EnvironmentProblem("mkdocs is not installed")
    assert workshop.preview.build().problems[0].message == "mkdocs is not installed"


def test_edit_is_served_within_the_time_that_is_aimed_at(get: Get, workshop: Workshop) -> None:
    """0.3 s from the edit to the new page, with a build that takes no time; the rest is the build's."""
    stop = threading.Event()
    watching = threading.Thread(target=watch, args=(workshop.preview, stop, snapshot(workshop.root)))
    watching.start()
    started = time.perf_counter()
    workshop.source.write_text("two", encoding="utf-8")
    state = workshop.preview.wait(1, 3.0)
    took = time.perf_counter() - started
    stop.set()
    watching.join()
    assert state.number == 2
    assert "two" in get("/")[1]
    assert took < 0.3


def test_only_what_a_workshop_is_made_of_is_watched(workshop: Workshop) -> None:
    """Output and working files change with every build and must not start another; editors' leftovers neither."""
    before = snapshot(workshop.root)
    (workshop.folder / "new.html").write_text("x", encoding="utf-8")
    (workshop.root / ".guidegen" / "x").write_text("x", encoding="utf-8")
    (workshop.source.parent / "page.txt~").write_text("x", encoding="utf-8")
    assert snapshot(workshop.root) == before
    (workshop.root / "mkdocs.yml").write_text("x", encoding="utf-8")
    assert snapshot(workshop.root) != before


def test_taken_port_is_told(workshop: Workshop) -> None:
    """With the option that mends it."""
    with server(workshop.folder, workshop.preview, 0) as running, pytest.raises(EnvironmentProblem, match="--port"):
        server(workshop.folder, workshop.preview, running.server_port)
