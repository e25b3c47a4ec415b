"""What is offered for money against the rest of the catalogue: kits and parts that there are, one currency, terms."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from guidegen.problems import Code, Problem, nearest, one_of
from guidegen.trade.catalogue import Catalogue
from guidegen.trade.contradiction import problem, unknown_part
from guidegen.workshop.base import Loc
from guidegen.workshop.offers import WrittenOffers


def check_offers(known: Catalogue, kits: Collection[str]) -> Iterator[Problem]:
    """Yield what is wrong with content/offers.yml beside the rest; `kits` are the ids of all kits, sound or not."""
    offers = known.offers
    if offers is None:
        return
    yield from _things(known, offers, kits)
    if known.workshop is None:
        return
    currency = offers.currency or known.workshop.currency
    for loc, price in offers.prices():
        if price.currency != currency:
            words = f"{price.text}, where prices are in {currency}"
            fix = (
                f"write what it is in {currency}, or currency: {price.currency} at the head for all prices of the file"
            )
            yield problem(offers, loc, Code.CURRENCY, words, fix)
    first = next(offers.prices(), None)
    if first is not None and known.workshop.terms is None:
        words = "a price stands without the terms of sale"
        fix = "add terms: to content/workshop.yml, with seller, delivery, payment, returns, warranty, fitting, privacy"
        yield problem(offers, first[0], Code.NO_TERMS, words, fix)


def _things(known: Catalogue, offers: WrittenOffers, kits: Collection[str]) -> Iterator[Problem]:
    """Kits that are not there, and parts that their kits do not have."""
    for name, offer in offers.kits.items():
        loc: Loc = ("kits", name)
        if name not in kits:
            near = nearest(name, kits)
            fix = f"write {near}" if near else f"use one of {one_of(kits)}"
            yield problem(offers, loc, Code.UNKNOWN_KIT, f'no kit "{name}"', fix, key=True)
        elif name in known.kits:
            parts = [one.id for one in known.kits[name].parts]
            unknown = (part for part in offer.parts if part not in parts)
            yield from (unknown_part(offers, (*loc, "parts", part), part, parts, key=True) for part in unknown)
