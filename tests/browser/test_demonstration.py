"""The demonstration in a browser: every kind of page it has, at both sizes, light and dark."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from conftest import LOOKS, PATIENCE, Open, axe_violations, served

from tests.browser.pictured import LOADED, PICTURED
from tests.weights import WEIGHT_LIMIT, packed

if TYPE_CHECKING:
    from playwright.sync_api import Page

KINDS = (
    "home", "hand-written", "about-the-data", "not-found", "variant", "overview", "fit", "charts", "install", "restore",
    "numbers", "acts", "compare", "formulas", "checks", "glossary", "sources", "rules", "codes", "changes",
    "edition-changes", "fields", "for-makers", "which", "together", "kit", "brief", "questions",
)  # fmt: skip


@pytest.fixture(scope="session")
def address(built_site: Path) -> Iterator[str]:
    """The demonstration over HTTP below the site's root, where it lies, under its own content policy."""
    with served(built_site.parent) as running:
        yield f"{running}{built_site.name}/"


@pytest.fixture(scope="session")
def example(built_site: Path) -> dict[str, str]:
    """One page of each kind, by what the pages themselves say they are; where there is one with photographs, that."""
    found = {"home": "index.html", "hand-written": "safety.html", "not-found": "404.html", "for-makers": "publish.html"}
    found |= PICTURED
    for path in sorted(built_site.rglob("*.html")):
        kind = re.search(r'data-page-kind="([a-z-]+)"', path.read_text(encoding="utf-8"))
        if kind:
            found.setdefault(kind.group(1), path.relative_to(built_site).as_posix())
    return found


def test_every_kind_of_page_is_looked_at(example: dict[str, str]) -> None:
    """A new kind of page must be added to the list above."""
    assert set(example) == set(KINDS)


@pytest.mark.parametrize(("size", "scheme"), LOOKS)
@pytest.mark.parametrize("kind", KINDS)
def test_page_is_accessible_quiet_and_alone(
    open_page: Open, address: str, example: dict[str, str], kind: str, size: str, scheme: str
) -> None:
    """axe finds nothing, no other host is asked, the console stays empty, also under the strict policy.

    Every picture in sight was loaded. And, on the page that is open anyway: it reflows, no word is broken, and whoever
    has no mouse comes everywhere.
    """
    watched = open_page(address + example[kind], size, scheme)
    if size == "wide":
        # First of all: whatever scrolls, as axe does, moves the place from which Tab goes on.
        everything_is_reached_by_keyboard(watched.page)
    shown = watched.page.evaluate(LOADED)
    assert shown if kind in PICTURED else True
    assert all(shown)
    assert axe_violations(watched.page) == []
    assert watched.outside == []
    assert watched.errors == []
    if size == "narrow":
        no_word_is_broken_into_letters(watched.page)
        it_reflows(watched.page)


def it_reflows(page: Page) -> None:
    """No sideways scrolling at 320 px (WCAG 2.2, 1.4.10), nor at 1280 px with text of 200 % (1.4.4)."""
    page.set_viewport_size({"width": 320, "height": 640})
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    page.set_viewport_size({"width": 1280, "height": 800})
    page.add_style_tag(content="html { font-size: 250% !important }")  # the theme's 100 % is 125 %
    assert page.evaluate("document.documentElement.scrollWidth") <= 1280


def no_word_is_broken_into_letters(page: Page) -> None:
    """On a narrow screen and on paper every word of a table stands in one line; what is too wide scrolls."""
    assert page.evaluate(BROKEN_WORDS) == []
    narrow = page.viewport_size
    page.set_viewport_size({"width": 700, "height": 900})
    page.emulate_media(media="print")
    assert page.evaluate(BROKEN_WORDS) == []
    page.emulate_media(media="screen")
    assert narrow is not None
    page.set_viewport_size(narrow)


def everything_is_reached_by_keyboard(page: Page) -> None:
    """Tab visits every visible control, each with a visible mark, and comes to the end."""
    wanted = page.evaluate(VISIBLE_CONTROLS)
    seen = set()
    for _ in range(len(wanted) + 40):
        page.keyboard.press("Tab")
        number, marked = page.evaluate(FOCUSED)
        if number is None:
            break
        assert marked, page.evaluate("document.activeElement.outerHTML.slice(0, 200)")
        seen.add(number)
    assert set(wanted) <= seen


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind != "not-found"])
def test_page_works_from_a_folder(open_page: Open, built_site: Path, example: dict[str, str], kind: str) -> None:
    """Opened as a file, it is as quiet. ("Not found" is a web server's page and has rooted addresses.)"""
    watched = open_page((built_site / example[kind]).as_uri())
    assert watched.outside == []
    assert watched.errors == []


BROKEN_WORDS = r"""() => {
  const walker = document.createTreeWalker(document.querySelector("article"), NodeFilter.SHOW_TEXT);
  const range = document.createRange(), found = [];
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    if (!node.parentElement.closest("th, td") || !node.parentElement.checkVisibility()) continue;
    for (const word of node.data.matchAll(/[\p{L}\p{N}.]+/gu)) {
      range.setStart(node, word.index);
      range.setEnd(node, word.index + word[0].length);
      const lines = new Set([...range.getClientRects()].map((one) => Math.round(one.top)));
      if (word[0].length < 20 && lines.size > 1) found.push(word[0]);
    }
  }
  return found;
}"""


