"""What a kit gains beside heat: a quantity before and after that the workshop states, since nothing computes it."""

from __future__ import annotations

from typing import Annotated, Self

from pydantic import model_validator

from guidegen.problems import Code
from guidegen.workshop.any_quantity import AnyQuantity
from guidegen.workshop.base import Id, Line, Model, Prose, quoted, refused
from guidegen.workshop.downsides import About
from guidegen.workshop.facts import Spec

COMPUTED = ("temperature", "temperature_difference", "heat_capacity", "conductance", "power", "energy")
"""What the network computes of every kit: nobody states it beside that."""


class WrittenGain(Model):
    """A quantity that becomes another with the kit: before and after with their evidence, and how it was found.

    `about` is what of the downsides it belongs to, as noise; there the reply to a customer says it too.
    """

    id: Id
    title: Line
    before: Annotated[AnyQuantity, Spec("Without the kit")]
    after: Annotated[AnyQuantity, Spec("With the kit")]
    how: Prose
    about: About | None = None

    @model_validator(mode="after")
    def _is_a_change(self) -> Self:
        before, after = self.before, self.after
        if before.dimension in COMPUTED:
            words = f"{quoted(before.text)} is computed of every kit, from what the kit does to the machine"
            raise refused(Code.OUT_OF_BOUNDS, words, "write it as one of effects:, and delete this gain", ("before",))
        if after.dimension != before.dimension:
            words = f"{quoted(before.text)} becomes {quoted(after.text)}, which is another kind of quantity"
            raise refused(Code.WRONG_DIMENSION, words, "write both in the same unit", ("after",))
        if after.value == before.value:
            words = f"{quoted(before.text)} stays {quoted(after.text)}"
            raise refused(Code.OUT_OF_BOUNDS, words, "delete this gain, or correct one of the two", ("after",))
        return self
