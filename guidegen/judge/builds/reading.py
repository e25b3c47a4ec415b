"""A reading of a hold point, held against the limit that the record states for it."""

from __future__ import annotations

import math
import re

from guidegen.judge.safety.measure import Measure, measured

ALIKE = 1e-9
"""Two numbers so near, as a share, are one: 8 mm written as 0.8 cm."""


def reads(limit: str, reading: str) -> Measure | None:
    """Return a reading that can be compared with a limit, or None; a bare number counts the limit's things.

    >>> reads("40 °C", "38 °C").number, reads("0 damp tissues", "1").number, reads("40 °C", "38"), reads("1 Ω", "1 mm")
    (38.0, 1.0, None, None)
    """
    bound = measured(limit)
    if bound is None:
        return None
    bare = re.fullmatch(r"[0-9]{1,6}", reading)
    found = measured(f"{reading} {bound.unit}" if bare and bound.dimension == "count" else reading)
    return found if found is not None and found.dimension == bound.dimension else None


def accepted(sense: str, limit: str, reading: str) -> bool:
    """Return whether a reading is within its limit; exactly on it is within.

    Parameters: sense at_most, at_least or within; limit as the record prints it, within with a tolerance; reading
    a number with its unit.

    Raises ValueError where the two cannot be compared.

    >>> accepted("at_most", "0.3 Ω", "0.31 Ω"), accepted("at_least", "0.3 MΩ", "0.5 MΩ")
    (False, True)
    """
    bound, found = measured(limit), reads(limit, reading)
    if bound is None or found is None:
        raise ValueError(f"{reading!r} cannot be compared with {limit!r}")
    value, number = found.in_si, bound.in_si
    if sense == "at_most":
        return value <= number or math.isclose(value, number, rel_tol=ALIKE)
    if sense == "at_least":
        return value >= number or math.isclose(value, number, rel_tol=ALIKE)
    low, high = bound.ends
    return low <= value <= high or any(math.isclose(value, end, rel_tol=ALIKE) for end in (low, high))
