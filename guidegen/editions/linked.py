"""What the front says to programs: the workshop, its kits, and the prices that hold, as schema.org data.

It says nothing that the page does not say. The vocabulary (Organization, Product, Offer) is from memory.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from markupsafe import Markup

from guidegen.editions.selling import PriceLine
from guidegen.site.pages.linked_data import CONTEXT, script
from guidegen.workshop.money import DIGITS, Money

if TYPE_CHECKING:
    from guidegen.editions.front import ShownKit
    from guidegen.editions.root_pages import Root

_MAIL = re.compile(r"[^\s@]+@[^\s@]+\.[^\s@]+")
_MAKER = "#maker"


def linked_data(root: Root) -> str:
    """The script for the front's head."""
    return script({"@graph": [_maker(root), *(_product(root, one) for one in root.front.kits)]})


def reach(contact: str) -> Markup:
    """Whom to ask, as a link where it is an address of electronic mail.

    >>> reach("bench@workshop.example")
    Markup('<a href="mailto:bench@workshop.example">bench@workshop.example</a>')
    """
    if not _MAIL.fullmatch(contact):
        return Markup("{}").format(contact)
    return Markup('<a href="mailto:{0}">{0}</a>').format(contact)


def _maker(root: Root) -> dict[str, Any]:
    contact = root.contact if _MAIL.fullmatch(root.contact) else None
    return _stated(
        **{"@type": "Organization", "@id": root.site_url and f"{root.site_url}{_MAKER}"},
        name=root.front.selling.name,
        url=root.site_url,
        email=contact,
        description=root.front.makes,
    )


def _product(root: Root, kit: ShownKit) -> dict[str, Any]:
    return _stated(
        **{"@type": "Product"},
        name=kit.name,
        description=kit.summary,
        productID=kit.id,
        url=root.site_url and root.address(root.about_kit(kit.id)),
        image=kit.image_path and root.address(kit.image_path),
        manufacturer={"@id": f"{root.site_url}{_MAKER}"} if root.site_url else None,
        offers=_offer(root, kit.price) if kit.price else None,
    )


def _offer(root: Root, line: PriceLine) -> dict[str, Any]:
    offer = line.offer
    lead = {"@type": "QuantitativeValue", "maxValue": offer.lead_time_days, "unitCode": "DAY"}
    return _stated(
        **{"@type": "Offer"},
        price=decimal(offer.price),
        priceCurrency=offer.price.currency,
        validFrom=root.front.selling.valid_from,
        priceValidUntil=root.front.selling.valid_until,
        availability=availability(offer.stock, offer.lead_time_days),
        deliveryLeadTime=lead if offer.lead_time_days is not None else None,
        url=root.site_url and root.address("prices.html"),
    )


def availability(stock: int | None, lead_time_days: int | None) -> str | None:
    """The vocabulary's word for what lies ready; None where nobody says.

    >>> availability(6, 5), availability(0, None), availability(None, 5)
    ('https://schema.org/InStock', 'https://schema.org/OutOfStock', None)
    """
    if stock is None:
        return None
    # What is not there and still has its days is made when it is ordered.
    word = "InStock" if stock else "OutOfStock" if lead_time_days is None else "BackOrder"
    return f"{CONTEXT}/{word}"


def decimal(price: Money) -> str:
    """An amount with a decimal point and all the digits of its currency, without the currency.

    >>> decimal(Money(8450, "EUR")), decimal(Money(84, "JPY"))
    ('84.50', '84')
    """
    digits = DIGITS[price.currency]
    whole, rest = divmod(price.minor, 10**digits)
    return f"{whole}.{rest:0{digits}d}" if digits else str(whole)


def _stated(**values: Any) -> dict[str, Any]:
    """What has a value, in its order."""
    return {name: value for name, value in values.items() if value not in (None, "")}
