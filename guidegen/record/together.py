"""What the record holds of a kit and another on one machine."""

from __future__ import annotations

from guidegen.record.base import Record


class Because(Record):
    """A sentence and its reason."""

    says: str
    because: str | None = None


class LeftOut(Record):
    """A step of the instruction that comes second, whose work the first one has done: its number and sentence."""

    number: str
    do: str


class Visits(Record):
    """How often the skilled person comes: for each of the two kits as fitted in order, and for both together."""

    each: tuple[int, int]
    both: int


class Together(Record):
    """This kit and another that fits the same machine.

    `first` and `second` are their ids in the order of fitting; null where neither instruction can follow the other as
    it is written, and then there is nothing else to say. `left_out` are steps of the second, `undone` what it undoes of
    the first. `computed_as`: the id of the kit whose figures hold for both; null where the pair is not computed.
    """

    other: str
    other_name: str
    first: str | None
    second: str | None
    order: Because
    left_out: tuple[LeftOut, ...] = ()
    undone: tuple[str, ...] = ()
    visits: Visits | None = None
    computed_as: str | None = None
    off: Because | None = None
