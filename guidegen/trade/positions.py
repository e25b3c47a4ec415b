"""Where things are on a machine: on its boiler, as a clock seen from above and a height; or on the outside of its case.

What stands nowhere here is not known, and a drawing says so.
"""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import model_validator

from guidegen.problems import Code
from guidegen.workshop.base import Id, Model, refused
from guidegen.workshop.clock import Clock
from guidegen.workshop.fields import Length, Ratio, Spec

Side = Literal["front", "back", "left", "right", "top", "under"]
SIDES: tuple[Side, ...] = ("front", "back", "left", "right", "top", "under")


class Position(Model):
    """Where one thing is.

    On the boiler: `clock` seen from above, 12:00 at the machine's back; on the wall `up`, the height over the lower
    edge of the straight wall; on the top plate `out`, the distance from the boiler's axis. What stands out of the wall
    has its heights already, and of the boiler's bolts the clock is that of bolt 1. On the outside: `side` as seen by
    whoever faces it, `across` from its left and `above` from its lower edge, as shares of the side.
    """

    clock: (
        Annotated[Clock, Spec("Direction, seen from above", settles="look from above, the front towards you")] | None
    ) = None
    up: Annotated[Length, Spec("Height over the lower edge of the straight wall", settles="height gauge")] | None = None
    out: Annotated[Length, Spec("Distance from the boiler's axis", settles="calliper")] | None = None
    side: Side | None = None
    across: Annotated[Ratio, Spec("From the left edge", settles="a photograph")] | None = None
    above: Annotated[Ratio, Spec("From the lower edge", settles="a photograph")] | None = None

    @model_validator(mode="after")
    def _on_one(self) -> Self:
        outside = self.side, self.across, self.above
        on_boiler = self.clock, self.up, self.out
        if any(one is not None for one in outside) == any(one is not None for one in on_boiler):
            words = "a position is on the boiler or on the outside"
            raise refused(Code.POSITION, words, "write clock:, or side:, across: and above:")
        if self.side is None and self.clock is None:
            raise refused(Code.MISSING_KEY, "the direction is missing", "write clock:, as in clock: 7:30")
        if self.up is not None and self.out is not None:
            words = "a thing is on the wall (up) or on the top (out)"
            raise refused(Code.POSITION, words, "delete one of them", ("out",))
        if self.side is not None and (self.across is None or self.above is None):
            words = f"where on the {self.side} is missing"
            raise refused(Code.MISSING_KEY, words, "write across: and above:, as in across: 30 %")
        return self


Positions = dict[Id, Position]
