"""What the owner waits for: cooling down before work, and the way back from steam."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from guidegen.assess.figures import Figures
from guidegen.heat.after import AfterSteam, cool_down, soaked_coil
from guidegen.heat.network import Network, set_to
from guidegen.heat.study import Pull
from guidegen.language import marked
from guidegen.record.base import Figure, rounded
from guidegen.record.computed import AfterSteam as AfterSteamPart
from guidegen.record.computed import CoolDown, CoolDownSide

if TYPE_CHECKING:
    from guidegen.assess.question import Values

FLUSH = Pull(0.060, 15.0)
"""A flush after steam, of which the flow counts: 4 g/s, common practice, no source."""


NOT_COOL = marked("not within a day: only a measurement tells")
NOT_BELOW_90 = marked("not within a day")


def cool_down_part(slowest: tuple[Network, Network]) -> CoolDown:
    """The cooling of networks of one row, without and with the kit, whose inputs stand where it is slowest.

    The air in the case is warm because the machine is. Its excess over the room is taken to fall in proportion to
    that of the boiler, so a loss to the case is a smaller loss to the room.
    """
    made = [cool_down(_case_follows(side)) for side in slowest]
    parts = [
        CoolDownSide(touch_s=_time(one.touch, NOT_COOL), below_90_s=_time(one.below_90, NOT_BELOW_90)) for one in made
    ]
    return CoolDown(without=parts[0], with_=parts[1])


def _case_follows(network: Network) -> Network:
    """The network with losses to the room in place of those to the warm case."""
    share = (network.case - network.room) / (set_to(network.control) - network.room)
    left = 1.0 - np.clip(share, 0.0, 1.0)
    coil = network.coil and replace(network.coil, to_case=network.coil.to_case * left)
    return replace(network, case=network.room, boiler_to_case=network.boiler_to_case * left, coil=coil)


def after_steam_part(
    make: Figures, before: AfterSteam, after: AfterSteam, network: Network, values: Values
) -> AfterSteamPart:
    """From steam's setpoint back; the coil's highest temperature with the sensor's overshoot on top."""
    hot = values["steam.setpoint"] + values["steam.overshoot"]
    return make.part_of_both(
        AfterSteamPart,
        before,
        after,
        flush_ml=make.both(before.flush, after.flush, 1e3, marked("not within two minutes")),
        coil_highest_degc=make.celsius(soaked_coil(network, hot)) if network.coil is not None else None,
    )


def _time(value: float | None, reason: str) -> Figure:
    return Figure(value=None, reason=reason) if value is None else Figure(value=rounded(value))
