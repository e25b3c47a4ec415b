"""A control as written becomes a control of the network."""

from __future__ import annotations

import numpy as np

from guidegen.heat.network import Pid, Rows, Thermostat
from guidegen.trade.machine import Control, PidControl
from guidegen.trade.uncertain import Values

CONTROLLED = ("setpoint", "kp", "ki", "kd", "opens", "closes", "lag")
"""Facts of a control, of one kind or the other, that are uncertain inputs."""
SMALLEST_DIFFERENTIAL = 2.0
"""K; two temperatures that nobody knows are drawn apart, but a thermostat always closes below where it opens."""


def control_of(control: Control, values: Values, where: str) -> tuple[Pid | Thermostat, Rows]:
    """A control and the lag of what it reads, s: a thermostat's own lag takes the place of the sensor's.

    `where` is the name under which the control's inputs were drawn: `control`, or `kit.control`.
    """
    if isinstance(control, PidControl):
        names = ("setpoint", "kp", "ki", "kd")
        return Pid(*(values[f"{where}.{name}"] for name in names)), values["sensor.lag"]
    opens = values[f"{where}.opens"]
    closes = np.minimum(values[f"{where}.closes"], opens - SMALLEST_DIFFERENTIAL)
    return Thermostat(opens, closes), values[f"{where}.lag"]
