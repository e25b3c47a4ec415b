"""The draft as the preview has it: looked at again after an edit, with what is wrong now."""

from __future__ import annotations

import logging
import threading
import time
import traceback
from collections.abc import Callable, Mapping, Sequence
from contextlib import AbstractContextManager
from pathlib import Path
from typing import TypeVar

from guidegen import language, trade
from guidegen.assess import DRAWS, Assessor, guiding
from guidegen.commands.serve.view import Records, Shelf, View
from guidegen.commands.serve.waiting import mistakes_page
from guidegen.editions import around, selling
from guidegen.editions.edition import DRAFT
from guidegen.editions.since import Since
from guidegen.problems import CatalogueError, EnvironmentProblem, Problem, RefusedProblem
from guidegen.record import Outline
from guidegen.site import bind, engine, pages
from guidegen.site.bind import Shell
from guidegen.site.pages.page import Page
from guidegen.site.pages.site import Pair
from guidegen.trade import Catalogue
from guidegen.workshop.memory import Memory
from guidegen.writing import lock

log = logging.getLogger("guidegen.commands.serve")

T = TypeVar("T")

WHOLE = ("catalogue", "engine", "links", "background")
"""Parts whose problems stay until they are looked at again; all others are pages or pairs of one catalogue."""

OPEN_S = 30.0
"""A page that was asked for in the last so many seconds is open somewhere; open pages ask every twenty."""
QUIET_S = 0.3
"""So long after an edit or a page nothing is done in the background: what was edited is asked for next."""


