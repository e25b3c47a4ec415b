"""Pages in their frames: every slot filled once, links as deep as the page, search and sitemap extended."""

from __future__ import annotations

import json
import time
from dataclasses import replace

import html5lib
import pytest

from guidegen.site.bind import SLOTS, FrameError, PageFrame, Shell, bind, bind_files, frame_path
from guidegen.site.pages.page import Heading, Page, SearchEntry

FRAME = b"""<!doctype html><html lang="en"><head><meta charset="utf-8">@@guidegen:meta https://site.example/sub/@@
<title>@@guidegen:title@@</title>@@guidegen:head@@
@@guidegen:offers <script src="offers.js"></script>@@</head><body><p>@@guidegen:topic@@</p>
<nav>@@guidegen:contents@@</nav><div data-page-kind="@@guidegen:kind@@"><ol>@@guidegen:breadcrumbs@@</ol>
<ul>@@guidegen:contents-small@@</ul>@@guidegen:body@@</div></body></html>"""

ENGINE = {
    **{frame_path(depth): FRAME for depth in range(4)},
    "index.html": b"<!doctype html><title>Home</title>",
    "404.html": b"<!doctype html><title>Not found</title>",
    "assets/a.js": b"1",
    "assets/a.js.map": b"{}",
    "sitemap.xml": b"<urlset/>",
    "sitemap.xml.gz": b"x",
    "search/search_index.json": json.dumps(
        {
            "config": {"lang": ["en"]},
            "docs": [
                {"location": "index.html", "title": "Home", "text": "x"},
                {"location": "guidegen-frame.html", "title": "f", "text": "frame"},
            ],
        }
    ).encode(),
}

PAGE = Page(
    "guides/a/b/fit.html",
    'A & B "fits"',
    "What it <asks>",
    '<h1 id="t">A</h1><h2 id="x">X</h2><h3 id="y">Y</h3><h2 id="z">Z</h2>',
    (Heading(2, "x", "X & <x>"), Heading(3, "y", "Y"), Heading(2, "z", "Z")),
    (SearchEntry("x", "A </script> & B", "one two"), SearchEntry("", "A", "zork\u2028zork")),
    (("Home", "index.html"), ("A", "guides/a/index.html"), ("Fit", "")),
    "fit",
    '<link rel="x" href="#">',
)


def bound(page: Page = PAGE) -> str:
    """The page's HTML."""
    return bind_files([page], ENGINE)[page.path].decode()


@pytest.mark.parametrize("body", ['<p data-offer="a">', "<section data-self-check>", "<p>offer</p>"])
def test_the_script_that_shows_prices_is_loaded_where_a_price_has_a_place(body: str) -> None:
    """And nowhere else: the first view of an instruction is heavy enough."""
    page = Shell(ENGINE).page(replace(PAGE, body=body))
    assert (b'<script src="offers.js"></script>' in page) == ("data-" in body)


def test_every_slot_is_filled_and_none_is_left() -> None:
    """No mark remains, and the text from YAML is escaped wherever it stands outside the body."""
    html = bound()
    assert "@@" not in html
    assert "<title>A &amp; B &quot;fits&quot;</title>" in html
    assert 'content="What it &lt;asks&gt;"' in html
    assert 'data-page-kind="fit"' in html
    assert PAGE.body in html
    assert PAGE.head in html


def test_bound_page_is_strict_html() -> None:
    """The HTML parser of the standard's test suite accepts it."""
    html5lib.HTMLParser(strict=True).parse(bound())


def test_contents_list_nests_by_level() -> None:
    """A level 3 heading stands within the level 2 before it, in the markup that scroll-spy reads."""
    html = bound()
    first = html.index('<a class="md-nav__link" href="#x">')
    inner = html.index('<a class="md-nav__link" href="#y">')
    last = html.index('<a class="md-nav__link" href="#z">')
    assert first < html.index('<nav class="md-nav" aria-label="X &amp; &lt;x&gt;">') < inner < last
    assert html.count('data-md-component="toc"') == 1


def test_page_without_headings_has_no_list() -> None:
    """An empty list would be read out as a list of nothing."""
    assert 'data-md-component="toc"' not in bound(replace(PAGE, headings=()))


def test_breadcrumbs_are_relative_and_the_last_is_the_page_itself() -> None:
    """Links go up from the page's own folder."""
    html = bound()
    assert '<li><a href="../../../index.html">Home</a></li>' in html
    assert '<li><a href="../index.html">A</a></li>' in html
    assert '<li aria-current="page">Fit</li>' in html


def test_canonical_address_is_the_sites_address_and_the_path() -> None:
    """The theme passes the site's address with the slot."""
    assert '<link rel="canonical" href="https://site.example/sub/guides/a/b/fit.html">' in bound()


@pytest.mark.parametrize("slot", SLOTS)
@pytest.mark.parametrize("times", [0, 2])
def test_slot_that_occurs_otherwise_than_declared_is_refused(slot: str, times: int) -> None:
    """A theme that lost or doubled a slot must not pass in silence."""
    mark = next(part for part in FRAME.split(b"@@") if part.split(b" ")[0] == b"guidegen:" + slot.encode())
    whole = b"@@" + mark + b"@@"
    with pytest.raises(FrameError, match=f"{slot} {times} times instead of 1"):
        PageFrame(FRAME.replace(whole, whole * times), "frame.html")


def test_slot_that_nobody_declared_is_refused() -> None:
    """A misspelt mark would end up in front of a reader."""
    with pytest.raises(FrameError, match="bodi 1 times instead of 0"):
        PageFrame(FRAME + b"@@guidegen:bodi@@", "frame.html")


