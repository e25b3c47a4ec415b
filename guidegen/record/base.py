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

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)


class Figure(Record):
    """A computed quantity: its value, the ends of its range, and why it is missing where it is.

    `low` and `high` hold 95 % of the draws from the inputs' uncertainties. `value` is null with a `reason`
    where the quantity has no value, as a recovery time that was not reached.
    """

    value: float | None
    low: float | None = None
    high: float | None = None
    reason: str | None = None


class Both(Record):
    """One figure without and with the kit."""

    without: Figure
    with_: Figure = Field(alias="with")
