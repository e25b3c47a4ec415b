"""What a feed coil is made of: its tube, how much of it, its tails, and how it is joined to the boiler."""

from __future__ import annotations

from typing import Annotated

from guidegen.language import marked
from guidegen.trade.uncertain import Uncertain
from guidegen.workshop.base import Model
from guidegen.workshop.facts import FAR_APART
from guidegen.workshop.fields import Choice, Choices, Length, Material, Spec


class Tube(Model):
    """The tube of a coil."""

    material: Annotated[Material, Spec("Tube material", settles="look", stand_in="copper")]
    outside: Annotated[Length, Spec("Tube, outside", ("4 mm", "12 mm"), "calliper")]
    wall: Annotated[Length, Spec("Tube wall", ("0.5 mm", "1.5 mm"), "micrometer at a cut end")]
    temper: Annotated[
        Choice,
        Choices(("annealed", "half-hard", "hard")),
        Spec("Temper", settles="the tube's certificate", stand_in="annealed"),
    ]


class Tails(Model):
    """The straight tube before the first turn, where the feed water comes in, and behind the last."""

    inlet: Annotated[Length, Spec("Tail at the coil's inlet", ("20 mm", "500 mm"), "tape measure")]
    outlet: Annotated[Length, Spec("Tail at the coil's outlet", ("20 mm", "500 mm"), "tape measure")]

    @property
    def length(self) -> float:
        """Both together as stated, m."""
        return self.inlet.value + self.outlet.value


def _assumed(name: str, title: str, ends: tuple[float, float, float], dimension: str, settles: str) -> Uncertain:
    low, value, high = ends
    unit = "W/(m·K)" if dimension == "conductivity" else "%"
    shown = [f"{one * (1 if unit != '%' else 100):g} {unit}" for one in (value, low, high)]
    return Uncertain(
        id=f"kit.{name}", name=title, value=value, low=low, high=high, dimension=dimension,
        text="{}, {} to {}".format(*shown), evidence="assumed", settles=settles,
        drawn="log-triangular" if low * FAR_APART < high else "triangular",
    )  # fmt: skip


_CONTACT = marked("Boiler to coil, per metre of tube that touches")
_SETTLES_CONTACT = marked("the coil's time constant")
JOINED = {
    "clamped": _assumed("contact", _CONTACT, (0.16, 0.6, 3.2), "conductivity", _SETTLES_CONTACT),
    "pasted": _assumed("contact", _CONTACT, (1.0, 4.0, 15.0), "conductivity", _SETTLES_CONTACT),
}
"""Kinds of contact between a round tube and a round wall, W/(m·K): drawn tight by bands, dry; and bedded in a paste
that conducts heat. Judgement: a dry line of contact is worth a small part of a bond, and a bond of collectors is called
good from 30 W/(m·K) on (Duffie and Beckman on tubes bound to a sheet, from memory)."""
TO_CASE = _assumed(
    "to_case", marked("Coil to the case's air, per metre of free tube"), (0.15, 0.35, 0.7), "conductivity",
    marked("parked temperature"),
)  # fmt: skip
"""Still air and radiation round 8 mm of tube, 50 K warmer: about 12 and 3 W/(m²·K) of 25 mm of circumference."""
SHIELDS = _assumed(
    "shields", marked("Share of the covered skin's loss that the coil stops"), (0.5, 0.8, 1.0), "ratio",
    marked("idle watts"),
)  # fmt: skip
"""Between the turns and through them something still leaves; judgement, no source."""
