"""The effect `scale_loss`: a loss or a path of heat that becomes larger or smaller."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, ClassVar, Literal

from guidegen.trade.effects.base import Effect, Fitted, Setting
from guidegen.workshop.fields import Ratio, Spec


class ScaleLoss(Effect):
    """A loss or a path of heat that becomes larger or smaller."""

    most: ClassVar[int] = 6
    drawn: ClassVar[tuple[str, ...]] = ("by",)

    kind: Literal["scale_loss"]
    loss: Literal["boiler_to_case", "group_to_room", "boiler_to_group", "coil_to_case"]
    by: Annotated[Ratio, Spec("Factor", ("10 %", "200 %"), "idle watts before and after")]

    @property
    def of_coil(self) -> bool:
        """Whether the loss is that of the coil."""
        return self.loss == "coil_to_case"

    def change(self, before: Fitted, setting: Setting) -> Fitted:
        """The network calls each path as the YAML does; two factors on one path multiply.

        That of a coil is the coil's own; without one there is nothing to change.
        """
        if self.of_coil:
            coil = before.network.coil
            return before if coil is None else before.changed(
                coil=replace(coil, to_case=coil.to_case * setting.own("by")))  # fmt: skip
        return before.scaled(self.loss, setting.own("by"))
