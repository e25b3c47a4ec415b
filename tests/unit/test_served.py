"""The reader of a delivered site's addresses finds each kind that leads nowhere; so its silence means something."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.served import broken

URL = "https://guides.example/shop/"
PAGE = '<!doctype html><html lang="en"><head><title>t</title>{}</head><body>{}</body></html>'
GOOD = {
    "index.html": PAGE.format(
        f'<link rel="canonical" href="{URL}"><meta property="og:url" content="{URL}">'
        f'<meta property="og:image" content="{URL}a.png">'
        f'<script type="application/ld+json">{{"@id":"{URL}#maker","offers":{{"url":"{URL}b/"}}}}</script>',
        '<a href="b/">b</a><a href="https://elsewhere.example/">e</a><a href="mailto:a@b.example">m</a>'
        '<img src="a.png">',
    ),
    "b/index.html": PAGE.format('<meta http-equiv="refresh" content="0; url=../index.html">', '<a href="#top">t</a>'),
    "404.html": PAGE.format("", '<a href="/shop/b/index.html">b</a>'),
    "a.png": "x",
    "robots.txt": f"User-agent: *\nDisallow:\n\nSitemap: {URL}sitemap.xml\n",
    "sitemap.xml": f'<urlset xmlns="http://www.sitemaps.org/schemas/sitemap/0.9"><url><loc>{URL}b/</loc></url></urlset>',
    "notices.json": '{"editions": {"1": {"a/b": {"href": "b/index.html"}, "a/c": {"href": ""}}}}',
    "b/search/search_index.json": '{"docs": [{"location": ""}, {"location": "index.html#a"}]}',
}
WRONG = {
    "canonical href": ("index.html", f'rel="canonical" href="{URL}', f'rel="canonical" href="{URL}gone/'),
    "og:url": ("index.html", f'og:url" content="{URL}', f'og:url" content="{URL}gone.html'),
    "og:image": ("index.html", f"{URL}a.png", "https://old.example/shop/a.png"),
    "linked data": ("index.html", f'"url":"{URL}b/', f'"url":"{URL}b/c'),
    "a href": ("index.html", 'href="b/"', 'href="c/"'),
    "img src": ("index.html", 'src="a.png"', 'src="c.png"'),
    "refresh": ("b/index.html", "url=../index.html", "url=index.htm"),
    "robots": ("robots.txt", "/sitemap.xml", "/map.xml"),
    "loc": ("sitemap.xml", f"{URL}b/", "https://guides.example/b/"),
    "notice": ("notices.json", "b/index.html", "b/c.html"),
    "search": ("b/search/search_index.json", "index.html#a", "c.html#a"),
}


def laid_down(folder: Path, files: dict[str, str]) -> Path:
    """The files in a folder."""
    for path, text in files.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_text(text, encoding="utf-8")
    return folder


def test_a_site_without_a_fault_has_none(tmp_path: Path) -> None:
    """Links to elsewhere are not asked."""
    assert broken(laid_down(tmp_path, GOOD), URL) == []


@pytest.mark.parametrize("how", WRONG)
def test_an_address_that_leads_nowhere_is_found(tmp_path: Path, how: str) -> None:
    """Of each kind, and that one alone."""
    path, old, new = WRONG[how]
    assert old in GOOD[path]
    found = broken(laid_down(tmp_path, {**GOOD, path: GOOD[path].replace(old, new)}), URL)
    assert [(one.place, one.how) for one in found] == [(path, how)]


def test_a_relative_link_of_the_page_for_what_is_not_here_is_found(tmp_path: Path) -> None:
    """It would mean another page at each address at which it is shown."""
    page = PAGE.format("", '<a href="b/index.html">b</a>')
    (found,) = broken(laid_down(tmp_path, {**GOOD, "404.html": page}), URL)
    assert (found.place, found.address) == ("404.html", "b/index.html")
