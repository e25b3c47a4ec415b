"""How the owner of a machine is asked about it: content/questions.yml, one question per fact.

    questions:
      - fact: boiler.straight_wall
        ask: How tall is the straight part of the boiler's side wall?
        why: The coil lies against it and must not reach past its ends.
        tool: a steel ruler
        where: on the boiler's side, from the lower rim to where the wall starts to curve
        look: under-lid
        units: [mm, in]
        tolerance: 0.5 mm
        minutes: 20
        photos: [the boiler from the side, a ruler standing against it]

What such machines have, which an answer must lie in, is what the data of machines are held against, too;
`plausible: [30 mm, 120 mm]` stands here only for a fact of which nothing is said there.

A fact that is a word takes `choices` instead of `units` and `tolerance`. So may a quantity that nobody measures,
because a plate names one of a few values:

      - fact: mains.voltage
        ...
        choices:
          - {is: 230 V~, says: "220 V, 230 V or 240 V"}
          - {is: 120 V~, says: "110 V, 115 V or 120 V"}

An answer may say that the variant's data do not describe a place of this machine: `hides` names it, and from then on
every fact under it, and everything computed from one, is unknown, whatever else is answered. The fact that is asked is
always among them. Who is not sure may have any of the answers, so what one of them hides is hidden then, too:

          - {is: something-else, says: "Something else: a bend, a tee", hides: [water_path.inlet]}

`may_differ: true` marks what an earlier owner may have changed: it is asked although the variant's data know it. No
question needs the power on: a look is either from outside or under the top lid, unplugged and cold.

What no variant's data can know, the owner's socket or what was repaired, is a fact of the unit, `unit.…`. Such a
question says what has to hold for a sale, and each of its answers what becomes of it: nothing stands in the way, or
the `effect` is `suspends` (nothing is sold until the workshop has looked) or `rules-out`. It counts for every kit,
unless `kits` names some, or `effects` what they do. Questions of one `screen` are asked beside each other:

      - fact: unit.socket_earth
        title: Earth of the socket
        holds: The socket has a protective earth.
        screen: socket
        ...
        choices:
          - {is: "yes", says: "Yes"}
          - {is: "no", says: "No", effect: rules-out}

So may a question about the variant with `holds`: then the owner's answer must agree with the variant's data, or the
sale is suspended, because the guide was written for a machine as the data say.

`remedies` say what it takes to remedy what is not met, so that the page can rank the ways:

    remedies:
      - {kit: feed-preheater, fabrication: trim-protrusions, name: Trim what stands out, cuts: true}
      - {kit: ready-made, part: shorter-hose, minutes: 15}
"""

from __future__ import annotations

from collections.abc import Collection
from typing import Annotated, Literal, Self

from pydantic import Field, StringConstraints, model_validator

from guidegen.problems import Code
from guidegen.units import UNITS, Quantity, UnitError, parse
from guidegen.workshop.base import Document, Id, Line, Model, refused
from guidegen.workshop.fact_table import FactTable
from guidegen.workshop.requirements import Requirement

FactPath = Annotated[str, StringConstraints(pattern=r"^[a-z0-9_-]+(\.[a-z0-9_-]+)*$", max_length=120)]
UNIT = "unit."
"""Begins the names of facts that no variant has, only the machine of one owner."""


class OfferedAnswer(Model):
    """One answer that can be picked: the word it stands for, what the owner sees, and what follows from it.

    `hides` are places that the variant's data do not describe on such a machine. `effect` is what the answer does to
    a sale: `suspends` it until the workshop has looked, or `rules-out`.
    """

    is_: Line = Field(alias="is")
    says: Line
    hides: tuple[FactPath, ...] = ()
    effect: Literal["suspends", "rules-out"] | None = None

    @property
    def open(self) -> bool:
        """Return whether only the workshop can tell what such an answer means."""
        return bool(self.hides) or self.effect == "suspends"


