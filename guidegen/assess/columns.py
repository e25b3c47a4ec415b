"""Which column of the sequence of draws belongs to which input. The table is only ever added to.

Every draw is of the same width, named or not, because the sequence scrambles all of its columns together: another
width would be another sequence, and move every range of every guide. So a new input takes the next free column, an
input that goes leaves its name here, and no column is ever given to another. Low columns of such a sequence are the
most even ones; those that the published figures depend on most stand first.

`python -m tests.draw_columns` adds the inputs that have none yet, those of new effects too.
"""

from __future__ import annotations

from collections.abc import Iterable

WIDTH = 128
"""Columns of every draw. Drawing all takes a few milliseconds; named are half of them."""
NAMES = (
    "sensor.metal_share",
    "kit.contact",
    "group.to_boiler",
    "kit.to_case",
    "group.to_room",
    "kit.tube.wall",
    "heater.heat_capacity",
    "group.mass",
    "model.phase",
    "mixing",
    "kit.holds",
    "losses.boiler_to_case",
    "group.to_water",
    "boiler.to_water",
    "control.setpoint",
    "control.closes",
    "feed",
    "control.lag",
    "control.opens",
    "kit.shields",
    "boiler.mass",
    "sensor.lag",
    "boiler.water",
    "losses.case_temperature",
    "kit.tube.outside",
    "heater.to_boiler",
    "heater.to_water",
    "heater.power",
    "control.kp",
    "control.ki",
    "control.kd",
    "kit.control.setpoint",
    "kit.control.kp",
    "kit.control.ki",
    "kit.control.kd",
    "room",
    "model.inside",
    "kit.mass",
    "kit.by",
    "kit.fittings_mass",
    "water_path.bypass",
    "kit.heat_capacity",
    "kit.to_boiler",
    "kit.power",
    "kit.control.opens",
    "kit.control.closes",
    "kit.control.lag",
    "steam.setpoint",
    "steam.overshoot",
    "kit.tails",
    "kit.2.mass",
    "kit.3.mass",
    "kit.4.mass",
    "kit.5.mass",
    "kit.6.mass",
    "kit.2.by",
    "kit.3.by",
    "kit.4.by",
    "kit.5.by",
    "kit.6.by",
    "water_path.relief_opens",
    "mains.supply",
    "drinks.water",
    "drinks.time",
    "kit.length",
    "kit.turns",
    "kit.tails.inlet",
    "kit.tails.outlet",
    "boiler.diameter",
    "boiler.straight_wall",
    "model.case",
)
"""The n-th name has the n-th column."""


def columns_of(names: Iterable[str]) -> dict[str, int]:
    """The columns of some inputs; raises where one has none."""
    wanted = set(names)
    unknown = sorted(wanted - set(NAMES))
    if unknown:
        raise KeyError(f"no column is kept for {', '.join(unknown)}: run `python -m tests.draw_columns`")
    return {name: column for column, name in enumerate(NAMES) if name in wanted}
