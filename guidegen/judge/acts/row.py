"""The table of acts: one row per sentence, with its effect, the things it takes, tools, minutes and hold point."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any, Literal, Self

from pydantic import Field, model_validator

from guidegen.judge.acts.effects import EFFECTS
from guidegen.workshop.base import Document, Id, Line, Model, Prose
from guidegen.workshop.nodes import to_data
from guidegen.workshop.reader import read_file
from guidegen.workshop.steps import Role
from guidegen.workshop.when import Condition

TABLE = Path(__file__).with_name("rows.yml")
"""The rows of the program."""

Kinds = Literal["any"] | tuple[Line, ...]
Measured = Literal["count", "length", "pressure", "resistance", "temperature", "time", "turn"]


class RowHold(Model):
    """What must be seen or read before anybody goes on, and where the failing side leads.

    `none` counts what must not be there, `some` what must; else a limit of one dimension and sense, the author's or
    the row's own, never laxer than `bound`. The failing side ends the work (`stop` with who can `help`) or leads to a
    remedy or step (`goto`): `itself` is the same step, `back` the step that the author names.
    """

    criterion: Prose
    method: Prose | None = None
    none: Line | None = None
    some: Line | None = None
    at_most: Measured | None = None
    at_least: Measured | None = None
    within: Measured | None = None
    limit: Line | None = None
    bound: Line | None = None
    read_with: Line | None = None
    record: Line | None = None
    stop: Prose | None = None
    help: Prose | None = None
    goto: Line | None = None

    @property
    def sense(self) -> Literal["at_most", "at_least", "within"] | None:
        """The sense of the limit that the author states; None where the row counts."""
        return "at_most" if self.at_most else "at_least" if self.at_least else "within" if self.within else None

    @property
    def asks_limit(self) -> bool:
        """Whether the author states the limit."""
        return self.sense is not None and self.limit is None


class RowRelease(Model):
    """By what the pressure is let off, and what shows that it is gone."""

    by: Prose
    proof: Prose


class RowSeat(Model):
    """Where a device or sensor sits, and what holds it there."""

    position: Prose
    clamp: Prose


class Row(Model):
    """One row. `of`, `at`, `to`: the kinds of things that it takes; a case of a row states only what differs.

    `handles`: its things are taken in hand, so that those of the kit's lists stand among what the step uses.
    `section` names the part of the table that begins here.
    """

    section: Line | None = None
    effect: Line | None = None
    of: Kinds = ()
    at: Kinds = ()
    to: Kinds = ()
    amount: Literal["time", "turn"] | None = None
    say: Prose | None = None
    why: Prose | None = None
    note: Prose | None = None
    control: Prose | None = None
    release: RowRelease | None = None
    seat: RowSeat | None = None
    restraint: Line | None = None
    when: Condition | None = None
    cases: tuple[Row, ...] = ()
    tools: tuple[Id, ...] = ()
    consumables: tuple[Id, ...] = ()
    hazards: tuple[Id, ...] = ()
    role: Role | None = None
    minutes: float | None = Field(default=None, ge=0)
    handles: bool = True
    hold: RowHold | None = None

    @property
    def ways(self) -> tuple[Row, ...]:
        """The row once for each of its cases, complete; itself where it has none."""
        if not self.cases:
            return (self,)
        own = [{name: getattr(case, name) for name in case.model_fields_set} for case in self.cases]
        return tuple(self.model_copy(update={**one, "cases": ()}) for one in own)

    def kinds(self, slot: str) -> Kinds:
        """The kinds that a slot takes: `of`, `at` or `to`; none where the row has no such slot."""
        kinds: Kinds = getattr(self, slot)
        return kinds


class Table(Document):
    """A file of rows, by the name of the act."""

    rows: dict[Id, Row]

    @model_validator(mode="after")
    def _whole(self) -> Self:
        for name, row in self.rows.items():
            for way in row.ways:
                if way.effect not in EFFECTS:
                    raise ValueError(f"{name}: there is no effect {way.effect}")
                if way.say is None or way.minutes is None:
                    raise ValueError(f"{name}: a row has a sentence and minutes")
        return self


@cache
def rows() -> dict[str, Row]:
    """The rows of the program, by the name of the act, in the order of the table."""
    data, _ = to_data(read_file(TABLE, TABLE.name))
    return Table.model_validate({"rows": _frozen(data)}).rows


def sentences() -> dict[str, str]:
    """The sentence of every act by its name; those of all ways where the machine decides.

    >>> sentences()["tighten-joint"]
    'Tighten {of} with the torque wrench.'
    """
    return {name: " / ".join(dict.fromkeys(way.say or "" for way in row.ways)) for name, row in rows().items()}


def _frozen(value: Any) -> Any:
    if isinstance(value, dict):
        return {name: _frozen(one) for name, one in value.items()}
    return tuple(map(_frozen, value)) if isinstance(value, tuple | list) else value
