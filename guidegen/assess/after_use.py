"""What the owner waits for: cooling down before work, and the way back from steam."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from guidegen.assess import inputs
from guidegen.assess.figures import Figures
from guidegen.assess.inputs import Uncertain, Values
from guidegen.assess.network_of import set_to, with_kit, without_kit
from guidegen.heat.after import AfterSteam, cool_down, soaked_coil
from guidegen.heat.network import Network
from guidegen.heat.study import Pull
from guidegen.language import gettext, marked
from guidegen.record import Figure, rounded
from guidegen.record.computed import AfterSteam as AfterSteamPart
from guidegen.record.computed import CoolDown, CoolDownSide
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine

FLUSH = Pull(0.060, 15.0)
"""A flush after steam, of which the flow counts: 4 g/s, common practice, no source."""


def cool_down_part(machine: Machine, kit: Kit, listed: list[Uncertain]) -> CoolDown:
    """The slowest cooling that the inputs' ends allow: small losses, large capacities, warm air.

    The air in the case is warm because the machine is. Its excess over the room is taken to fall in proportion to
    that of the boiler, so a loss to the case is a smaller loss to the room.
    """
    slow = inputs.draw([_slowest(one) for one in listed], 0)
    plain = without_kit(machine, slow)
    sides = (plain, with_kit(machine, kit, slow, plain).network)
    made = [cool_down(_case_follows(side)) for side in sides]
    parts = [
        CoolDownSide(
            touch_s=_figure(one.touch, 1.0, gettext("not within a day: only a measurement tells")),
            below_90_s=_figure(one.below_90, 1.0, gettext("not within a day")),
        )
        for one in made
    ]
    return CoolDown(without=parts[0], with_=parts[1])


def _case_follows(network: Network) -> Network:
    """The network with losses to the room in place of those to the warm case."""
    share = (network.case - network.room) / (set_to(network.control) - network.room)
    left = 1.0 - np.clip(share, 0.0, 1.0)
    coil = network.coil and replace(network.coil, to_case=network.coil.to_case * left)
    return replace(network, case=network.room, boiler_to_case=network.boiler_to_case * left, coil=coil)


HOLDS_HEAT = (
    "boiler.mass",
    "boiler.water",
    "group.mass",
    "heater.heat_capacity",
    "kit.holds",
    "kit.fittings_mass",
    "kit.mass",
)
LETS_IT_GO = (
    "losses.boiler_to_case",
    "group.to_room",
    "group.to_boiler",
    "kit.to_case",
    "boiler.to_water",
    "kit.contact",
)
WARM_AROUND = ("losses.case_temperature", "room", "control.setpoint", "control.opens", "control.closes")


def _slowest(one: Uncertain) -> Uncertain:
    if one.id in HOLDS_HEAT or one.id in WARM_AROUND:
        return replace(one, value=one.high)
    return replace(one, value=one.low) if one.id in LETS_IT_GO else one


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


def _figure(value: float | None, factor: float, reason: str) -> Figure:
    return Figure(value=None, reason=reason) if value is None else Figure(value=rounded(value * factor))
