"""The plan: boiler, coil, what stands out of the wall, bolts and devices as seen from above, to scale."""

from __future__ import annotations

import math

from guidegen.language import gettext
from guidegen.record.scene import Scene, SceneProtrusion, SceneThing
from guidegen.record.stated import Protrusion
from guidegen.site.drawings.lengths import length_texts, scale_bar
from guidegen.site.drawings.marks import Lettering, Point, Sheet
from guidegen.site.drawings.view import (
    COLUMN,
    HOURS,
    SHOULDER,
    SYMBOL,
    WIDTH,
    Drawing,
    bolt_angle,
    coil_reach,
    common_scale,
    on_clock,
    radius_of,
)


class PlanDrawing:
    """Draws a scene from above. `decided` is what becomes of each protrusion."""

    def __init__(self, scene: Scene, decided: dict[str, Protrusion], radius: float) -> None:
        self.scene, self.decided, self.radius = scene, decided, radius
        self.scale = common_scale(scene)
        self.centre = (WIDTH / 2, WIDTH / 2 - COLUMN + HOURS)
        self.view = Drawing(
            name="plan",
            title=gettext("From above"),
            says=gettext("The boiler from above, the machine's front below; the numbers round it are clock positions."),
            height=2 * self.centre[1] + 30,
            scale=self.scale,
        )
        self.sheet: Sheet = self.view.sheet

    def at(self, radius: float, degrees: float) -> Point:
        """Where a point of the plan lies on the sheet; radius in mm, direction clockwise from the back."""
        x, y = on_clock(radius, degrees)
        return self.centre[0] + x * self.scale, self.centre[1] + y * self.scale

    def drawn(self) -> Drawing:
        """The view."""
        self._hours()
        self._round()
        for protrusion in self.scene.protrusions:
            self._protrusion(protrusion)
        self._top()
        self._bolts()
        for thing in self.scene.things:
            self._thing(thing)
        scale_bar(self.sheet, (14, self.view.height - 10), self.scale, 20.0)
        return self.view

    def _hours(self) -> None:
        far = (WIDTH / 2 - COLUMN - HOURS + 4) / self.scale
        for hour in range(1, 13):
            x, y = self.at(far + 9 / self.scale, hour * 30)
            self.sheet.words(Lettering((x, y + 4), str(hour), style="muted"))
            self.sheet.line(
                [self.at(far - 6 / self.scale, hour * 30), self.at(far - 1 / self.scale, hour * 30)], "fine"
            )
        for degrees in (0.0, 90.0):
            self.sheet.line(
                [self.at(far - 8 / self.scale, degrees), self.at(far - 8 / self.scale, degrees + 180)], "axis"
            )

    def _round(self) -> None:
        """Flange, clearance and coil, from below."""
        boiler, targets = self.scene.boiler, self.view.targets
        if boiler.flange_mm is not None:
            self.sheet.ring(self.centre, boiler.flange_mm / 2 * self.scale, "steel")
        if boiler.clearance_mm is not None:
            clear = self.radius + boiler.clearance_mm
            self.sheet.ring(self.centre, clear * self.scale, "hidden")
            metric, imperial = length_texts(boiler.clearance_mm)
            place = (WIDTH - 12, self.view.height - 22)
            lead = gettext("clear to the dashed circle:")
            self.sheet.words(Lettering(place, metric, imperial, anchor="end", style="muted", lead=f"{lead} "))
        if self.scene.coil is not None:
            self.sheet.ring(self.centre, coil_reach(self.scene) * self.scale, "kit")
            for layer in self.scene.coil.layers[1:]:
                self.sheet.ring(self.centre, (layer.mean_mm - self.scene.coil.tube_mm) / 2 * self.scale, "kit-edge")
            middle = (coil_reach(self.scene) + self.radius) / 2
            targets["coil"] = self.at(middle, 75)
            targets["clamp-band"] = self.at(coil_reach(self.scene), 105)
        self.sheet.ring(self.centre, self.radius * self.scale, "body")
        targets["wall"] = self.at(self.radius, 330)
        targets["boiler"] = self.at(*self._bare())

    def _bare(self) -> tuple[float, float]:
        """Where on the boiler's top nothing is drawn, as far from everything as can be: radius in mm, direction."""
        spots = [one.spot for one in self.scene.things if one.spot is not None]
        occupied = [on_clock(one.out_mm, one.clock_deg)
                    for one in spots if one.out_mm is not None and one.clock_deg is not None]  # fmt: skip
        places = [(share * self.radius, float(degrees)) for share in (0.0, 0.4, 0.75) for degrees in range(345, 0, -15)]
        return max(places, key=lambda one: min((math.dist(on_clock(*one), far) for far in occupied), default=0.0))

    def _top(self) -> None:
        if self.scene.boiler.height_mm is not None:
            self.sheet.ring(self.centre, self.radius * SHOULDER * self.scale, "fine")

    def _protrusion(self, one: SceneProtrusion) -> None:
        if one.clock_deg is None or one.stands_out_mm is None or one.width_mm is None:
            self.view.unplaced.append(one.id)
            return
        half = math.degrees(math.asin(min(1.0, one.width_mm / 2 / self.radius)))
        near, far = self.radius * math.cos(math.radians(half)), self.radius + one.stands_out_mm
        corners = [self._beside(one.clock_deg, out, side * one.width_mm / 2)
                   for out, side in ((near, -1), (far, -1), (far, 1), (near, 1))]  # fmt: skip
        decision = self.decided.get(one.id)
        if decision is not None and decision.action == "trim":
            self.sheet.hatched(corners)
        else:
            self.sheet.line(corners, "body", closed=True)
        self.view.targets[one.id] = self.at((self.radius + far) / 2, one.clock_deg)

    def _beside(self, degrees: float, out: float, aside: float) -> Point:
        """A point so far out in a direction and so far to its clockwise side, mm."""
        x, y = on_clock(out, degrees)
        along = on_clock(aside, degrees + 90)
        return self.centre[0] + (x + along[0]) * self.scale, self.centre[1] + (y + along[1]) * self.scale

    def _bolts(self) -> None:
        bolts = self.scene.bolts
        if bolts is None or bolts.circle_mm is None:
            return
        self.sheet.ring(self.centre, bolts.circle_mm / 2 * self.scale, "axis")
        covered = bolts.undone_from == "below" or coil_reach(self.scene) > bolts.circle_mm / 2
        for number in range(1, bolts.count + 1):
            angle = bolt_angle(self.scene, number)
            if angle is None:
                self.view.unplaced.append(f"bolt-{number}")
                continue
            place = self.at(bolts.circle_mm / 2, angle)
            if bolts.head_mm is not None:
                self.sheet.ring(place, bolts.head_mm / 2 * self.scale, "hidden" if covered else "body")
            self.sheet.ring(place, 1.5, "edge")
            self.view.targets[f"bolt-{number}"] = place

    def _thing(self, one: SceneThing) -> None:
        spot = one.spot
        if spot is None or spot.clock_deg is None:
            return
        if spot.out_mm is not None:
            place = self.at(spot.out_mm, spot.clock_deg)
            if place not in self.view.targets.values():
                symbol(self.sheet, place, one.kind, self.scale)
        else:
            place = self.at(self.radius, spot.clock_deg)
            self.sheet.line([self._beside(spot.clock_deg, self.radius + out, side)
                             for out, side in ((0, -3), (6, -3), (6, 3), (0, 3))], "body", closed=True)  # fmt: skip
            place = self.at(self.radius + 3, spot.clock_deg)
        self.view.targets[one.id] = place
        if one.id == "inlet-fitting" or one.stands_out_mm is not None:
            self.view.targets["inlet"] = place


