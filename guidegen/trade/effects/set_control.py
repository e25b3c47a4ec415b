"""The effect `set_control`: another control in place of the one there is."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar, Literal

from guidegen.trade.controls import control_of
from guidegen.trade.effects.base import Effect, Fitted, Setting, key
from guidegen.trade.machine import Control
from guidegen.trade.uncertain import End
from guidegen.workshop.downsides import OfEffects


class SetControl(Effect):
    """Another control in place of the one there is."""

    mains_work: ClassVar[bool] = True
    speaks_of: ClassVar[tuple[OfEffects, ...]] = ("profile",)
    drawn: ClassVar[Mapping[str, End]] = {
        "control.setpoint": "high", "control.kp": "stated", "control.ki": "stated", "control.kd": "stated",
        "control.opens": "high", "control.closes": "high", "control.lag": "stated",
    }  # fmt: skip

    kind: Literal["set_control"]
    control: Control

    def change(self, before: Fitted, setting: Setting) -> Fitted:
        """Control and the lag of what it reads are the new ones; it weighs nothing that gets warm."""
        control, lag = control_of(self.control, setting.values, key("control", setting.number))
        return before.changed(control=control, sensor_lag=lag)
