"""What a logged run is, in YAML beside its file: which column is what, by which probe, and where the shots are."""

from __future__ import annotations

import datetime
from typing import Annotated, Literal

from pydantic import Field, model_validator

from guidegen.problems import Code
from guidegen.workshop.base import Document, Id, Line, Model, Prose, refused, shaped
from guidegen.workshop.fields import Temperature, TemperatureDifference, Time

RunKind = Literal["cold-start", "idle", "shot", "long-draw", "cooling", "outlet"]
ProbeKind = Literal["type-e", "type-j", "type-k", "type-n", "type-t", "platinum", "other"]
ProbeClass = Literal["1", "2", "3", "AA", "A", "B", "C"]
Place = Literal["sensor", "coil-in", "coil-out", "coil-metal", "boiler-wall", "group", "outlet", "cup", "case", "room",
                "feed"]  # fmt: skip
Quantity = Literal["mass", "pump", "heater", "pressure"]
ShotsBy = Literal["pump", "pressure", "mass", "change"]
Sum = Annotated[str, shaped(r"[0-9a-f]{64}", "64 digits of a SHA-256 sum")]


class Probe(Model):
    """What reads a temperature: its kind and class by IEC 60584-1 or IEC 60751, its lag, and its uncertainty.

    Without `uncertainty`, a half-width of 95 %, the class alone says how far it may be off. A probe of kind `other`
    has no class, and one of type J no class 3.
    """

    kind: ProbeKind
    grade: ProbeClass | None = Field(default=None, alias="class")
    lag: Time | None = None
    uncertainty: TemperatureDifference | None = None

    @model_validator(mode="after")
    def _has_a_class_of_its_kind(self) -> Probe:
        of_kind = {"platinum": ("AA", "A", "B", "C"), "type-j": ("1", "2"), "other": (None,)}
        allowed = of_kind.get(self.kind, ("1", "2", "3"))
        if self.grade not in allowed:
            fix = f"write class: {allowed[-1]}" if allowed[0] else "delete class, and state its uncertainty"
            raise refused(Code.WRONG_CHOICE, f"a probe {self.kind} has no class {self.grade or 'left out'}", fix)
        return self


class LoggedColumn(Model):
    """One column of the file: the name in its line of names, or # and its number, and what it is."""

    column: Line
    place: Place | None = None
    quantity: Quantity | None = None
    unit: Annotated[str, Field(max_length=10)]
    probe: Probe | None = None

    @property
    def meaning(self) -> str:
        """The place or the quantity."""
        return self.place or self.quantity or ""

    @model_validator(mode="after")
    def _is_one_thing(self) -> LoggedColumn:
        if (self.place is None) == (self.quantity is None):
            raise refused(
                Code.MISSING_KEY, "a column is a place or a quantity", "write place: or quantity:, one of them"
            )
        return self


class Written(Model):
    """How the file is written. Lines count from 1, as editors count them."""

    encoding: Literal["utf-8", "cp1252"]
    separator: Literal["comma", "semicolon", "tab"]
    decimal: Literal["point", "comma"]
    names_in_line: int | None = Field(default=None, ge=1)
    values_from_line: int = Field(ge=1)


class ClockColumn(Model):
    """Which column is the time and how it is written; `zone` where the stamps do not say it."""

    column: Line
    written: Literal["s", "ms", "hh:mm:ss", "iso-8601"]
    zone: Annotated[str, shaped(r"Z|[+-][0-9]{2}:[0-9]{2}", "+02:00")] | None = None


class LoggedShot(Model):
    """When water was drawn, counted from the first row."""

    begins: Time
    ends: Time


class RowsLeftOut(Model):
    """Lines of the file that somebody leaves out, and why."""

    first: int = Field(ge=1)
    last: int = Field(ge=1)
    because: Line


class LoggedRun(Document):
    """machines/<family>/runs/<run>.yml, which says what the logged file beside it is.

    `machine` names the very machine, as its serial number would; runs of one `block` were made under the same
    conditions, one of each configuration, in an order that chance gave. `feed` is the water in the tank.
    """

    variant: Id
    kits: tuple[Id, ...] = ()
    date: datetime.date
    kind: RunKind
    invented: bool
    machine: Line | None = None
    block: int | None = Field(default=None, ge=1)
    setpoint: Temperature | None = None
    feed: Temperature | None = None
    drink: Id | None = None
    logger: Line
    file: Line
    sha256: Sum
    written: Written
    time: ClockColumn
    columns: tuple[LoggedColumn, ...]
    ignored: tuple[Line, ...] = ()
    shots_by: ShotsBy | None = None
    shots: tuple[LoggedShot, ...] = ()
    left_out: tuple[RowsLeftOut, ...] = ()
    note: Prose | None = None
