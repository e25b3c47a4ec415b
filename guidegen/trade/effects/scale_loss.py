"""The effect `scale_loss`: a loss or a path of heat that becomes larger or smaller."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from guidegen.trade.effects.base import Effect, Fitted, Setting
from guidegen.workshop.fields import Ratio, Spec


class ScaleLoss(Effect):
    """A loss or a path of heat that becomes larger or smaller."""

    most: ClassVar[int] = 6
    drawn: ClassVar[tuple[str, ...]] = ("by",)

    kind: Literal["scale_loss"]
    loss: Literal["boiler_to_case", "group_to_room", "boiler_to_group"]
    by: Annotated[Ratio, Spec("Factor", ("10 %", "200 %"), "idle watts before and after")]

    def change(self, before: Fitted, setting: Setting) -> Fitted:
        """The network calls each path as the YAML does; two factors on one path multiply."""
        return before.scaled(self.loss, setting.own("by"))
