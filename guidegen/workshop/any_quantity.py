"""A quantity of whatever dimension its unit says: for fields that cannot know beforehand what is measured."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import AfterValidator, GetJsonSchemaHandler
from pydantic_core import CoreSchema

from guidegen.problems import Code
from guidegen.unit_table import UNITS
from guidegen.units import UnitError, parse
from guidegen.workshop.base import Line, Place, refused
from guidegen.workshop.facts import Fact
from guidegen.workshop.fields import Dimension

OTHERS = (Code.WRONG_DIMENSION, Code.UNKNOWN_UNIT, Code.MISSING_UNIT)
"""What a text is to every dimension that is not its own."""


def dimension_of(text: str) -> str:
    """The dimension of a quantity: the first of the table that has its unit; raise `UnitError` where none has.

    >>> dimension_of("62 dB(A) ± 1 dB(A)"), dimension_of("28 s")
    ('sound_level', 'time')
    """
    faults = []
    for dimension in UNITS:
        try:
            parse(text, dimension)
        except UnitError as error:
            faults.append(error)
        else:
            return dimension
    own = next((one for one in faults if one.code not in OTHERS), None)
    if own is not None:
        raise own
    # A unit that is nearly one of ours is written out; a dimension of plain numbers would leave it out.
    meant = next((one for one in faults if one.fix.startswith("write ") and one.fix.count(" ") > 1), None)
    raise meant or UnitError(Code.UNKNOWN_UNIT, faults[0].message, "use a unit of the table, as mm, bar, s or dB(A)")


@dataclass(frozen=True)
class AnyDimension(Dimension):
    """Field annotation that parses a quantity whose unit says its dimension."""

    dimension: str = ""

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """One of the definitions that the schema writer adds, a dimension each."""
        return {"anyOf": [{"x-fact": one} for one in UNITS]}

    def example(self) -> str:
        """Return a value, for a fix."""
        return "12 mm"

    def make(self, text: str, place: Place | None, **known: Any) -> Fact:
        """Parse what was written as what its unit measures; somebody has to know it."""
        word = known.get("word")
        if word is None:
            raise refused(Code.EMPTY_VALUE, f"got {text}, a value is wanted", f"write it like {self.example()}")
        try:
            found = dimension_of(word)
        except UnitError as error:
            raise refused(error.code, error.message, error.fix) from None
        return Dimension(found).make(text, place, **known)


AnyQuantity = Annotated[Fact, AnyDimension()]


def _quantity(text: str) -> str:
    try:
        dimension_of(text)
    except UnitError as error:
        raise refused(error.code, error.message, error.fix) from None
    return text


QuantityText = Annotated[Line, AfterValidator(_quantity)]
"""A quantity of whatever dimension, kept as it was written."""
