"""The preview over the demonstration: the same bytes as the build's, an edit's reach, mistakes, late ranges."""

from __future__ import annotations

import shutil
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from guidegen import pipeline
from guidegen.commands.serve import Background, Draft
from guidegen.problems import CatalogueError, Problem
from guidegen.site import engine
from tests.waiting import PATIENT

LEAF = "machines/bracken/c.yml"
MASS = "mass: {is: 640 g ± 10 g"
OPEN = "guides/bracken-c/feed-preheater/index.html"
MADE_ELSEWHERE = {"security-headers.txt"}
"""For a server that serves the files; the preview sends the same policy with each page."""


@pytest.fixture
def root(tmp_path: Path, lay_down_small_workshop: Callable[[Path], Path]) -> Path:
    """The demonstration, to be edited."""
    return lay_down_small_workshop(tmp_path / "a workshop é")


@pytest.fixture
def starts(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """A place for each start of the engine."""
    started: list[Path] = []
    start = engine._start

    def counted(root: Path, name: str) -> None:
        started.append(root)
        start(root, name)

    monkeypatch.setattr(engine, "_start", counted)
    return started


@contextmanager
def working(draft: Draft) -> Iterator[None]:
    """The draft with what is done in the background."""
    stop = threading.Event()
    thread = threading.Thread(target=Background(draft).work, args=(stop,))
    thread.start()
    try:
        yield
    finally:
        stop.set()
        thread.join()


def until(holds: Callable[[], bool], seconds: float = PATIENT) -> None:
    """Wait for something that comes by itself."""
    end = time.monotonic() + seconds
    while not holds():
        assert time.monotonic() < end, "it did not come"
        time.sleep(0.02)


def edit(path: Path, old: str, new: str) -> None:
    """Replace what stands once in a file."""
    text = path.read_text(encoding="utf-8")
    assert text.count(old) == 1
    path.write_text(text.replace(old, new), encoding="utf-8")


def places(problems: tuple[Problem, ...]) -> list[tuple[str, int, str]]:
    """Where problems are, and which."""
    return [(one.path, one.line, one.code) for one in problems]


def test_preview_serves_what_the_build_writes(root: Path) -> None:
    """Byte for byte, every file: there is no second way to make a page."""
    site = pipeline.build(root, draws=0).folder
    draft = Draft(root, draws=0)
    draft.refresh()
    written = {path.relative_to(site).as_posix(): path.read_bytes() for path in site.rglob("*") if path.is_file()}
    assert b"worth it:" in written["index.html"]
    with working(draft):
        # The home says whether a kit is worth it when the ranges of all guides are there; the search has it from there.
        until(lambda: draft.is_weighed and bool(draft.of_all))
    different = [path for path, data in written.items() if draft.bytes_of(path) != data]
    assert set(different) == MADE_ELSEWHERE
    assert "changes.html" in written
    assert draft.problems == ()


def test_edit_of_one_fact_changes_its_own_guides_only_and_starts_no_engine(root: Path, starts: list[Path]) -> None:
    """Whatever else is open stays as it is; the hand-written pages are not made again."""
    draft = Draft(root, draws=0)
    draft.refresh()
    assert len(starts) == 1
    assert draft.view is not None
    paths = [path for path in draft.view.paths() if path.startswith("guides/")] + ["index.html", "safety.html"]
    before = {path: draft.bytes_of(path) for path in paths}
    edit(root / LEAF, MASS, "mass: {is: 600 g ± 10 g")
    draft.refresh()
    changed = {path for path in paths if draft.bytes_of(path) != before[path]}
    assert OPEN in changed
    assert {path.split("/")[1] for path in changed} == {"bracken-c"}
    assert len(starts) == 1


def test_hand_written_page_starts_the_engine_and_changes_alone(root: Path, starts: list[Path]) -> None:
    """Guides are not made again for it."""
    draft = Draft(root, draws=0)
    draft.refresh()
    before = {path: draft.bytes_of(path) for path in (OPEN, "safety.html")}
    (root / "content" / "pages" / "safety.md").write_text("# Mind the heat\n", encoding="utf-8")
    draft.refresh()
    assert len(starts) == 2
    assert draft.bytes_of(OPEN) == before[OPEN]
    assert b"Mind the heat" in (draft.bytes_of("safety.html") or b"")


@pytest.mark.usefixtures("computed_anew")
def test_nominal_values_come_at_once_and_ranges_when_they_are_ready(root: Path) -> None:
    """Of the guide that is open first; nothing else has to be done before."""
    draft = Draft(root, draws=16)
    draft.refresh()
    first = draft.bytes_of(OPEN)
    assert first is not None
    assert draft.view is not None
    assert {record.basis for record in [draft.view.records["bracken-c", "feed-preheater"]]} == {"nominal"}
    number = draft.number
    with working(draft):
        assert draft.wait(number, PATIENT) != number
        until(lambda: draft.bytes_of(OPEN) != first)
    record = draft.view.records["bracken-c", "feed-preheater"]
    drop = record.drinks["double"].drop_ratio.sensor
    assert drop.low is not None
    assert drop.high is not None
    assert drop.low < drop.high
    others = [pair for pair in draft.view.records if draft.view.records.has_ranges(pair)]
    assert others == [("bracken-c", "feed-preheater")]


def test_mistake_in_the_data_is_reported_and_the_last_good_page_stays(root: Path) -> None:
    """With file and line; it goes when it is fixed, and the edit made meanwhile is there."""
    draft = Draft(root, draws=0)
    draft.refresh()
    good = draft.bytes_of(OPEN)
    edit(root / LEAF, MASS, "mass: {is: 640")
    draft.refresh()
    line = (root / LEAF).read_text(encoding="utf-8").split("mass:")[0].count("\n") + 1
    assert places(draft.problems) == [(LEAF, line, "Q03")]
    assert draft.bytes_of(OPEN) == good
    edit(root / LEAF, "mass: {is: 640", "mass: {is: 600 g ± 10 g")
    draft.refresh()
    assert draft.problems == ()
    assert draft.bytes_of(OPEN) != good


def test_workshop_that_begins_with_a_mistake_shows_it_and_then_its_pages(root: Path) -> None:
    """There is no good page yet; what is wrong is the page."""
    edit(root / LEAF, "status: seen", "status: glimpsed")
    draft = Draft(root, draws=0)
    draft.refresh()
    assert b"machines/bracken/c.yml:2:" in (draft.bytes_of("index.html") or b"")
    edit(root / LEAF, "status: glimpsed", "status: seen")
    draft.refresh()
    assert b"Kettleby" in (draft.bytes_of("index.html") or b"")


def test_unsafe_step_and_broken_link_are_reported_without_opening_their_pages(root: Path) -> None:
    """The lint and the link check of the build, found in the background; both go when they are fixed."""
    shutil.rmtree(root / "content" / "editions")
    draft = Draft(root, draws=0)
    draft.refresh()
    with working(draft):
        until(lambda: bool(draft.of_all))
        assert draft.problems == ()
        page = root / "content" / "pages" / "methods.md"
        text = page.read_text(encoding="utf-8")
        page.write_text(text + "\n\n[nowhere](nowhere.html)\n", encoding="utf-8")
        draft.refresh()
        until(lambda: bool(draft.problems))
        line = text.count("\n") + 3
        assert places(draft.problems) == [("content/pages/methods.md", line, "W05")]
        page.write_text(text, encoding="utf-8")
        draft.refresh()
        until(lambda: not draft.problems)

        procedure = root / "content" / "procedures" / "banjo-feed.yml"
        whole = procedure.read_text(encoding="utf-8")
        procedure.write_text(whole.replace("      - include: isolate\n", "", 1), encoding="utf-8")
        draft.refresh()
        with pytest.raises(CatalogueError) as refused:
            pipeline.check(root)
        wanted = {one for one in refused.value.problems if one.severity == "error"}
        until(lambda: set(draft.problems) == wanted)
        procedure.write_text(whole, encoding="utf-8")
        draft.refresh()
        until(lambda: not draft.problems)
