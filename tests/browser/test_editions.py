"""Old pages on a web server show what is known today; in a folder they stay as they are."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from conftest import LOOKS, axe_violations, served

from tests.editions_workshop import change_torque, guidegen, held, lay_down, publish

Open = Callable[..., Any]
GUIDE = "guides/plain-one/collar/index.html"
NOTE = "Loosen the four bolts and tighten them to the new torque."


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Three editions: a torque was corrected in the second, nothing changed in the third."""
    root = lay_down(tmp_path_factory.mktemp("editions") / "workshop")
    assert publish(root, "2025.1") == 0
    before = held(root / "site" / "2025.1")
    change_torque(root)
    assert publish(root, "2025.2", "--note", NOTE) == 0
    assert publish(root, "2025.3") == 0
    assert held(root / "site" / "2025.1") == before
    return root / "site"


@pytest.fixture(scope="module")
def address(site: Path) -> Iterator[str]:
    """The whole site over HTTP."""
    with served(site) as found:
        yield found


def test_an_old_page_shows_the_notice_though_its_bytes_are_old(open_page: Open, address: str) -> None:
    """With a way to the newest edition; nothing on the console."""
    watched = open_page(f"{address}2025.1/{GUIDE}")
    box = watched.page.locator(".gg-notice")
    box.wait_for()
    assert box.get_attribute("data-state") == "notice"
    assert NOTE in box.inner_text()
    box.locator("a").click()
    watched.page.wait_for_url(f"{address}2025.3/{GUIDE}")
    assert watched.errors == []


def test_what_leads_to_such_a_guide_says_so_too(open_page: Open, address: str) -> None:
    """Home, comparison and the variant's page of that edition; not those of the newest."""
    for path in ("index.html", "compare.html", "guides/plain-one/index.html"):
        marks = open_page(f"{address}2025.1/{path}").page.locator('[data-marks="plain-one/collar"]')
        marks.first.wait_for()
        assert marks.first.inner_text().strip() == "Notice since this edition"
        page = open_page(f"{address}2025.3/{path}").page
        page.wait_for_load_state("networkidle")
        assert page.locator("[data-marks]").count() == 0


def test_the_corrections_of_an_edition_stand_at_an_address(open_page: Open, address: str) -> None:
    """Without scripts: there stands what was corrected, and nothing else."""
    page = open_page(address + "corrections/2025.1.html", java_script_enabled=False).page
    assert NOTE in page.locator("main").inner_text()
    page.get_by_role("link", name="The guide in the newest edition").first.click()
    page.wait_for_url(f"{address}2025.3/{GUIDE}")
    said = open_page(address + "corrections/2025.3.html").page.locator("main").inner_text()
    assert "No guide of this edition has a notice." in said


def test_a_notice_is_never_taken_from_the_cache(open_page: Open, site: Path, address: str) -> None:
    """A browser keeps what has been the same for years; the next visit still shows what was noticed since."""
    notices = site / "notices.json"
    before, times = notices.read_bytes(), (notices.stat().st_atime, notices.stat().st_mtime)
    page = open_page(address + "index.html").page
    try:
        for year, words in ((946_684_800, NOTE), (978_307_200, "It leaks.")):
            notices.write_bytes(before.replace(NOTE.encode(), words.encode()))
            os.utime(notices, (year, year))
            page.goto(f"{address}2025.1/{GUIDE}")
            page.locator(".gg-notice").wait_for()
            assert words in page.locator(".gg-notice").inner_text()
    finally:
        notices.write_bytes(before)
        os.utime(notices, times)


def test_a_page_in_which_nothing_changed_says_so_and_the_newest_says_nothing(open_page: Open, address: str) -> None:
    """Unchanged since your edition."""
    box = open_page(f"{address}2025.2/{GUIDE}").page.locator(".gg-notice")
    box.wait_for()
    assert "Unchanged since your edition." in box.inner_text()
    page = open_page(f"{address}2025.3/{GUIDE}").page
    page.wait_for_load_state("networkidle")
    assert page.locator(".gg-notice").count() == 0


