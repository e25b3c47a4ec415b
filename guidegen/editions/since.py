"""What an edition's own pages say about its predecessor: added to the guides before they are set into the shell."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from guidegen.editions import kept
from guidegen.editions.change import GuideChanges
from guidegen.editions.changed_pages import PAGE, edition_page, leading, page_of, with_changes
from guidegen.editions.compare import compare
from guidegen.editions.edition import DRAFT, Edition
from guidegen.record import Assessment
from guidegen.site.pages import Site, page_at
from guidegen.site.pages.page import Page
from guidegen.site.pages.place import kinds_of, path_of
from guidegen.site.pages.site import Pair


def pages_with_changes(
    root: Path, pages: Sequence[Page], records: Sequence[Assessment], edition: Edition | None
) -> tuple[Page, ...]:
    """The pages with those that list what changed since the edition before; `edition` is None for the draft."""
    older = _before(root, edition)
    if older is None:
        return tuple(pages)
    facts: dict[str, Any] = {"edition": DRAFT} if edition is None else dict(edition)
    before = kept.records(root, older.edition)
    return with_changes(pages, records, older, before, compare(before, map(_as_data, records)), facts)


class Since:
    """What the draft says about the newest edition, on one page at a time: the preview makes no other."""

    def __init__(self, older: Edition, before: Iterable[Mapping[str, Any]]) -> None:
        self.older = older
        self._before = {(one["variant"]["id"], one["kit"]["id"]): one for one in before}
        self._compared: dict[Pair, tuple[Assessment | None, GuideChanges]] = {}

    @classmethod
    def newest(cls, root: Path) -> Since | None:
        """Since the newest edition of a workshop; None where it has none."""
        older = _before(root, None)
        return cls(older, kept.records(root, older.edition)) if older else None

    def page(self, path: str, site: Site) -> Page | None:
        """The page at a path, with what is added there."""
        page = page_at(path, site)
        match path.split("/"):
            case ["guides", variant, kit, name] if name in ("index.html", PAGE) and (variant, kit) in self._before:
                return self._of_guide((variant, kit), path, page, site) if (variant, kit) in site.records else page
            case [name] if name == PAGE:
                pairs = sorted({*self._before, *site.records})
                changes = [self._changes(pair, site.records.get(pair)) for pair in pairs]
                now = {f"{variant}/{kit}" for variant, kit in site.records}
                return edition_page(changes, now, self.older, {"edition": DRAFT})
            case _:
                return page

    def paths(self, site: Site) -> Iterator[str]:
        """The pages that come to those of the site."""
        yield from (page_of(f"{variant}/{kit}") for variant, kit in self._before if (variant, kit) in site.records)
        yield PAGE

    def _of_guide(self, pair: Pair, path: str, page: Page | None, site: Site) -> Page | None:
        record, before = site.records[pair], self._before[pair]
        changes = self._changes(pair, record)
        if page is not None:
            return leading(page, changes, self.older)
        own = (page_at(path_of(record, kind), site) for kind in kinds_of(record))
        pages = [one for one in own if one is not None]
        made = with_changes(pages, [record], self.older, [before], [changes], {"edition": DRAFT})
        return next(one for one in made if one.path == path)

    def _changes(self, pair: Pair, record: Assessment | None) -> GuideChanges:
        """What changed in one guide; compared once for each record."""
        known = self._compared.get(pair)
        if known is None or known[0] is not record:
            before = self._before.get(pair)
            new = [] if record is None else [_as_data(record)]
            (changes,) = compare([] if before is None else [before], new)
            known = self._compared[pair] = record, changes
        return known[1]


def _as_data(record: Assessment) -> dict[str, Any]:
    return record.model_dump(mode="json", by_alias=True)


def _before(root: Path, edition: Edition | None) -> Edition | None:
    line = kept.line(root)
    if edition is None:
        return line[-1] if line else None
    return next((one for one in line if one.edition == edition.supersedes), None)
