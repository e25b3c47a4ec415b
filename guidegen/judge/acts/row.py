"""The table of acts: one row per sentence, with its effect, the things it takes, tools, minutes and hold point."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any, Self

from pydantic import model_validator

from guidegen.judge.acts.effects import OWN, ActPlace
from guidegen.judge.acts.kernel import EFFECTS
from guidegen.workshop.base import Document, Id, Line, Model, Places, Prose
from guidegen.workshop.nodes import to_data
from guidegen.workshop.reader import read_file
from guidegen.workshop.rows import ActRow, OwnActs

TABLE = Path(__file__).with_name("rows.yml")
"""The rows of the program."""


class RowRelease(Model):
    """By what the pressure is let off, and what shows that it is gone."""

    by: Prose
    proof: Prose


class RowSeat(Model):
    """Where a device or sensor sits, and what holds it there."""

    position: Prose
    clamp: Prose


class TableRow(ActRow):
    """One row of the program; a case of a row states only what differs.

    `handles`: its things are taken in hand, so that those of the kit's lists stand among what the step uses.
    `shows`: what a drawing of the step points out beside them. `section` names the part of the table that begins here.
    `after` to `early` are its order: see the head of the table. On a `free` act nothing depends that is not asked in
    another way.

    Of a stop: `help` says who can help, `ends` are the acts whose failing side ends with it, where that leads to a
    remedy. Of a symptom: `first` is what is done about it whatever its cause, `listed` how it reads among those at
    which nobody uses the machine on.
    """

    section: Line | None = None
    effect: Line | None = None
    note: Prose | None = None
    control: Prose | None = None
    release: RowRelease | None = None
    seat: RowSeat | None = None
    restraint: Line | None = None
    cases: tuple[TableRow, ...] = ()
    handles: bool = True
    shows: tuple[Id, ...] = ()
    after: tuple[Line, ...] = ()
    owes: tuple[Line, ...] = ()
    puts: tuple[Id, ...] = ()
    leaves: tuple[Id, ...] = ()
    fits: tuple[Id, ...] = ()
    takes: tuple[Line, ...] = ()
    without: tuple[Id, ...] = ()
    amid: tuple[Id, ...] = ()
    fresh: tuple[Id, ...] = ()
    again: tuple[Line, ...] = ()
    early: bool = False
    free: bool = False
    help: Prose | None = None
    ends: tuple[Id, ...] = ()
    first: tuple[Id, ...] = ()
    listed: Line | None = None

    @property
    def place(self) -> ActPlace:
        """Where the act may stand."""
        return EFFECTS[self.ways[0].effect or ""].place

    @property
    def torqued(self) -> bool:
        """Whether the act states a torque."""
        return EFFECTS[self.ways[0].effect or ""].torqued

    @property
    def ways(self) -> tuple[TableRow, ...]:
        """The row once for each of its cases, complete; itself where it has none."""
        if not self.cases:
            return (self,)
        own = [{name: getattr(case, name) for name in case.model_fields_set} for case in self.cases]
        return tuple(self.model_copy(update={**one, "cases": ()}) for one in own)


class RowsFile(Document):
    """A file of rows, by the name of the act."""

    rows: dict[Id, TableRow]

    @model_validator(mode="after")
    def _whole(self) -> Self:
        for name, row in self.rows.items():
            for way in row.ways:
                if way.effect not in EFFECTS or way.effect == OWN:
                    raise ValueError(f"{name}: there is no effect {way.effect}")
                if way.say is None or (way.minutes is None and row.place == "step"):
                    raise ValueError(f"{name}: a row has a sentence, and as a step minutes")
        return self


@cache
def rows() -> dict[str, TableRow]:
    """The rows of the program, by the name of the act, in the order of the table."""
    data, _ = to_data(read_file(TABLE, TABLE.name))
    return RowsFile.model_validate({"rows": frozen(data)}).rows


def sentences() -> dict[str, str]:
    """The sentence of every act by its name; those of all ways where the machine decides.

    >>> sentences()["tighten-joint"]
    'Tighten {of} with the torque wrench.'
    """
    return {name: " / ".join(dict.fromkeys(way.say or "" for way in row.ways)) for name, row in rows().items()}


@dataclass(frozen=True)
class ActTable:
    """The acts that the procedures of a workshop may be written with: the program's, and the workshop's own."""

    rows: Mapping[str, TableRow] = field(default_factory=rows)
    own: OwnActs | None = None

    @classmethod
    def of(cls, own: OwnActs | None) -> ActTable:
        """The program's rows with those of a workshop; a name of the program keeps its meaning."""
        if own is None:
            return cls()
        added = {name: TableRow(effect=OWN, **{field: getattr(act, field) for field in ActRow.model_fields})
                 for name, act in own.acts.items()}  # fmt: skip
        return cls({**added, **rows()}, own)

    @property
    def clashes(self) -> tuple[str, ...]:
        """Names of the program that the workshop has written anew."""
        return tuple(name for name in (self.own.acts if self.own else ()) if name in rows())

    @property
    def places(self) -> Places:
        """Where the workshop's acts are written."""
        return (self.own or OwnActs(acts={})).places

    def fingerprint(self, act: str) -> str:
        """A short hash of an own act as it was written; nothing for one of the program."""
        return self.own.places.fingerprint("acts", act) if self.own and self.is_own(act) else ""

    def is_own(self, act: str) -> bool:
        """Whether the workshop wrote an act."""
        return self.own is not None and act in self.own.acts


def frozen(value: Any) -> Any:
    """Return data with a tuple in place of every list."""
    if isinstance(value, dict):
        return {name: frozen(one) for name, one in value.items()}
    return tuple(map(frozen, value)) if isinstance(value, tuple | list) else value