def symbol(sheet: Sheet, place: Point, kind: str, scale: float) -> None:
    """What is drawn as a symbol: a fitting with its hexagon, terminals as two tabs, a screw as a cross, else round."""
    x, y = place
    size = SYMBOL * scale
    match kind:
        case "port" | "fitting" | "joint":
            points = [
                (x + size * math.cos(math.radians(a)), y + size * math.sin(math.radians(a))) for a in range(0, 360, 60)
            ]
            sheet.line(points, "body", closed=True)
            sheet.ring(place, size * 0.5, "fine")
        case "terminals":
            for side in (-0.55, 0.2):
                sheet.box(x + side * size, y - 0.3 * size, x + (side + 0.35) * size, y + 0.3 * size, "body")
        case "earth" | "place" | "screw":
            sheet.ring(place, size * 0.42, "body")
            for dx, dy in ((0.42, 0.0), (0.0, 0.42)):
                sheet.line([(x - dx * size, y - dy * size), (x + dx * size, y + dy * size)], "fine")
        case _:
            sheet.ring(place, size, "body")
            sheet.ring(place, size * 0.6, "fine")


def plan(scene: Scene, decided: dict[str, Protrusion]) -> Drawing | None:
    """The plan of a scene; None where nobody knows the boiler's diameter."""
    radius = radius_of(scene)
    return None if radius is None else PlanDrawing(scene, decided, radius).drawn()
