"""The price list and the terms at the root: what pages fetch and what they show, from the one file."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidegen.editions import around, offers, selling
from guidegen.problems import CatalogueError

OFFERS = """valid_from: 2026-01-01
valid_until: 2026-12-31
taxes: With 20 % value-added tax.
delivery:
  - {to: within the country, price: 6 EUR, days: 3}
kits:
  collar:
    price: 84 EUR
    parts:
      elbow: {price: 62.50 EUR, note: On order.}
"""
TERMS = """
terms:
  seller: {name: A Workshop <Ltd>, address: 1 Lane}
  delivery: By parcel.
  payment: Ahead.
  returns: Within 30 days.
  warranty: Two years.
  fitting: Nobody.
  privacy: Nothing is kept.
"""


@pytest.fixture
def sells(root: Path) -> Path:
    """A workshop with a kit, offers and terms."""
    (root / "content" / "kits").mkdir(exist_ok=True)
    kit = "name: Collar\nparts:\n  - {id: elbow, name: brass elbow}\n"
    (root / "content" / "kits" / "collar.yml").write_text(kit, encoding="utf-8")
    (root / "content" / "offers.yml").write_text(OFFERS, encoding="utf-8")
    workshop = root / "content" / "workshop.yml"
    workshop.write_text((workshop.read_text("utf-8") if workshop.exists() else "name: W\n") + TERMS, encoding="utf-8")
    return root


def test_what_pages_fetch_has_each_sum_in_words_and_in_cents(sells: Path) -> None:
    """84 EUR are 8400 cents; an old page reads `price` and `valid_until`, where they always were."""
    found = offers.offers_of(sells)
    assert found is not None
    assert offers.published(found) == {
        "format": 1,
        "valid_from": "2026-01-01",
        "valid_until": "2026-12-31",
        "currency": "EUR",
        "digits": 2,
        "taxes": "With 20 % value-added tax.",
        "delivery": [{"to": "within the country", "price": "6 EUR", "minor": 600, "days": 3}],
        "kits": {
            "collar": {
                "price": "84 EUR",
                "minor": 8400,
                "parts": {"elbow": {"price": "62.50 EUR", "minor": 6250, "note": "On order."}},
            }
        },
    }


def test_who_offers_nothing_says_so(root: Path) -> None:
    assert offers.files(root) == {"offers.json": b'{\n "format": 1,\n "kits": {}\n}\n'}
    page = around.prices(root).decode()
    assert "Nothing is for sale at the moment." in page


def test_the_price_list_says_days_names_and_terms(sells: Path) -> None:
    page = around.prices(sells).decode()
    for words in (
        "These prices hold from 2026-01-01 until 2026-12-31.",
        "With 20 % value-added tax.",
        "Collar",
        "84 EUR",
        "Brass elbow",
        "62.50 EUR",
        "Within the country",
        "A Workshop &lt;Ltd&gt;",
        "Within 30 days.",
    ):
        assert words in page


def test_a_kit_with_all_that_is_paid_beside_it(sells: Path) -> None:
    """84 + 62.50 = 146.50."""
    line = selling.selling(sells).line("collar")
    assert line is not None
    assert line.with_extra == "146.50 EUR"


def test_what_cannot_be_read_is_refused_with_its_place(sells: Path) -> None:
    (sells / "content" / "offers.yml").write_text(OFFERS.replace("84 EUR", "84"), encoding="utf-8")
    with pytest.raises(CatalogueError, match=r"content/offers\.yml:8:12: M01 kits\.collar\.price"):
        selling.selling(sells)
