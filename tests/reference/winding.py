"""A second implementation of how a coil lies on a boiler: its own equations, nothing of the package's geometry."""

from __future__ import annotations

import math
from typing import Any

from guidegen.trade.machine import Machine


def skin(machine: Machine) -> float:
    """A cylinder's wall and its lid, m²."""
    across, tall = machine.boiler.diameter.value, machine.boiler.straight_wall.value
    return math.pi * across * tall + math.pi / 4 * across**2


def wound(coil: Any, machine: Machine) -> tuple[float, float, float]:
    """The shares of the wound tube that touch the boiler and are free, and the turns' mean diameter, m; all as stated.

    Free is at most the outer half of a tube, and no tube that lies under another one.

    The inner layer has whole turns where an outer one follows; both together hold what is asked for.
    """
    tube, boiler = coil.tube.outside.value, machine.boiler.diameter.value
    to_wind = coil.holds.value / (math.pi / 4 * (tube - 2 * coil.tube.wall.value) ** 2)
    to_wind -= coil.tails.inlet.value + coil.tails.outlet.value
    pitch = tube + coil.gap.value
    room = (machine.boiler.straight_wall.value - tube) / pitch
    inner, outer = (math.hypot(math.pi * (boiler + odd * tube), pitch) for odd in (1, 3))
    if to_wind / inner <= room:
        return 1.0, 0.5, boiler + tube
    touching = math.floor(room) * inner
    beyond = min(to_wind - touching, room * outer)
    mean = (touching * (boiler + tube) + beyond * (boiler + 3 * tube)) / (touching + beyond)
    bare, beside = max(0.0, touching - beyond / outer * inner), to_wind - touching - beyond
    return touching / to_wind, ((bare + beyond) / 2 + beside) / to_wind, mean
