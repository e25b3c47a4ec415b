"""One row of the table of checks against the outside: a value with its origin, and how the package computes it.

The tolerance is half a unit of the last printed digit, unless the row says why it is another.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal, SupportsFloat

Tag = Literal["L", "P", "M"]
"""L: computed with an independent library. P: seen on a published page. M: from memory; an L or P row covers it."""

Kind = Literal["outside", "typed", "derived", "law"]
"""What a row is worth. outside: a published value, or an independent library's, against a function that works it out.
typed: a table that was typed from its source, against the source: it guards against slips of the finger. derived: a
closed form, or another way to solve the same equations, worked out in the test. law: what holds whatever the values.
"""


@dataclass(frozen=True, slots=True)
class Check:
    """A value from outside. `tolerance` is absolute and in the same unit as `expected`."""

    name: str
    quantity: str
    unit: str
    expected: float
    tolerance: float
    source: str
    tag: Tag
    kind: Kind
    formulas: tuple[str, ...]
    """The formulas that it is about, as the methods page calls them; none for what is only listed."""
    compute: Callable[[], SupportsFloat]

    def hold(self) -> None:
        """Fail with the whole row where the computed value is not the expected one."""
        computed = float(self.compute())
        assert abs(computed - self.expected) <= self.tolerance, (
            f"{self.name}: {self.quantity} is {computed:.10g} {self.unit}, "
            f"expected {self.expected:.10g} ± {self.tolerance:.3g} ({self.source})"
        )

    def __str__(self) -> str:
        return self.name


def printed(text: str, units: float = 0.5) -> tuple[float, float]:
    """Give a printed number and the given number of units of its last digit.

    >>> printed("4.173e3")
    (4173.0, 0.5000000005)
    """
    number = Decimal(text)
    exponent = number.as_tuple().exponent
    assert isinstance(exponent, int)
    # The last part in 10⁹ is for the binary rounding of numbers that lie exactly on the border.
    return float(number), units * 10.0**exponent * (1 + 1e-9)
