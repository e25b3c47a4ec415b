"""The shell in a browser: accessible, quiet, alone, searchable from a folder, and usable from the keyboard."""

from __future__ import annotations

from pathlib import Path

import pytest
from conftest import LOOKS, PATIENCE, SIZES, Open, axe_violations

KINDS = {
    "hand-written": "index.html",
    "overview": "guides/sample/kit/index.html",
    "install": "guides/sample/kit/install.html",
    "not-found": "404.html",
}
UNSEEN = "nothing was asked of another host and no error was reported"


@pytest.mark.parametrize(("size", "scheme"), LOOKS)
@pytest.mark.parametrize("kind", KINDS)
def test_page_is_accessible_quiet_and_alone(
    open_page: Open, sample_address: str, kind: str, size: str, scheme: str
) -> None:
    """Each kind of page passes axe, under its own content policy, without a word on the console."""
    watched = open_page(sample_address + KINDS[kind], size, scheme)
    assert watched.outside == [], UNSEEN
    assert watched.errors == [], UNSEEN
    assert axe_violations(watched.page) == []


@pytest.mark.parametrize("kind", KINDS)
def test_page_never_scrolls_sideways(open_page: Open, sample_address: str, kind: str) -> None:
    """At 320 px, which is 1280 px at four-fold zoom, text reflows (WCAG 2.2, 1.4.10)."""
    page = open_page(sample_address + KINDS[kind], "narrow").page
    page.set_viewport_size({"width": 320, "height": 640})
    assert page.evaluate("document.documentElement.scrollWidth") <= 320


def test_the_answers_stand_together_on_a_wide_screen(open_page: Open, sample_address: str) -> None:
    """Side by side at 1280 px with the cost below them, in one screen; below each other at 390 px."""
    address = sample_address + KINDS["overview"]
    wide = open_page(address, "wide").page.locator(".gg-answer").all()
    boxes = [box.bounding_box() for box in wide]
    assert len({round(box["y"]) for box in boxes}) == 2
    assert max(box["y"] + box["height"] for box in boxes) < SIZES["wide"][1]
    narrow = open_page(address, "narrow").page.locator(".gg-answer").all()
    assert len({round(box.bounding_box()["x"]) for box in narrow}) == 1


@pytest.mark.parametrize("from_folder", [False, True], ids=["http", "folder"])
def test_search_finds_a_guide(open_page: Open, sample_site: Path, sample_address: str, from_folder: bool) -> None:
    """A word that stands in a guide's search entry only leads to that guide, also from ``file://``."""
    start = sample_site.as_uri() + "/" if from_folder else sample_address
    watched = open_page(start + KINDS["install"])
    watched.page.keyboard.press("/")
    watched.page.keyboard.type("zebrawood")
    found = watched.page.locator(".md-search-result__link").first
    found.wait_for(timeout=PATIENCE)
    assert "/guides/sample/kit/index.html" in (found.get_attribute("href") or "")
    found.click()
    watched.page.wait_for_url("**/kit/index.html**")
    assert watched.outside == []
    assert watched.errors == []


@pytest.mark.parametrize("size", SIZES)
def test_open_search_is_accessible(open_page: Open, sample_address: str, size: str) -> None:
    """With finds listed, axe has nothing to say."""
    page = open_page(sample_address + KINDS["install"], size).page
    if size == "narrow":
        page.get_by_role("button", name="Search", exact=True).click()
    else:
        page.keyboard.press("/")
    page.keyboard.type("sample")
    page.locator(".md-search-result__link").first.wait_for()
    assert axe_violations(page) == []


def test_search_and_menu_open_from_the_keyboard(open_page: Open, sample_address: str) -> None:
    """On a narrow screen the two buttons of the header take the focus and answer to Enter."""
    page = open_page(sample_address + KINDS["overview"], "narrow").page
    for field, name in (("__drawer", "Navigation"), ("__search", "Search")):
        button = page.get_by_role("button", name=name, exact=True).first
        button.focus()
        page.keyboard.press("Enter")
        assert page.locator(f"#{field}").is_checked()
        page.reload()


