"""What the search finds: every page's entries, those that several pages share merged into one that names them all.

A thousand guides share most of their steps, faults, downsides and questions. So an entry that says which variant it is
of becomes one with those of the same words: it leads to the first page that has it, and names every variant. The
theme hangs a page's places below the page's own entry, so that one always comes first.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from guidegen.language import gettext
from guidegen.site.pages.page import Page, SearchEntry, SharedBy

Words = tuple[str, str, str]
"""Kind of page, title and text: what is alike of entries that become one."""


@dataclass
class _Shared:
    """An entry and the variants that share it, by family."""

    first: SearchEntry
    names: dict[str, dict[str, None]] = field(default_factory=dict)

    def add(self, of: SharedBy) -> None:
        """Note one more variant."""
        self.names.setdefault(of.family, {})[of.variant] = None


def found(pages: Iterable[Page]) -> Iterator[tuple[Page, SearchEntry]]:
    """Each entry of the search index with the page that it leads to, a page's own before those of its places."""
    ordered = [page for page in pages if page.search]
    shared: dict[Words, _Shared] = {}
    keeper: dict[Words, str] = {}
    whole: dict[tuple[str, str], dict[str, set[str]]] = {}
    for page in ordered:
        for entry in page.search:
            if entry.of is None:
                continue
            key = page.kind, entry.title, entry.text
            shared.setdefault(key, _Shared(entry)).add(entry.of)
            keeper.setdefault(key, page.path)
            families = whole.setdefault((page.kind, entry.of.kit), {})
            families.setdefault(entry.of.family, set()).add(entry.of.variant)
    for page in ordered:
        kept: list[SearchEntry] = []
        for entry in page.search:
            key = page.kind, entry.title, entry.text
            if entry.of is None:
                kept.append(entry)
            elif keeper[key] == page.path and shared[key].first is entry:
                kept.append(_named(shared[key], whole[page.kind, entry.of.kit]))
        own = [entry for entry in kept if not entry.location_fragment]
        own = own or [SearchEntry("", page.title, page.description)] * bool(kept)
        yield from ((page, entry) for entry in (*own, *(entry for entry in kept if entry.location_fragment)))


def _named(shared: _Shared, whole: Mapping[str, set[str]]) -> SearchEntry:
    """The entry with the variants that share it: a family by its name where it holds for every one of it."""
    names = [
        name
        for family, variants in shared.names.items()
        for name in ([gettext("every {family}").format(family=family)] if whole[family] == {*variants} else variants)
    ]
    first = shared.first
    return SearchEntry(first.location_fragment, first.title, f"{first.text} ({', '.join(names)})".strip(), first.boost)
