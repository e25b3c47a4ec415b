"""How many of a large set of cases a run tries: all with `make harden`, a fixed share of them with `make test`."""

from __future__ import annotations

import os
from collections.abc import Iterable
from typing import TypeVar

T = TypeVar("T")

WHOLE = os.environ.get("GUIDEGEN_HARDEN") == "1"
"""Whether everything is tried."""


def some(cases: Iterable[T], one_in: int) -> list[T]:
    """All cases, or the first and every so-manyth after it: always the same ones, so that a failure stays."""
    return list(cases)[:: 1 if WHOLE else one_in]


def examples(count: int, one_in: int) -> int:
    """So many examples of a property, or one in so many of them."""
    return count if WHOLE else max(1, count // one_in)
