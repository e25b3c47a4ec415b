"""The table of acts as pages and the terminal print it: what a step of an instruction can be, and what follows from it.

Texts stand here in the source language; whoever prints a sentence looks it up.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from guidegen.record.base import Record


class ActSlot(Record):
    """What an act is done to: the key of the step, and the kinds of things that it takes; none stated: anything."""

    key: Literal["of", "at", "to"]
    kinds: tuple[str, ...]
    optional: bool


class ActBound(Record):
    """How far a number of an act may go: amount, limit, or a value that its words print, with both ends in words."""

    name: str
    words: str


class ActNumber(Record):
    """A limit that an act's test has: its sense and dimension, and the row's own where the author states none."""

    sense: Literal["at_most", "at_least", "within"]
    dimension: str
    fixed: str | None


class ActHold(Record):
    """What must be seen before anybody goes on: in words, by count or by limit, and where the failing side leads."""

    criterion: str
    counts: str | None
    number: ActNumber | None
    fails: str


class ActWay(Record):
    """One way in which an act is done, and what follows from it; `when` says on which machines, where there are more.

    `needs` and `sets` are values of the machine's state. `follows` is what it does in words.
    """

    when: str | None
    sentence: str
    example: str
    follows: str
    needs: tuple[str, ...]
    sets: tuple[str, ...]
    who: str
    tools: tuple[str, ...]
    consumables: tuple[str, ...]
    hazards: tuple[str, ...]
    minutes: float
    irreversible: bool


class ActPart(Record):
    """One act: its name, where it stands, what is written beside it, its ways, its hold point, how it is written."""

    name: str
    place: Literal["step", "stop", "care", "symptom", "cause"]
    slots: tuple[ActSlot, ...]
    amount: Literal["time", "turn"] | None
    bounds: tuple[ActBound, ...]
    torque: bool
    back_to: bool
    ways: tuple[ActWay, ...]
    hold: ActHold | None
    written: str

    @property
    def takes(self) -> Iterator[tuple[str, str]]:
        """Each key that this act has beside its name, with what stands there."""
        if self.place == "care":
            yield "occasion", "when it is done"
        for slot in self.slots:
            kinds = " or ".join(slot.kinds) or "anything"
            yield slot.key, f"{kinds}, or left out" if slot.optional else kinds
        if self.amount:
            yield "amount", f"a {self.amount}{self._bound('amount')}"
        if self.torque:
            yield "torque", "a torque, with thread and state"
        number = self.hold.number if self.hold else None
        if number is not None and number.fixed is None:
            yield "limit", f"{number.sense.replace('_', ' ')} a {number.dimension}{self._bound('limit')}"
        if self.back_to:
            yield "back_to", "the step to go back to"

    def _bound(self, name: str) -> str:
        return next((f", {one.words}" for one in self.bounds if one.name == name), "")


class ActSection(Record):
    """A part of the table with its acts."""

    title: str
    acts: tuple[ActPart, ...]
