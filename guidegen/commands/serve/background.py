"""What is done while nobody waits: the ranges of open guides, then everything else that a build would find.

Each step is small, and before the next the draft is looked at anew, so that an edit is never waited for.
"""

from __future__ import annotations

import contextlib
import os
import threading
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial

from guidegen.assess import guiding
from guidegen.commands.serve.draft import Draft
from guidegen.commands.serve.view import Records, View
from guidegen.problems import CatalogueError
from guidegen.site import handwritten, pages
from guidegen.site.bind import Shell
from guidegen.site.finish import POLICY_FILE, along, finish_page
from guidegen.site.finish.links import Inspected, check, inspect
from guidegen.site.pages import worth
from guidegen.site.pages.page import Page
from guidegen.site.pages.site import Pair
from guidegen.workshop.memory import Memory

BREATH_S = 0.002
"""Between two steps, so that whoever waits for a page gets it first."""

WHILE_BUSY_S = 0.02

Progress = Callable[[str], None]
Seen = tuple[Inspected, Page | None]
"""What a page links to, and what the search finds it by."""


class Background:
    """Works on what the draft shows now, and begins anew whenever that changes."""

    def __init__(self, draft: Draft, progress: Progress = lambda text: None) -> None:
        self.draft, self._progress = draft, progress
        self._memory = Memory()

    def work(self, stop: threading.Event) -> None:
        """Work until it is stopped, behind everything else that the processor has to do."""
        with contextlib.suppress(AttributeError, OSError):
            # Only where threads have priorities of their own; threads that compute for this one inherit it.
            os.setpriority(os.PRIO_PROCESS, threading.get_native_id(), 10)
        done: View | None = None
        while not stop.is_set():
            view, number = self.draft.view, self.draft.number
            if view is None or (done is not None and _is_same(view, done)):
                self.draft.wait(number, 0.5)
                continue
            try:
                finished = self._until_changed(view, stop)
            except Exception as error:
                self.draft.report("background", (self.draft.fault(error),))
                finished = True
            if finished:
                done = view
            self._progress("")

    def _until_changed(self, view: View, stop: threading.Event) -> bool:
        """Take steps; returns whether all were taken before something else was to be shown."""
        with self.draft.speaking(view.records.known):
            for _ in self._steps(view):
                stop.wait(BREATH_S)
                while self.draft.is_busy and not stop.is_set():
                    stop.wait(WHILE_BUSY_S)
                now = self.draft.view
                if stop.is_set() or now is None or not _is_same(now, view):
                    return False
        return True

    def _steps(self, view: View) -> Iterator[None]:
        records = view.records
        yield
        for pair in records:
            yield from self._open_first(records)
            self._look_at(view, pair)
            yield
        yield from self._whole(view)
        added, worths = False, {}
        for number, pair in enumerate(records, 1):
            yield from self._open_first(records)
            if not records.has_ranges(pair):
                self._progress(f"ranges: {number} of {len(records)} guides")
                added = True
            worths[pair] = worth.answer(records.add_ranges(pair))
            yield
        if added:
            self.draft.show(Records(records.known, self.draft.shelf))
        self.draft.weigh(worths)

    def _open_first(self, records: Records) -> Iterator[None]:
        """The ranges of guides that are open somewhere; each is shown as soon as it is there."""
        for pair in records:
            if self.draft.is_open(pair) and not records.has_ranges(pair):
                self._progress(f"ranges of {pair[0]} with {pair[1]}")
                records.add_ranges(pair)
                self.draft.show(Records(records.known, self.draft.shelf))
                yield

    def _look_at(self, view: View, pair: Pair) -> None:
        """What the lint finds in a guide, open or not."""
        try:
            with view.making:
                found = tuple(guiding.problems(view.records[pair]))
        except CatalogueError as error:
            found = error.problems
        self.draft.report(pair, found)

    # --- the whole site ------------------------------------------------------------------------------

    def _whole(self, view: View) -> Iterator[None]:
        """Check every link; let search and sitemap know every page."""
        shell = view.shell
        if shell is None:
            return
        seen: dict[str, Seen] = {}
        for path in view.paths():
            pair = view.pair_of(path)
            # The ranges change neither links nor words, so the nominal record's key stands for both.
            key = view.records.nominal_key(pair) if pair else view.records.known
            found = self._memory.of("seen", (path, key, shell, view.since), partial(_seen, view, path, shell))
            if found is not None:
                seen[path] = found
            yield
        for path, data in shell.files.items():
            if path.endswith(".html"):
                seen[path] = self._memory.of("own", (path, data), partial(_of_engine, data)), None
        self._memory.end()
        files = {*seen, *shell.files, *pages.file_paths(view.site), *along.paths(seen), POLICY_FILE}
        problems = check({path: one for path, (one, _) in seen.items()}, files, shell.site_url)
        self.draft.report("links", handwritten.locate(self.draft.root, problems))
        self.draft.of_all = shell.of_all([page for _, page in seen.values() if page is not None])


def _is_same(one: View, other: View) -> bool:
    return one.records.known is other.records.known and one.shell is other.shell


def _seen(view: View, path: str, shell: Shell) -> Seen | None:
    """What is to be known of a page; None where it cannot be made, which is reported elsewhere."""
    try:
        with view.making:
            page = view.page(path)
            if page is None:
                return None
            return inspect(finish_page(shell.page(page)).decode()), replace(page, body="", head="")
    except CatalogueError:
        return None


def _of_engine(data: bytes) -> Inspected:
    return inspect(finish_page(data).decode())
