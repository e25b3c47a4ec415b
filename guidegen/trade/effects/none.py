"""The effect `none`: a kit that changes nothing of the heat."""

from __future__ import annotations

from typing import ClassVar, Literal

from guidegen.trade.effects.base import Effect, Fitted, Setting
from guidegen.workshop.base import Line


class NoEffect(Effect):
    """A kit that changes nothing of the heat, and says so."""

    draft: ClassVar[str] = "on-casing"
    states_mass: ClassVar[bool] = True

    kind: Literal["none"]
    because: Line

    def change(self, before: Fitted, setting: Setting) -> Fitted:
        """The same machine."""
        return before