@pytest.mark.parametrize("kind", ["home", "overview", "fit", "install"])
def test_nothing_moves_for_whoever_asked_for_that(
    open_page: Open, address: str, example: dict[str, str], kind: str
) -> None:
    """prefers-reduced-motion, which the browser of these tests reports: no transition and no animation anywhere."""
    page = open_page(address + example[kind]).page
    assert page.evaluate("matchMedia('(prefers-reduced-motion: reduce)').matches")
    moving = """[...document.querySelectorAll("*")].filter((one) => { const style = getComputedStyle(one);
      return style.animationName !== "none" || style.transitionDuration.split(",").some((time) => parseFloat(time) > 0);
    }).map((one) => one.outerHTML.slice(0, 80))"""
    assert page.evaluate(moving) == []


def test_the_answers_fit_one_screen_and_the_downsides_come_next(
    open_page: Open, address: str, built_site: Path
) -> None:
    """At 1280 × 800 fit, worth, and where the cost begins are seen without scrolling; then come the downsides.

    Before them nothing leads to an order: no mail, no order, not the self-check, which ends in an order's text.
    """
    seen = 0
    for path in sorted(built_site.glob("guides/*/*/index.html")):
        page = open_page(address + path.relative_to(built_site).as_posix()).page
        fits = not page.locator(".gg-answers .gg-verdict--cannot-tell-yet").count()
        if fits and page.locator("#downsides").count() and page.locator("#shot").count():
            box = page.locator("#cost").bounding_box()
            assert box is not None
            assert box["y"] + box["height"] <= 800, path
            sections = page.locator(".gg-answers ~ section h2").evaluate_all("all => all.map((one) => one.id)")
            assert sections[:2] == ["cost", "downsides"]
            hrefs = page.locator(".gg-answers a").evaluate_all("all => all.map((one) => one.getAttribute('href'))")
            assert not [href for href in hrefs if "mailto" in href or "self-check" in href or "order" in href]
            seen += 1
    assert seen > 5


def test_search_from_a_folder_finds_the_overview(open_page: Open, built_site: Path, example: dict[str, str]) -> None:
    """Typing the guide's own title leads to it."""
    watched = open_page((built_site / "safety.html").as_uri())
    title = re.search(r"<h1[^>]*>([^<]+)", (built_site / example["overview"]).read_text(encoding="utf-8"))
    assert title
    watched.page.keyboard.press("/")
    watched.page.keyboard.type(title.group(1).strip())
    watched.page.locator(f'.md-search-result__link[href*="{example["overview"]}"]').first.wait_for(timeout=PATIENCE)
    assert watched.outside == []
    assert watched.errors == []


def test_overview_is_light(open_page: Open, address: str, built_site: Path, example: dict[str, str]) -> None:
    """Every request until the page is idle, summed as if compressed."""
    watched = open_page("about:blank")
    asked: list[str] = []
    watched.page.on("request", lambda request: asked.append(request.url))
    watched.page.goto(address + example["overview"], wait_until="networkidle")
    root = address.removesuffix("next/")
    paths = {url.removeprefix(root).partition("?")[0].partition("#")[0] for url in asked}
    kept = {path for path in paths if (built_site.parent / path).is_file()}
    assert paths - kept <= {"versions.json"}, "only the list of editions may be absent, while there is no edition"
    weights = {path: packed(built_site.parent, path) for path in kept}
    assert len(weights) > 5
    assert sum(weights.values()) <= WEIGHT_LIMIT, sorted(weights.items(), key=lambda item: -item[1])[:5]


VISIBLE_CONTROLS = """() => {
  const all = [...document.querySelectorAll("a[href], button, select, input, summary, [tabindex='0']")];
  all.forEach((one, number) => one.setAttribute("data-number", number));
  return all.filter((one) => one.checkVisibility({ visibilityProperty: true }) && one.getClientRects().length
    && !one.disabled && one.tabIndex >= 0 && !(one.type === "radio" && !one.checked)
    && !one.closest(".md-search__output")).map((one) => Number(one.getAttribute("data-number")));
}"""
FOCUSED = """() => {
  const one = document.activeElement;
  if (!one || one === document.body) return [null, true];
  const style = getComputedStyle(one);
  const marked = style.outlineStyle !== "none" || one.matches(".md-search__input, .md-option, .md-toggle");
  return [Number(one.getAttribute("data-number")), marked];
}"""


def test_finder_narrows_the_list_and_stands_whole_without_scripts(open_page: Open, address: str) -> None:
    """A choice hides what does not match and says how many are left; without scripts all variants are listed."""
    page = open_page(address).page
    cards = page.locator(".gg-picks > li")
    everything = cards.count()
    family = page.get_by_label("Family")
    family.select_option(index=1)
    wanted = family.input_value()
    shown = [card for card in cards.all() if card.is_visible()]
    assert 0 < len(shown) < everything
    assert {card.get_attribute("data-family") for card in shown} == {wanted}
    assert page.locator(".gg-found").inner_text().startswith(f"{len(shown)} variant")
    plain = open_page(address, java_script_enabled=False).page
    assert sum(card.is_visible() for card in plain.locator(".gg-picks > li").all()) == everything
    assert not plain.get_by_label("Family").is_visible()
