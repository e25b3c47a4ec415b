"""What is drawn: a drink or a flush from the boiler, and the drinks of a session."""

from __future__ import annotations

import math
from dataclasses import dataclass

from guidegen.heat.network import WATER_SPECIFIC_HEAT


@dataclass(frozen=True)
class Pull:
    """What a drink takes from the boiler: withdrawn mass in kg at constant flow over a duration in s.

    >>> Pull(0.05, 25.0).row()[0]
    0.002
    """

    mass: float
    duration: float

    def __post_init__(self) -> None:
        if not (math.isfinite(self.mass) and math.isfinite(self.duration) and self.mass > 0 and self.duration > 0):
            raise ValueError(f"a pull needs a mass and a duration above zero, not {self.mass} kg in {self.duration} s")

    def row(self) -> tuple[float, float, float]:
        """Mass flow kg/s, heat capacity rate W/K and duration s."""
        flow = self.mass / self.duration
        return flow, flow * WATER_SPECIFIC_HEAT, self.duration


@dataclass(frozen=True)
class Usage:
    """One session: drinks by name at their starts after switching on, s, and when it is switched off, s."""

    drinks: tuple[str, ...]
    starts: tuple[float, ...]
    length: float


FLUSH = Pull(0.030, 8.0)
"""A flush before a drink: 30 g in 8 s, common practice, no source."""
