"""The what-if in a browser: the select boxes show a row of the table, and without scripts the table stands whole."""

from __future__ import annotations

from pathlib import Path

import pytest
from conftest import Open

PAGE = "guides/tamsin-mk2/feed-preheater/charts.html"


@pytest.fixture(scope="module")
def address(built_site: Path) -> str:
    """The page as a file: what works there works everywhere."""
    return (built_site / PAGE).as_uri()


def test_every_choice_shows_its_own_row(open_page: Open, address: str) -> None:
    """One change per box; what is shown is what the row holds, in the chosen units."""
    page = open_page(address).page
    part = page.locator("[data-what-if]")
    boxes = part.locator("select")
    assert boxes.count() == 4
    for i in range(4):
        boxes.nth(i).select_option(index=boxes.nth(i).locator("option").count() - 1)
        at = "-".join(boxes.nth(j).input_value() for j in range(4))
        row = part.locator(f'tr[data-at="{at}"]')
        for name in ("without", "with", "change"):
            shown = part.locator(f'.gg-what-if__shown [data-part="{name}"]')
            assert shown.text_content() == row.locator(f'[data-part="{name}"]').text_content()
            assert shown.text_content()


def test_it_starts_with_the_stated_conditions(open_page: Open, address: str) -> None:
    """A double at rest with the stated feed and setpoint: near the number of the overview, without its range.

    It is that of one draw near the medians; how near, the page says, and of the few draws of this build none is nearer.
    """
    page = open_page(address).page
    shown = page.locator(".gg-what-if__shown")
    assert shown.is_visible()
    assert not page.locator("[data-what-if] table").is_visible()
    drop = page.locator('#chart-drinks tbody tr:has(th:text-is("double")) td .q-metric').first.text_content() or ""
    without = shown.locator('[data-part="without"] .q-metric').text_content() or ""
    assert float(without.split("\u202f")[0]) == pytest.approx(float(drop.split("\u202f")[0]), rel=0.15)


def test_without_scripts_the_table_stands_whole(open_page: Open, address: str) -> None:
    """Every computed point can be read."""
    page = open_page(address, java_script_enabled=False).page
    rows = page.locator("[data-what-if] tbody tr")
    assert rows.count() > 100
    assert rows.first.is_visible()
    assert rows.last.is_visible()
    assert not page.locator("[data-what-if] form").is_visible()


def test_the_choices_can_be_made_by_keyboard(open_page: Open, address: str) -> None:
    """An arrow key in the first box changes what is shown."""
    page = open_page(address).page
    shown = page.locator('.gg-what-if__shown [data-part="with"]')
    before = shown.text_content()
    page.locator("[data-what-if] select").first.focus()
    page.keyboard.press("ArrowUp")
    assert shown.text_content() != before
