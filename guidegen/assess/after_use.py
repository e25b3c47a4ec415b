"""What the owner waits for: cooling down before work, and the way back from steam."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from guidegen.assess import inputs
from guidegen.assess.figures import Figures
from guidegen.assess.network_of import with_kit, without_kit
from guidegen.heat.after import AfterSteam, cool_down, soaked_coil
from guidegen.heat.network import Network
from guidegen.heat.study import Pull
from guidegen.language import gettext, marked
from guidegen.record import Figure, rounded
from guidegen.record.computed import AfterSteam as AfterSteamPart
from guidegen.record.computed import CoolDown, CoolDownSide
from guidegen.trade.controls import set_to
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.trade.uncertain import Uncertain, Values

FLUSH = Pull(0.060, 15.0)
"""A flush after steam, of which the flow counts: 4 g/s, common practice, no source."""


def cool_down_part(machine: Machine, kit: Kit, listed: list[Uncertain]) -> CoolDown:
    """The slowest cooling that the inputs' ends allow: large capacities, small losses, warm air; and where the slowest
    end of an input depends on the others, both.

    The air in the case is warm because the machine is. Its excess over the room is taken to fall in proportion to
    that of the boiler, so a loss to the case is a smaller loss to the room.
    """
    slow = inputs.slowest(listed)
    plain = without_kit(machine, slow)
    return CoolDown(without=_side(plain), with_=_side(with_kit(machine, kit, slow, plain).network))


def _side(network: Network) -> CoolDownSide:
    """The slowest of all rows."""
    made = [cool_down(_case_follows(network), row) for row in range(len(network))]
    return CoolDownSide(
        touch_s=_figure(_longest(one.touch for one in made), gettext("not within a day: only a measurement tells")),
        below_90_s=_figure(_longest(one.below_90 for one in made), gettext("not within a day")),
    )


def _longest(times: Iterable[float | None]) -> float | None:
    """The longest of some times; None where one of them is longer than a day."""
    every = list(times)
    known = [one for one in every if one is not None]
    return max(known) if len(known) == len(every) else None


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
    return AfterSteamPart(
        wait_s=make.both(before.wait, after.wait, reason=marked("not within an hour")),
        flush_ml=make.both(before.flush, after.flush, 1e3, marked("not within two minutes")),
        coil_highest_degc=make.celsius(soaked_coil(network, hot)) if network.coil is not None else None,
    )


def _figure(value: float | None, reason: str) -> Figure:
    return Figure(value=None, reason=reason) if value is None else Figure(value=rounded(value))
