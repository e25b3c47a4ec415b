"""The elevation: boiler and coil from the front, the coil cut through the axis, to scale."""

from __future__ import annotations

import math
from collections.abc import Iterator

from guidegen.language import gettext
from guidegen.record.scene import Scene, SceneBolts, SceneCoil, SceneLayer, SceneProtrusion, SceneThing
from guidegen.record.stated import Protrusion
from guidegen.site.drawings.lengths import dimension, scale_bar
from guidegen.site.drawings.marks import Point, Sheet, Style
from guidegen.site.drawings.view import (
    COLUMN,
    DIMENSIONS,
    HEAD,
    PLATE,
    SHOULDER,
    SYMBOL,
    WIDTH,
    Drawing,
    coil_reach,
    common_scale,
    foot_of,
    radius_of,
)


class Elevation:
    """Draws a scene from the front. `decided` is what becomes of each protrusion."""

    def __init__(self, scene: Scene, decided: dict[str, Protrusion], radius: float, straight: float) -> None:
        self.scene, self.decided, self.radius, self.straight = scene, decided, radius, straight
        boiler = scene.boiler
        self.scale = common_scale(scene)
        self.foot = foot_of(scene)
        self.top = boiler.height_mm or straight
        tallest = self.top + max([SYMBOL * 2, *(one.stands_out_mm or 0.0 for one in scene.things)])
        self.zero = 14 + tallest * self.scale
        self.low = (self.foot or 0.0) + (PLATE if boiler.flange_mm is not None else 0.0)
        self.view = Drawing(
            name="elevation",
            title=gettext("From the front"),
            says=gettext("The boiler from the front; the coil is cut through the boiler's axis."),
            height=self.zero + self.low * self.scale + DIMENSIONS + 22,
            scale=self.scale,
        )
        self.sheet: Sheet = self.view.sheet

    def at(self, x: float, z: float) -> Point:
        """Where a point lies on the sheet: mm to the right of the axis, mm over the straight wall's lower edge."""
        return WIDTH / 2 + x * self.scale, self.zero - z * self.scale

    def drawn(self) -> Drawing:
        """The view."""
        self._body()
        for one in self.scene.things:
            self._thing(one)
        if self.scene.coil is not None:
            self._coil(self.scene.coil)
        for protrusion in self.scene.protrusions:
            self._protrusion(protrusion)
        if self.scene.bolts is not None:
            self._bolts(self.scene.bolts)
        self._dimensions()
        return self.view

    def _box(self, left: float, bottom: float, right: float, top: float, style: Style) -> None:
        corners = [self.at(left, bottom), self.at(right, bottom), self.at(right, top), self.at(left, top)]
        self.sheet.line(corners, style, closed=True)

    def _body(self) -> None:
        radius, foot = self.radius, self.foot or 0.0
        shoulder = radius * SHOULDER if self.top > self.straight else radius
        outline = [(-radius, -foot), (radius, -foot), (radius, self.straight), (shoulder, self.top),
                   (-shoulder, self.top), (-radius, self.straight)]  # fmt: skip
        self.sheet.line([self.at(*one) for one in outline], "body", closed=True)
        for height in (0.0, self.straight):
            self.sheet.line([self.at(-radius, height), self.at(radius, height)], "fine")
        self.sheet.line([self.at(0, self.top + 8), self.at(0, -self.low - 6)], "axis")
        targets = self.view.targets
        targets["wall"] = self.at(radius * 0.55, self.straight * 0.75)
        targets["boiler"] = self.at(-radius * 0.5, self.top - 2)
        if self.scene.boiler.flange_mm is not None:
            half = self.scene.boiler.flange_mm / 2
            self._box(-half, -foot - PLATE, half, -foot, "steel" if self.foot is not None else "hidden")
        targets["seal"] = self.at(radius * 0.7, -self.low)

    def _coil(self, coil: SceneCoil) -> None:
        for layer in coil.layers:
            for x, z in tube_places(coil, layer):
                self.sheet.ring(self.at(x, z), coil.tube_mm / 2 * self.scale, "kit")
                self.sheet.ring(self.at(x, z), (coil.tube_mm / 2 - coil.wall_mm) * self.scale, "kit-edge")
        outside = coil_reach(self.scene)
        self.view.targets["coil"] = self.at(outside - coil.tube_mm / 2, coil.tube_mm / 2 + coil.pitch_mm / 2)
        self.view.targets["clamp-band"] = self.at(outside, coil.height_mm * 0.5)
        for side in (-1, 1):
            for share in (0.25, 0.75):
                here = self._outside_at(coil, coil.height_mm * share) * side
                self._box(here, coil.height_mm * share - 3, here + side * 1.0, coil.height_mm * share + 3, "kit-shade")

    def _outside_at(self, coil: SceneCoil, height: float) -> float:
        """How far the coil reaches at a height, mm from the axis."""
        return max(
            (layer.mean_mm / 2 + coil.tube_mm / 2
             for layer in coil.layers
             if 0 <= height - (layer.from_mm or 0.0) <= layer.turns * coil.pitch_mm + coil.tube_mm),
            default=self.radius,
        )  # fmt: skip

    def _protrusion(self, one: SceneProtrusion) -> None:
        if one.from_mm is None or one.to_mm is None or one.stands_out_mm is None:
            self.view.unplaced.append(one.id)
            return
        if one.clock_deg is None:
            self.view.unplaced.append(one.id)
        sides = (-1, 1) if one.clock_deg is None else (-1,) if one.clock_deg > 180 else (1,)
        decision = self.decided.get(one.id)
        for side in sides:
            near, far = side * self.radius, side * (self.radius + one.stands_out_mm)
            corners = [self.at(near, one.from_mm), self.at(far, one.from_mm), self.at(far, one.to_mm),
                       self.at(near, one.to_mm)]  # fmt: skip
            if decision is not None and decision.action == "trim" and one.clock_deg is not None:
                self.sheet.hatched(corners)
            else:
                self.sheet.line(corners, "body" if one.clock_deg is not None else "open", closed=True)
            if one.clock_deg is not None:
                self.view.targets[one.id] = self.at((near + far) / 2, (one.from_mm + one.to_mm) / 2)

    def _bolts(self, bolts: SceneBolts) -> None:
        if bolts.circle_mm is None or bolts.head_mm is None or bolts.head_room_mm is None:
            return
        for side in (-1, 1):
            x = side * bolts.circle_mm / 2
            self._box(
                x - bolts.head_mm / 2, -bolts.head_room_mm - HEAD, x + bolts.head_mm / 2, -bolts.head_room_mm, "body"
            )

    def _thing(self, one: SceneThing) -> None:
        spot = one.spot
        if spot is None or spot.clock_deg is None:
            return
        if spot.out_mm is None:
            front = math.cos(math.radians(spot.clock_deg)) < 0
            if front and spot.up_mm is not None:
                place = self.at(self.radius * math.sin(math.radians(spot.clock_deg)), spot.up_mm)
                self.sheet.ring(place, 4, "body")
                self.view.targets[one.id] = place
            return
        x = spot.out_mm * math.sin(math.radians(spot.clock_deg))
        tall = one.stands_out_mm or SYMBOL * 1.2
        if one.stands_out_mm:
            # Whatever else stands on the top may stand behind something: the plan shows it.
            self.view.targets[one.id] = self.at(x, self.top + tall * 0.7)
        if one.kind == "joint" and any(spot == other.spot and other.id != one.id for other in self.scene.things):
            return
        half = SYMBOL * 0.5 if one.stands_out_mm else SYMBOL * 0.8
        self._box(x - half, self.top, x + half, self.top + tall, "body")
        if one.stands_out_mm:
            self._box(x - SYMBOL, self.top, x + SYMBOL, self.top + min(6.0, tall / 2), "body")

    def _dimensions(self) -> None:
        below = self.at(0, -self.low)[1] + 26
        for x in (-self.radius, self.radius):
            self.sheet.line([self.at(x, -(self.foot or 0.0) if self.scene.boiler.flange_mm else -self.low),
                             (self.at(x, 0)[0], below + 3)], "dim")  # fmt: skip
        first, last = self.at(-self.radius, 0)[0], self.at(self.radius, 0)[0]
        dimension(self.sheet, (first, below), (last, below), 2 * self.radius, lead="⌀ ")
        right = WIDTH - COLUMN - 14
        self._upright(right, 0.0, self.straight, self.radius)
        if self.scene.coil is not None:
            self._upright(COLUMN + 22, 0.0, self.scene.coil.height_mm, -coil_reach(self.scene))
        scale_bar(self.sheet, (14, self.view.height - 10), self.scale, 20.0)

    def _upright(self, x: float, bottom: float, top: float, from_mm: float) -> None:
        """A height, with lines that lead to it from a distance of the axis."""
        way = 3 if x > WIDTH / 2 else -3
        for height in (bottom, top):
            y = self.at(0, height)[1]
            self.sheet.line([(self.at(from_mm, 0)[0] + way, y), (x + way, y)], "dim")
        dimension(self.sheet, (x, self.at(0, bottom)[1]), (x, self.at(0, top)[1]), top - bottom)


def tube_places(coil: SceneCoil, layer: SceneLayer) -> Iterator[Point]:
    """The middles of the tube of a layer in a plane through the axis, mm from the axis and over the wall's edge.

    The tube begins at the left and climbs one pitch in a turn, so it passes the right half a turn later.
    """
    bottom = (layer.from_mm or 0.0) + coil.tube_mm / 2
    passes = 0.0
    while passes <= layer.turns + 1e-9:
        right = round(passes * 2) % 2 == 1
        yield (1 if right else -1) * layer.mean_mm / 2, bottom + passes * coil.pitch_mm
        passes += 0.5


def elevation(scene: Scene, decided: dict[str, Protrusion]) -> Drawing | None:
    """The elevation of a scene; None where nobody knows the boiler's diameter or the height of its wall."""
    radius, straight = radius_of(scene), scene.boiler.straight_wall_mm
    return None if radius is None or straight is None else Elevation(scene, decided, radius, straight).drawn()
