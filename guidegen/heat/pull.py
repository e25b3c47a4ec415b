"""What is drawn: a drink or a flush from the boiler, and the drinks of a session."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from guidegen.heat.network import WATER_SPECIFIC_HEAT


@dataclass(frozen=True)
class Pull:
    """What a drink takes from the boiler: withdrawn mass in kg at constant flow over a duration in s.

    No two hands draw the same: `mass_spread` and `duration_spread` are the ± of both, in kg and s.

    >>> Pull(0.05, 25.0).row()[0]
    0.002
    """

    mass: float
    duration: float
    mass_spread: float = 0.0
    duration_spread: float = 0.0

    def __post_init__(self) -> None:
        if not (math.isfinite(self.mass) and math.isfinite(self.duration) and self.mass > 0 and self.duration > 0):
            raise ValueError(f"a pull needs a mass and a duration above zero, not {self.mass} kg in {self.duration} s")
        if not (0 <= self.mass_spread < self.mass and 0 <= self.duration_spread < self.duration):
            raise ValueError(
                f"a pull varies by less than itself, not {self.mass_spread} kg or {self.duration_spread} s"
            )

    def row(self) -> tuple[float, float, float]:
        """Mass flow kg/s, heat capacity rate W/K and duration s."""
        flow = self.mass / self.duration
        return flow, flow * WATER_SPECIFIC_HEAT, self.duration

    def rows(self, habit: NDArray[np.float64]) -> NDArray[np.float64]:
        """The same by row, shape (n, 3); `habit`, shape (n, 2): mass and duration off by how much of their ±."""
        duration = self.duration + self.duration_spread * habit[:, 1]
        flow = (self.mass + self.mass_spread * habit[:, 0]) / duration
        return np.column_stack((flow, flow * WATER_SPECIFIC_HEAT, duration))


@dataclass(frozen=True)
class Usage:
    """One session: drinks by name at their starts after switching on, s, and when it is switched off, s."""

    drinks: tuple[str, ...]
    starts: tuple[float, ...]
    length: float


FLUSH = Pull(0.030, 8.0)
"""A flush before a drink: 30 g in 8 s, common practice, no source."""
