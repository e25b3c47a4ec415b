"""The effect `add_mass`: more metal on the boiler or the group."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from guidegen.heat.materials import material
from guidegen.language import gettext, marked
from guidegen.language.choices import choice
from guidegen.trade.effects.base import Effect, Fitted, MassPart, Setting
from guidegen.workshop.fields import Mass, Material, Spec

WHERE = {"boiler": marked("added to the boiler, {material}"), "group": marked("added to the group, {material}")}


class AddMass(Effect):
    """More metal on the boiler or the group."""

    most: ClassVar[int] = 6
    states_mass: ClassVar[bool] = True
    drawn: ClassVar[tuple[str, ...]] = ("mass",)

    kind: Literal["add_mass"]
    to: Literal["boiler", "group"]
    mass: Annotated[Mass, Spec("Mass added", ("5 g", "1 kg"), "weigh it")]
    material: Annotated[Material, Spec("Material", settles="look", stand_in="brass")]

    def change(self, before: Fitted, setting: Setting) -> Fitted:
        """Its heat capacity joins that of what it sits on, whose temperature it has."""
        mass = setting.own("mass")
        capacity = mass * material(self.material.value).specific_heat
        name = gettext(WHERE[self.to]).format(material=choice(self.material.value))
        number = "" if setting.number == 1 else f"-{setting.number}"
        field = f"{self.to}_capacity"
        heavier = before.changed(**{field: getattr(before.network, field) + capacity})
        return heavier.having(MassPart(f"mass{number}", name, mass, capacity, kit=True))
