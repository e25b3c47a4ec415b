"""Prices on pages: the script puts in what offers.json has, adds up whole cents, and leaves out what is not sold."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from conftest import served

from guidegen.site.engine.settings import SCRIPT_WORDS
from guidegen.site.pages.cost import Paid
from guidegen.site.pages.template import environment

if TYPE_CHECKING:
    from conftest import Open

SCRIPT = Path(__file__).parents[2] / "guidegen" / "site" / "web" / "assets" / "offers.js"
LINES = (
    Paid("Preheater", ("preheater",)),
    Paid("Banjo", ("banjo",)),
    Paid("Key", ("preheater/key",), "preheater/key"),
    Paid("Together", ("preheater", "banjo", "preheater/key")),
    Paid("With boiler", ("preheater", "banjo", "preheater/key", "preheater/boiler"), "preheater/boiler"),
    Paid("Not sold", ("gauge",)),
    Paid("With what is not sold", ("preheater", "gauge")),
)
OFFERS = {
    "format": 1, "valid_from": "2025-01-01", "valid_until": "9999-12-31", "currency": "EUR", "digits": 2,
    "taxes": "With tax.", "delivery": [{"to": "abroad", "price": "14 EUR", "minor": 1400, "days": 9}],
    "kits": {
        "preheater": {"price": "84 EUR", "minor": 8400, "stock": 6,
                      "parts": {"boiler": {"price": "62.50 EUR", "minor": 6250}}},
        "banjo": {"price": "19.05 EUR", "minor": 1905, "lead_time_days": 5},
    },
}  # fmt: skip


@pytest.fixture
def address(tmp_path: Path) -> Iterator[str]:
    """An edition with one page of prices, and the root above it."""
    assets = tmp_path / "1" / "assets" / "guidegen"
    assets.mkdir(parents=True)
    shutil.copy(SCRIPT, assets)
    module = environment().get_template("paid.html").make_module({"contact": "us"})
    lines = module.paid_lines(LINES, "../prices.html")  # type: ignore[attr-defined]
    words = "".join(f' data-{name}="{text}"' for name, text in SCRIPT_WORDS["offers"].items())
    script = f'<script src="assets/guidegen/offers.js" data-edition="1"{words} defer></script>'
    page = (
        f"<!doctype html><html lang=en><head><title>p</title><link rel=icon href='data:,'>{script}</head>{lines}</html>"
    )
    (tmp_path / "1" / "page.html").write_text(page, encoding="utf-8")
    (tmp_path / "offers.json").write_text(json.dumps(OFFERS), encoding="utf-8")
    with served(tmp_path) as found:
        yield found


def test_sums_by_hand(open_page: Open, address: str) -> None:
    """84 + 19.05 = 103.05; with the boiler for 62.50 it is 165.55. The key has no price of its own: no line."""
    watched = open_page(f"{address}1/page.html")
    watched.page.wait_for_selector("[data-offer-lines]:not([hidden])")
    shown = [" ".join(one.split()) for one in watched.page.locator("[data-offer-lines] li").all_inner_texts()]
    assert shown == [
        "Preheater: 84 EUR 6 in stock",
        "Banjo: 19.05 EUR leaves the workshop within 5 days",
        "Together: 103.05 EUR",
        "With boiler: 165.55 EUR",
    ]
    assert watched.page.locator("[data-offer-more]").inner_text() == (
        "Delivery abroad: 14 EUR, 9 days on the way. With tax. Valid from 2025-01-01 until 9999-12-31."
    )
    assert watched.page.locator("[data-offer-else]").is_hidden()
    assert watched.errors == []


@pytest.mark.parametrize("days", [{"valid_until": "2025-01-01"}, {"valid_from": "9999-01-01"}])
def test_outside_of_its_days_no_price_is_shown(
    open_page: Open, address: str, tmp_path: Path, days: dict[str, str]
) -> None:
    """Then the way to the price list stays."""
    (tmp_path / "offers.json").write_text(json.dumps({**OFFERS, **days}), encoding="utf-8")
    watched = open_page(f"{address}1/page.html")
    watched.page.wait_for_load_state("networkidle")
    assert watched.page.locator("[data-offer-lines]").is_hidden()
    assert watched.page.locator("[data-offer-else] a").get_attribute("href") == "../prices.html"
