"""How a step of a procedure is written: the act, what it is done to, and its numbers.

The words of the step, what it needs and changes, its hazards and tools follow from the act; the table of acts is
`guidegen/judge/acts/rows.yml`.
"""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field, GetJsonSchemaHandler, model_validator
from pydantic_core import CoreSchema

from guidegen.workshop.base import Id, Line, Model, Prose
from guidegen.workshop.steps import Role, WrittenTorque
from guidegen.workshop.when import Condition


class _OneOrMany:
    """In the schema for editors: one alone stands without brackets."""

    def __get_pydantic_json_schema__(self, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        many = handler(core)
        return {"anyOf": [many["items"], many]}


ThingNames = Annotated[tuple[Line, ...], _OneOrMany()]


class PlainAct(Model):
    """What every act says: which it is, and what it is done to. `of`, `at` and `to` are ids of things, one or a list.

    `amount` is a time or a turn that the sentence prints; `limit` what is accepted.
    """

    act: Id
    of: ThingNames = ()
    at: ThingNames = ()
    to: ThingNames = ()
    amount: Line | None = None
    limit: Line | None = None
    how: Prose | None = None
    why: Prose | None = None
    when: Condition | None = None

    @model_validator(mode="before")
    @classmethod
    def _one_is_a_list(cls, data: Any) -> Any:
        if not isinstance(data, dict):
            return data
        return {name: (value,) if name in ("of", "at", "to", "with") and isinstance(value, str) else value
                for name, value in data.items()}  # fmt: skip


class WrittenAct(PlainAct):
    """One act as a step. `{item.id}` is the thing of a repeated step.

    `with` are ids of the kit's lists in place of the usual tool; `back_to` the step to which its failing side leads,
    where the act leaves that open. `for_good`: what is taken off does not come back. `role` may ask for more skill
    than the act, never less.
    """

    id: Id
    with_: ThingNames = Field(default=(), alias="with")
    back_to: Line | None = None
    for_good: bool = False
    torque: WrittenTorque | None = None
    only_if: Line | None = None
    role: Role | None = None
    minutes: float | None = Field(default=None, ge=0, le=1000)
    figure: Id | None = None
