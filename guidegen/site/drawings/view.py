"""One view of a scene: what is drawn, where each thing is in it, and at what scale."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from guidegen.record.scene import SYMBOL_MM, Scene
from guidegen.site.drawings.marks import Point, Sheet

WIDTH = 360.0
"""Units across, so that on a phone one unit is about one pixel and the text of 11 units can be read."""
COLUMN = 34.0
"""Units at either side that are kept for the numbers of call-outs."""
REACHES = (40.0, 50.0, 65.0, 80.0, 100.0, 130.0, 170.0, 220.0)
"""mm; what is drawn reaches up to one of these, so that machines of about one size are drawn at one scale."""
SYMBOL = SYMBOL_MM
HOURS, DIMENSIONS = 24.0, 44.0
"""Units at either side: of the plan for the hours round it, of the elevation for dimension lines, and below it."""

HEAD, PLATE = 5.0, 6.0
"""mm; how tall a bolt's head and how thick the flange are drawn, since nobody states it."""
SHOULDER = 0.86
"""The top plate's radius over the boiler's: a symbol of the shoulder, of which nobody states the size."""


@dataclass
class Drawing:
    """A view: `targets` are where the leaders of call-outs end, by thing; `unplaced` things whose place nobody knows.

    `scale` is units for a millimetre; None where it is not drawn to scale.
    """

    name: str
    title: str
    says: str
    height: float
    sheet: Sheet = field(default_factory=Sheet)
    targets: dict[str, Point] = field(default_factory=dict)
    unplaced: list[str] = field(default_factory=list)
    scale: float | None = None
    notes: list[str] = field(default_factory=list)

    def names(self, thing: str) -> bool:
        """Whether the view can point to a thing, or say that nobody knows where it is."""
        return thing in self.targets or thing in self.unplaced


def reach_for(millimetres: float) -> float:
    """The next of the common reaches, mm."""
    return next((one for one in REACHES if one >= millimetres - 1e-9), math.ceil(millimetres / 100) * 100.0)


def common_scale(scene: Scene) -> float:
    """Units for a millimetre in plan and elevation: the same in both, and on every machine of the family."""
    boiler, bolts, family = scene.boiler, scene.bolts, scene.family
    radius = radius_of(scene) or 0.0
    across = [coil_reach(scene), (boiler.flange_mm or 0.0) / 2]
    across += [(bolts.circle_mm or 0.0) / 2 + SYMBOL] if bolts else []
    across += [family.across_mm] if family else []
    clear = [*across, radius + (boiler.clearance_mm or 0.0), *([family.clear_mm] if family else [])]
    plan = (WIDTH / 2 - COLUMN - HOURS) / reach_for(max(clear))
    return min(plan, (WIDTH / 2 - COLUMN - DIMENSIONS) / reach_for(max(across)))


def on_clock(radius: float, degrees: float) -> Point:
    """A point in plan, mm right and down from the axis: 0° is the machine's back, at the top of the drawing."""
    angle = math.radians(degrees)
    return radius * math.sin(angle), -radius * math.cos(angle)


STANDS_FOR: Mapping[str, str] = {
    "gasket": "seal",
    "new-gasket": "seal",
    "faces": "seal",
    "spare-boiler": "boiler",
    "face": "inlet",
}
"""What a kind of thing is in a drawing where it has no place of its own."""


def radius_of(scene: Scene) -> float | None:
    """The boiler's radius, mm; None where nobody knows it."""
    return None if scene.boiler.diameter_mm is None else scene.boiler.diameter_mm / 2


def coil_reach(scene: Scene) -> float:
    """How far the coil reaches from the axis, mm; the boiler's radius where there is none."""
    radius = radius_of(scene) or 0.0
    if scene.coil is None or not scene.coil.layers:
        return radius
    return max(one.mean_mm for one in scene.coil.layers) / 2 + scene.coil.tube_mm / 2


def bolt_angle(scene: Scene, number: int) -> float | None:
    """The direction of a bolt, degrees; None where nobody knows that of the first."""
    bolts = scene.bolts
    if bolts is None or bolts.clock_deg is None:
        return None
    return (bolts.clock_deg + (number - 1) * 360.0 / bolts.count) % 360.0


def foot_of(scene: Scene) -> float | None:
    """How far the flange's top lies below the straight wall, mm: the bolts' heads stand on it; None if not stated."""
    bolts = scene.bolts
    return None if bolts is None or bolts.head_room_mm is None else bolts.head_room_mm + HEAD
