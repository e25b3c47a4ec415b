"""The demonstration's finished HTML, read by a strict parser instead of our own expressions."""

from __future__ import annotations

import gzip
import json
import re
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from urllib.parse import unquote, urlsplit
from xml.etree import ElementTree

import html5lib
import jsonschema
import pytest

Element = ElementTree.Element
SEARCH_LIMIT = 40_000
"""Bytes of the compressed search index at the demonstration's size."""


@pytest.fixture(scope="session")
def every(built_site: Path) -> dict[str, Element]:
    """Every page as a tree, by its place; a page that is not valid HTML fails here, with its name."""
    parsed = {}
    for path in sorted(built_site.rglob("*.html")):
        place = path.relative_to(built_site).as_posix()
        parser = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False)
        try:
            parsed[place] = parser.parse(path.read_bytes(), transport_encoding="utf-8")
        except html5lib.html5parser.ParseError as fault:
            pytest.fail(f"{place}: {fault} at {parser.tokenizer.stream.position()}")
    return parsed


@pytest.fixture(scope="session")
def pages(every: dict[str, Element]) -> dict[str, Element]:
    """The same but for instructions that are one file: they say again what a page says, and are no part of the site."""
    return {place: page for place, page in every.items() if not place.endswith("/one-file.html")}


def elements(page: Element, name: str) -> Iterator[Element]:
    """The page's elements of one name."""
    return page.iter(name)


def test_every_page_is_strict_html(pages: dict[str, Element]) -> None:
    """Parsed without a single error, and there are guides among them."""
    assert any(place.startswith("guides/") for place in pages)


def test_every_instruction_is_there_as_one_file_that_loads_nothing(every: dict[str, Element]) -> None:
    """And says of itself, to whoever lists pages, that it is to be left out."""
    alone = {place: page for place, page in every.items() if place.endswith("/one-file.html")}
    instructions = {
        place.replace("install.html", "one-file.html") for place in every if place.endswith("/install.html")
    }
    assert {*alone} == instructions
    for place, page in alone.items():
        assert [one.get("content") for one in elements(page, "meta") if one.get("name") == "robots"] == ["noindex"]
        loaded = [one.get("src") for one in page.iter() if one.get("src")] + [
            one.get("href") for one in elements(page, "link")]  # fmt: skip
        assert not [address for address in loaded if not (address or "").startswith("data:")], place


def test_no_mark_of_the_frame_or_of_a_template_is_left(built_site: Path) -> None:
    """Nothing that a program should have filled in reaches a reader."""
    for path in built_site.rglob("*.html"):
        text = path.read_text(encoding="utf-8")
        assert "@@guidegen" not in text, path
        assert "{{" not in text, path
        assert "Undefined" not in text, path


def test_every_page_has_one_title_one_heading_a_language_and_a_description(pages: dict[str, Element]) -> None:
    """And no two pages share their title."""
    titles: dict[str, str] = {}
    for place, page in pages.items():
        root = page if page.tag == "html" else next(elements(page, "html"))
        assert root.get("lang"), place
        assert len(list(elements(page, "h1"))) == 1, place
        (title,) = (one for one in elements(next(elements(page, "head")), "title"))
        assert title.text, place
        assert titles.setdefault(title.text, place) == place
        described = [one for one in elements(page, "meta") if one.get("name") == "description"]
        assert [bool(one.get("content")) for one in described] == [True], place


def test_every_page_says_what_a_preview_of_its_link_may_show(pages: dict[str, Element]) -> None:
    """Open Graph: title, description, type and the page's own whole address, once each."""
    for place, page in pages.items():
        about = [one for one in elements(page, "meta") if one.get("property")]
        stated = [(one.get("property"), one.get("content") or "") for one in about]
        if place == "404.html":
            continue
        names = {"og:title", "og:description", "og:type", "og:url"}
        assert sorted(name or "" for name, _ in stated) == sorted(names), place
        assert all(text.strip() for _, text in stated), place
        address = urlsplit(dict(stated)["og:url"]).path.removeprefix("/next/") or "index.html"
        assert address == place


def test_every_instruction_is_given_to_programs_in_the_shape_of_our_schema(built_site: Path) -> None:
    """schema.org HowTo on every fitting page, each step's address a place of the page, and on no other page."""
    schema = json.loads(
        (Path(__file__).parents[1] / "unit" / "site" / "pages" / "how-to.schema.json").read_text("utf-8")
    )
    count = 0
    for path in built_site.rglob("*.html"):
        text = path.read_text(encoding="utf-8")
        found = re.findall(r'<script type="application/ld\+json">(.*?)</script>', text, re.DOTALL)
        assert len(found) == (path.name == "install.html"), path
        for one in found:
            data = json.loads(one)
            assert data.pop("@context") == "https://schema.org"
            jsonschema.validate(data, schema)
            steps = [step["url"][1:] for section in data["step"] for step in section["itemListElement"]]
            assert all(f'id="{step}"' in text for step in steps), path
            count += 1
    assert count > 5


