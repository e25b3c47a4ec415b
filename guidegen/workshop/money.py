"""Sums of money: an exact amount with the code of its currency, as ISO 4217 has it.

A sum is kept in the currency's smallest unit, as a whole number, so that sums add up to the cent.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, core_schema

from guidegen.problems import Code, nearest
from guidegen.workshop.base import quoted, refused

USUAL_DIGITS = 2
_USUAL = (
    "AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF CHF CNY COP CRC CUP "
    "CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR JMD KES "
    "KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN NIO NOK "
    "NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB "
    "TJS TMT TOP TRY TTD TWD TZS UAH USD UYU UZS VES WST XCD XCG YER ZAR ZMW ZWG"
)
_OTHERS = {
    0: "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF",
    3: "BHD IQD JOD KWD LYD OMR TND",
}
DIGITS: Mapping[str, int] = {
    **dict.fromkeys(_USUAL.split(), USUAL_DIGITS),
    **{code: digits for digits, codes in _OTHERS.items() for code in codes.split()},
}
"""How many decimals each currency has that somebody can pay in, by ISO 4217 (list one)."""
MOST = 10**9
"""No sum of a workshop's price list is larger, in the currency's own unit."""


@dataclass(frozen=True)
class Money:
    """A sum of money. `minor` counts the smallest units of the currency: cents of EUR, whole JPY."""

    minor: int
    currency: str

    @property
    def text(self) -> str:
        """Return it as people write it; cents only where there are some.

        >>> Money(8400, "EUR").text, Money(8450, "EUR").text, Money(5, "KWD").text, Money(84, "JPY").text
        ('84 EUR', '84.50 EUR', '0.005 KWD', '84 JPY')
        """
        digits = DIGITS[self.currency]
        whole, rest = divmod(self.minor, 10**digits)
        return f"{whole}.{rest:0{digits}d} {self.currency}" if rest else f"{whole} {self.currency}"

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Read `84 EUR`."""
        return core_schema.no_info_plain_validator_function(_read)

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """Describe it for editors."""
        words = "An amount and the code of its currency by ISO 4217"
        return {
            "type": "string",
            "pattern": r"^[0-9]+(\.[0-9]+)? [A-Z]{3}$",
            "examples": ["84 EUR", "84.50 EUR"],
            "description": words,
        }


def _read(value: Any) -> Money:
    if isinstance(value, Money):
        return value
    text = str(value) if isinstance(value, str) else ""
    match = re.fullmatch(r"([0-9]{1,12})(?:\.([0-9]{1,6}))? ([A-Z]{3})", text)
    if match is None:
        words = f"got {quoted(value)}, no sum of money"
        fix = "write amount and currency, like 84.50 EUR"
        if re.fullmatch(r"[0-9]+(\.[0-9]+)?", text):
            words, fix = f"got {quoted(value)}, in no currency", f"add its code, like {text} EUR"
        raise refused(Code.NOT_MONEY, words, fix)
    currency_of(match[3])
    digits, cents = DIGITS[match[3]], match[2] or ""
    if len(cents) > digits:
        some = f"{digits} decimals" if digits else "no decimals"
        raise refused(Code.NOT_MONEY, f"got {quoted(value)}, {match[3]} has {some}", f"write {some}")
    if int(match[1]) > MOST:
        raise refused(Code.OUT_OF_BOUNDS, f"got {quoted(value)}, more than any kit costs", "look at the decimal point")
    return Money(int(match[1] + cents.ljust(digits, "0")), match[3])


def currency_of(value: Any) -> str:
    """Return the code of a currency that somebody can pay in; refuse what is none."""
    if value not in DIGITS:
        near = nearest(str(value), (code.lower() for code in DIGITS)) if isinstance(value, str) else None
        fix = f"write {near.upper()}" if near else "write its code of three letters by ISO 4217, like EUR"
        raise refused(Code.NOT_MONEY, f"got {quoted(value)}, no currency of ISO 4217", fix)
    return str(value)
