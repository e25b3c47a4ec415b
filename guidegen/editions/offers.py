"""`offers.json` at the site's root: content/offers.yml as pages ask for it. It is never inside an edition.

Pages of every edition read it, the oldest too, so a key keeps its name and its meaning. A sum stands in words, as it is
printed, and as `minor` in the currency's smallest unit, so that whoever adds sums adds whole numbers.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from guidegen.workshop.money import DIGITS, Money
from guidegen.workshop.offers import PLACE, WrittenOffer, WrittenOffers, offers_of

FILE = "offers.json"
FORMAT = 1


def path_of(root: Path) -> Path:
    """Where the workshop writes it."""
    return root / PLACE


def files(root: Path) -> dict[str, bytes]:
    """The file for the site's root. Raises `CatalogueError` with what is wrong where it cannot be read.

    A workshop that offers nothing says so, because a page that asks for a missing file leaves a word on the console.
    """
    offered = offers_of(root)
    held = published(offered) if offered is not None else {"format": FORMAT, "kits": {}}
    return {FILE: (json.dumps(held, ensure_ascii=False, indent=1) + "\n").encode()}


def published(offered: WrittenOffers) -> dict[str, Any]:
    """What `offers.json` holds of these offers."""
    currency = next((price.currency for _, price in offered.prices()), "")
    return _stated(
        format=FORMAT,
        valid_from=offered.valid_from and str(offered.valid_from),
        valid_until=str(offered.valid_until),
        currency=currency or None,
        digits=DIGITS[currency] if currency else None,
        taxes=offered.taxes,
        delivery=[_stated(to=one.to, **_sum(one.price), days=one.days) for one in offered.delivery] or None,
        kits={
            name: _offer(kit) | _stated(parts={part: _offer(extra) for part, extra in kit.parts.items()} or None)
            for name, kit in offered.kits.items()
        },
    )


def _offer(one: WrittenOffer) -> dict[str, Any]:
    return _stated(**_sum(one.price), stock=one.stock, lead_time_days=one.lead_time_days, note=one.note)


def _sum(price: Money) -> dict[str, Any]:
    return {"price": price.text, "minor": price.minor}


def _stated(**values: Any) -> dict[str, Any]:
    """What has a value, in its order."""
    return {name: value for name, value in values.items() if value is not None}


def total(prices: Iterable[Money]) -> Money:
    """The sum of prices, of which there is at least one. Raises ValueError for prices in several currencies."""
    found = list(prices)
    if len({one.currency for one in found}) != 1:
        raise ValueError("only prices in one currency add up")
    return Money(sum(one.minor for one in found), found[0].currency)
