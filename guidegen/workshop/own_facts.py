"""Facts of a workshop's own: what its kits ask of machines that no machine of the program has, as a thread or a height.

    facts:
      - id: foot_thread
        title: Thread in the feet
        kind: choice
        choices: [M4, M5]
        settles: try a screw

Machines state them under `own:`, in the four ways of any fact; requirements, questions and `when:` name them
`own.foot_thread`.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import Annotated, Any, Literal, Self

from pydantic import ConfigDict, Field, StringConstraints, create_model, model_validator

from guidegen.problems import Code, Problem, nearest, one_of, undeclared
from guidegen.units import UNITS, UnitError, parse
from guidegen.workshop.base import Document, Line, Model, quoted, refused
from guidegen.workshop.facts import SOME_UNITS, UNKNOWN, Choice, Fact, Spec
from guidegen.workshop.fields import Choices, Dimension

PLACE = "own"
"""The key of a machine under which they stand, and the beginning of their names."""
FILE = "content/facts.yml"
FactId = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9_]{0,39}$")]


def named_nowhere(fact: str, names: Iterable[str]) -> tuple[str, str]:
    """Return what is wrong with the name of a fact that no machine has, and the fix.

    >>> named_nowhere("own.foot_thread", ["boiler.mass"])
    ('content/facts.yml has no fact "foot_thread"', 'declare it in content/facts.yml')
    >>> named_nowhere("boiler.mas", ["boiler.mass"])
    ('no machine has a fact "boiler.mas"', 'write boiler.mass')
    """
    near = nearest(fact, names)
    if fact.startswith(f"{PLACE}."):
        message, fix = f"{FILE} has no fact {quoted(fact.removeprefix(f'{PLACE}.'))}", f"declare it in {FILE}"
    else:
        message, fix = f"no machine has a fact {quoted(fact)}", "look at `guidegen show` for the names of facts"
    return message, f"write {near}" if near else fix


def without_undeclared(problems: Iterable[Problem]) -> list[Problem]:
    """Return the problems without those of names that nobody declared: their declaration cannot be read."""
    return [one for one in problems if undeclared(one) is None]


class WrittenFact(Model):
    """What a fact is called, which kind of thing it is, and how it is found out."""

    id: FactId
    title: Line
    kind: Literal["quantity", "choice", "text"]
    unit: Line | None = None
    choices: tuple[Line, ...] = ()
    plausible: tuple[Line, ...] = ()
    settles: Line = ""
    vital: bool = False

    @model_validator(mode="after")
    def _of_its_kind(self) -> Self:
        if hasattr(Model, self.id):
            raise refused(Code.BAD_ID, f"{quoted(self.id)} is a word of the program's own", "choose another", ("id",))
        wanted = {"quantity": "unit", "choice": "choices"}.get(self.kind)
        for name in ("unit", "choices", "plausible"):
            if getattr(self, name) and name != wanted and not (name == "plausible" and self.kind == "quantity"):
                raise refused(Code.UNKNOWN_KEY, f"a {self.kind} has no {name}", f"delete {name}", (name,))
        if wanted is not None and not getattr(self, wanted):
            example = "unit: mm" if wanted == "unit" else "choices: [M4, M5]"
            raise refused(Code.MISSING_KEY, f"a {self.kind} says its {wanted}", f"add {example}", ("kind",))
        self._check_choices()
        self._check_unit()
        return self

    def _check_choices(self) -> None:
        for index, word in enumerate(self.choices):
            if word in self.choices[:index] or word in (UNKNOWN, SOME_UNITS):
                words = f"{quoted(word)} stands twice, or means that nobody knows"
                raise refused(Code.WRONG_CHOICE, words, "delete it", ("choices", index))

    def _check_unit(self) -> None:
        if self.unit is None:
            return
        if self.dimension is None:
            known = [unit for table in UNITS.values() for unit in table if unit]
            near = nearest(self.unit, known)
            fix = f"write {near}" if near else "use a unit of the table, as mm, bar or s"
            raise refused(Code.UNKNOWN_UNIT, f"{quoted(self.unit)} is not in the table of units", fix, ("unit",))
        if self.plausible and len(self.plausible) != 2:
            raise refused(Code.MISSING_KEY, "a plausible range has two ends", "write plausible: [5 mm, 20 mm]",
                          ("plausible",))  # fmt: skip
        ends = []
        for index, end in enumerate(self.plausible):
            try:
                ends.append(parse(end, self.dimension).value)
            except UnitError as error:
                raise refused(error.code, error.message, error.fix, ("plausible", index)) from None
        if ends and ends[0] >= ends[1]:
            raise refused(Code.BAD_UNCERTAINTY, "the plausible range ends below its start", "swap the ends",
                          ("plausible",))  # fmt: skip

    @property
    def dimension(self) -> str | None:
        """Return what its unit measures: the first of the table of units that has it."""
        return next((name for name, table in UNITS.items() if self.unit in table), None)

    @property
    def annotation(self) -> Any:
        """Return the type of the field of a machine that states it."""
        ends = (self.plausible[0], self.plausible[1]) if self.plausible else None
        spec = Spec(self.title, ends, self.settles, vital=self.vital)
        if self.kind == "quantity":
            return Annotated[Fact, Dimension(self.dimension or ""), spec]
        return Annotated[Choice, Choices(self.choices), spec]


class OwnFacts(Document):
    """content/facts.yml: facts of the workshop's own, which its machines may state and its kits may ask."""

    facts: tuple[WrittenFact, ...] = ()


class OwnValues(Model):
    """What a machine states of them; this one has none, `values_of` makes one that has."""

    # An editor's schema is not of one workshop, so it takes any name here.
    model_config = ConfigDict(json_schema_extra={"additionalProperties": True})

    @classmethod
    def no_such(cls, name: str) -> tuple[Code, str, str]:
        """Return what is wrong with a name that nobody declared, and the fix."""
        near = nearest(name, cls.model_fields)
        known = f"use one of {one_of(list(cls.model_fields))}, or declare" if cls.model_fields else "declare"
        fix = f"write {near}" if near else f"{known} it in {FILE}"
        return Code.UNKNOWN_FACT, f"{FILE} has no fact {quoted(name)}", fix


class UnreadValues(OwnValues):
    """What a machine states of them while nobody can read how they are declared: whatever stands there."""

    @model_validator(mode="before")
    @classmethod
    def _whatever(cls, data: Any) -> Any:
        return {} if isinstance(data, dict) else data


@lru_cache(maxsize=16)
def values_of(facts: tuple[WrittenFact, ...] | None) -> type[OwnValues]:
    """Return the model of what a machine states of these facts, none of which it has to; None: nobody can read them."""
    if facts is None:
        return UnreadValues
    fields: dict[str, Any] = {one.id: (one.annotation | None, Field(default=None)) for one in facts}
    return create_model("OwnValues", __base__=OwnValues, **fields)
