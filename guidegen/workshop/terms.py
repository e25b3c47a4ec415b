"""The terms of sale of a workshop: what a buyer reads before he orders, in the workshop's own words.

Nothing here is advice on what the law wants; each field is what a buyer asks for first. `check` wants all of them as
soon as content/offers.yml states a price.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from guidegen.workshop.base import Line, Model, Prose


class WrittenSeller(Model):
    """Who sells. `registered`: the number in a register, or of the tax office, where the law wants one."""

    name: Annotated[Line, Field(description="The full legal name of whoever sells")]
    address: Annotated[Line, Field(description="Where letters reach the seller: street, place, country")]
    registered: Annotated[Line | None, Field(description="Number of the trade register or the tax office")] = None


class WrittenTerms(Model):
    """The block `terms` of content/workshop.yml, each field in plain sentences."""

    seller: WrittenSeller
    delivery: Annotated[Prose, Field(description="Where to, by whom, what happens when it is late or broken")]
    payment: Annotated[Prose, Field(description="How and when it is paid")]
    returns: Annotated[Prose, Field(description="Until when, in which state, at whose cost it can be sent back")]
    warranty: Annotated[Prose, Field(description="What the kit is warranted for and how long; not the machine")]
    fitting: Annotated[Prose, Field(description="Whether the workshop fits it, for how much, or who does")]
    privacy: Annotated[Prose, Field(description="Which data of a buyer are kept, why and how long")]


TERMS = ("delivery", "payment", "returns", "warranty", "fitting", "privacy")
"""The terms in the order in which pages print them, behind the seller."""