def test_the_map_for_programs_leads_nowhere_wrong(built_site: Path, pages: dict[str, Element]) -> None:
    """Every address of llms.txt is there, and every page about a machine or guide is listed, but what changed in it."""
    text = (built_site / "llms.txt").read_text(encoding="utf-8")
    listed = set(re.findall(r"\]\(([^)]+)\)", text))
    assert {place for place in listed if not (built_site / place).is_file()} == set()
    expected = {place for place in pages if place.startswith("guides/") and not place.endswith("changes.html")}
    assert expected <= listed


def test_headings_never_skip_a_level(pages: dict[str, Element]) -> None:
    """Within the article, each heading is at most one level below the one before it."""
    for place, page in pages.items():
        article = next(elements(page, "article"))
        levels = [int(one.tag[1]) for one in article.iter() if isinstance(one.tag, str) and one.tag in HEADINGS]
        assert levels[0] == 1, place
        assert all(after - before <= 1 for before, after in pairwise(levels)), (place, levels)


HEADINGS = ("h1", "h2", "h3", "h4", "h5", "h6")


def test_every_link_leads_somewhere(pages: dict[str, Element], built_site: Path) -> None:
    """Checked apart from our own link pass: from the parsed tree, against the files on disk."""
    for place, page in pages.items():
        for one in page.iter():
            for name in ("href", "src"):
                address = urlsplit(one.get(name) or "")
                if address.scheme or address.netloc or not (address.path or address.fragment):
                    continue
                if address.path.startswith("../" * (place.count("/") + 1)):
                    # The root's pages, as the price list, which no edition holds.
                    continue
                above = built_site.parent if address.path.startswith("/") else (built_site / place).parent
                target = (above / unquote(address.path).lstrip("/")) if address.path else built_site / place
                target = target / "index.html" if target.is_dir() else target
                assert target.is_file(), f"{place}: {one.get(name)}"
                if address.fragment and target.suffix == ".html":
                    to = target.resolve().relative_to(built_site.resolve()).as_posix()
                    ids = {element.get("id") for element in pages[to].iter()}
                    assert unquote(address.fragment) in ids, f"{place}: {one.get(name)}"


def test_nothing_is_loaded_from_another_host(pages: dict[str, Element]) -> None:
    """No script, style, picture, frame or font has an address with a host."""
    for place, page in pages.items():
        for one in page.iter():
            if one.tag in ("script", "img", "iframe", "object", "source", "video", "audio"):
                assert not urlsplit(one.get("src") or one.get("data") or "").netloc, place
            if one.tag == "link" and one.get("rel") not in ("canonical", "alternate", "license"):
                assert not urlsplit(one.get("href") or "").netloc, place


def test_no_page_carries_a_script_that_the_policy_would_stop(pages: dict[str, Element]) -> None:
    """No on… attribute and no javascript: address."""
    for place, page in pages.items():
        for one in page.iter():
            assert not [name for name in one.attrib if name.startswith("on")], place
            assert not (one.get("href") or "").startswith("javascript:"), place


def test_search_finds_every_guide_and_stays_light(built_site: Path, pages: dict[str, Element]) -> None:
    """Each overview has an entry, each entry's place exists, and the index travels in 40 kB."""
    data = (built_site / "search" / "search_index.json").read_bytes()
    entries = json.loads(data)["docs"]
    places = {entry["location"].partition("#")[0] for entry in entries}
    assert places <= set(pages)
    assert {place for place in pages if place.startswith("guides/") and place.endswith("/index.html")} <= places
    for entry in entries:
        path, _, fragment = entry["location"].partition("#")
        here = not fragment or not path.startswith("guides/")
        assert here or any(one.get("id") == fragment for one in pages[path].iter()), entry["location"]
    assert len(gzip.compress(data, 9)) <= SEARCH_LIMIT


def test_sitemap_is_the_list_of_pages(built_site: Path, pages: dict[str, Element]) -> None:
    """Every page but "not found", each as a whole address."""
    tree = ElementTree.parse(built_site / "sitemap.xml")
    listed = [one.text or "" for one in tree.iter("{http://www.sitemaps.org/schemas/sitemap/0.9}loc")]
    assert all(urlsplit(address).scheme == "https" for address in listed)
    found = [urlsplit(address).path.removeprefix("/next/") or "index.html" for address in listed]
    assert sorted(found) == sorted(set(pages) - {"404.html"})
