"""What the search finds: shared entries become one, plain words lead to them, and a thousand guides stay light."""

from __future__ import annotations

import gzip
from collections.abc import Iterator
from pathlib import Path

import pytest

from guidegen.editions import kept
from guidegen.record import Assessment
from guidegen.site.bind import search_docs
from guidegen.site.found import found
from guidegen.site.pages.page import Page, SearchEntry, SharedBy
from guidegen.site.pages.place import kinds_of, path_of
from guidegen.site.pages.searched import searched
from guidegen.site.pages.sentences import title

RECORDS = [Assessment.model_validate(one) for one in kept.records(Path(__file__).parents[4], "2025.3")]
MOST_BYTES = 400_000
"""Of the whole index, packed, at a thousand guides."""
COPIES = 42
"""Of each of the 24 guides: 1,008."""


def page(path: str, *entries: SearchEntry, kind: str = "install") -> Page:
    return Page(path=path, title=f"Page {path}", description="About it.", body="<h1>x</h1>", kind=kind, search=entries)


def step(variant: str, text: str = "Turn it.", family: str = "Plain") -> SearchEntry:
    return SearchEntry("a", "Kit: Turn", text, of=SharedBy("kit", family, variant))


def test_one_entry_names_all_variants_that_share_it() -> None:
    """Alike on both of a family: the family; on one of two: its name. It leads to the first page that has it."""
    pages = [page("one.html", step("One"), step("One", "Twice.")), page("two.html", step("Two"))]
    said = [(where.path, entry.location_fragment, entry.text) for where, entry in found(pages)]
    assert said == [
        ("one.html", "", "About it."),
        ("one.html", "a", "Turn it. (every Plain)"),
        ("one.html", "a", "Twice. (One)"),
    ]


def test_a_place_always_has_its_page_before_it() -> None:
    """The page's own entry went to another page; the theme needs one to hang the place below."""
    own = SearchEntry("", "Kit: instruction", "", of=SharedBy("kit", "Plain", "One"))
    pages = [page("one.html", own, step("One")), page("two.html", own, step("Two", "Otherwise."))]
    places = [(where.path, entry.location_fragment) for where, entry in found(pages)]
    assert places == [("one.html", ""), ("one.html", "a"), ("two.html", ""), ("two.html", "a")]


def pages_of(records: list[Assessment]) -> Iterator[Page]:
    """Every page of every pair, without its body."""
    for record in records:
        for kind in kinds_of(record):
            yield Page(path=path_of(record, kind), title=title(record, kind), description="", body="", kind=kind,
                       search=searched(record, kind))  # fmt: skip


@pytest.mark.parametrize(
    "word", ["warranty", "descale", "torque", "drip", "electricity", "price", "how long", "uninstall"]
)
def test_plain_words_find_something(word: str) -> None:
    texts = [f"{entry.title} {entry.text}".lower() for _, entry in found(pages_of(RECORDS))]
    assert any(word in text for text in texts)


def copies() -> list[Assessment]:
    """A thousand guides: each variant of the demonstration as many machines of as many families."""
    return [
        record.model_copy(
            update={
                "variant": record.variant.model_copy(
                    update={
                        "id": f"{record.variant.id}-{number}",
                        "family_name": f"{record.variant.family_name} {number}",
                        "name": f"{record.variant.name} series {number}",
                    }
                )
            }
        )
        for number in range(COPIES)
        for record in RECORDS
    ]


def test_a_thousand_guides_stay_light() -> None:
    """The entries of all guides, packed. An extrapolation: their wording is that of eight variants and three kits.

    What would grow it: other wording on each variant, or more kits; what makes most of it: one entry per guide.
    """
    docs = search_docs((), list(pages_of(copies())), {})
    assert len(docs) > 1_000
    assert len({doc["location"] for doc in docs}) == len(docs)
    packed = len(gzip.compress(repr(docs).encode(), 9))
    print(f"{len(docs)} entries of {len(RECORDS) * COPIES} guides: {packed} bytes packed")
    assert packed <= MOST_BYTES