def test_the_selector_offers_every_edition_and_stays_on_the_page(open_page: Open, address: str) -> None:
    """The theme's own, from versions.json and each edition's sitemap."""
    watched = open_page(f"{address}2025.3/{GUIDE}")
    selector = watched.page.locator(".md-version")
    selector.wait_for()
    assert selector.locator(".md-version__link").all_inner_texts() == ["2025.3", "2025.2", "2025.1"]
    selector.locator(".md-version__current").hover(force=True)
    selector.locator(".md-version__link", has_text="2025.1").click()
    watched.page.wait_for_url(f"{address}2025.1/{GUIDE}")
    assert watched.errors == []


@pytest.mark.parametrize(("size", "scheme"), LOOKS)
@pytest.mark.parametrize(
    "path", ["2025.2/guides/plain-one/collar/changes.html", "2025.2/changes.html",
             "2025.3/guides/plain-one/collar/fit.html", f"2025.1/{GUIDE}", "2025.1/index.html", "index.html",
             "which.html", "corrections/2025.1.html", "editions.html", "prices.html", "404.html", "k/collar/index.html"]
)  # fmt: skip
def test_pages_about_editions_are_accessible_and_fit_the_screen(
    open_page: Open, address: str, path: str, size: str, scheme: str
) -> None:
    """axe finds nothing, the console stays empty, nothing scrolls sideways; with the notice shown."""
    watched = open_page(address + path, size, scheme)
    watched.page.wait_for_load_state("networkidle")
    assert watched.errors == []
    assert axe_violations(watched.page) == []
    assert watched.page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_in_a_folder_nothing_is_asked_and_nothing_is_said(open_page: Open, site: Path) -> None:
    """No selector, no notice, no word on the console."""
    watched = open_page((site / "2025.1" / GUIDE).as_uri())
    watched.page.wait_for_load_state("networkidle")
    assert watched.page.locator(".md-version").count() == 0
    assert watched.page.locator(".gg-notice").count() == 0
    assert watched.errors == []


def test_an_edition_served_alone_is_as_silent(open_page: Open, site: Path) -> None:
    """Without the root above it there is nothing to ask."""
    with served(site / "2025.1") as address:
        watched = open_page(address + GUIDE)
        watched.page.wait_for_load_state("networkidle")
        assert watched.page.locator(".md-version").count() == 0
        assert watched.page.locator(".gg-notice").count() == 0
        assert watched.errors == []


@pytest.mark.parametrize(("until", "shown"), [("9999-12-31", True), ("2025-01-01", False)])
def test_a_price_stands_beside_the_result_until_its_day(
    open_page: Open, site: Path, address: str, until: str, shown: bool
) -> None:
    """At the root and in no page; the oldest edition shows today's price, a stale one is shown by none."""
    before = (site / "offers.json").read_bytes()
    offer = {"price": "80 EUR", "stock": 3, "lead_time_days": 5}
    (site / "offers.json").write_text(json.dumps({"format": 1, "valid_until": until, "kits": {"collar": offer}}))
    try:
        watched = open_page(f"{address}2025.1/guides/plain-one/collar/fit.html")
        watched.page.wait_for_load_state("networkidle")
        offers = watched.page.locator(".sc-result .sc-offer").all_text_contents()
    finally:
        (site / "offers.json").write_bytes(before)
    words = f"Price 80 EUR, 3 in stock, leaves the workshop within 5 days. Valid until {until}."
    assert offers == ([words] if shown else [])
    assert watched.errors == []


def test_a_code_leads_to_the_guide_and_after_a_withdrawal_to_its_stop_page(open_page: Open, tmp_path: Path) -> None:
    """With scripts switched off."""
    root = lay_down(tmp_path / "workshop")
    assert publish(root, "2025.1") == 0
    with served(root / "site") as address:
        page = open_page(f"{address}k/collar-1.10/plain-one/", java_script_enabled=False).page
        page.wait_for_url(f"{address}2025.1/{GUIDE}")
        assert guidegen(root, "withdraw", "2025.1", "plain-one/collar", "--because", "The bolts may shear.") == 0
        page = open_page(f"{address}k/collar-1.10/plain-one/", java_script_enabled=False).page
        page.wait_for_url(f"{address}2025.1/{GUIDE}")
        assert "Stop. Do not work by this guide." in page.inner_text("h1")
        assert "The bolts may shear." in page.inner_text("main")
