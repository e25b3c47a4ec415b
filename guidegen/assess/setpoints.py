"""Which setpoints the what-if may ask about: below the present one, and above it only far from what protects."""

from __future__ import annotations

from collections.abc import Iterable

from guidegen.heat.network import Network, Pid
from guidegen.trade.check_ratings import named
from guidegen.trade.machine import Machine

LOWER = (0.0, -3.0, -6.0)
"""K; with a coil the same cup wants a lower setpoint."""
HIGHER = 3.0
"""K; one step, because an electronic control in place of a thermostat may want a higher one for the same cup."""
DISTANCE = 10.0
"""K that stay between the hottest that the step may bring and where a protective device opens; our judgement, wider
than the spread of such devices."""

_THERMAL = ("thermostat", "thermal-fuse")


def changes(machine: Machine, sides: Iterable[Network]) -> tuple[float, ...]:
    """Changes of the setpoint, K, highest first; none but 0 where no side has a setpoint to change."""
    controls = [side.row(0).control for side in sides]
    present = [float(one.setpoint[0]) for one in controls if isinstance(one, Pid)]
    if not present:
        return (0.0,)
    highest = ceiling(machine)
    return (HIGHER, *LOWER) if highest is not None and max(present) + HIGHER <= highest else LOWER


def ceiling(machine: Machine) -> float | None:
    """The highest setpoint, K, that a guide may speak of; None where it is not known what would cut off above it.

    It stays below what steaming brings anyway, and with the overshoot well below every protective device's own
    temperature.
    """
    devices = [one for one in machine.safety_devices if one.class_ == "protective" and one.kind in _THERMAL]
    rated = [_opens(one.rating.value) if one.rating.known else None for one in devices]
    known = [one for one in rated if one is not None]
    steam = machine.steam
    if not known or len(known) < len(rated) or not steam.setpoint.known or not steam.overshoot.known:
        return None
    return min(steam.setpoint.low, min(known) - steam.overshoot.high - DISTANCE)


def _opens(rating: str) -> float | None:
    """The lowest temperature that a rating names, K."""
    return min(named(rating, "temperature"), default=None)
