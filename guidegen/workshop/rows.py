"""How a row of acts is written: its things, its sentence, its hold point; and a workshop's own acts, content/acts.yml.

An own act can be done badly, so it is worth nothing: it sets no state of the machine, and whatever was valid of a
lead, joint, device or cover that it names counts no more. What it sets is a look of its own name, for others to ask.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, Literal, Self

from pydantic import ConfigDict, Field, model_validator

from guidegen.problems import Code, nearest, one_of
from guidegen.workshop.base import Id, Line, Loc, Model, Prose, refused
from guidegen.workshop.bounds import Bounds
from guidegen.workshop.inventory import ThingKind
from guidegen.workshop.step_state import StateValues
from guidegen.workshop.steps import Role
from guidegen.workshop.texts import WithTexts
from guidegen.workshop.when import Condition

Kind = Literal[ThingKind, "any", "circuit", "consumable", "device", "joint", "lead", "other-kit", "protrusion", "tool"]
"""What a thing can be, of the inventories or else; `any` stands for all of them."""
Measured = Literal["acidity", "count", "length", "pressure", "ratio", "resistance", "temperature", "time"]

SLOTS = ("of", "at", "to")
"""Where an act names things."""
_BRACES = re.compile(r"\{([a-z_0-9-]+)[^{}]*\}")
_NAMED = re.compile(
    r"\b(?:bolt|boiler|casing|cover|device|earth|element|fuse|gasket|heater|hose|joint|lead|nut|pipe|seat|sensor|tab|tap|"
    r"terminal|thermostat|valve|wire|wiring)s?\b", re.IGNORECASE,
)  # fmt: skip
"""Things that an own act takes as things: named in words alone, nothing would be known of them."""


class RowHold(Model):
    """What must be seen or read before anybody goes on, and where the failing side leads.

    `criterion` is one look or reading, `looks` are several, each of which is ticked and written down by itself.
    `none` counts what must not be there, `some` what must; else a limit of one dimension and sense, the author's or
    the row's own. The failing side ends the work (`stop` with who can `help`) or leads to a
    remedy or step (`goto`): `itself` is the same step, `back` the step that the author names.
    """

    criterion: Prose | None = None
    looks: tuple[Prose, ...] = ()
    method: Prose | None = None
    none: Line | None = None
    some: Line | None = None
    at_most: Measured | None = None
    at_least: Measured | None = None
    within: Measured | None = None
    limit: Line | None = None
    read_with: Line | None = None
    record: Line | None = None
    stop: Prose | None = None
    help: Prose | None = None
    goto: Line | None = None

    @model_validator(mode="after")
    def _says_what_is_looked_at(self) -> Self:
        if (self.criterion is None) == (len(self.looks) < 2):
            words, fix = "says one thing, or lists several", "write criterion: or, for two or more, looks:"
            raise refused(Code.OWN_ACT, words, fix, ("criterion",))
        return self

    @property
    def says(self) -> tuple[str, ...]:
        """Everything that must be seen or read."""
        return self.looks or (self.criterion or "",)

    @property
    def sense(self) -> Literal["at_most", "at_least", "within"] | None:
        """The sense of the limit that the author states; None where the row counts."""
        return "at_most" if self.at_most else "at_least" if self.at_least else "within" if self.within else None

    @property
    def asks_limit(self) -> bool:
        """Whether the author states the limit."""
        return self.sense is not None and self.limit is None


def _one_or_a_list(schema: dict[str, Any]) -> None:
    """Let an editor accept one kind where a list may stand."""
    for name in SLOTS:
        listed = schema["properties"][name]
        schema["properties"][name] = {"anyOf": [listed, listed["items"]]}


class ActRow(Model):
    """What every row has. `of`, `at`, `to`: the kinds of things that it takes, one or a list.

    `amount` is what the author states and the sentence prints; `bounds` are what amount, limit, and values that the
    words print must not be laxer than; `looks` names a look that the act sets, `asks` looks that must be set before
    it, `needs` values of the machine's state.
    """

    model_config = ConfigDict(json_schema_extra=_one_or_a_list)

    of: tuple[Kind, ...] = ()
    at: tuple[Kind, ...] = ()
    to: tuple[Kind, ...] = ()
    amount: Literal["time", "turn", "setting"] | None = None
    bounds: dict[Line, Bounds] = Field(default_factory=dict)
    say: Prose | None = None
    why: Prose | None = None
    when: Condition | None = None
    needs: StateValues = StateValues()
    asks: tuple[Id, ...] = ()
    looks: Id | None = None
    tools: tuple[Id, ...] = ()
    consumables: tuple[Id, ...] = ()
    hazards: tuple[Id, ...] = ()
    role: Role | None = None
    minutes: float | None = Field(default=None, ge=0, le=1000)
    hold: RowHold | None = None

    @model_validator(mode="before")
    @classmethod
    def _one_kind_is_a_list(cls, data: Any) -> Any:
        if not isinstance(data, dict):
            return data
        return {name: (value,) if name in SLOTS and isinstance(value, str) else value for name, value in data.items()}

    def kinds(self, slot: str) -> tuple[Kind, ...]:
        """The kinds that a slot takes: `of`, `at` or `to`; none where the row has no such slot."""
        kinds: tuple[Kind, ...] = getattr(self, slot)
        return kinds


class OwnAct(ActRow):
    """An act of the workshop's own."""

    say: Prose
    minutes: float = Field(ge=0, le=1000)

    @model_validator(mode="after")
    def _says_what_it_takes(self) -> Self:
        for loc, text in self.texts():
            for name in _BRACES.findall(text):
                if name in ("of", "at", "to", "with", "amount", "limit") and not self._takes(name):
                    fix = "add tools:" if name == "with" else "add hold:" if name == "limit" else f"add {name}:"
                    raise refused(Code.OWN_ACT, f"prints {{{name}}}, which this act does not take", fix, loc)
        return self

    @model_validator(mode="after")
    def _bounds_what_it_has(self) -> Self:
        printed = {name for _, text in self.texts() for name in _BRACES.findall(text)}
        has = {*(name for name in ("amount", "limit") if self._takes(name)), *printed - {*SLOTS, "with"}}
        for name in self.bounds:
            if name not in has:
                words = f"bounds `{name}`, which this act neither takes nor prints"
                raise refused(Code.OWN_ACT, words, f"write one of {one_of(has)}" if has else "leave it out",
                              ("bounds", name))  # fmt: skip
        return self

    @model_validator(mode="after")
    def _says_things_as_things(self) -> Self:
        for loc, text in self.texts():
            if loc not in (("say",), ("hold", "method")):
                continue
            if hit := _NAMED.search(_BRACES.sub("", text.partition(" ")[2])):
                words = f"names `{hit.group()}` in words alone, so that nothing is known of it"
                raise refused(Code.OWN_ACT, words, "write {of}, {at} or {to}, and the thing in the step", loc)
        return self

    def texts(self) -> Iterator[tuple[Loc, str]]:
        """Everything in it that is printed, and where it stands."""
        yield ("say",), self.say
        if self.why:
            yield ("why",), self.why
        if self.hold:
            yield from ((("hold", "looks", index), text) for index, text in enumerate(self.hold.looks))
            for name in ("criterion", "method", "record", "stop", "limit", "none", "some"):
                if text := getattr(self.hold, name):
                    yield ("hold", name), text

    def _takes(self, slot: str) -> bool:
        if slot in SLOTS:
            return bool(self.kinds(slot))
        if slot == "limit":
            return self.hold is not None and self.hold.sense is not None
        return bool(self.tools if slot == "with" else self.amount)


class OwnActs(WithTexts):
    """content/acts.yml: a workshop's own acts, by name."""

    acts: dict[Id, OwnAct]

    @model_validator(mode="after")
    def _asks_what_something_looks_at(self) -> Self:
        looks = {act.looks for act in self.acts.values() if act.looks}
        for name, act in self.acts.items():
            for index, asked in enumerate(act.asks):
                if asked not in looks:
                    near = nearest(asked, looks)
                    fix = f"write {near}" if near else f"write looks: {asked} at the act that sets it"
                    words = f'no act sets a look called "{asked}"'
                    raise refused(Code.OWN_ACT, words, fix, ("acts", name, "asks", index))
        return self
