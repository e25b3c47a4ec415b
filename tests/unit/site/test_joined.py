"""Sheets are joined where a page links to several in one folder, in the order of the cascade; all else stays."""

from __future__ import annotations

import re

from guidegen.site.joined import join_sheets


def link(address: str) -> str:
    """A link as themes write it."""
    return f'<link rel="stylesheet" href="{address}">'


SHEETS = {
    "theme/a.css": b'@charset "UTF-8";\n.a{color:red}',
    "theme/b.css": b'@charset "UTF-8";\n.b{background:url("x.svg")}',
    "own/c.css": b".a{color:blue}",
    "own/d.css": b".d{}",
    "print.css": b".p{}",
}
HEAD = "\n  ".join(link(f"theme/{one}.css") for one in "ab") + link("own/c.css") + link("own/d.css")
PRINT = '<link rel="stylesheet" href="print.css" media="print">'


def sheets(page: bytes) -> list[str]:
    """The sheets that a page waits for."""
    return re.findall(r'<link rel="stylesheet" href="([^"]*)">', page.decode())


def test_one_file_a_folder_in_the_order_of_the_links() -> None:
    """The later rule still comes later; an address in a sheet still leads to its neighbour; paper waits apart."""
    files = join_sheets({**SHEETS, "index.html": (HEAD + PRINT).encode(), "theme/x.svg": b"<svg/>"})
    theme, own = sheets(files["index.html"])
    assert theme.startswith("theme/")
    assert own.startswith("own/")
    assert files[theme] == b'@charset "UTF-8";\n.a{color:red}\n\n.b{background:url("x.svg")}'
    assert files[own] == b".a{color:blue}\n.d{}"
    assert PRINT.encode() in files["index.html"]
    assert {*files} == {theme, own, "index.html", "theme/x.svg", "print.css"}


def test_a_page_in_a_folder_and_one_shown_anywhere_link_to_the_same_file() -> None:
    """By the way up, and from the root of the site's address."""
    deep = HEAD.replace('href="', 'href="../').encode()
    lost = HEAD.replace('href="', 'href="/site/').encode()
    files = join_sheets({**SHEETS, "index.html": HEAD.encode(), "a/b.html": deep, "404.html": lost}, "/site/")
    home = sheets(files["index.html"])
    assert sheets(files["a/b.html"]) == [f"../{one}" for one in home]
    assert sheets(files["404.html"]) == [f"/site/{one}" for one in home]
    assert {*home} < {*files}


def test_a_sheet_that_another_page_asks_for_alone_stays() -> None:
    """It is in both."""
    files = join_sheets({**SHEETS, "index.html": HEAD.encode(), "alone.html": link("own/d.css").encode()})
    assert files["own/d.css"] == SHEETS["own/d.css"]
    assert files["alone.html"] == link("own/d.css").encode()


def test_what_cannot_be_joined_is_left() -> None:
    """A sheet that imports another may do so at its beginning alone (CSS Cascading and Inheritance Level 4, 2)."""
    importing = {**SHEETS, "own/d.css": b'@import "e.css";'}
    files = join_sheets({**importing, "index.html": HEAD.encode(), "lost.html": (link("no/1.css") * 2).encode()})
    assert sheets(files["index.html"])[1:] == ["own/c.css", "own/d.css"]
    assert sheets(files["lost.html"]) == ["no/1.css", "no/1.css"]
