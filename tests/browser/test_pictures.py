"""Photographs in a browser: heard, printed, at every width, and in forced colours.

That they are seen, and that axe finds nothing beside them, is asked with everything else of those pages.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from conftest import Open, served

from tests.browser.pictured import PICTURED

PRINTED = """() => new Promise((done) => {
    const image = document.querySelector(".gg-picture img");
    const look = () => (image.currentSrc.includes("-960.webp") ? done(image.currentSrc) : requestAnimationFrame(look));
    image.scrollIntoView(); image.loading = "eager"; look();
})"""
OUTSIDE = """() => [...document.querySelectorAll('.gg-callout')].filter((one) => one.offsetParent).filter((one) => {
    const mark = one.getBoundingClientRect(), frame = one.parentElement.getBoundingClientRect();
    const x = (mark.left + mark.right) / 2, y = (mark.top + mark.bottom) / 2;
    return x < frame.left || x > frame.right || y < frame.top || y > frame.bottom;
}).length"""


@pytest.fixture(scope="session")
def address(built_site: Path) -> Iterator[str]:
    """The demonstration over HTTP, under its own content policy."""
    with served(built_site) as running:
        yield running


@pytest.mark.parametrize("kind", PICTURED)
def test_pictures_and_their_numbers_fit_every_width(open_page: Open, address: str, kind: str) -> None:
    """Nothing scrolls sideways; each number lies on its picture, and is large enough to be read."""
    page = open_page(address + PICTURED[kind]).page
    for width in (1280, 390, 320):
        page.set_viewport_size({"width": width, "height": 800})
        assert page.evaluate("document.documentElement.scrollWidth") <= width, width
        assert page.evaluate(OUTSIDE) == 0, width
        sizes = page.evaluate("() => [...document.querySelectorAll('.gg-callout')].map((one) => one.offsetWidth)")
        assert min((one for one in sizes if one), default=24) >= 24, width


def test_whoever_hears_the_page_gets_words_and_a_list(open_page: Open, address: str) -> None:
    """The picture by its words, the numbers once, as a list in the same order."""
    page = open_page(address + PICTURED["install"]).page
    figure = page.locator("figure.gg-picture").first
    assert 'figure "The nut comes off the fitting.' in (tree := figure.aria_snapshot())
    assert 'img "A black hose lies to the left with its nut open.' in tree
    assert tree.count("listitem") == page.locator("figure.gg-picture").first.locator(".gg-callout").count() == 3
    assert "Taken on Tamsin Mark 1." in tree


def test_a_picture_stands_beside_its_step(open_page: Open, address: str) -> None:
    """On a wide screen to the right of what there is to do, on a narrow one below it."""
    page = open_page(address + PICTURED["install"]).page
    step = page.locator("li.gg-step:has(> .gg-pictures)").first
    words, picture = step.locator("label").bounding_box(), step.locator("img").bounding_box()
    assert words is not None
    assert picture is not None
    assert picture["x"] >= words["x"] + words["width"] - 1
    page.set_viewport_size({"width": 390, "height": 844})
    words, picture = step.locator("label").bounding_box(), step.locator("img").bounding_box()
    assert words is not None
    assert picture is not None
    assert picture["y"] >= words["y"] + words["height"] - 1


def test_on_paper_the_middle_one_is_printed_with_its_numbers(open_page: Open, address: str) -> None:
    """960 pixels, whatever the screen was; numbers stay on it."""
    page = open_page(address + PICTURED["install"], "narrow").page
    page.emulate_media(media="print")
    assert page.evaluate(PRINTED).endswith("-960.webp")
    assert page.evaluate(OUTSIDE) == 0


def test_numbers_are_seen_in_forced_colours(open_page: Open, address: str) -> None:
    """Ink on its own ground with a border, whatever lies behind it."""
    page = open_page(address + PICTURED["variant"], forced_colors="active").page
    mark = page.locator(".gg-callout").first
    colour, ground, border = mark.evaluate(
        "(one) => { const s = getComputedStyle(one); return [s.color, s.backgroundColor, s.borderTopColor]; }"
    )
    assert colour == border != ground
