"""Who publishes, and what holds for every guide: tariff, room, feed, use; drinks, sources, glossary."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Any, Literal, Self

from pydantic import AfterValidator, Field, GetCoreSchemaHandler, GetJsonSchemaHandler, model_validator
from pydantic_core import CoreSchema, core_schema

from guidegen.problems import Code
from guidegen.trade.worth import WrittenLimits
from guidegen.workshop.base import Document, Id, Line, Model, Prose, quoted, refused, shaped
from guidegen.workshop.fields import Mass, Spec, Temperature, Time
from guidegen.workshop.money import currency_of
from guidegen.workshop.terms import WrittenTerms

#: The format of the catalogue that this program reads.
FORMAT = 1


@dataclass(frozen=True)
class Tariff:
    """A price of electricity, in the workshop's currency per kilowatt hour."""

    per_kwh: float
    text: str

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Read `0.30 per kWh`."""
        return core_schema.no_info_plain_validator_function(cls._read)

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """Describe it for editors."""
        return {"type": "string", "pattern": r"^[0-9]+(\.[0-9]+)? per kWh$"}

    @classmethod
    def _read(cls, value: Any) -> Tariff:
        match = re.fullmatch(r"([0-9]{1,6}(?:\.[0-9]{1,6})?) per kWh", value) if isinstance(value, str) else None
        if match is None:
            raise refused(
                Code.OUT_OF_BOUNDS, f"got {quoted(value)}, a price per kWh is wanted", "write it like 0.30 per kWh"
            )
        return cls(float(match[1]), str(value))


class UsagePattern(Model):
    """The pattern of use that day energy is computed for."""

    sessions_per_day: int = Field(ge=1, le=48)
    on_for: Annotated[Time, Spec("From switching on to switching off", ("5 min", "24 h"), "a power meter")]
    drinks: tuple[Id, ...]


class Workshop(Document):
    """content/workshop.yml."""

    catalogue_format: int
    name: Line
    invented: bool = False
    contact: Line
    makes: Annotated[
        Prose | None,
        Field(description="What the workshop makes, in a sentence or two; else the reason of the kit that gains most"),
    ] = None
    language: Annotated[str, shaped(r"[a-z]{2}(-[A-Z]{2})?", "en")]
    currency: Annotated[str, AfterValidator(currency_of), Field(description="The code of its currency by ISO 4217")]
    tariff: Tariff
    room: Annotated[Temperature, Spec("Room", ("5 °C", "40 °C"), "a thermometer")]
    feed: Annotated[Temperature, Spec("Feed water", ("4 °C", "35 °C"), "a thermometer in the tank")]
    main_drink: Annotated[Id, Field(description="The drink of content/drinks.yml that guides compare by")]
    usage: UsagePattern
    worth: WrittenLimits = WrittenLimits()
    terms: Annotated[
        WrittenTerms | None, Field(description="The terms of sale, wanted as soon as content/offers.yml states a price")
    ] = None

    @model_validator(mode="after")
    def _format(self) -> Self:
        if self.catalogue_format != FORMAT:
            words = f"this program reads catalogue format {FORMAT}, not {self.catalogue_format}"
            raise refused(Code.FORMAT, words, f"write {FORMAT}, or use the program that matches", ("catalogue_format",))
        return self


class WrittenDrink(Model):
    """A drink, by what it takes from the boiler."""

    id: Id
    name: Line
    beverage: Annotated[Mass, Spec("In the cup", ("10 g", "300 g"), "scale under the cup")]
    puck_keeps: Annotated[Mass, Spec("Kept by the puck", ("0 g", "40 g"), "weigh the puck, wet minus dry")]
    vented: Annotated[Mass, Spec("Vented after the shot", ("0 g", "30 g"), "scale under the drip")]
    time: Annotated[Time, Spec("Time of the shot", ("10 s", "90 s"), "stopwatch")]


class Drinks(Document):
    """content/drinks.yml."""

    drinks: tuple[WrittenDrink, ...] = Field(min_length=1)


class Source(Model):
    """Where a value comes from."""

    title: Line
    kind: Literal["standard", "handbook", "paper", "manual", "bench"]
    authors: Line | None = None
    year: int | None = Field(None, ge=1700, le=2100)
    where: Line | None = None
    address: Line | None = None
    note: Prose | None = None


class Sources(Document):
    """content/sources.yml."""

    sources: dict[Id, Source]


class WrittenTerm(Model):
    """A word of the trade."""

    name: Line
    means: Prose
    also: tuple[Line, ...] = ()
    see: tuple[Id, ...] = ()


class Glossary(Document):
    """content/glossary.yml."""

    terms: dict[Id, WrittenTerm]