class Question(Model):
    """One question: what is asked, why, how it is measured or seen, and what the answer can be."""

    fact: FactPath
    title: Line | None = None
    ask: Line
    why: Line
    holds: Line | None = None
    kits: tuple[Id, ...] = ()
    effects: tuple[FactPath, ...] = ()
    screen: Id | None = None
    tool: Line
    where: Line
    look: Literal["outside", "under-lid"]
    minutes: float = Field(gt=0, le=240)
    photos: tuple[Line, ...] = Field(min_length=1, max_length=6)
    may_differ: bool = False
    dimension: Line | None = None
    units: tuple[Line, ...] = ()
    tolerance: Line | None = None
    plausible: tuple[Line, ...] = ()
    choices: tuple[OfferedAnswer, ...] = ()

    @model_validator(mode="after")
    def _one_kind(self) -> Self:
        """Check that a question either measures or lets the owner choose, and that its numbers are such."""
        if bool(self.units) == bool(self.choices):
            raise refused(Code.MISSING_KEY, "a question measures in `units` or offers `choices`, one of the two",
                           "write units and tolerance, or choices")  # fmt: skip
        if self.of_unit:
            self._check_unit()
        elif self.holds is not None and self.units:
            words = "what is measured is held against the kit's requirements, not against the variant's data"
            raise refused(Code.UNKNOWN_KEY, words, "delete holds", ("holds",))
        if self.choices:
            self._check_choices()
        else:
            self._check_measure()
        return self

    def _check_unit(self) -> None:
        """What only an owner knows is asked with answers that have an effect on the sale."""
        if self.title is None or self.holds is None or not self.choices:
            words = f"a question about {UNIT}… has a title, says what holds, and offers choices"
            raise refused(Code.MISSING_KEY, words, "write title, holds and choices", ("fact",))
        if len({one.effect is None and not one.open for one in self.choices}) < 2:
            words = "an answer lets the sale go on, and another suspends it or rules it out"
            raise refused(Code.MISSING_KEY, words, "write effect: suspends, or rules-out", ("choices",))

    def _check_choices(self) -> None:
        words = [choice.is_ for choice in self.choices]
        for place, word in enumerate(words):
            if word in words[:place]:
                raise refused(
                    Code.DUPLICATE_ID, f'the answer "{word}" is offered twice', "keep one", ("choices", place, "is")
                )
        for name, value in (("tolerance", self.tolerance), ("plausible", self.plausible)):
            if value:
                raise refused(Code.UNKNOWN_KEY, f"a question with choices has no {name}", f"delete {name}", (name,))

    def _check_measure(self) -> None:
        if self.tolerance is None:
            raise refused(
                Code.MISSING_KEY, "what is measured has a tolerance", "write tolerance: 0.5 mm, what the tool can do"
            )
        if self.plausible and len(self.plausible) != 2:
            raise refused(
                Code.MISSING_KEY,
                "a plausible range has two ends",
                "write plausible: [30 mm, 90 mm]",
                ("plausible",),
            )
        dimension = self.measures
        for place, unit in enumerate(self.units):
            if unit not in UNITS[dimension]:
                raise refused(Code.UNKNOWN_UNIT, f'"{unit}" is no unit of {dimension.replace("_", " ")}',
                               f"use some of {', '.join(UNITS[dimension])}", ("units", place))  # fmt: skip
        self._read(self.tolerance, ("tolerance",), difference=True)
        ends = [self._read(end, ("plausible", place)) for place, end in enumerate(self.plausible)]
        if ends and ends[0].value >= ends[1].value:
            raise refused(
                Code.BAD_UNCERTAINTY, "the plausible range ends below its start", "swap the ends", ("plausible",)
            )
        if self.half_width <= 0:
            raise refused(
                Code.BAD_UNCERTAINTY,
                "no tool measures without any tolerance",
                "write what the tool can do",
                ("tolerance",),
            )

    def _read(self, text: str, inner: tuple[str | int, ...], difference: bool = False) -> Quantity:
        dimension = "temperature_difference" if difference and self.measures == "temperature" else self.measures
        try:
            return parse(text, dimension)
        except UnitError as error:
            raise refused(error.code, error.message, error.fix, inner) from None

    @property
    def measures(self) -> str:
        """Return the dimension that is measured: as written, or the first that has the first unit."""
        if self.dimension is not None and self.dimension in UNITS:
            return self.dimension
        found = [dimension for dimension, units in UNITS.items() if self.units[0] in units]
        if not found or self.dimension is not None:
            raise refused(Code.UNKNOWN_UNIT, f'"{self.dimension or self.units[0]}" is not in the table of units',
                           "look at the units the documentation lists", ("units", 0))  # fmt: skip
        return found[0]

    @property
    def half_width(self) -> float:
        """Return the tolerance in SI."""
        return self._read(self.tolerance or "", ("tolerance",), difference=True).value

    def ends(self, table: FactTable) -> tuple[float, float]:
        """Return the ends in SI of what such machines have: as their data are held against it, else as written here."""
        kind = table.get(self.fact)
        known = kind.spec.plausible if kind is not None and kind.spec is not None else None
        low, high = (self._read(end, ("plausible", place)).value for place, end in enumerate(known or self.plausible))
        return low, high

    @property
    def of_unit(self) -> bool:
        """Return whether it asks for what no variant's data can know."""
        return self.fact.startswith(UNIT)

    def counts_for(self, kit: str, kinds: Collection[str]) -> bool:
        """Return whether it counts for a kit of an id, with effects of these kinds."""
        return not (self.kits or self.effects) or kit in self.kits or not set(self.effects).isdisjoint(kinds)

    @property
    def hidden(self) -> tuple[str, ...]:
        """Return every place that one of the answers hides: who is not sure may have any of them."""
        return tuple(dict.fromkeys(place for choice in self.choices for place in choice.hides))

    @property
    def good(self) -> tuple[OfferedAnswer, ...]:
        """Return the answers that stand in no way of a sale."""
        return tuple(choice for choice in self.choices if choice.effect is None and not choice.open)

    def offered(self, word: str) -> OfferedAnswer | None:
        """Return the answer of a word; None where it is not offered."""
        return next((choice for choice in self.choices if choice.is_ == word), None)

    def agreeing(self, word: str | None) -> Self:
        """Return the same question where the data say `word`: any other answer suspends the sale."""
        changed = {"effect": "suspends"}
        choices = (one if one.is_ == word or one.effect else one.model_copy(update=changed) for one in self.choices)
        return self.model_copy(update={"choices": tuple(choices)})


