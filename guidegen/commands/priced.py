"""What a kit costs in money on a variant, by the offers of today: the lines that the overview shows."""

from __future__ import annotations

import datetime
from collections.abc import Iterator

from guidegen.editions.offers import total
from guidegen.language import gettext
from guidegen.record import Assessment
from guidegen.site.engine.settings import SCRIPT_WORDS
from guidegen.site.pages.cost import Paid, paid
from guidegen.workshop.offers import PLACE, WrittenOffer, WrittenOffers

WORDS = SCRIPT_WORDS["offers"]


def lapsed(offers: WrittenOffers | None, today: datetime.date) -> str:
    """What the maker should know of prices that do not hold on a day; empty where they do, and without any."""
    if offers is None or (offers.valid_from or today) <= today <= offers.valid_until:
        return ""
    begins = f"from {offers.valid_from} " if offers.valid_from else ""
    return f"the prices in {PLACE} hold {begins}until {offers.valid_until}: the reply names none"


def lines(record: Assessment, offers: WrittenOffers | None) -> Iterator[str]:
    """What is bought with its price, the way to the buyer, taxes, and the days on which it holds.

    Nothing of a kit that is not sold for the variant, nor where there are no offers.
    """
    if offers is None or record.fit.refused:
        return
    priced = [(one.says, said) for one in paid(record) if (said := _price(one, offers))]
    if not priced:
        return
    for says, said in priced:
        yield f"{says}: {said}"
    for way in offers.delivery:
        known = {"to": way.to, "price": way.price.text, "days": way.days}
        yield gettext(WORDS["delivery" if way.days is None else "delivery-days"]).format(**known)
    if offers.taxes:
        yield offers.taxes
    days = {"first": offers.valid_from, "last": offers.valid_until, "date": offers.valid_until}
    yield gettext(WORDS["between" if offers.valid_from else "until"]).format(**days)


def _price(line: Paid, offers: WrittenOffers) -> str:
    """The price of a line; empty for what is not sold, what is in the kit's price, and a sum of one price."""
    found = {name: _offer(name, offers) for name in line.ids}
    priced = [one for one in found.values() if one is not None]
    unsold = any(one is None and "/" not in name for name, one in found.items())
    if unsold or (line.about and _offer(line.about, offers) is None):
        return ""
    if len(line.ids) > 1:
        return total(one.price for one in priced).text if len(priced) > 1 else ""
    (offer,) = priced
    return ", ".join((offer.price.text, *_ready(offer))) + (f". {offer.note}" if offer.note else "")


def _offer(name: str, offers: WrittenOffers) -> WrittenOffer | None:
    """A kit by its id, one of its parts as `kit/part`."""
    kit, _, part = name.partition("/")
    found = offers.kits.get(kit)
    return found.parts.get(part) if found is not None and part else found


def _ready(offer: WrittenOffer) -> Iterator[str]:
    """How many there are, and how soon one leaves the workshop."""
    if offer.stock is not None:
        yield gettext(WORDS["stock" if offer.stock else "none"]).format(count=offer.stock)
    if offer.lead_time_days is not None:
        yield gettext(WORDS["lead"]).format(days=offer.lead_time_days)
