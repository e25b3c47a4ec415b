"""What pages at the site's root say of buying: the price list with its days, and the terms of sale of today.

`templates/selling.html` prints it, on the price list and wherever else at the root a price stands.
"""

from __future__ import annotations

from dataclasses import dataclass
from importlib import resources
from pathlib import Path

from guidegen.editions.about import contact_of, kit_names, name_of, terms_of
from guidegen.editions.offers import total
from guidegen.workshop.offers import WrittenDelivery, WrittenOffer, offers_of
from guidegen.workshop.terms import WrittenTerms

PAGE = "prices.html"
SCRIPT = "prices.js"
"""What says on the pages that prices have lapsed; it lies beside the price list."""


def script() -> bytes:
    """What lies at `SCRIPT`."""
    return resources.files("guidegen.editions").joinpath(f"templates/{SCRIPT}").read_bytes()


@dataclass(frozen=True)
class PriceLine:
    """One thing that is sold; `extra` are the parts of a kit that are paid beside it."""

    id: str
    name: str
    offer: WrittenOffer
    extra: tuple[PriceLine, ...] = ()

    @property
    def with_extra(self) -> str:
        """What the kit costs with all of its parts that are paid beside it."""
        return total([self.offer.price, *(one.offer.price for one in self.extra)]).text


@dataclass(frozen=True)
class Selling:
    """The price list and the terms; without lines nothing is sold at the moment."""

    name: str
    contact: str
    terms: WrittenTerms | None
    lines: tuple[PriceLine, ...] = ()
    valid_from: str = ""
    valid_until: str = ""
    taxes: str = ""
    delivery: tuple[WrittenDelivery, ...] = ()

    def line(self, kit: str) -> PriceLine | None:
        """What a kit costs, where it is sold."""
        return next((one for one in self.lines if one.id == kit), None)


def selling(root: Path) -> Selling:
    """What the workshop at `root` sells today. Raises `CatalogueError` where its offers cannot be read."""
    name, contact, terms = name_of(root), contact_of(root), terms_of(root)
    offered = offers_of(root)
    if offered is None:
        return Selling(name, contact, terms)
    lines = []
    for kit, offer in offered.kits.items():
        called, parts = kit_names(root, kit)
        extra = (PriceLine(part, parts.get(part, part), one) for part, one in offer.parts.items())
        lines.append(PriceLine(kit, called, offer, tuple(extra)))
    return Selling(
        name=name,
        contact=contact,
        terms=terms,
        lines=tuple(lines),
        valid_from=str(offered.valid_from or ""),
        valid_until=str(offered.valid_until),
        taxes=offered.taxes or "",
        delivery=offered.delivery,
    )