class Effort(Model):
    """What a remedy takes: a kit fitted for another's sake, or a part or work that a kit's requirement names.

    `minutes` only where no instruction of this workshop carries it out: what one adds up is not written a second time.
    `needs` are requirements of the remedy's own, beyond the part's `when`: watts that must not be exceeded.
    """

    kit: Id
    part: Id | None = None
    fabrication: Id | None = None
    name: Line | None = None
    minutes: float | None = Field(None, gt=0, le=6000)
    cuts: bool = False
    mains_work: bool = False
    needs: tuple[Requirement, ...] = ()

    @model_validator(mode="after")
    def _one_thing(self) -> Self:
        """Refuse a part and a fabrication in one."""
        if self.part is not None and self.fabrication is not None:
            words = "a remedy is a part or a fabrication, not both"
            raise refused(Code.MISSING_KEY, words, "write two remedies", ("fabrication",))
        return self


class Questions(Document):
    """content/questions.yml: every question that the self-check can ask, and what remedies take."""

    questions: tuple[Question, ...] = ()
    remedies: tuple[Effort, ...] = ()

    @model_validator(mode="after")
    def _one_question_per_fact(self) -> Self:
        """Refuse two questions about one fact."""
        seen: set[str] = set()
        for place, question in enumerate(self.questions):
            if question.fact in seen:
                raise refused(
                    Code.DUPLICATE_ID,
                    f"two questions ask about {question.fact}",
                    "keep one",
                    ("questions", place, "fact"),
                )
            seen.add(question.fact)
        return self

    def about(self, fact: str) -> Question | None:
        """Return the question about a fact, or None where nobody is asked."""
        return next((question for question in self.questions if question.fact == fact), None)

    def effort(self, kit: str, part: str | None = None, fabrication: str | None = None) -> Effort | None:
        """Return what a remedy takes, or None where that is not stated."""
        wanted = (kit, part, fabrication)
        return next((one for one in self.remedies if (one.kit, one.part, one.fabrication) == wanted), None)
