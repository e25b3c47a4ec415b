"""What a lag makes of a temperature, row by row. Compiled."""

from __future__ import annotations

import math

from guidegen.heat.compiled import kernel
from guidegen.heat.layout import Vector


@kernel
def through(time: Vector, value: Vector, lag: float, seen: Vector) -> None:
    """Write what a first-order lag makes of a value that goes in straight lines, exactly; it starts settled."""
    seen[0] = value[0]
    for i in range(1, len(time)):
        step = time[i] - time[i - 1]
        if step <= 0.0:
            seen[i] = seen[i - 1]
        else:
            behind = lag * (value[i] - value[i - 1]) / step
            seen[i] = value[i] - behind + (seen[i - 1] - value[i - 1] + behind) * math.exp(-step / lag)