def test_the_skip_link_is_the_first_stop_and_leads_to_the_article(open_page: Open, sample_address: str) -> None:
    """Tab, Enter: the focus is past the header."""
    page = open_page(sample_address + KINDS["overview"]).page
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.matches('.md-skip')")
    page.keyboard.press("Enter")
    assert page.evaluate("location.hash") == "#guide"


def test_the_contents_list_follows_the_reader(open_page: Open, sample_address: str) -> None:
    """The entry of the section in view is marked."""
    page = open_page(sample_address + KINDS["overview"]).page
    page.locator("#sure").evaluate("element => window.scrollTo(0, element.offsetTop - 60)")
    page.wait_for_selector('.md-nav--secondary .md-nav__link--active[href="#sure"], .md-nav__link--passed')
    assert page.locator('.md-nav--secondary .md-nav__link--passed[href="#fit"]').count() == 1


def test_units_are_switched_and_remembered(open_page: Open, sample_address: str) -> None:
    """Metric at first; what is chosen holds on the next page."""
    page = open_page(sample_address + KINDS["overview"]).page
    metric, imperial = page.locator(".q-metric").first, page.locator(".q-imperial").first
    assert (metric.is_visible(), imperial.is_visible()) == (True, False)
    page.get_by_label("Units").select_option("imperial")
    assert (metric.is_visible(), imperial.is_visible()) == (False, True)
    page.goto(sample_address + KINDS["install"])
    assert page.locator(".q-imperial").first.is_visible()
    assert not page.locator(".q-metric").first.is_visible()
    page.get_by_label("Units").select_option("both")
    assert page.locator(".q-metric").first.is_visible()
    assert page.locator(".q-imperial").first.is_visible()


def test_both_units_show_without_scripts_and_in_print(open_page: Open, sample_address: str) -> None:
    """Nothing is hidden from who has no scripts, and paper has no switch."""
    page = open_page(sample_address + KINDS["overview"], java_script_enabled=False).page
    assert page.locator(".q-metric").first.is_visible()
    assert page.locator(".q-imperial").first.is_visible()
    assert not page.locator(".units-switch").is_visible()
    page = open_page(sample_address + KINDS["overview"]).page
    page.emulate_media(media="print")
    assert page.locator(".q-imperial").first.is_visible()
    assert page.locator(".gg-data table").first.is_visible(), "tables are open on paper"
    assert not page.locator(".md-header").is_visible()


def test_ticks_are_remembered_counted_and_cleared(open_page: Open, sample_address: str) -> None:
    """A ticked step is ticked after a reload, the contents list counts it, and one button clears all."""
    page = open_page(sample_address + KINDS["install"]).page
    page.locator('[data-tick="drain-1"]').check()
    page.reload()
    assert page.locator('[data-tick="drain-1"]').is_checked()
    assert not page.locator('[data-tick="drain-2"]').is_checked()
    entry = page.locator('.md-nav--secondary a[href="#drain"]')
    assert entry.get_attribute("data-progress") == "1 / 2"
    page.get_by_role("button", name="Clear all ticks").click()
    page.reload()
    assert not page.locator('[data-tick="drain-1"]').is_checked()


def test_ticks_of_another_edition_are_not_taken_over(open_page: Open, sample_address: str) -> None:
    """A new edition may have other steps; it starts clean."""
    page = open_page(sample_address + KINDS["install"]).page
    page.locator('[data-tick="drain-1"]').check()
    assert page.evaluate("Object.keys(localStorage).filter(k => k.startsWith('guidegen.ticks'))") == [
        "guidegen.ticks.sample/kit@sample"
    ]


def test_dark_scheme_is_taken_from_the_system_and_the_toggle_is_named(open_page: Open, sample_address: str) -> None:
    """The paper turns dark where the system asks for it, before anything is chosen."""
    page = open_page(sample_address + KINDS["overview"], scheme="dark").page
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(21, 25, 29)"
    light = open_page(sample_address + KINDS["overview"], scheme="light").page
    assert light.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(251, 250, 247)"
