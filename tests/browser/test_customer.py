"""What a new customer does on a phone, without help: find the machine from its plate, see what a kit costs and whether
it is worth it, order. Each step goes by what stands on the page."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from conftest import Open, axe_violations, served

from guidegen.judge.fit.order_text import read

if TYPE_CHECKING:
    from playwright.sync_api import Page as Tab

CENTS = re.compile(r"([0-9]+(?:\.[0-9]{2})?)\sEUR")


@pytest.fixture(scope="module")
def home(built_site: Path) -> Iterator[str]:
    """The draft's home over HTTP, with the prices above it."""
    with served(built_site.parent) as address:
        yield f"{address}{built_site.name}/index.html"


def fits_the_screen(page: Tab) -> bool:
    """Nothing is wider than the phone."""
    return bool(page.evaluate("document.documentElement.scrollWidth <= innerWidth"))


def finish(page: Tab, says: str = "") -> None:
    """Answer every question: by what one reads on the machine where it is offered, else by the first answer.

    In mm the coil needs 19 of free room, and an inlet fitting that is at most 20 tall.
    """
    while not page.locator(".sc-result").is_visible():
        for question in page.locator(".sc-question:visible").all():
            number = question.locator("input[type=text]:visible, input[inputmode]:visible")
            if number.count():
                number.first.fill("24" if "free room" in question.inner_text() else "18")
                continue
            offered = question.locator("label:visible")
            read_off = offered.filter(has_text=says) if says else offered
            # Who is not sure says so, where nothing that he reads is offered.
            other = offered.filter(has_text="Not sure") if says else offered
            chosen = read_off if read_off.count() else other
            if chosen.count():
                chosen.first.click()
        page.get_by_role("button", name="Next").click()


def test_from_the_plate_to_the_order(open_page: Open, home: str) -> None:
    """A Mark 2, seen by its plate alone; the sum of the order is that of the overview; the text is read back."""
    watched = open_page(home, "narrow")
    page = watched.page
    page.get_by_role("link", name="Find out which variant is yours").first.click()
    finish(page, "MK2")
    left = page.locator("[data-variants] a")
    assert left.first.inner_text() == "Tamsin Mark 2"
    assert fits_the_screen(page)

    left.first.click()
    page.get_by_role("link", name="Feed Preheater").first.click()
    page.wait_for_selector("[data-offer-lines]:not([hidden])")
    head = page.locator("main").inner_text()
    assert "Does it fit?" in head
    assert re.search(r"Worth it\?\s+\S", head)
    cost = page.locator(".gg-whole").inner_text()
    for word in (
        "Money",
        "Delivery within",
        "tax",
        "Valid",
        "days without the machine",
        "visits",
        "tools",
        "kWh",
        "later",
    ):
        assert word in cost, word
    kit, with_boiler = (float(one) for one in CENTS.findall(page.locator("[data-offer-lines] ul").inner_text()))
    assert fits_the_screen(page)
    assert axe_violations(page) == []

    page.get_by_role("link", name="Check your machine").first.click()
    finish(page)
    result = page.locator(".sc-result")
    assert result.locator(".sc-outcome").inner_text() == "Fits with conditions"
    shown = result.locator(".sc-offer")
    assert [float(one) for one in CENTS.findall(shown.inner_text())] == [kit]
    result.locator("input[name=sc-remedies]").nth(1).check()
    assert [float(one) for one in CENTS.findall(shown.inner_text())] == [with_boiler]
    text = result.locator(".sc-text").input_value()
    assert re.search(r"^[a-z_]+\.[a-z_.]+ = ", text, re.MULTILINE) is None
    order = read(text)
    assert (order.variant, order.kit, order.outcome) == ("tamsin-mk2", "feed-preheater", "fits-with-conditions")
    assert "mailto:" in (result.locator(".sc-mail").get_attribute("href") or "")
    assert fits_the_screen(page)
    assert axe_violations(page) == []
    assert watched.errors == []


@pytest.mark.parametrize(("day", "lapsed"), [("2026-12-31", False), ("2028-01-01", True)])
def test_the_price_list_says_when_it_lapsed(open_page: Open, home: str, day: str, lapsed: bool) -> None:
    """The demonstration's prices hold until the end of 2027; the page stays as it was delivered."""
    watched = open_page("about:blank")
    page = watched.page
    page.clock.set_fixed_time(f"{day}T12:00:00")
    page.goto(home.rsplit("/", 2)[0] + "/prices.html")
    said = page.locator("[data-until]")
    words = (
        "These prices held until 2027-12-31. Ask" if lapsed else "These prices hold from 2026-01-01 until 2027-12-31."
    )
    assert said.inner_text().startswith(words)
    struck = page.locator(".price").first.evaluate("one => getComputedStyle(one).textDecorationLine")
    assert (struck == "line-through") is lapsed
