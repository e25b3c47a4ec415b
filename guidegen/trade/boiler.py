"""The boiler: its metal and water, the bolts that hold it together, and what stands out of its wall."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from guidegen.workshop.base import Id, Line, Model
from guidegen.workshop.fields import (
    Choice,
    Choices,
    Conductance,
    Count,
    Length,
    Mass,
    Material,
    Spec,
    Torque,
    Volume,
    Words,
)


class Bolts(Model):
    """The bolts that hold the boiler's two parts, or the boiler to the group, together.

    Their heads stand beside the foot of the straight wall, where a coil may cover them: `undone_from` is the side the
    key comes from, `above` being the coil's; `head_room` is what stays free over a head before the coil begins.
    """

    count: Annotated[Count, Spec("Number of bolts", ("2", "8"), "count them")]
    thread: Annotated[Words, Spec("Thread of the boiler bolts", settles="thread gauge and calliper")]
    class_: Annotated[Words, Spec("Strength class of the bolts", settles="read the bolt's head")] = Field(alias="class")
    torque: Annotated[Torque, Spec("Tightening torque", ("2 N·m", "12 N·m"), "the maker's document")]
    circle: (
        Annotated[Length, Spec("Diameter of the bolt circle", ("60 mm", "120 mm"), "calliper over two bolts")] | None
    ) = None
    engagement: Annotated[Length, Spec("Engaged thread", ("4 mm", "15 mm"), "depth gauge")] | None = None
    undone_from: (
        Annotated[
            Choice,
            Choices(("above", "below")),
            Spec("Side from which the boiler bolts are undone", settles="look where their heads are"),
        ]
        | None
    ) = None
    head: Annotated[Length, Spec("Diameter of a boiler bolt's head", ("5 mm", "20 mm"), "calliper")] | None = None
    head_room: (
        Annotated[
            Length,
            Spec(
                "Height from a bolt's head up to the straight wall",
                ("0 mm", "40 mm"),
                "depth gauge, from the top of the head to the lower edge of the straight wall",
            ),
        ]
        | None
    ) = None


class WallBand(Model):
    """A band of the straight wall, as heights above its lower edge."""

    from_: Annotated[Length, Spec("Lower end of the band", settles="height gauge")] = Field(alias="from")
    to: Annotated[Length, Spec("Upper end of the band", settles="height gauge")]


class WrittenProtrusion(Model):
    """Something that stands out of the boiler's wall. What it carries is known before anyone cuts it."""

    id: Id
    name: Line
    kind: Literal["boss", "web", "ear", "stud", "unknown"]
    band: WallBand
    stands_out: Annotated[Length, Spec("How far it stands out", ("0 mm", "20 mm"), "depth gauge")]
    width: Annotated[Length, Spec("Width", ("2 mm", "60 mm"), "calliper")]
    carries: Annotated[Words, Spec("What it carries", settles="look, under the lid, unplugged and cold")]
    metal_left: Annotated[Length, Spec("Metal that must remain", ("1 mm", "10 mm"), "depth gauge")]
    function: Line


class Boiler(Model):
    """The boiler: metal, water, and the room for a coil round it."""

    material: Annotated[
        Material, Spec("Boiler material", settles="magnet, colour, weight", stand_in="brass", vital=True)
    ]
    mass: Annotated[Mass, Spec("Boiler, empty", ("0.40 kg", "0.65 kg"), "weigh the empty boiler")]
    water: Annotated[Volume, Spec("Water in the boiler", ("80 ml", "110 ml"), "weigh full minus empty")]
    diameter: Annotated[Length, Spec("Outside diameter", ("55 mm", "110 mm"), "calliper at the straight wall")]
    straight_wall: Annotated[
        Length, Spec("Height of the straight wall", ("20 mm", "140 mm"), "depth gauge, radii not counted")
    ]
    height: (
        Annotated[
            Length,
            Spec(
                "Height of the boiler's top over the lower edge of the straight wall",
                ("20 mm", "160 mm"),
                "height gauge",
            ),
        ]
        | None
    ) = None
    flange: Annotated[Length, Spec("Diameter of the boiler's flange", ("60 mm", "150 mm"), "calliper")] | None = None
    wall: Annotated[Length, Spec("Wall thickness", ("1.5 mm", "8 mm"), "calliper at a port")]
    clearance: Annotated[
        Length, Spec("Free room round the boiler", ("5 mm", "60 mm"), "feeler or ruler, narrowest place")
    ]
    to_water: Annotated[Conductance, Spec("Boiler to its water", ("8 W/K", "40 W/K"), "an outlet run")]
    insulation: Annotated[Words, Spec("Insulation", settles="look under the lid", stand_in="none")]
    gasket: Annotated[Words, Spec("Boiler gasket", settles="measure the old gasket", stand_in="as the old gasket")]
    bolts: Bolts
    protrusions: tuple[WrittenProtrusion, ...]
