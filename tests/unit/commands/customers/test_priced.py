"""The prices of a reply: the same lines as the overview's script makes, whose test adds up the same sums."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidegen.commands import priced
from guidegen.site.pages.cost import Paid
from guidegen.workshop.offers import PLACE, offers_of
from tests.fixtures.records import record

LINES = (
    Paid("Preheater", ("preheater",)),
    Paid("Banjo", ("banjo",)),
    Paid("Key", ("preheater/key",), "preheater/key"),
    Paid("Together", ("preheater", "banjo", "preheater/key")),
    Paid("With boiler", ("preheater", "banjo", "preheater/key", "preheater/boiler"), "preheater/boiler"),
    Paid("Not sold", ("gauge",)),
    Paid("With what is not sold", ("preheater", "gauge")),
)
OFFERS = """\
valid_from: 2025-01-01
valid_until: 9999-12-31
taxes: With tax.
delivery: [{to: abroad, price: 14 EUR, days: 9}, {to: at home, price: 6 EUR}]
kits:
  preheater: {price: 84 EUR, stock: 6, parts: {boiler: {price: 62.50 EUR}}}
  banjo: {price: 19.05 EUR, stock: 0, lead_time_days: 5, note: Soon.}
"""


def test_sums_by_hand(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """84 + 19.05 = 103.05; with the boiler for 62.50 it is 165.55. The key has no price of its own: no line."""
    monkeypatch.setattr(priced, "paid", lambda record: list(LINES))
    (tmp_path / "content").mkdir()
    (tmp_path / PLACE).write_text(OFFERS, encoding="utf-8")
    assert list(priced.lines(record(), offers_of(tmp_path))) == [
        "Preheater: 84 EUR, 6 in stock",
        "Banjo: 19.05 EUR, none in stock, leaves the workshop within 5 days. Soon.",
        "Together: 103.05 EUR",
        "With boiler: 165.55 EUR",
        "Delivery abroad: 14 EUR, 9 days on the way.",
        "Delivery at home: 6 EUR.",
        "With tax.",
        "Valid from 2025-01-01 until 9999-12-31.",
    ]


def test_without_offers_there_are_no_lines() -> None:
    assert list(priced.lines(record(), None)) == []
