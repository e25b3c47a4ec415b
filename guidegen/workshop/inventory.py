"""What an act of an instruction can name on a machine or in a kit, beside its parts, tools and devices.

Each thing has the words for a sentence (`say: the feed hose`) and, where they differ, for a list (`name: feed hose`).
What nobody knows is written `{kind: unknown}`: an instruction that needs it is withheld for that variant.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Discriminator, Field, Tag

from guidegen.workshop.any_quantity import QuantityText
from guidegen.workshop.base import Id, Line, Model, shaped
from guidegen.workshop.fields import Choice, Choices, Length, Spec, Words

Say = Annotated[str, shaped(r"[a-z][^,()\[\]{}0-9]*", "the feed hose")]
"""Words for the middle of a sentence: no capital, comma, bracket or digit."""

Sealing = Literal["flat-seal", "two-seals", "gasket", "tape", "clamping-ring", "unknown"]
"""What makes a joint tight: one thing, never tape together with a flat seal.

Of one that nobody has opened yet it is `unknown`: an instruction that closes the joint is withheld.
"""


ThingKind = Literal[
    "bands", "bolt", "boiler", "bracket", "casing", "coil", "controller", "cover", "display", "earth", "face", "faces",
    "fitting", "gasket", "heater", "hose", "mains-terminals", "new-gasket", "new-hose", "outlet", "part", "place",
    "port", "pump", "return", "screw", "seat", "sensor", "spare-boiler", "switch", "tank", "tap", "terminals", "valve",
    "wall",
]  # fmt: skip
"""What a thing can be that is no joint, lead, circuit or group; a `port` is an opening that nothing can close."""
CLOSING: frozenset[str] = frozenset({"pump", "tap", "valve"})
"""Kinds that water passes, and that can stop it."""
PASSED: frozenset[str] = CLOSING | {
    "boiler", "coil", "fitting", "heater", "hose", "new-hose", "outlet", "port", "return", "spare-boiler", "tank",
}  # fmt: skip
"""Kinds that water passes or reaches: what a joint can connect, beside a relief valve and a part of the kit's lists."""


class ScrewedEnd(Model):
    """A thread at an end of a thing: `male` is outside, `female` inside. Its name may be a fact in braces.

    Of an inch: `G 1/8` by iso-228-1, which seals on a face; `R 1/8` in `Rp 1/8` or `Rc 1/8` by iso-7-1, which seals on
    the thread. That a male thread goes into a female one is common practice of such work, no source.
    """

    thread: Line
    gender: Literal["male", "female"]


class JointScrew(Model):
    """The screw of a joint or lead that is tightened by torque: its thread and metal, into what it goes, how deep.

    Of a hollow screw also the bore along it and the cross bore.
    """

    thread: Annotated[Words, Spec("Thread", settles="thread gauge")]
    metal: Annotated[
        Choice,
        Choices(("brass", "A2-50", "A2-70", "A4-80", "8.8")),
        Spec("Metal of the screw", settles="magnet, colour"),
    ]
    into: Annotated[
        Choice,
        Choices(("brass", "aluminium", "copper", "stainless")),
        Spec("Metal round the hole", settles="look at it"),
    ]
    engagement: Annotated[Length, Spec("Engaged length of the thread", ("3 mm", "20 mm"), "calliper, joint undone")]
    bore: Annotated[Length, Spec("Bore along the screw", ("1 mm", "15 mm"), "calliper")] | None = None
    cross: Annotated[Length, Spec("Cross bore of the screw", ("1 mm", "8 mm"), "calliper")] | None = None


class InventoryThing(Model):
    """Something that is named and no more. `seat` is where a sensor sits, `held` what keeps a part in its place,
    `part_of` what a place belongs to.

    `resolution` is the smallest step that a display shows, of a `display` and of a `controller` that has one. `takes`
    are the ids of what of the kit's lists goes with it when it is put on; `in_place_of` is what a kit's thing replaces
    in the heater's circuit. `drawn_as`: the thing whose place it has in a drawing, as an old boiler that of the boiler.
    `threads`: what hoses and fittings are screwed to, each thread once. `screw` is what
    holds the eyelet of a lead, at an `earth` or a `place`.
    """

    kind: ThingKind
    say: Say
    name: Line | None = None
    seat: Line | None = None
    held: Line | None = None
    resolution: QuantityText | None = None
    part_of: Id | None = None
    drawn_as: Id | None = None
    takes: tuple[Id, ...] = ()
    in_place_of: Id | None = None
    threads: tuple[ScrewedEnd, ...] = ()
    screw: JointScrew | None = None


class InventoryJoint(Model):
    """A wet joint: the two things that it connects, what seals it, the spanners, and what it takes from the lists.

    A joint that is tightened by torque says what its `screw` is. `settles`: its seal gives way in the first heat, so
    that its screws are tightened once more. `closes`: it holds something that can stop the water, as a check valve
    does.
    """

    kind: Literal["joint"]
    say: Say
    name: Line | None = None
    between: tuple[Id, Id]
    sealing: Sealing
    screw: JointScrew | None = None
    settles: bool = False
    closes: bool = False
    tools: tuple[Id, ...] = ()
    takes: tuple[Id, ...] = ()


class InventoryLead(Model):
    """A lead: where it begins and ends, and whether the heater's current flows through it."""

    kind: Literal["lead"]
    say: Say
    name: Line | None = None
    ends: tuple[Id, Id]
    heats: bool = False
    takes: tuple[Id, ...] = ()


class InventoryCircuit(Model):
    """What the heater's current passes, in order from the mains through the heater and back: switches and devices."""

    kind: Literal["circuit"]
    say: Say
    name: Line | None = None
    in_order: tuple[Id, ...] = Field(min_length=2)


class InventoryGroup(Model):
    """Several things of one kind that a sentence names together: `say: both heater leads`."""

    kind: Literal["group"]
    say: Say
    of: tuple[Id, ...] = Field(min_length=2)


class InventoryUnknown(Model):
    """A thing that the machine may have, and of which nobody has looked what it is."""

    kind: Literal["unknown"]


def _kind(data: Any) -> str:
    kind = data.get("kind") if isinstance(data, dict) else getattr(data, "kind", None)
    return str(kind) if kind in ("joint", "lead", "circuit", "group", "unknown") else "plain"


AnyThing = Annotated[
    Annotated[InventoryJoint, Tag("joint")]
    | Annotated[InventoryLead, Tag("lead")]
    | Annotated[InventoryCircuit, Tag("circuit")]
    | Annotated[InventoryGroup, Tag("group")]
    | Annotated[InventoryUnknown, Tag("unknown")]
    | Annotated[InventoryThing, Tag("plain")],
    Discriminator(_kind),
]
Inventory = dict[Id, AnyThing]
