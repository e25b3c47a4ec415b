"""The axonometric picture: the boiler with its coil as one sees it from the front and above, hidden lines removed.

What lies behind is drawn first: the far halves of the coil, the boiler, what stands on its top, then the near halves,
layer by layer outwards and turn by turn upwards.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from guidegen.language import gettext
from guidegen.record.scene import Scene, SceneBolts, SceneProtrusion, SceneThing
from guidegen.record.stated import Protrusion
from guidegen.site.drawings.marks import Point, Style
from guidegen.site.drawings.space import TILT, Across, Space
from guidegen.site.drawings.tube import half_turns, on_coil, open_end
from guidegen.site.drawings.view import (
    COLUMN,
    PLATE,
    SHOULDER,
    SYMBOL,
    WIDTH,
    Drawing,
    bolt_angle,
    coil_reach,
    foot_of,
    radius_of,
    reach_for,
)

CUT_SEEN = (185.0, 265.0)
"""Directions left of the front, in which a cut can be seen; a boiler whose first cut lies elsewhere is turned."""
PREFERRED = 215.0
SCREWS = ("earth", "place", "screw")
FITTINGS = ("port", "fitting", "joint")


class Axonometry:
    """Draws a scene from the front and above. `decided` is what becomes of each protrusion."""

    def __init__(self, scene: Scene, decided: dict[str, Protrusion], radius: float, straight: float) -> None:
        self.scene, self.decided, self.radius, self.straight = scene, decided, radius, straight
        boiler = scene.boiler
        wide = max(coil_reach(scene), (boiler.flange_mm or 0.0) / 2)
        scale = (WIDTH / 2 - COLUMN - 10) / reach_for(wide)
        self.foot = foot_of(scene) or 0.0
        self.top = boiler.height_mm or straight
        tallest = self.top + max([SYMBOL * 2, *(one.stands_out_mm or 0.0 for one in scene.things)])
        zero = 14 + (tallest * math.cos(TILT) + radius * math.sin(TILT) * 0.8) * scale
        below = (self.foot + PLATE) * math.cos(TILT) + wide * math.sin(TILT)
        self.view = Drawing(
            name="picture",
            title=gettext("The boiler with the coil") if scene.coil else gettext("The boiler"),
            says=gettext("The boiler from the front and above."),
            height=zero + below * scale + 12,
            scale=scale,
        )
        self.space = Space(self.view.sheet, scale, zero, _turned(scene, decided))

    def drawn(self) -> Drawing:
        """The view."""
        if self.scene.boiler.flange_mm is not None:
            half = self.scene.boiler.flange_mm / 2
            # Where nobody states how far below it lies it is dashed, as in the elevation.
            style: Style = "hidden" if foot_of(self.scene) is None else "steel"
            self.space.can((0.0, 0.0), half, -self.foot - PLATE, -self.foot, style)
        self._bolts(front=False)
        solid = list(self._solid())
        near = [one for one in solid if one.near > 0]
        for one in solid:
            if one not in near:
                self._block(one)
        self._coil(front=False)
        self._body()
        self._on_top()
        for one in near:
            self._block(one)
        self._coil(front=True)
        for one in near:
            # What is cut off lies where the coil goes, so it is drawn over the coil.
            if one.goes:
                self.view.sheet.hatched(one.face)
        self._bolts(front=True)
        return self.view

    def _coil(self, *, front: bool) -> None:
        """The near or the far half of the coil: outer layers lie behind at the back, and before in front."""
        coil = self.scene.coil
        if coil is None:
            return
        for layer in coil.layers if front else reversed(coil.layers):
            half_turns(self.space, coil, layer, front=front)
            if front:
                open_end(self.space, coil, layer)
        last = coil.layers[-1]
        self.view.targets["coil"] = on_coil(self.space, coil, last, min(last.turns, 1.0) * 0.42)

    def _body(self) -> None:
        space, radius, targets = self.space, self.radius, self.view.targets
        space.can((0.0, 0.0), radius, -self.foot, self.straight, "body")
        if self.top > self.straight:
            space.shoulder(radius, self.straight, radius * SHOULDER, self.top, "body")
        targets["boiler"] = space.seen(radius * 0.2, radius * 0.55, self.top)
        targets["wall"] = space.seen(radius * 0.5, radius * 0.866, self.straight - 2)

    # --- on the top plate, and the bolts -----------------------------------------------------------------

    def _on_top(self) -> None:
        """What stands on the top plate, from the far side to the near one; the inlet that is there before its joint."""
        placed = []
        for one in self.scene.things:
            if one.spot is not None and one.spot.clock_deg is not None and one.spot.out_mm is not None:
                centre = self.space.across(one.spot.out_mm, one.spot.clock_deg)
                placed.append((centre[1], one.stands_out_mm is None, one.id, one, centre))
        drawn: set[Across] = set()
        for *_, one, centre in sorted(placed, key=lambda row: row[:3]):
            tall = one.stands_out_mm or SYMBOL * 1.2
            if centre not in drawn:
                self._standing(one, centre, tall)
            drawn.add(centre)
            self.view.targets[one.id] = self.space.seen(*centre, self.top + tall * 0.9)

    def _standing(self, one: SceneThing, centre: Across, tall: float) -> None:
        """A thing as a symbol: a fitting on its hexagon, terminals as two posts, a screw, a device with its rim."""
        can, top = self.space.can, self.top
        if one.kind in FITTINGS:
            collar = min(6.0, tall / 2)
            can(centre, SYMBOL, top, top + collar, "body")
            can(centre, SYMBOL * 0.5, top + collar, top + tall, "body")
        elif one.kind == "terminals":
            for side in (-4.0, 4.0):
                can((centre[0] + side, centre[1]), 1.6, top, top + 9, "body")
        elif one.kind in SCREWS:
            can(centre, SYMBOL * 0.42, top, top + 4, "body")
        else:
            can(centre, SYMBOL, top, top + tall * 0.5, "body")
            can(centre, SYMBOL * 0.6, top + tall * 0.5, top + tall, "body")

    def _bolts(self, *, front: bool) -> None:
        bolts = self.scene.bolts
        if bolts is None or bolts.undone_from != "above":
            return
        for number, degrees in sorted(self._angles(bolts), key=lambda one: self.space.near(one[1])):
            if (self.space.near(degrees) >= 0) == front and bolts.circle_mm and bolts.head_mm and bolts.head_room_mm:
                centre = self.space.across(bolts.circle_mm / 2, degrees)
                self.space.can(centre, bolts.head_mm / 2, -self.foot, -bolts.head_room_mm, "body")
                if front:
                    self.view.targets[f"bolt-{number}"] = self.space.seen(*centre, -bolts.head_room_mm)

    def _angles(self, bolts: SceneBolts) -> Iterator[tuple[int, float]]:
        for number in range(1, bolts.count + 1):
            if (degrees := bolt_angle(self.scene, number)) is not None:
                yield number, degrees

    # --- what stands out of the wall ---------------------------------------------------------------------

    def _solid(self) -> Iterator[Stub]:
        """What stands out of the wall, as blocks; what nobody can place is named and not drawn."""
        for one in self.scene.protrusions:
            made = self._made(one)
            if made is None:
                self.view.unplaced.append(one.id)
            else:
                yield made

    def _made(self, one: SceneProtrusion) -> Stub | None:
        clock, low, high, out, width = one.clock_deg, one.from_mm, one.to_mm, one.stands_out_mm, one.width_mm
        if clock is None or low is None or high is None or out is None or width is None:
            return None
        ahead, aside = self.space.across(1.0, clock), self.space.across(1.0, clock + 90)
        close = self.radius * math.cos(math.asin(min(1.0, width / 2 / self.radius)))
        far, half = self.radius + out, width / 2

        def corner(away: float, side: float, z: float) -> Point:
            return self.space.seen(ahead[0] * away + aside[0] * side, ahead[1] * away + aside[1] * side, z)

        # Of the two flanks the one that turns towards the one who looks.
        flank = half if aside[1] > 0 else -half
        decision = self.decided.get(one.id)
        return Stub(
            one.id,
            self.space.near(clock),
            goes=decision is not None and decision.action == "trim",
            face=tuple(corner(far, side, z) for side, z in ((-half, low), (half, low), (half, high), (-half, high))),
            upper=tuple(
                corner(d, side, high) for d, side in ((close, -half), (far, -half), (far, half), (close, half))
            ),
            flank=tuple(corner(d, flank, z) for d, z in ((close, low), (far, low), (far, high), (close, high))),
        )

    def _block(self, one: Stub) -> None:
        for corners in (one.flank, one.face, one.upper) if one.near > 0 else (one.face, one.flank, one.upper):
            self.view.sheet.line(corners, "body", closed=True)
        self.view.targets[one.id] = _middle(one.face)


@dataclass(frozen=True)
class Stub:
    """What stands out of the wall, by its faces on the sheet; `near` as for a direction, `goes` where it is cut off."""

    id: str
    near: float
    goes: bool
    face: tuple[Point, ...]
    upper: tuple[Point, ...]
    flank: tuple[Point, ...]


def _turned(scene: Scene, decided: dict[str, Protrusion]) -> float:
    """By how much the boiler is turned so that its first cut lies left of the front: in steps of 30°, mostly not."""
    for one in scene.protrusions:
        decision = decided.get(one.id)
        if decision is not None and decision.action == "trim" and one.clock_deg is not None:
            if CUT_SEEN[0] <= one.clock_deg <= CUT_SEEN[1]:
                return 0.0
            return round((PREFERRED - one.clock_deg) / 30) * 30.0
    return 0.0


def _middle(corners: tuple[Point, ...]) -> Point:
    return sum(x for x, _ in corners) / len(corners), sum(y for _, y in corners) / len(corners)


def picture(scene: Scene, decided: dict[str, Protrusion]) -> Drawing | None:
    """The picture of a scene; None where nobody knows the boiler's diameter or the height of its wall."""
    radius, straight = radius_of(scene), scene.boiler.straight_wall_mm
    return None if radius is None or straight is None else Axonometry(scene, decided, radius, straight).drawn()
