"""The effect `set_heater`: another heating element."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

import numpy as np

from guidegen.language import gettext
from guidegen.trade.effects.base import Effect, Fitted, MassPart, Setting
from guidegen.workshop.fields import Conductance, HeatCapacity, Power, Spec


class SetHeater(Effect):
    """Another heating element."""

    draft: ClassVar[str] = "heater"
    mains_work: ClassVar[bool] = True
    drawn: ClassVar[tuple[str, ...]] = ("power", "heat_capacity", "to_boiler")

    kind: Literal["set_heater"]
    power: Annotated[Power, Spec("Heater power", ("700 W", "1500 W"), "power meter while heating")]
    heat_capacity: Annotated[HeatCapacity, Spec("Heat capacity", ("30 J/K", "120 J/K"), "a cold start")]
    to_boiler: Annotated[Conductance, Spec("Element to boiler metal", ("15 W/K", "80 W/K"), "a cold start")]

    def change(self, before: Fitted, setting: Setting) -> Fitted:
        """Power, heat capacity and contact are the new element's; its path to the water stays as it was."""
        capacity = setting.own("heat_capacity")
        # Nobody states an element's mass, old or new: an element is weighed with its boiler.
        heater = MassPart("heater", gettext("heater element of the kit"), np.zeros(len(capacity)), capacity, kit=True)
        changed = before.changed(
            heater_power=setting.own("power"), heater_capacity=capacity, heater_to_boiler=setting.own("to_boiler")
        )
        return changed.having(heater)
