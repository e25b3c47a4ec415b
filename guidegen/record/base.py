"""What every part of the record is made of: frozen models, figures with ranges, rounding."""

from __future__ import annotations

import math

from pydantic import BaseModel, ConfigDict, Field

SIGNIFICANT_DIGITS = 6


def rounded(number: float) -> float:
    """The number at six significant digits; infinities and not-a-numbers are refused.

    >>> rounded(0.123456789), rounded(-98765432.1), rounded(0.0)
    (0.123457, -98765400.0, 0.0)
    """
    if not math.isfinite(number):
        raise ValueError(f"a record holds finite numbers only, got {number}")
    return float(f"{number:.{SIGNIFICANT_DIGITS - 1}e}")


class Record(BaseModel):
    """Base of every part of the record: frozen, closed, keys as in the JSON."""

    # Deferred, because most commands make few parts of a record, and none needs them to start.
    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True, defer_build=True)


class Beyond(Record):
    """Draws whose value lies beyond what was watched: past which limit, in the figure's unit, and their share."""

    limit: float
    share: float


class Figure(Record):
    """A computed quantity: the median of the draws from the inputs' uncertainties and the ends that hold 95 % of them.

    All three come from the same draws, those in which a value lies beyond what was watched among them as the longest.
    `value` is null with a `reason` where the quantity has no value, or where the median lies `beyond` a limit; `low` or
    `high` alone is null where that end does. `stated` is what the stated values alone give. `missing` is the share of
    draws in which the quantity does not exist, where there are any.
    """

    value: float | None
    low: float | None = None
    high: float | None = None
    reason: str | None = None
    stated: float | None = None
    beyond: Beyond | None = None
    missing: float | None = None

    @property
    def ends(self) -> tuple[float | None, float | None, float | None]:
        """Value, lower and upper end, each where there is one."""
        return self.value, self.low, self.high

    @property
    def ranged(self) -> bool:
        """Whether there is a range to print, of which an end may lie beyond a limit."""
        return self.low is not None or self.high is not None


class Both(Record):
    """One figure without and with the kit."""

    without: Figure
    with_: Figure = Field(alias="with")
