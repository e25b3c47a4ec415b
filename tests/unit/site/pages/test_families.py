"""Pages that list every variant: one while they are few, a page per family beyond."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator

import pytest

from guidegen.record import Assessment
from guidegen.record.stated import Mark
from guidegen.site.pages.downloads import file_at, files, paths
from guidegen.site.pages.families import MOST_TOGETHER
from guidegen.site.pages.page import Page
from guidegen.site.pages.render import page_at, page_paths
from guidegen.site.pages.site import Site, by_pair
from tests.fixtures.records import record, shared, site
from tests.weights import WEIGHT_LIMIT

pytestmark = pytest.mark.slow

PAIRS = (("tamsin-mk1", "feed-preheater"), ("tamsin-mk2", "feed-preheater"), ("bracken-c", "feed-preheater"))
FRAME = 30_000
"""Bytes of the frame round a page, at most."""
PARTS = {
    "which-variant/tamsin.html", "which-variant/bracken.html", "compare/tamsin.html", "compare/bracken.html",
    "sources/tamsin.html", "sources/bracken.html",
}  # fmt: skip


@pytest.fixture
def split(monkeypatch: pytest.MonkeyPatch) -> Site:
    """Three guides of two families, which are more than one page holds."""
    monkeypatch.setattr("guidegen.site.pages.families.MOST_TOGETHER", 2)
    return site(*(marked(record(*pair)) for pair in PAIRS))


def marked(one: Assessment) -> Assessment:
    """A record whose outside marks are those of its family, one with a photograph; the plug is on all machines."""
    family, taken = one.variant.family, {"id": one.variant.family, "taken_on": None, "callouts": ()}
    photograph = one.variant.marks[0].pictures[0].model_copy(update=taken)
    bar = Mark(look="the bar of the rest", see=f"notches as on a {family}", pictures=(photograph,))
    return renamed(one, marks=(bar, Mark(look="the plug", see="three round pins")))


def renamed(one: Assessment, **named: object) -> Assessment:
    """The record as that of another variant."""
    return one.model_copy(update={"variant": one.variant.model_copy(update=named)})


def page(path: str, whole: Site) -> Page:
    """The page at a path that there is."""
    made = page_at(path, whole)
    assert made is not None, path
    return made


def leads_to(one: Page) -> set[str]:
    """The pages below that a page's links lead to, without fragments."""
    return {href.partition("#")[0] for href in re.findall(r'<a href="([^"]+)"', one.body)}


def test_few_variants_have_one_page() -> None:
    """As many as one page holds stay together, as do those of one family however many they are."""
    assert not PARTS & {*page_paths(site(*(record(*pair) for pair in PAIRS)))}
    assert not any(path.startswith(("which-variant/", "compare/")) for path in page_paths(many(1, MOST_TOGETHER + 1)))


def test_many_variants_have_a_page_per_family(split: Site) -> None:
    """The page of all leads to each, and the addresses of both are in the site."""
    assert {*page_paths(split)} >= {*PARTS, "which-variant.html", "compare.html", "sources.html"}
    for part in ("which-variant", "compare", "sources"):
        assert leads_to(page(f"{part}.html", split)) >= {f"{part}/tamsin.html", f"{part}/bracken.html"}
    for part in PARTS:
        assert page(part, split).path == part


def test_the_figures_of_a_family_lie_apart(split: Site) -> None:
    """Where its comparison leads, described as the others are, and with the rows that are about it."""
    kept = dict(files(split))
    rows = kept["data/all.csv"].decode("utf-8-sig").splitlines()
    described = [one["url"] for one in json.loads(kept["data/csv-metadata.json"])["tables"]]
    for family in ("tamsin", "bracken"):
        path = f"data/family-{family}.csv"
        own = [row for row in rows if row.startswith((f"{family}-", "variant,"))]
        assert kept[path].decode("utf-8-sig").splitlines() == own
        assert file_at(path, split) == kept[path]
        assert path in {*paths(split)}
        assert f"family-{family}.csv" in described
        assert f'href="../{path}"' in page(f"compare/{family}.html", split).body


