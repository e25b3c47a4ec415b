"""What the owner waits for: cooling down before work, and the way back from steam."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from guidegen.assess.figures import Figures, Limit
from guidegen.heat.after import SteamRecovery, soaked_coil
from guidegen.heat.cooling import cool_down
from guidegen.heat.network import Network, Rows
from guidegen.heat.steam import LONGEST_FLUSH
from guidegen.heat.study import Pull
from guidegen.heat.water import ATMOSPHERIC_PRESSURE, saturation_pressure
from guidegen.language import marked
from guidegen.record.base import Figure, rounded
from guidegen.record.computed import AfterSteam, CoolDown, CoolDownSide

FLUSH = Pull(0.060, 15.0)
"""A flush after steam, of which the flow counts: 4 g/s, common practice, no source."""


NOT_COOL = marked("not within a day; this has to be measured")
NOT_BELOW_90 = marked("not within a day")


def cool_down_part(*machines: tuple[Network, Network]) -> CoolDown:
    """The slowest cooling of all rows of some machines, each a network without and one with the kit."""
    without, with_ = (np.concatenate([cooled(one) for one in side], axis=1) for side in zip(*machines, strict=True))
    return CoolDown(without=_side(without), with_=_side(with_))


def cooled(network: Network) -> Rows:
    """Seconds until it can be touched, and until its water is below 90 °C, shape (2, n); infinite beyond a day."""
    made = cool_down(network)
    return np.stack((made.touch, made.below_90))


def _side(times: Rows) -> CoolDownSide:
    return CoolDownSide(touch_s=_longest(times[0], NOT_COOL), below_90_s=_longest(times[1], NOT_BELOW_90))


def after_steam_part(
    make: Figures, before: SteamRecovery, after: SteamRecovery, network: Network, values: Mapping[str, Rows]
) -> AfterSteam:
    """From steam's setpoint back; the coil's highest temperature with the sensor's overshoot on top."""
    hot = values["steam.setpoint"] + values["steam.overshoot"]
    pressure = saturation_pressure(values["steam.setpoint"]) - ATMOSPHERIC_PRESSURE
    return make.part_of_both(
        AfterSteam,
        before,
        after,
        flush_ml=make.both(
            before.flush, after.flush, 1e3, Limit(LONGEST_FLUSH * FLUSH.mass / FLUSH.duration * 1e3, "volume", "ml")
        ),
        pressure_bar=make.figure(np.asarray(pressure), factor=1e-5),
        coil_highest_degc=make.celsius(soaked_coil(network, hot)) if network.coil is not None else None,
    )


def _longest(times: Rows, reason: str) -> Figure:
    """The longest of some times, s; no value where one of them is longer than a day."""
    most = float(np.max(times))
    return Figure(value=rounded(most)) if np.isfinite(most) else Figure(value=None, reason=reason)
