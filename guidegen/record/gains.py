"""What the record holds of a kit's gains beside heat, which are stated and not computed."""

from __future__ import annotations

from pydantic import Field

from guidegen.record.base import Record
from guidegen.record.stated import Evidence


class GainSide(Record):
    """A stated quantity and its ends, in the gain's unit, and what it rests on; `text` is as it was written."""

    text: str
    value: float
    low: float
    high: float
    evidence: Evidence
    source: str | None = None


class Gain(Record):
    """A quantity without and with the kit, and how it was found; `about` is what of the downsides it belongs to.

    `unit` is the one that it was written in, of a `dimension` of the table of units.
    """

    id: str
    title: str
    dimension: str
    unit: str
    without: GainSide
    with_: GainSide = Field(alias="with")
    how: str
    about: str | None = None

    @property
    def certain(self) -> bool:
        """Whether the two ranges have nothing in common."""
        return self.with_.high < self.without.low or self.without.high < self.with_.low
