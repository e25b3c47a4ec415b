"""The effect `set_control`: another control in place of the one there is."""

from __future__ import annotations

from typing import ClassVar, Literal

from guidegen.trade.controls import CONTROLLED, control_of
from guidegen.trade.effects.base import Effect, Fitted, Setting, key
from guidegen.trade.machine import Control
from guidegen.workshop.downsides import OfEffects


class SetControl(Effect):
    """Another control in place of the one there is."""

    draft: ClassVar[str] = "control"
    mains_work: ClassVar[bool] = True
    speaks_of: ClassVar[tuple[OfEffects, ...]] = ("profile",)
    drawn: ClassVar[tuple[str, ...]] = tuple(f"control.{name}" for name in CONTROLLED)

    kind: Literal["set_control"]
    control: Control

    def change(self, before: Fitted, setting: Setting) -> Fitted:
        """Control and the lag of what it reads are the new ones; it weighs nothing that gets warm."""
        control, lag = control_of(self.control, setting.values, key("control", setting.number))
        return before.changed(control=control, sensor_lag=lag)
