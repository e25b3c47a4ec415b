"""What a drawing of a machine with a kit needs: where everything is, in millimetres, as stated and as computed.

Heights are above the lower edge of the boiler's straight wall, directions degrees clockwise from the machine's back as
seen from above. What nobody knows is null, and a drawing says so. Texts about the same things stand elsewhere in the
record, under the same ids.
"""

from __future__ import annotations

from typing import Literal

from guidegen.record.base import Record

SYMBOL_MM = 8.0
"""Half the size of what is drawn as a symbol, since nobody states its size: devices, terminals, screws."""


class Spot(Record):
    """Where something is: on the boiler's wall (`up_mm`), on its top (`out_mm` from the axis), or on the case.

    On the case: the side as seen by whoever faces it, with shares from its left and lower edge.
    """

    clock_deg: float | None = None
    up_mm: float | None = None
    out_mm: float | None = None
    side: Literal["front", "back", "left", "right", "top", "under"] | None = None
    across: float | None = None
    above: float | None = None


class SceneThing(Record):
    """Something that the work names: of the machine, or brought by the kit. A joint or lead has two ends.

    `drawn_as`: in a drawing it is where that other thing is. `there` is false of an inlet fitting that such machines
    can have and this one, as far as anybody knows, has not.
    """

    id: str
    name: str
    kind: str
    brought: bool = False
    spot: Spot | None = None
    ends: tuple[str, ...] = ()
    drawn_as: str | None = None
    stands_out_mm: float | None = None
    there: bool = True


class SceneBoiler(Record):
    """The boiler's sizes; its height is that of its top over the straight wall's lower edge."""

    diameter_mm: float | None
    straight_wall_mm: float | None
    height_mm: float | None
    flange_mm: float | None
    clearance_mm: float | None
    wall_mm: float | None


class SceneBolts(Record):
    """The boiler's bolts: the direction of the first; the others follow clockwise, evenly. `order` is crosswise.

    They are tightened to `torque_nm`, ± `torque_within_nm`.
    """

    count: int
    order: tuple[int, ...]
    circle_mm: float | None
    head_mm: float | None
    head_room_mm: float | None
    undone_from: Literal["above", "below"] | None
    clock_deg: float | None
    torque_nm: float | None = None
    torque_within_nm: float | None = None


class SceneProtrusion(Record):
    """What stands out of the wall, by the id under which the record says what becomes of it."""

    id: str
    kind: str
    clock_deg: float | None
    from_mm: float | None
    to_mm: float | None
    stands_out_mm: float | None
    width_mm: float | None


class SceneLayer(Record):
    """One layer of the coil: its turns, the mean diameter of each, and the lower edge of the tube; null if unknown."""

    turns: float
    mean_mm: float
    from_mm: float | None


class SceneCoil(Record):
    """The coil as it is wound on this boiler."""

    tube_mm: float
    wall_mm: float
    pitch_mm: float
    height_mm: float
    layers: tuple[SceneLayer, ...]


class SceneWater(Record):
    """What the water passes from the pump to the boiler, in order, before and after fitting: things and joints.

    `relief_branch` is where the relief valve branches off, seen from where a coil goes; null where nobody knows.
    """

    before: tuple[str, ...]
    after: tuple[str, ...]
    relief_branch: Literal["upstream", "downstream"] | None
    check_valve: Literal["none", "before-relief", "after-relief"] | None
    relief: str | None
    pump_bar: float | None
    relief_bar: float | None


class SceneCircuit(Record):
    """What the heater's current passes, in order, before and after fitting; null where nobody knows."""

    before: tuple[str, ...] | None
    after: tuple[str, ...] | None


class SceneMark(Record):
    """An outside mark that tells the variant apart, and where on the case it is."""

    id: str
    spot: Spot | None


class SceneFamily(Record):
    """How far the machines of its family reach from the boiler's axis, mm: `clear_mm` with the free room round it."""

    across_mm: float
    clear_mm: float


class Scene(Record):
    """The machine with the kit, as far as it can be drawn.

    All machines of a family are drawn at one scale; `family` is absent before that was kept.
    """

    boiler: SceneBoiler
    bolts: SceneBolts | None
    protrusions: tuple[SceneProtrusion, ...]
    coil: SceneCoil | None
    things: tuple[SceneThing, ...]
    water: SceneWater
    circuit: SceneCircuit
    marks: tuple[SceneMark, ...]
    family: SceneFamily | None = None
