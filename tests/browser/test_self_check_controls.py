"""Every control of every self-check of the demonstration, used: no page has anything to say to the console."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from conftest import Open, served

from tests.mutants.draft import catalogue
from tests.whole import some

if TYPE_CHECKING:
    from playwright.sync_api import Locator
    from playwright.sync_api import Page as Tab

KNOWN = catalogue()
MARK_2 = [f"guides/tamsin-mk2/{kit}/fit.html" for kit in KNOWN.kits]
OTHERS = [f"guides/{variant}/{kit}/fit.html" for variant in KNOWN.machines for kit in KNOWN.kits
          if variant != "tamsin-mk2"]  # fmt: skip
PAGES = ("which-variant.html", *MARK_2, *some(OTHERS, 11))
"""The pages of Mark 2 and the one that distinguishes variants always, a share of the others."""
WAYS = ("first", "last", "not-sure", "nonsense")
"""What is answered, where it is offered."""


@pytest.fixture(scope="module")
def address(built_site: Path) -> Iterator[str]:
    """The demonstration under its own content policy."""
    with served(built_site) as running:
        yield running


def answered(box: Locator, way: str) -> None:
    """Answer one question in one way; each unit is chosen once, each radio is clicked on the way to the last."""
    field, radios = box.locator("[data-number]"), box.locator("input[type='radio']")
    if way == "not-sure" or not radios.count():
        box.locator("input[value='not-sure']").check()
    elif field.count():
        for unit in box.locator("[data-unit] option").all_inner_texts():
            box.locator("[data-unit]").select_option(unit)
        field.fill("much" if way == "nonsense" else "1" if way == "first" else "31")
    else:
        for radio in radios.all()[: 1 if way == "first" else None]:
            radio.check()


def gone_through(page: Tab, way: str) -> None:
    """Answer until there is an outcome; what is not taken is answered with not sure, after going back once."""
    result = page.locator(".sc-result")
    while not result.is_visible():
        shown = page.locator(".sc-question:not([hidden])")
        for box in shown.all():
            answered(box, way)
        before = shown.first.get_attribute("data-fact")
        page.locator("form button[type='submit']").click()
        if not result.is_visible() and shown.first.get_attribute("data-fact") == before:
            for box in shown.all():
                answered(box, "not-sure")
            page.locator("form button[type='submit']").click()
        back = page.locator(".sc-back")
        if way == "last" and back.is_visible() and back.is_enabled():
            back.click()
            page.locator("form button[type='submit']").click()


def pressed(page: Tab) -> None:
    """Everything that an outcome offers but what leads to other pages; last of all it begins again."""
    for radio in page.locator('.sc-result [data-part="remedies"] input:visible').all():
        radio.check()
    for name in (".sc-copy", ".sc-print", ".sc-link"):
        if page.locator(name).count() and page.locator(name).is_visible():
            page.locator(name).click()
    edits = page.locator('.sc-result [data-part="answers"] button:visible')
    place = 0
    # Another answer can ask for fewer than there were.
    while place < edits.count():
        edits.nth(place).click()
        gone_through(page, "not-sure")
        place += 1
    if page.locator(".sc-again").is_visible():
        page.locator(".sc-again").click()


@pytest.mark.parametrize("path", PAGES)
def test_every_control_is_used_without_an_error(open_page: Open, address: str, path: str) -> None:
    """Answers of each kind, back, again, every edit, every remedy, copying, printing, and the page's own link."""
    watched = open_page(address + path)
    page = watched.page
    page.evaluate("window.print = () => {}")
    if not page.locator("[data-self-check]").count():
        return
    for way in WAYS:
        gone_through(page, way)
        assert page.locator(".sc-outcome").inner_text()
        pressed(page)
    page.goto(address + path + "#answers=nonsense")
    page.reload()
    assert watched.errors == []
    assert watched.outside == []