def test_page_deeper_than_any_frame_is_refused() -> None:
    """Its links to styles and scripts would all be wrong."""
    with pytest.raises(FrameError, match="no frame for pages 4 folders deep"):
        bind_files([replace(PAGE, path="a/b/c/d/e.html")], ENGINE)


def test_page_in_a_taken_place_is_refused() -> None:
    """A guide must not replace a hand-written page."""
    with pytest.raises(ValueError, match=r"index\.html"):
        bind_files([replace(PAGE, path="index.html")], ENGINE)


def test_frames_source_maps_and_dated_files_are_not_published() -> None:
    """What only the build needs stays with the build."""
    files = bind_files([PAGE], ENGINE)
    assert sorted(files) == [
        "404.html",
        "assets/a.js",
        "guides/a/b/fit.html",
        "index.html",
        "search/search_index.js",
        "search/search_index.json",
        "sitemap.xml",
    ]


def test_search_index_holds_entries_of_pages_and_not_of_frames() -> None:
    """Both files hold the same; the script cannot be ended early by a title."""
    files = bind_files([PAGE], ENGINE)
    index = json.loads(files["search/search_index.json"])
    assert [entry["location"] for entry in index["docs"]] == [
        "index.html",
        "guides/a/b/fit.html",
        "guides/a/b/fit.html#x",
    ]
    assert index["docs"][2]["title"] == "A &lt;/script&gt; &amp; B"
    script = files["search/search_index.js"].decode()
    assert script.startswith("var __index = ")
    assert json.loads(script.removeprefix("var __index = ").rstrip(";\n")) == index
    assert "</" not in script
    assert "\u2028" not in script


def test_page_whose_entries_are_all_places_gets_one_of_its_own() -> None:
    """The theme would have nothing to hang the others below."""
    page = replace(PAGE, search=(SearchEntry("x", "X", "x"),))
    docs = json.loads(bind_files([page], ENGINE)["search/search_index.json"])["docs"]
    assert docs[1] == {"location": PAGE.path, "title": "A &amp; B &quot;fits&quot;", "text": "What it &lt;asks&gt;"}
    nothing = json.loads(bind_files([replace(PAGE, search=())], ENGINE)["search/search_index.json"])["docs"]
    assert len(nothing) == 1, "a page without entries is not searched"


def test_links_to_pages_that_the_engine_does_not_know_are_led_there() -> None:
    """From each page by its own way; from "not found", which is shown anywhere, from the site's root."""
    link = b'<a href="site:machines.html#a">x</a>'
    engine = {**ENGINE, **{path: ENGINE[path] + link for path in ("index.html", "404.html", frame_path(3))}}
    files = bind_files([PAGE], engine)
    assert b'href="machines.html#a"' in files["index.html"]
    assert b'href="/sub/machines.html#a"' in files["404.html"]
    assert b'href="../../../machines.html#a"' in files[PAGE.path]


def test_index_of_the_other_engine_is_extended_too() -> None:
    """One engine keeps its index under another name and in another shape."""
    own = {"config": {}, "items": [{"location": "index.html", "level": 1, "title": "H", "text": "", "path": []}]}
    engine = {key: data for key, data in ENGINE.items() if not key.startswith("search/")}
    files = bind_files([PAGE], {**engine, "search.json": json.dumps(own).encode()})
    items = json.loads(files["search.json"])["items"]
    assert items[2]["location"] == "guides/a/b/fit.html#x"
    assert set(items[0]) <= set(items[1])
    assert files["search.js"].startswith(b"var __index = {")


def test_sitemap_lists_every_page_but_not_found_sorted_and_undated() -> None:
    """Whole addresses, as the protocol asks, and nothing that changes from day to day."""
    text = bind_files([PAGE], ENGINE)["sitemap.xml"].decode()
    assert "<loc>https://site.example/sub/guides/a/b/fit.html</loc>" in text
    assert text.index("<loc>https://site.example/sub/</loc>") < text.index("/guides/")
    assert "404" not in text
    assert "lastmod" not in text


def test_site_without_an_address_has_no_sitemap_and_no_canonical() -> None:
    """Both take whole addresses only."""
    engine = {path: data.replace(b" https://site.example/sub/", b" ") for path, data in ENGINE.items()}
    files = bind_files([PAGE], engine)
    assert "sitemap.xml" not in files
    assert b"canonical" not in files[PAGE.path]


def test_folder_and_bytes_give_the_same(tmp_path) -> None:
    """Binding from the engine's folder is binding its bytes."""
    for path, data in ENGINE.items():
        (tmp_path / path).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / path).write_bytes(data)
    assert bind([PAGE], tmp_path) == bind_files([PAGE], ENGINE)


def test_a_thousand_pages_take_seconds() -> None:
    """A page of 60 kB in a frame of 30 kB, a thousand times: a second. What grows as the square would take an hour."""
    engine = {path: data + b" " * 30_000 if "frame" in path else data for path, data in ENGINE.items()}
    pages = [replace(PAGE, path=f"guides/v{i}/k/index.html", body="<p>x</p>" * 7_500) for i in range(1_000)]
    started = time.process_time()
    shell = Shell(engine)
    for page in pages:
        shell.page(page)
    assert time.process_time() - started < 60.0


def test_the_picture_that_goes_with_a_link_has_a_whole_address_and_words() -> None:
    """Those who show it know no page that it could be relative to; a site without an address names none."""
    page = replace(PAGE, image="previews/a/b.png", image_words="A & b.")
    text = bind_files([page], ENGINE)[PAGE.path].decode()
    assert '<meta property="og:image" content="https://site.example/sub/previews/a/b.png">' in text
    assert '<meta property="og:image:alt" content="A &amp; b.">' in text
    assert "og:image" not in bound()