class Draft:
    """What is shown now, what is wrong now, and a number that grows whenever either may have changed."""

    def __init__(self, root: Path, engine_name: str = "mkdocs", draws: int = DRAWS) -> None:
        self.root, self.engine_name = root, engine_name
        self.shelf = Shelf(root, draws)
        self.view: View | None = None
        self.number = 0
        self.of_all: dict[str, bytes] = {}
        self._changed = threading.Condition()
        self._problems: dict[object, tuple[Problem, ...]] = {}
        self._asked: dict[Pair, float] = {}
        self._read, self._kept = Memory(), Memory()
        self._outlines: dict[bytes, Outline] = {}
        self._worths: dict[Pair, str] = {}
        self.is_weighed = False
        """Whether the home says what each kit is worth."""
        self._making_shell = threading.Lock()
        self.warnings: tuple[Problem, ...] = ()
        """What of the settings is shown otherwise than it is written."""
        self._shell: Shell | None = None
        self._state = ""
        self.unfinished = False
        self._busy_until = 0.0

    # --- what is asked of it -------------------------------------------------------------------------

    @property
    def problems(self) -> tuple[Problem, ...]:
        """What is to be fixed now."""
        with self._changed:
            return tuple(sorted({one for some in self._problems.values() for one in some if one.severity == "error"}))

    def bytes_of(self, path: str) -> bytes | None:
        """What is served at a path; a page that cannot be made says what is to be fixed."""
        view = self.view
        if view is None or (view.shell is None and path.endswith(".html")):
            return mistakes_page(self.problems) if path.endswith(".html") else None
        self._busy()
        try:
            with self.speaking(view.records.known):
                return self._bytes_of(path, view)
        finally:
            self._busy()

    def _bytes_of(self, path: str, view: View) -> bytes | None:
        pair = view.pair_of(path)
        if pair is not None:
            self._asked[pair] = time.monotonic()
        if path in self.of_all:
            return self.of_all[path]
        try:
            made = self._beside(path) or view.bytes_of(path)
        except CatalogueError as error:
            self.report(pair or path, error.problems)
            return view.framed(Page(path=path, title="To be fixed", description="", body="<h1>To be fixed</h1>"))
        if pair is not None and view is self.view:
            self.report(pair, tuple(guiding.problems(view.records[pair])))
        return made

    def _beside(self, path: str) -> bytes | None:
        """What of the price list lies at a path: it is above every edition, and here beside the draft's own pages."""
        if path == selling.PAGE:
            return around.prices(self.root)
        return selling.script() if path == selling.SCRIPT else None

    @property
    def looks(self) -> bytes:
        """What changes when styles or scripts of the site do."""
        view = self.view
        return view.shell.assets_digest if view and view.shell else b""

    @property
    def is_busy(self) -> bool:
        """Whether somebody waits for a page, or did a moment ago; then what can wait does."""
        return time.monotonic() < self._busy_until

    def _busy(self) -> None:
        self._busy_until = time.monotonic() + QUIET_S

    def speaking(self, known: Catalogue) -> AbstractContextManager[None]:
        """Everything inside is worded in the workshop's language."""
        return language.in_language(known.workshop.language, self.root)

    def is_open(self, pair: Pair) -> bool:
        """Whether a page of a pair is open somewhere."""
        return time.monotonic() - self._asked.get(pair, -OPEN_S) < OPEN_S

    def wait(self, number: int, seconds: float) -> int:
        """The number as soon as it differs from ``number``, at the latest after ``seconds``."""
        with self._changed:
            self._changed.wait_for(lambda: self.number != number, seconds)
            return self.number

    def report(self, part: object, problems: Sequence[Problem]) -> None:
        """What is wrong with a part of the workshop, in place of what was reported of it before."""
        with self._changed:
            if self._problems.get(part, ()) == tuple(problems):
                return
            self._problems[part] = tuple(problems)
            self.number += 1
            self._changed.notify_all()

    # --- what changes it -----------------------------------------------------------------------------

    def refresh(self) -> None:
        """Look at the workshop again: first what the data say, then, where it must, start the engine."""
        started = time.perf_counter()
        self._busy()
        known = self._trying("catalogue", self._load)
        if known is None:
            return
        with self.speaking(known):
            self.show(Records(known, self.shelf))
            log.info("looked again in %.3f s", time.perf_counter() - started)
            self._trying("engine", self._shaped)
            self.shelf.keep(Records(known, self.shelf).every_key())

    def weigh(self, worths: Mapping[Pair, str]) -> None:
        """Say on the home, and wherever else pages are written by hand, whether each kit is worth it.

        That needs the ranges of all pairs; until an edited one has them again, what was said of it stays.
        """
        if self._worths != worths:
            self._worths = dict(worths)
            self._trying("engine", self._shaped)
        self.is_weighed = True

    def _shaped(self) -> None:
        with self._making_shell:
            self.warnings = engine.warnings(self.root)
            self._make_shell()

    def show(self, records: Records) -> None:
        """From now on show these records."""
        if self.view is None or self.view.records.known is not records.known:
            with self._changed:
                # What is wrong with the guides is found anew, page by page.
                self._problems = {part: found for part, found in self._problems.items() if part in WHOLE}
        since = self._kept.of("since", (self._edition_seen(),), lambda: Since.newest(self.root))
        view = View(records, self._shell, since, self._kept)
        with self._changed:
            self.view = view
            self._kept.end()
            self.number += 1
            self._changed.notify_all()

    def _edition_seen(self) -> str:
        folder = self.root / "content" / "editions"
        return " ".join(sorted(path.name for path in folder.iterdir())) if folder.is_dir() else ""

    def _load(self) -> Catalogue:
        return trade.load(self.root, self._read)

    def _make_shell(self) -> None:
        """Have the engine make the shell where what it is made of changed, and show what there is in it."""
        assert self.view is not None
        records = self.view.records
        assessor = Assessor(records.known, DRAFT, 0)
        outlines = {}
        for pair in records:
            key = records.nominal_key(pair)
            outlines[key] = self._outlines.get(key) or assessor.outline(*records.parts(pair))
        self._outlines = outlines
        context = pages.shell_context(list(outlines.values()), self.view.site.reference, self.view, self._worths)
        with lock(self.root):
            site = engine.run(self.root, self.engine_name, context, DRAFT)
            state = engine.state_of(self.root)
            if state == self._state:
                return
            self._shell, self._state = Shell(bind.files_of(site)), state
        self.of_all = {}
        self.show(Records(records.known, self.shelf))

    def _trying(self, part: str, do: Callable[[], T]) -> T | None:
        """Do it, and report what is wrong where it cannot be done; a fault of ours is kept and named."""
        self.unfinished = False
        problems: tuple[Problem, ...] = ()
        made = None
        try:
            made = do()
        except CatalogueError as error:
            problems = error.problems
        except (EnvironmentProblem, RefusedProblem) as error:
            # Another guidegen may be at work; what failed is tried again.
            self.unfinished = True
            problems = (Problem("guidegen", 1, 1, "", str(error)),)
        except Exception as error:
            problems = (self.fault(error),)
        self.report(part, problems)
        return made

    def fault(self, error: Exception) -> Problem:
        """A fault of ours as a problem that says where its details are."""
        note = self.root / ".guidegen" / "last-error.txt"
        note.parent.mkdir(exist_ok=True)
        note.write_text("".join(traceback.format_exception(error)), encoding="utf-8")
        text = f"a fault of guidegen itself: {error}"
        return Problem(note.relative_to(self.root).as_posix(), 1, 1, "", text)
