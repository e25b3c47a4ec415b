"""The link check: what it finds, and what it rightly lets be."""

from __future__ import annotations

import pytest

from guidegen.problems import Problem
from guidegen.site.finish import links
from guidegen.site.finish.links import inspect

HOME = '<!doctype html><h1 id="top-of-home">Home</h1>'


def check(files: dict[str, bytes], site_url: str = "") -> list[Problem]:
    """What is wrong with the pages among these files."""
    pages = {path: inspect(data.decode()) for path, data in files.items() if path.endswith(".html")}
    return links.check(pages, files, site_url)


def codes(body: str, path: str = "guides/a/index.html", site_url: str = "") -> list[str]:
    """The codes of what is wrong with a page of this body in a small site."""
    files = {
        path: body.encode(),
        "index.html": HOME.encode(),
        "guides/index.html": b'<p id="g">',
        "assets/a picture.svg": b"<svg/>",
    }
    return [problem.code for problem in check(files, site_url)]


@pytest.mark.parametrize(
    "body",
    [
        '<a href="../../index.html">x</a>',
        '<a href="../../index.html#top-of-home">x</a>',
        '<a href="../">x</a>',
        '<a href="../../">x</a>',
        '<a href="#here">x</a><p id="here">',
        '<a href="#top">x</a>',
        '<a href="#">x</a>',
        '<a href="">x</a>',
        '<a href="#%C3%A9t%C3%A9">x</a><p id="été">',
        '<img src="../../assets/a%20picture.svg" alt="">',
        '<img src="data:image/png;base64,AAAA" alt="">',
        '<a href="https://other.example/">cited</a>',
        '<a href="mailto:bench@kettleby.example">write</a>',
        '<link rel="canonical" href="https://other.example/x.html">',
        '<a href="/index.html">x</a>',
        "<!-- <a href='gone.html'>x</a> -->",
        '<script>var a = "<a href=\\"gone.html\\">";</script>',
        '<code>&lt;a href="gone.html"&gt;</code>',
        "<p title=\"on the way: onclick='x'\">x</p>",
        '<a id="one" name="one" href="#one">x</a>',
        '<a href="../../index.html?units=metric#top-of-home">x</a>',
    ],
)
def test_good_page_is_left_in_peace(body: str) -> None:
    """Relative, rooted, percent-encoded, outside and quoted addresses that a browser would follow."""
    assert codes(body) == []


@pytest.mark.parametrize(
    ("body", "code"),
    [
        ('<a href="gone.html">x</a>', "W05"),
        ("<a href=gone.html>x</a>", "W05"),
        ("<a href='gone.html'>x</a>", "W05"),
        ('<a href="../../../outside.html">x</a>', "W05"),
        ('<img srcset="../../assets/a.svg 1x" alt="">', "W05"),
        ('<script src="gone.js"></script>', "W05"),
        ('<link rel="stylesheet" href="gone.css">', "W05"),
        ('<form action="gone.html"></form>', "W05"),
        ('<svg><use xlink:href="#nothing"/></svg>', "W06"),
        ('<a href="#nowhere">x</a>', "W06"),
        ('<a href="../../index.html#nowhere">x</a>', "W06"),
        ('<p id="a"></p><p id="a"></p>', "W07"),
        ('<img src="https://other.example/a.png" alt="">', "W08"),
        ('<script src="//other.example/a.js"></script>', "W08"),
        ('<link rel="stylesheet" href="http://other.example/a.css">', "W08"),
        ('<link rel="preconnect" href="https://other.example">', "W08"),
        ('<button onclick="x()">x</button>', "W09"),
        ('<a href="javascript:x()">x</a>', "W09"),
    ],
)
def test_each_mistake_has_its_code(body: str, code: str) -> None:
    """One mistake, one problem."""
    assert codes(body) == [code]


def test_rooted_links_of_a_site_below_a_path_are_resolved_from_there() -> None:
    """A site that lives at /guides-of-ours/ links to /guides-of-ours/index.html."""
    assert codes('<a href="/sub/index.html">x</a>', site_url="https://site.example/sub/") == []


def test_problem_names_page_address_and_a_near_place() -> None:
    """Where a name is nearly right, the right one is offered."""
    (problem,) = check({"a.html": b'<a href="safty.html">x</a>', "safety.html": b""})
    assert str(problem) == (
        'a.html:1:1: W05 "safty.html" leads to safty.html, which is not there\n  fix: did you mean safety.html?'
    )


def test_same_mistake_is_reported_once_per_page() -> None:
    """A broken link in a menu stands on a page many times."""
    assert codes('<a href="gone.html">x</a>' * 5) == ["W05"]


def test_ids_are_counted_in_every_element() -> None:
    """Also within SVG, and where tags are alike."""
    found = inspect('<svg><path id="a"/></svg><p id="a">x</p><p id="b">')
    assert dict(found.ids) == {"a": 2, "b": 1}
