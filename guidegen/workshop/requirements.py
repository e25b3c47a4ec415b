"""What a kit asks of a machine: a tree of all, any, not, and comparisons of one fact with one bound.

    - id: wall-tall-enough
      says: The straight wall is taller than the coil.
      fact: boiler.straight_wall
      at_least: coil.height
      margin: 2 mm
      unmet: no
      because: Above the straight wall the coil does not touch the boiler.

A bound is a quantity, a word, or one of the computed names. Names of facts are checked against the table of known
facts: a requirement about a fact that no machine has is refused, with the nearest name.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any, Literal, Self

from pydantic import BeforeValidator, Field, ValidationInfo, WithJsonSchema, model_validator

from guidegen.problems import Code, nearest, one_of
from guidegen.units import NAMES, Quantity, UnitError, parse
from guidegen.workshop.base import Id, Line, Model, Prose, quoted, refused
from guidegen.workshop.fact_table import FactKind, FactTable
from guidegen.workshop.own_facts import named_nowhere

Comparison = Literal["at_least", "at_most", "is", "one_of"]


@dataclass(frozen=True)
class Bound:
    """What a fact is compared with: a computed name, a quantity, or words; and the margin in SI."""

    computed: str | None = None
    quantity: Quantity | None = None
    words: tuple[str, ...] = ()
    margin: float = 0.0


class Unmet(Model):
    """The remedy of an unmet requirement: another kit, a part of this kit, or work on the machine."""

    kit: Id | None = None
    part: Id | None = None
    fabrication: Id | None = None

    @model_validator(mode="after")
    def _exactly_one(self) -> Self:
        if sum(name is not None for name in (self.kit, self.part, self.fabrication)) != 1:
            raise refused(
                Code.MISSING_KEY, "one remedy is wanted: kit, part or fabrication", "write unmet: no, or one remedy"
            )
        return self


class WrittenCondition(Model):
    """A node of the tree: exactly one of `all`, `any`, `not` or a comparison of a `fact`."""

    all_: tuple[WrittenCondition, ...] = Field((), alias="all")
    any_: tuple[WrittenCondition, ...] = Field((), alias="any")
    not_: WrittenCondition | None = Field(None, alias="not")
    fact: Line | None = None
    at_least: Line | None = None
    at_most: Line | None = None
    is_: Line | None = Field(None, alias="is")
    one_of: tuple[Line, ...] = ()
    margin: Line | None = None

    @model_validator(mode="after")
    def _check(self, info: ValidationInfo) -> Self:
        given = [name for name, value in self._branches().items() if value]
        if len(given) != 1:
            found = f"{' and '.join(given)} stand together" if given else "nothing is asked"
            raise refused(
                Code.COMPARISON, f"{found}; a condition is one of all, any, not, or a fact", "keep one of them"
            )
        if self.fact is None:
            loose = [name for name, value in self._comparisons().items() if value]
            if loose or self.margin:
                raise refused(
                    Code.COMPARISON, f"{(loose or ['margin'])[0]} compares nothing: no fact here", "add fact:"
                )
        else:
            self._check_comparison(self.fact, FactTable.of(info))
        return self

    def _branches(self) -> dict[str, Any]:
        return {"all": self.all_, "any": self.any_, "not": self.not_, "fact": self.fact}

    def _comparisons(self) -> dict[str, Any]:
        return {"at_least": self.at_least, "at_most": self.at_most, "is": self.is_, "one_of": self.one_of}

    def _check_comparison(self, fact: str, facts: FactTable) -> None:
        if facts.unread and fact.startswith(facts.unread):
            return
        if fact not in facts:
            raise refused(Code.UNKNOWN_FACT, *named_nowhere(fact, facts), ("fact",))
        given = [name for name, value in self._comparisons().items() if value]
        if len(given) != 1:
            found = f"{' and '.join(given)} stand together" if given else "a fact alone decides nothing"
            raise refused(Code.COMPARISON, found, "keep one of at_least, at_most, is, one_of", ("fact",))
        self.bound(facts)

    @property
    def comparison(self) -> Comparison | None:
        """Return how the fact is compared; None for all, any, not."""
        names: tuple[Comparison, ...] = ("at_least", "at_most", "is", "one_of")
        given = self._comparisons()
        return next((name for name in names if given[name]), None)

    def bound(self, facts: FactTable) -> Bound | None:
        """Return what the fact is compared with; None for all, any, not."""
        if self.fact is None or self.comparison is None:
            return None
        name, kind = self.comparison, facts[self.fact]
        written = self.one_of or (self.at_least or self.at_most or self.is_ or "",)
        if kind.dimension is None:
            return self._words(name, kind, written)
        if name in ("is", "one_of"):
            words = f"{self.fact} is a quantity and never exactly anything"
            raise refused(Code.COMPARISON, words, "use at_least or at_most", (name,))
        return self._limit(name, kind.dimension, written[0], facts)

    def _words(self, name: Comparison, kind: FactKind, written: tuple[str, ...]) -> Bound:
        if name in ("at_least", "at_most"):
            words = f"{self.fact} is a word; {name} compares quantities"
            raise refused(Code.COMPARISON, words, "use is or one_of", (name,))
        if self.margin:
            raise refused(Code.COMPARISON, f"{self.fact} is a word and has no margin", "delete margin", ("margin",))
        for index, word in enumerate(written):
            if kind.words and word not in kind.words:
                near = nearest(word, kind.words)
                fix = f"write {near}" if near else f"use one of {one_of(kind.words)}"
                inner = ("one_of", index) if self.one_of else (name,)
                raise refused(Code.WRONG_CHOICE, f"got {quoted(word)}, {self.fact} is never that", fix, inner)
        return Bound(words=written)

    def _limit(self, name: Comparison, dimension: str, text: str, facts: FactTable) -> Bound:
        margin = self._quantity(self.margin, _difference(dimension), "margin").value if self.margin else 0.0
        computed = facts.computed
        if text in computed:
            if computed[text] != dimension:
                words = f"{text} is {NAMES[computed[text]]}, {self.fact} is {NAMES[dimension]}"
                raise refused(Code.COMPARISON, words, "compare like with like", (name,))
            return Bound(computed=text, margin=margin)
        if text in facts:
            words = f"compares two facts of the machine, {self.fact} with {text}"
            raise refused(Code.COMPARISON, words, "compare one fact with a quantity or a computed name", (name,))
        if text[:1].isalpha():
            near = nearest(text, computed)
            fix = f"write {near}" if near else f"use one of {one_of(computed)}, or a quantity"
            raise refused(Code.COMPARISON, f"got {quoted(text)}, nothing of that name is computed", fix, (name,))
        return Bound(quantity=self._quantity(text, dimension, name), margin=margin)

    def _quantity(self, text: str, dimension: str, name: str) -> Quantity:
        try:
            return parse(text, dimension)
        except UnitError as error:
            raise refused(error.code, error.message, error.fix, (name,)) from None


def _difference(dimension: str) -> str:
    return "temperature_difference" if dimension == "temperature" else dimension


_UNMET = {
    "anyOf": [
        {"enum": ["no", False]},
        {"type": "object", "minProperties": 1, "maxProperties": 1, "propertyNames": {"enum": [*Unmet.model_fields]}},
        {"type": "array", "items": {"type": "object", "minProperties": 1, "maxProperties": 1}},
    ]
}


def _remedies(value: Any) -> Any:
    """Read `unmet: no` as no remedy, and one remedy as a list of one."""
    if isinstance(value, dict):
        return (value,)
    if isinstance(value, str):
        if value == "no":
            return ()
        raise refused(
            Code.WRONG_CHOICE, f"got {quoted(value)}, no or a remedy is wanted", "write no, or {kit: banjo-feed}"
        )
    return value


class Requirement(WrittenCondition):
    """A condition with its name, its words, its reason, and its remedies where it is not met.

    `unmet: no` when nothing does; else one remedy, or a list of which any one suffices. `has_already: true` where a
    machine that does not meet it has what the kit brings, as a control of its own.
    """

    id: Id
    says: Line
    because: Prose
    unmet: Annotated[tuple[Unmet, ...], BeforeValidator(_remedies), WithJsonSchema(_UNMET)] = ()
    has_already: bool = False

    @model_validator(mode="after")
    def _nothing_to_remedy(self) -> Self:
        if self.has_already and self.unmet:
            words = "what a machine has already needs no remedy"
            raise refused(Code.COMPARISON, words, "write unmet: no, or delete has_already", ("has_already",))
        return self


def comparisons(condition: WrittenCondition) -> tuple[WrittenCondition, ...]:
    """Return every comparison in a tree, in document order."""
    if condition.fact is not None:
        return (condition,)
    branches = (*condition.all_, *condition.any_, *((condition.not_,) if condition.not_ else ()))
    return tuple(leaf for branch in branches for leaf in comparisons(branch))
