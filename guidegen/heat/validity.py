"""Limits within which a formula may be used, and the error raised outside them.

A limit is data beside the formula. Outside it the formula raises; it neither extrapolates nor clips.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]


class ValidityError(ValueError):
    """A formula was asked for a value outside the range its source gives.

    The message names the quantity, the value, the limits and the source.
    """

    def __init__(self, quantity: str, value: float, low: float, high: float, unit: str, source: str) -> None:
        self.quantity = quantity
        self.value = value
        self.low = low
        self.high = high
        self.unit = unit
        self.source = source
        shown_unit = f" {unit}" if unit else ""
        super().__init__(
            f"{quantity} is {value:.6g}{shown_unit}, outside {low:.6g} to {high:.6g}{shown_unit} ({source})"
        )

    def __reduce__(self) -> tuple[type[ValidityError], tuple[str, float, float, float, str, str]]:
        # An exception with its own arguments needs this to travel between worker processes.
        return (ValidityError, (self.quantity, self.value, self.low, self.high, self.unit, self.source))


@dataclass(frozen=True, slots=True)
class Validity:
    """One limit: the quantity it holds for, its bounds (both allowed), the unit and the source of the bounds.

    >>> Validity("temperature", 273.15, 623.15, "K", "iapws-r7 region 1").check(300.0)
    >>> Validity("temperature", 273.15, 623.15, "K", "iapws-r7 region 1").check(700.0)
    Traceback (most recent call last):
        ...
    guidegen.heat.validity.ValidityError: temperature is 700 K, outside 273.15 to 623.15 K (iapws-r7 region 1)
    """

    quantity: str
    low: float
    high: float
    unit: str
    source: str

    def check(self, value: ArrayLike) -> None:
        """Raise `ValidityError` for the first value that is outside the limits or is not a number."""
        values = np.atleast_1d(np.asarray(value, dtype=np.float64))
        # Written as "not inside" so that a NaN, which compares false with everything, is refused as well.
        outside = ~((values >= self.low) & (values <= self.high))
        if outside.any():
            first = float(values[outside].flat[0])
            raise ValidityError(self.quantity, first, self.low, self.high, self.unit, self.source)

    def __str__(self) -> str:
        shown_unit = f" {self.unit}" if self.unit else ""
        return f"{self.quantity}: {self.low:.6g} to {self.high:.6g}{shown_unit} ({self.source})"


def check_all(limits: Mapping[str, Validity], values: Mapping[str, ArrayLike]) -> None:
    """Check every value against the limit of the same key; a value without a limit is a mistake in the caller."""
    for key, value in values.items():
        limits[key].check(value)
