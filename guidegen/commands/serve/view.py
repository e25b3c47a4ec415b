"""What the preview shows at one moment: the bytes of a path follow from catalogue, records and shell alone.

Nothing is made before it is asked for. A page of a guide is kept as long as nothing that it is made of changed, by
identity: the same bytes of a file always come as the same document, the same inputs as the same record.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from pathlib import Path

from guidegen.assess import Assessor
from guidegen.assess.kept import Kept
from guidegen.assess.records_kept import KeptRecords
from guidegen.assess.reference import reference
from guidegen.editions.changed_pages import PAGE as CHANGES
from guidegen.editions.edition import DRAFT
from guidegen.editions.since import Since
from guidegen.record import Assessment
from guidegen.site import pages
from guidegen.site.bind import Shell
from guidegen.site.finish import along, finish_page
from guidegen.site.pages.page import Page
from guidegen.site.pages.paper.press import Press
from guidegen.site.pages.site import Pair
from guidegen.trade import Catalogue
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.workshop.memory import Memory


class Shelf:
    """Records by what they are made of, held in memory; they and their numbers lie on disk."""

    def __init__(self, root: Path, draws: int) -> None:
        self.root, self.draws, self.kept = root, draws, Kept(root)
        self.making = threading.RLock()
        """Pages and nominal records are made one at a time: the libraries that draw them know no threads."""
        self._held: dict[bytes, Assessment] = {}

    def find(self, key: bytes) -> Assessment | None:
        """The record where it is held."""
        return self._held.get(key)

    def get(self, key: bytes, make: Callable[[], Assessment]) -> Assessment:
        """The record, made where it is not held; whoever is first keeps it."""
        return self._held.get(key) or self._held.setdefault(key, make())

    def keep(self, keys: set[bytes]) -> None:
        """Let go of all others."""
        self._held = {key: one for key, one in self._held.items() if key in keys}


class Records(Mapping[Pair, Assessment]):
    """The record of each pair: with ranges where they are there when it is first asked for, else nominal."""

    def __init__(self, known: Catalogue, shelf: Shelf) -> None:
        self.known, self.shelf = known, shelf
        self._nominal, self._ranged = (
            KeptRecords(shelf.root, Assessor(known, DRAFT, draws, shelf.kept)) for draws in (0, shelf.draws)
        )
        self._pairs = [(machine.id, kit.id) for machine in known.machines.values() for kit in known.kits.values()]
        self._chosen: dict[Pair, Assessment] = {}

    def __getitem__(self, pair: Pair) -> Assessment:
        if pair not in self._chosen:
            self._chosen[pair] = self._made(self._ranged if self.has_ranges(pair) else self._nominal, pair)
        return self._chosen[pair]

    def _made(self, kept: KeptRecords, pair: Pair) -> Assessment:
        parts = self.parts(pair)
        return self.shelf.get(kept.assessor.key(*parts), partial(kept.record, *parts))

    def __iter__(self) -> Iterator[Pair]:
        return iter(self._pairs)

    def __len__(self) -> int:
        return len(self._pairs)

    def __contains__(self, pair: object) -> bool:
        return isinstance(pair, tuple) and pair[0] in self.known.machines and pair[1] in self.known.kits

    def parts(self, pair: Pair) -> tuple[Machine, Kit]:
        """The machine and the kit of a pair."""
        return self.known.machines[pair[0]], self.known.kits[pair[1]]

    def nominal_key(self, pair: Pair) -> bytes:
        """What the nominal record of a pair is kept by."""
        return self._nominal.assessor.key(*self.parts(pair))

    def has_ranges(self, pair: Pair) -> bool:
        """Whether the ranges of a pair are there."""
        parts = self.parts(pair)
        held = self.shelf.find(self._ranged.assessor.key(*parts)) is not None
        # Last of all: what is asked of the model has to be put together first.
        return held or self._ranged.has(*parts) or self._ranged.assessor.has_numbers(*parts)

    def add_ranges(self, pair: Pair) -> Assessment:
        """Compute the ranges of a pair, where they are not there; the next view shows them."""
        return self._made(self._ranged, pair)

    def every_key(self) -> set[bytes]:
        """Everything that the records of this catalogue may be kept by."""
        return {one.assessor.key(*self.parts(pair)) for pair in self._pairs for one in (self._nominal, self._ranged)}


class View:
    """Everything that pages are made of at one moment, and the pages."""

    def __init__(self, records: Records, shell: Shell | None, since: Since | None, memory: Memory) -> None:
        self.records, self.shell, self.since, self._memory = records, shell, since, memory
        shared = reference(records.known)
        self.site = pages.Site.of(records, shared, shared.variants, press=Press(records.shelf.root))
        self._made: dict[str, bytes | None] = {}
        self.making = records.shelf.making

    def paths(self) -> Iterator[str]:
        """Every page but the engine's own."""
        with self.making:
            found = [*pages.page_paths(self.site), *(self.since.paths(self.site) if self.since else ())]
        return iter(found)

    def pair_of(self, path: str) -> Pair | None:
        """The pair whose record alone a page shows."""
        match path.split("/"):
            case ["guides", variant, kit, _] if (variant, kit) in self.records:
                return variant, kit
            case _:
                return None

    def __contains__(self, path: object) -> bool:
        """Whether there is a page at a path, the engine's own aside."""
        with self.making:
            return (self.since is not None and path == CHANGES) or self.page(str(path)) is not None

    def bytes_of(self, path: str) -> bytes | None:
        """What is served at a path; None where there is nothing."""
        with self.making:
            if path not in self._made:
                self._made[path] = self._remembered(path)
            return self._made[path]

    def page(self, path: str) -> Page | None:
        """The page at a path before it is set into the shell."""
        return self.since.page(path, self.site) if self.since else pages.page_at(path, self.site)

    def framed(self, page: Page) -> bytes | None:
        """A page in the shell."""
        return finish_page(self.shell.page(page)) if self.shell else None

    def _remembered(self, path: str) -> bytes | None:
        pair = self.pair_of(path)
        if pair is None:
            return self._make(path)
        known = self.records.known
        inputs = (path, self.records[pair], known.sources, known.glossary, known.workshop, self.shell, self.since)
        return self._memory.of("page", inputs, partial(self._make, path))

    def _make(self, path: str) -> bytes | None:
        page = self.page(path)
        if page is not None:
            return self.framed(page)
        made = pages.file_at(path, self.site) or along.file_at(path, Finished(self))
        if made is None and self.shell is not None:
            made = self.shell.files.get(path)
            return finish_page(made) if made is not None and path.endswith(".html") else made
        return made


class Finished(Mapping[str, bytes]):
    """What a view serves, by place, as if it were a built site: made when it is asked for."""

    def __init__(self, view: View) -> None:
        self._view = view

    def __getitem__(self, path: str) -> bytes:
        found = self._view.bytes_of(path)
        if found is None:
            raise KeyError(path)
        return found

    def __contains__(self, path: object) -> bool:
        return self._view.bytes_of(str(path)) is not None

    def __iter__(self) -> Iterator[str]:
        yield from self._view.paths()
        yield from self._view.shell.files if self._view.shell else ()

    def __len__(self) -> int:
        return sum(1 for _ in self)
