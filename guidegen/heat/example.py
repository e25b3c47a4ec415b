"""A network to show things with: invented, plausible, of one row. It is no machine of anybody."""

from __future__ import annotations

import numpy as np

from guidegen.heat.network import Coil, Network, Pid
from guidegen.heat.temperature import ZERO_CELSIUS


def example(coil: bool = True) -> Network:
    """Give a small brass boiler with PID control, with or without a feed coil.

    >>> len(example())
    1
    """
    one = {
        "heater_power": 1150.0, "heater_capacity": 60.0, "heater_to_boiler": 35.0, "heater_to_water": 0.0,
        "boiler_capacity": 0.58 * 380.0, "boiler_to_water": 18.0, "boiler_to_group": 2.4, "boiler_to_case": 0.36,
        "water_mass": 0.105, "mixing": 1.0, "group_capacity": 1.30 * 380.0, "group_to_water": 6.0,
        "group_to_room": 0.65, "sensor_lag": 3.0, "sensor_metal_share": 0.7, "case": ZERO_CELSIUS + 38.0,
        "room": ZERO_CELSIUS + 22.0, "feed": ZERO_CELSIUS + 20.0, "case_capacity": 1000.0,
        "case_to_room": 0.36 * 65.0 / 16.0, "boiler_at_idle": ZERO_CELSIUS + 103.0,
        "group_at_idle": ZERO_CELSIUS + 86.0, "boiler_emissivity": 0.3, "group_emissivity": 0.3, "follows": 1.0,
    }  # fmt: skip
    wound = {
        "water_mass": 0.058, "metal_capacity": 0.44 * 385.0, "to_boiler": 1.10, "to_case": 0.50,
        "inside_at_rest": 22.0, "inside_in_flow": 55.0, "along": 0.007, "shields": 0.5, "bypass": 0.0,
        "emissivity": 0.5,
    }  # fmt: skip
    control = {"setpoint": ZERO_CELSIUS + 103.0, "proportional": 60.0, "integral": 0.7, "derivative": 180.0}
    return Network(
        **{name: np.array([value]) for name, value in one.items()},
        control=Pid(**{name: np.array([value]) for name, value in control.items()}),
        coil=Coil(**{name: np.array([value]) for name, value in wound.items()}) if coil else None,
    )
