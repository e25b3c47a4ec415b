"""What logged runs say of a pair: figures by the definitions of the computed ones, and how the two agree."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from guidegen.record.base import Record

Refusal = Literal[
    "unpaired", "few-pairs", "other-machine", "other-feed", "other-probe", "other-setpoint", "invented-and-real"
]
"""Why before and after are not compared."""


ProbeName = Literal["type-e", "type-j", "type-k", "type-n", "type-t", "platinum", "other"]
"""What read the sensor's place: kinds of IEC 60584-1 and IEC 60751."""
LogKind = Literal["cold-start", "idle", "shot", "long-draw", "cooling", "outlet"]
"""What was done while it was logged."""


class MeasuredFigure(Record):
    """One figure of one side, the mean of so many shots, with the interval that holds it in 95 of 100 campaigns.

    `place` is where the record has the computed one. `low` and `high` are null of one shot alone, and of no value there
    is a `reason`. The standard uncertainties that made the interval stand beside it: how far the shots scatter, what
    the probe's class leaves open, its lag, and that it was read now and then only. `normalised_error` is null where
    nothing was computed that it could be compared with, and while probe or lag, where they bear on it, are not stated.
    """

    place: str
    value: float | None
    low: float | None = None
    high: float | None = None
    reason: str | None = None
    shots: int
    repetition: float | None = None
    probe: float | None = None
    lag: float | None = None
    reading: float | None = None
    normalised_error: float | None = None

    @property
    def disagrees(self) -> bool:
        """Whether the measured and the computed value are farther apart than both leave open."""
        return self.normalised_error is not None and abs(self.normalised_error) > 1.0


class MeasuredCurve(Record):
    """The sensor in the main drink: mean, lowest and highest of the shots, in °C, s from the start.

    The computed range goes through the same probe's lag, from where the measured mean starts; null without draws.
    `inside` is the share of all logged points that lie in it.
    """

    time_s: tuple[float, ...]
    mean_degc: tuple[float, ...]
    low_degc: tuple[float, ...]
    high_degc: tuple[float, ...]
    computed_low_degc: tuple[float, ...] | None = None
    computed_high_degc: tuple[float, ...] | None = None
    inside: float | None = None


class MeasuredInterval(Record):
    """A value with the ends of its interval of 95 %; an end is null where it is infinite."""

    value: float
    low: float | None
    high: float | None


class BeforeAfter(Record):
    """The dip of the main drink without and with the kit, in pairs of one block each.

    `less_k` is how much smaller it is with the kit; `by_chance` how often the exchange of the two within blocks gives a
    difference as large, null where there are too many to count them. Both intervals hold how the pairs scatter, how the
    probe was read, and its class and lag as far as these are stated. `normalised_error` is null while they are not.
    """

    pairs: int
    less_k: MeasuredInterval
    ratio: MeasuredInterval
    by_chance: float | None
    normalised_error: float | None = None

    @property
    def disagrees(self) -> bool:
        """Whether the ratio and the computed one are farther apart than both leave open."""
        return self.normalised_error is not None and abs(self.normalised_error) > 1.0


class LoggedFile(Record):
    """One logged run: what it is, the file with its sum, and how many of its values were left out."""

    id: str
    file: str
    sha256: str
    date: str
    kits: tuple[str, ...]
    kind: LogKind
    block: int | None
    drink: str | None
    shots: int
    rows: int
    left_out: int
    probe: ProbeName | None
    grade: str | None
    invented: bool
    note: str | None


class Measured(Record):
    """Everything that runs say of a variant with a kit and without any.

    `refused` says why before and after are not compared; then `before_after` is null. `machine` is that of the
    comparison, or the only one; where there are several there are no figures and no curves. `invented`: some of the
    runs behind these were never measured. `runs` lists all.
    """

    invented: bool
    machine: str | None
    shots: int
    before_after: BeforeAfter | None
    refused: tuple[Refusal, ...]
    figures: tuple[MeasuredFigure, ...]
    without: MeasuredCurve | None
    with_: MeasuredCurve | None = Field(alias="with")
    runs: tuple[LoggedFile, ...]

    @property
    def all_invented(self) -> bool:
        """Whether nobody measured any of the runs."""
        return all(one.invented for one in self.runs)

    @property
    def disagreeing(self) -> tuple[str, ...]:
        """The places of the figures that disagree with the computation, the ratio of the dip as `ratio`."""
        found = [one.place for one in self.figures if one.disagrees]
        return tuple(["ratio", *found] if self.before_after and self.before_after.disagrees else found)
