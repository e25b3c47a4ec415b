"""What a procedure says around its steps, written as acts: how a failing side ends, after-care, the table of faults.

An act that is no more than its name is written as that: `stop: [no-power, hang-sign]`. Which act may stand where, and
what it says, is in `guidegen/judge/acts/rows.yml`.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NoReturn, Self, get_args

from pydantic import BeforeValidator, Field, GetJsonSchemaHandler, model_validator
from pydantic_core import CoreSchema

from guidegen.language import marked
from guidegen.problems import Code
from guidegen.workshop.acts import PlainAct, WrittenAct
from guidegen.workshop.base import Id, Line, Model, refused
from guidegen.workshop.when import Condition

ACTS_FIX = "write it as an act; `guidegen convert` does most of it"

Occasion = Literal[
    "after-a-week", "after-a-month", "after-a-year", "every-year", "weekly-at-first", "first-heat-and-yearly",
    "after-each-descaling",
    "first-drink-of-the-day", "when-opened", "always",
]  # fmt: skip
"""When an act of after-care is done."""
OCCASIONS: dict[Occasion, str] = {
    "after-a-week": marked("After a week"),
    "after-a-month": marked("After a month"),
    "after-a-year": marked("After a year"),
    "every-year": marked("Every year"),
    "weekly-at-first": marked("Once a week in the first month"),
    "first-heat-and-yearly": marked("In the first heat, and then once a year"),
    "after-each-descaling": marked("After each descaling"),
    "first-drink-of-the-day": marked("Before the first drink of the day"),
    "when-opened": marked("Whenever the machine is opened"),
    "always": marked("Always"),
}
"""Their words."""
assert set(OCCASIONS) == set(get_args(Occasion))


def in_words(value: Any) -> bool:
    """Whether a text is a sentence where the name of an act is wanted."""
    return isinstance(value, str) and " " in value.strip()


def _refuse(what: str, *inner: str) -> NoReturn:
    raise refused(Code.OLD_FORM, f"{what} in words, not an act", ACTS_FIX, inner)


class _NameOrWhole:
    """In the schema for editors: a name alone stands for an act that says no more."""

    def __init__(self, many: bool = False) -> None:
        self._many = many

    def __get_pydantic_json_schema__(self, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        whole = handler(core)
        one = whole["items"] if self._many else whole
        name = {"type": "string", "pattern": "^[a-z0-9-]{1,40}$"}
        return {"anyOf": [name, one, {**whole, "items": {"anyOf": [name, one]}}]} if self._many else {
            "anyOf": [name, one]}  # fmt: skip


def _whole(key: str) -> BeforeValidator:
    """A name alone becomes an act with that name under the key."""
    return BeforeValidator(lambda value: {key: value} if isinstance(value, str) else value)


def _list_of(key: str) -> BeforeValidator:
    """One alone becomes a list of one, and names alone acts."""

    def made(value: Any) -> Any:
        items = value if isinstance(value, tuple) else (value,)
        return tuple({key: one} if isinstance(one, str) else one for one in items)

    return BeforeValidator(made)


class WrittenSign(PlainAct):
    """What somebody notices, or its cause: a statement of the table, by its name under `is`, and what it is about."""

    act: Id = Field(alias="is")


Acts = Annotated[tuple[PlainAct, ...], _list_of("act"), _NameOrWhole(many=True)]
Sign = Annotated[WrittenSign, _whole("is"), _NameOrWhole()]
Signs = Annotated[tuple[WrittenSign, ...], _list_of("is"), _NameOrWhole(many=True)]


def as_step(act: PlainAct) -> WrittenAct:
    """The act as a step has it, under its own name."""
    written = {name: getattr(act, name) for name in PlainAct.model_fields}
    return WrittenAct.model_validate({**written, "id": act.act})


class RemedyEnd(Model):
    """Where the steps of a failing side lead: to a step, phase or remedy, or to the acts that end the work."""

    goto: Line | None = None
    stop: Acts = ()

    @model_validator(mode="before")
    @classmethod
    def _in_acts(cls, data: Any) -> Any:
        if isinstance(data, Mapping) and ("who_can_help" in data or in_words(data.get("stop"))):
            _refuse("a stop", "stop" if "stop" in data else "who_can_help")
        return data

    @model_validator(mode="after")
    def _leads_somewhere(self) -> Self:
        if bool(self.goto) == bool(self.stop):
            raise refused(Code.MISSING_KEY, "leads to a step or to a stop: one of the two", "write goto: or stop:")
        return self


class Care(PlainAct):
    """An act of after-care, and its occasion."""

    id: Id
    occasion: Occasion

    @model_validator(mode="before")
    @classmethod
    def _in_acts(cls, data: Any) -> Any:
        if isinstance(data, Mapping) and "says" in data:
            _refuse("after-care", "says")
        return data


class FaultEntry(Model):
    """A symptom, its likely causes, the acts that decide between them, and what to do about it.

    Whether the machine is used on follows from the symptom.
    """

    symptom: Sign
    cause: Annotated[Signs, Field(min_length=1)]
    check: Acts = ()
    do: Acts = ()
    when: Condition | None = None

    @model_validator(mode="before")
    @classmethod
    def _in_acts(cls, data: Any) -> Any:
        for name in ("symptom", "cause", "check", "do") if isinstance(data, Mapping) else ():
            if in_words(data.get(name)):
                _refuse(f"a {name}" if name in ("symptom", "cause", "check") else "what to do", name)
        if isinstance(data, Mapping) and "stop_use" in data:
            words = "whether the machine is used on follows from the symptom"
            raise refused(Code.OLD_FORM, words, "delete the line", ("stop_use",))
        return data


class StopUse(WrittenSign):
    """One more symptom at which nobody uses the machine on."""

    @model_validator(mode="before")
    @classmethod
    def _in_acts(cls, data: Any) -> Any:
        if isinstance(data, Mapping) and in_words(data.get("is")):
            _refuse("a symptom")
        return data


StopUses = Annotated[tuple[StopUse, ...], _list_of("is"), _NameOrWhole(many=True)]
