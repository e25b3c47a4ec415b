"""The entries of a phase or block: an act, a shared block, or acts repeated over the machine's parts."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Discriminator, Field, Tag

from guidegen.workshop.acts import WrittenAct
from guidegen.workshop.base import Id, Line, Model
from guidegen.workshop.steps import Step
from guidegen.workshop.when import Condition


class Include(Model):
    """A shared block, put here. `as` names this use of it where a phase uses it twice; `given` fills its braces."""

    include: Id
    as_: Id | None = Field(default=None, alias="as")
    when: Condition | None = None
    only_if: Line | None = None
    given: dict[str, str] = Field(default_factory=dict)


KINDS = {"include": "include", "each": "each", "do": "step", "act": "act"}
"""What an entry is, by the first of these keys that it has: a compiled step keeps the name of its act."""


def _kind(data: Any) -> str:
    if isinstance(data, dict):
        return str(next((kind for name, kind in KINDS.items() if name in data), "step"))
    kinds: dict[type, str] = {Include: "include", Each: "each", WrittenAct: "act"}
    return kinds.get(type(data), "step")


Written = Annotated[
    Annotated[WrittenAct, Tag("act")] | Annotated[Step, Tag("step")],
    Discriminator(_kind),
]


class Each(Model):
    """Steps repeated over the machine's parts: `each: boiler.protrusions`, those `where` the condition holds."""

    each: Line
    where: Condition | None = None
    only_if: Line | None = None
    steps: tuple[Written, ...] = Field(min_length=1)


Entry = Annotated[
    Annotated[Include, Tag("include")]
    | Annotated[Each, Tag("each")]
    | Annotated[WrittenAct, Tag("act")]
    | Annotated[Step, Tag("step")],
    Discriminator(_kind),
]