def test_a_kit_leads_to_the_variants_of_each_family(split: Site) -> None:
    """To where they are compared with it; how many it fits stands on its own page, and no variant's name."""
    body = page("kits/feed-preheater/index.html", split).body
    table = body.split('id="worth"')[1].split("</table>")[0]
    assert re.findall(r'href="([^"]+)"', table) == [
        "../../compare/tamsin.html#feed-preheater", "../../compare/bracken.html#feed-preheater",
    ]  # fmt: skip
    assert "2 variants" in table
    for family in ("tamsin", "bracken"):
        assert '<h2 id="feed-preheater">' in page(f"compare/{family}.html", split).body


def test_the_finder_of_a_family_asks_of_it_alone(split: Site) -> None:
    """Its data and table have its variants, and no question asks for the name that its reader chose."""
    made = page("which-variant/tamsin.html", split)
    found = re.search(r'<script type="application/json">(.*?)</script>', made.body)
    assert found
    data = json.loads(found[1])
    assert [one["id"] for one in data["variants"]] == ["tamsin-mk1", "tamsin-mk2"]
    assert "family" not in {one["fact"] for one in data["rules"]["facts"]}
    assert data["variants"][0]["href"] == "../guides/tamsin-mk1/index.html"
    assert "bracken" not in made.body
    assert set(re.findall(r'(?:href|src)="(.*?assets/)', made.head)) == {"../assets/"}
    for path in ("guides/tamsin-mk1/index.html", "guides/tamsin-mk1/feed-preheater/fit.html"):
        assert "which-variant/tamsin.html" in page(path, split).body


def test_the_list_says_what_is_seen_on_one_family_and_not_on_another(split: Site) -> None:
    """Where a name is worn away, marks are left; what all families show alike tells nothing."""
    body = page("which-variant.html", split).body
    for family in ("tamsin", "bracken"):
        assert body.count(f"The bar of the rest: notches as on a {family}<") == 1
    assert "the plug" not in body.lower()


def test_a_photograph_stands_once_in_the_table(split: Site) -> None:
    """Variants of a family inherit its marks: who shows what another showed leads there."""
    table = page("which-variant/tamsin.html", split).body.split('id="marks"')[1]
    assert table.count("<figure") == 1
    assert 'More photographs of these marks: <a href="#tamsin-mk1">' in table
    assert '<tr id="tamsin-mk1">' in table


def test_a_photograph_stands_once_with_its_question() -> None:
    """Of the demonstration's own marks, which all variants of a family show alike."""
    variants = {one.id: one for one in shared().variants.values() if one.family == "tamsin"}
    made = page("which-variant.html", Site.of(by_pair([record(*PAIRS[0])]), shared(), variants))
    shown = re.findall(r'<figure class="gg-picture">.*?</figure>', made.body.split('id="marks"')[0], re.DOTALL)
    assert len(shown) == len({*shown}) > 0


def test_pages_of_all_stay_light_at_a_thousand_guides() -> None:
    """33 families of ten variants, each with marks of its own; drawings aside, of which a page has one or two."""
    big = many(33, 10)
    for path in ("which-variant.html", "compare.html", "sources.html", "kits/feed-preheater/index.html"):
        one = page(path, big)
        listed = re.sub("<svg.*?</svg>", "", one.head + one.body, flags=re.DOTALL)
        assert len(listed.encode()) + FRAME < WEIGHT_LIMIT, path


def many(families: int, each: int) -> Site:
    """A site of copies of one guide, under made-up names, each family with a mark of its own."""
    return site(*_copies(record("tamsin-mk2", "feed-preheater"), families, each))


def _copies(one: Assessment, families: int, each: int) -> Iterator[Assessment]:
    for number in range(families * each):
        name = f"made-up-{number // each}"
        mark = Mark(look="the bar of the rest", see=f"{number // each} notches, and a lever of brass beside them")
        of_family = {"family": name, "family_name": name, "marks": (*one.variant.marks, mark)}
        yield renamed(one, id=f"{name}-{number % each}", name=f"Made-up {number}", **of_family)
