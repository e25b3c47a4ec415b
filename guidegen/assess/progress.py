"""What a long computation says while it runs: what it does, how much is left, and what happens only once."""

from __future__ import annotations

import math
import time
from collections.abc import Callable

from guidegen.assess.kept import Kept
from guidegen.heat.compiled import is_kept

MINUTE_S = 60.0
COMPILED_ONCE = "the computation is compiled first, once on this computer, which takes some minutes"


class PairsLeft:
    """Says of each pair that it is assessed, which of how many it is, and how long the others may take.

    The estimate is from the pairs that were computed in this run; those whose numbers are kept take no time, so it is
    a bound. Before the first is computed it says where the computation has to be compiled.
    """

    def __init__(self, total: int, kept: Kept, clock: Callable[[], float] = time.monotonic) -> None:
        self._total, self._kept, self._clock = total, kept, clock
        self._began, self._done = clock(), 0

    def words(self, pair: str) -> str:
        """Return the line for the next pair."""
        self._done += 1
        left = self._left()
        return f"assessing {pair}, {self._done} of {self._total}{left}"

    def _left(self) -> str:
        if not self._kept.computed:
            return "" if is_kept() else f"; {COMPILED_ONCE}"
        each = (self._clock() - self._began) / self._kept.computed
        minutes = math.ceil(each * (self._total - self._done + 1) / MINUTE_S)
        return f"; at most {minutes} min left" if minutes > 1 else "; at most a minute left"
