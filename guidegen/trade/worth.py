"""From which change of a drink on a kit is worth something: limits that a workshop may set otherwise.

A sensor on a boiler wall is read to some tenths of a kelvin, and a drop is the difference of two readings, so half a
kelvin is what one can still see (common practice, no source). Three tenths of the drop and a whole kelvin are what
nobody overlooks. The shares say how sure the draws must be before a page says so: one in ten is enough for a warning,
nineteen of twenty are wanted for a promise, four of five for anything between.
"""

from __future__ import annotations

from typing import Annotated, Any, Self

from pydantic import BeforeValidator, Field, WithJsonSchema, model_validator

from guidegen.problems import Code
from guidegen.units import UnitError, parse
from guidegen.workshop.base import Model, quoted, refused


def _limit(dimension: str, low: str, high: str, example: str) -> tuple[Any, ...]:
    """What reads one limit without an uncertainty: a quantity between two others, in SI."""
    least, most = parse(low, dimension).value, parse(high, dimension).value

    def read(value: Any) -> Any:
        if not isinstance(value, str):
            return value
        try:
            quantity = parse(str(value), dimension)
        except UnitError as error:
            raise refused(error.code, error.message, error.fix or f"write it like {example}") from None
        if quantity.plus_minus:
            raise refused(Code.BAD_UNCERTAINTY, f"got {quoted(value)}, a limit has no uncertainty", "delete the ±")
        if not least <= quantity.value <= most:
            words = f"got {quoted(value)}, such a limit lies between {low} and {high}"
            raise refused(Code.OUT_OF_BOUNDS, words, f"write it like {example}")
        return quantity.value

    return BeforeValidator(read), WithJsonSchema({"type": "string", "examples": [example]})


_DROP = _limit("temperature_difference", "0.1 K", "10 K", "0.5 K")
_SHARE = _limit("ratio", "1 %", "99 %", "80 %")


class WrittenLimits(Model):
    """The block `worth` of content/workshop.yml; what is left out is as here."""

    felt: Annotated[float, *_DROP, Field(description="A drop that changes by less counts as unchanged")] = 0.5
    clear: Annotated[float, *_DROP, Field(description="Clearly better from so much less")] = 1.0
    clear_ratio: Annotated[float, *_SHARE, Field(description="and up to this share of the drop without the kit")] = 0.7
    worse_from: Annotated[float, *_SHARE, Field(description="Share of draws from which a kit may do harm")] = 0.1
    clear_from: Annotated[float, *_SHARE, Field(description="Share of draws from which it is clearly better")] = 0.95
    likely_from: Annotated[float, *_SHARE, Field(description="Share of draws for a little better, or nothing")] = 0.8

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if self.clear < self.felt:
            raise refused(Code.OUT_OF_BOUNDS, "clearly better from less than what counts as unchanged",
                          "write clear: at least as large as felt:", ("clear",))  # fmt: skip
        for name in ("clear_from", "likely_from"):
            if getattr(self, name) <= 0.5:
                raise refused(Code.OUT_OF_BOUNDS, f"{name} of a half or less would promise what is as likely not so",
                              "write more than 50 %", (name,))  # fmt: skip
        return self
