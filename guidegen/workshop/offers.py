"""content/offers.yml: what customers pay today, and how soon it leaves the workshop.

Prices change between editions, so they stand in no page of one: they are published as `offers.json` at the site's root.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from pathlib import Path
from typing import Annotated, Self

from pydantic import AfterValidator, Field, model_validator

from guidegen.problems import CatalogueError, Code, Problem
from guidegen.workshop.base import Document, Id, Line, Loc, Model, refused
from guidegen.workshop.explain import validated
from guidegen.workshop.money import Money, currency_of
from guidegen.workshop.reader import bytes_of, read

PLACE = "content/offers.yml"


class WrittenOffer(Model):
    """What one thing costs, and how soon it leaves the workshop."""

    price: Annotated[Money, Field(description="With the taxes that `taxes` names")]
    stock: Annotated[int | None, Field(ge=0, description="How many lie ready")] = None
    lead_time_days: Annotated[int | None, Field(ge=0, le=3650, description="Days until it leaves the workshop")] = None
    note: Line | None = None


class KitOffer(WrittenOffer):
    """What a kit costs. `parts` are those of its parts that cost extra, as an exchange boiler; the rest is in it."""

    parts: dict[Id, WrittenOffer] = Field(default_factory=dict, description="Parts of the kit that are paid beside it")


class WrittenDelivery(Model):
    """What the way to the buyer costs and takes."""

    to: Annotated[Line, Field(description="Where to, as it goes on behind `delivery`: within the country")]
    price: Money
    days: Annotated[int | None, Field(ge=0, le=3650, description="Days on the way")] = None


class WrittenOffers(Document):
    """content/offers.yml. Before `valid_from` and after `valid_until` no page shows any of it."""

    valid_from: datetime.date | None = None
    valid_until: Annotated[datetime.date, Field(description="The last day on which these prices hold")]
    currency: Annotated[
        str | None,
        AfterValidator(currency_of),
        Field(description="The currency of all prices here, where it is not that of workshop.yml"),
    ] = None
    taxes: Annotated[Line | None, Field(description="Which taxes the prices contain, and who pays duty")] = None
    delivery: tuple[WrittenDelivery, ...] = ()
    kits: dict[Id, KitOffer]

    @model_validator(mode="after")
    def _begins_before_it_ends(self) -> Self:
        if self.valid_from is not None and self.valid_from > self.valid_until:
            words = f"from {self.valid_from} until {self.valid_until} is no time at all"
            raise refused(Code.OFFER_DAYS, words, "swap the two days, or correct one", ("valid_from",))
        return self

    def prices(self) -> Iterator[tuple[Loc, Money]]:
        """Yield every price with its place."""
        for kit, offer in self.kits.items():
            yield ("kits", kit, "price"), offer.price
            for part, extra in offer.parts.items():
                yield ("kits", kit, "parts", part, "price"), extra.price
        for index, way in enumerate(self.delivery):
            yield ("delivery", index, "price"), way.price


def offers_of(root: Path) -> WrittenOffers | None:
    """Return the offers of the workshop at `root` without the rest of the catalogue; None where there are none.

    Raises `CatalogueError` with all that is wrong in the file by itself.
    """
    if not (root / PLACE).is_file():
        return None
    problems: list[Problem] = []
    found = validated(WrittenOffers, read(bytes_of(root / PLACE, PLACE), PLACE), problems)
    if found is None:
        raise CatalogueError(problems)
    return found
