"""Money: exact, in a currency of ISO 4217, with no more decimals than it has."""

from __future__ import annotations

import pytest
from babel.core import get_global
from babel.numbers import get_currency_precision, get_territory_currencies
from pydantic import TypeAdapter, ValidationError

from guidegen.editions.offers import total
from guidegen.problems import Code
from guidegen.workshop.money import DIGITS, Money

READ = TypeAdapter(Money)
WITHOUT_COINS = ["AFN", "ALL", "IQD", "IRR", "KPW", "LAK", "LBP", "MGA", "MMK", "RSD", "SOS", "SYP", "YER"]
"""ISO 4217 gives them decimals; CLDR leaves these out, as nobody there pays in coins."""
GONE = {"BGN"}
"""Of CLDR's list of today: Bulgaria pays in EUR since 2026-01-01."""


def test_every_currency_that_is_tender_somewhere_is_known() -> None:
    """By CLDR's table of territories, which lists the codes of ISO 4217."""
    territories = get_global("territory_currencies")
    tender = {code for one in territories for code in get_territory_currencies(one)}
    assert tender - GONE <= set(DIGITS)


@pytest.mark.parametrize("code", sorted(set(DIGITS) - set(WITHOUT_COINS)))
def test_a_currency_has_the_decimals_of_the_standard(code: str) -> None:
    """As CLDR has them from ISO 4217."""
    assert DIGITS[code] == get_currency_precision(code)


@pytest.mark.parametrize(
    ("code", "digits"), [("EUR", 2), ("JPY", 0), ("KWD", 3), ("TND", 3), ("ISK", 0), ("IQD", 3), ("RSD", 2)]
)
def test_the_decimals_of_some_by_hand(code: str, digits: int) -> None:
    """ISO 4217, list one, column minor unit (from memory)."""
    assert DIGITS[code] == digits


@pytest.mark.parametrize(
    ("text", "minor", "printed"),
    [
        ("84 EUR", 8400, "84 EUR"),
        ("84.5 EUR", 8450, "84.50 EUR"),
        ("84.05 EUR", 8405, "84.05 EUR"),
        ("0 EUR", 0, "0 EUR"),
        ("12000 JPY", 12000, "12000 JPY"),
        ("1.005 KWD", 1005, "1.005 KWD"),
    ],
)
def test_a_sum_is_read_to_the_smallest_coin(text: str, minor: int, printed: str) -> None:
    found = READ.validate_python(text)
    assert (found.minor, found.text) == (minor, printed)


@pytest.mark.parametrize(
    "text", ["84", "84 €", "84,50 EUR", "EUR 84", "-1 EUR", "84.505 EUR", "84.5 JPY", "84 eur", 84]
)
def test_what_is_no_sum_is_refused(text: object) -> None:
    """With the one code of all such mistakes."""
    with pytest.raises(ValidationError) as caught:
        READ.validate_python(text)
    assert [one["type"] for one in caught.value.errors()] == [Code.NOT_MONEY]


def test_sums_add_up_to_the_cent() -> None:
    """84 + 19 + 62.50 = 165.50; and 0.10 + 0.20 is 0.30, which it is not in binary fractions."""
    assert total([Money(8400, "EUR"), Money(1900, "EUR"), Money(6250, "EUR")]).text == "165.50 EUR"
    assert total([Money(10, "EUR"), Money(20, "EUR")]).text == "0.30 EUR"
    with pytest.raises(ValueError, match="one currency"):
        total([Money(1, "EUR"), Money(1, "CHF")])
