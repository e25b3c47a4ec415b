"""The water's way: from the tank to the group, before and after fitting, side by side; not to scale.

The main way runs down; joints are dots on it. What the kit brings is copper. The relief valve branches off where the
data say it does, and what may not lie between is said in words.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from guidegen.language import gettext, marked
from guidegen.record.scene import Scene
from guidegen.site.drawings.marks import Anchor, Lettering, Point, Style
from guidegen.site.drawings.view import WIDTH, Drawing
from guidegen.units import NARROW_SPACE, in_unit

TOP, STEP, JOINT = 40.0, 30.0, 17.0
"""Units: where the first box stands, from one to the next, and what a joint takes between them."""
WIDE, TALL = 54.0, 17.0
"""Units; a box."""
RELIEF_OUT = 46.0
"""Units from the way to the relief valve's box."""
HOSES = ("hose", "new-hose")
NAMES = {"tank": marked("tank"), "pump": marked("pump"), "boiler": marked("boiler")}
"""What stands in its box by name; everything else has its number alone."""
PASCAL_PER_BAR = 1e5


@dataclass(frozen=True)
class Stage:
    """One thing on the way: its id, its kind, whether the kit brings it."""

    id: str
    kind: str
    brought: bool


class WaterLine:
    """Draws one way of the water down a line."""

    def __init__(self, view: Drawing, scene: Scene, x: float, right: bool) -> None:
        self.view, self.scene, self.x, self.right = view, scene, x, right
        self.known = {one.id: one for one in scene.things}
        self.y = TOP
        self.relief_y: float | None = None

    def drawn(self, way: Sequence[str], title: str) -> float:
        """Draw it; returns where it ends."""
        sheet = self.view.sheet
        sheet.words(Lettering((self.x, 16), title, style="strong"))
        stages = [*self._ahead(), *map(self._stage, way), *self._behind()]
        previous: Stage | None = None
        for number, stage in enumerate(stages):
            self._next(stage, previous)
            if self._branches_after(stages, number):
                self._relief()
            previous = stage
        return self.y

    def _ahead(self) -> Iterator[Stage]:
        yield from (self._stage(one.id) for one in self.scene.things if one.kind == "tank")

    def _behind(self) -> Iterator[Stage]:
        ends = [one for one in self.scene.things if one.kind == "port" and not one.brought]
        joints = [one for one in self.scene.things if one.kind == "joint" and "boiler" in one.ends]
        for joint in joints:
            other = next((one for one in ends if one.id in joint.ends and one.stands_out_mm is None), None)
            if other is not None and joint.id not in (*self.scene.water.before, *self.scene.water.after):
                yield self._stage(joint.id)
                yield self._stage(other.id)

    def _stage(self, name: str) -> Stage:
        one = self.known.get(name)
        return Stage(name, one.kind if one else "part", one.brought if one else True)

    def _next(self, stage: Stage, previous: Stage | None) -> None:
        sheet, style = self.view.sheet, self._style(stage)
        if stage.kind == "joint":
            start = self.y
            self.y += JOINT
            sheet.line([(self.x, start), (self.x, self.y)], "water")
            sheet.ring((self.x, start + JOINT / 2), 4.0, "kit" if stage.brought else "body")
            self._target(stage.id, (self.x, start + JOINT / 2))
            return
        if previous is not None and previous.kind != "joint":
            sheet.line([(self.x, self.y), (self.x, self.y + 10)], "water")
            self.y += 10
        if stage.kind in HOSES:
            sheet.line([(self.x, self.y), (self.x, self.y + STEP - 8)], "kit-line" if stage.brought else "water")
            self._target(stage.id, (self.x, self.y + (STEP - 8) / 2))
            self.y += STEP - 8
            return
        if stage.kind == "coil":
            self._coil()
            self._target(stage.id, (self.x, self.y - STEP * 0.6))
            return
        side = 1 if self.right else -1
        half = WIDE / 2 if stage.kind in ("tank", "boiler", "pump") else WIDE / 3.2
        tall = TALL * (1.6 if stage.kind == "boiler" else 1.0)
        sheet.box(self.x - half, self.y, self.x + half, self.y + tall, style)
        if stage.kind in NAMES:
            sheet.words(Lettering((self.x, self.y + tall / 2 + 3.5), gettext(NAMES[stage.kind]), small=True))
        if stage.kind == "pump" and self.scene.water.pump_bar is not None:
            towards: Anchor = "end" if self.right else "start"
            self._pressure((self.x - side * (half + 6), self.y + tall / 2 + 4), self.scene.water.pump_bar, towards)
        self._target(stage.id, (self.x + half * 0.8 * side, self.y + tall - 3))
        if stage.kind == "boiler":
            self._steam(self.y + tall / 2)
        self.y += tall

    def _pressure(self, at: Point, bar: float, towards: Anchor) -> None:
        """A pressure beside what makes it, or opens at it."""
        metric, imperial = (f"{in_unit(bar * PASCAL_PER_BAR, 'pressure', unit):.3g}{NARROW_SPACE}{unit}"
                            for unit in ("bar", "psi"))  # fmt: skip
        self.view.sheet.words(Lettering(at, metric, imperial, anchor=towards, style="muted", small=True, stacked=True))

    def _coil(self) -> None:
        sheet = self.view.sheet
        for number in range(4):
            sheet.ring((self.x, self.y + 7 + number * 9), 17, "kit-loop", 5.5)
        self.y += 4 * 9 + 5

    def _style(self, stage: Stage) -> Style:
        return "kit" if stage.brought else "body"

    def _target(self, name: str, place: Point) -> None:
        """The later of the two ways shows what both have."""
        self.view.targets[name] = place

    # --- branches ----------------------------------------------------------------------------------------

    def _branches_after(self, stages: Sequence[Stage], number: int) -> bool:
        """Whether the relief valve branches off behind this stage: behind the pump, or behind where a coil goes."""
        branch, stage = self.scene.water.relief_branch, stages[number]
        if self.scene.water.relief is None or branch is None:
            return False
        if branch == "upstream":
            return stage.kind == "pump"
        following = stages[number + 1] if number + 1 < len(stages) else None
        return stage.kind == "port" and following is not None and following.kind == "joint" and self.relief_y is None

    def _relief(self) -> None:
        sheet, side = self.view.sheet, (1 if self.right else -1)
        y = self.y + 5
        self.relief_y = y
        out = self.x + side * RELIEF_OUT
        sheet.line([(self.x, self.y), (self.x, y)], "water")
        sheet.line([(self.x, y), (out, y)], "water")
        sheet.line([(out - 6, y - 6), (out + 6, y + 6), (out + 6, y - 6), (out - 6, y + 6)], "body", closed=True)
        self.y = y
        relief = self.scene.water.relief
        if relief is not None:
            self._target(relief, (out, y))
        if self.scene.water.relief_bar is not None:
            # Below the valve, where neither the boiler nor the steam pipe comes, both units below each other.
            self._pressure((out, y + 15), self.scene.water.relief_bar, "middle")
        tank = TOP + TALL / 2
        sheet.line([(out, y - 6), (out, tank), (self.x + side * WIDE / 2, tank)], "water")
        for one in self.scene.things:
            if one.kind == "return" or one.id == "relief-hose":
                self._target(one.id, (out, tank + (8 if one.kind == "return" else (y - tank) / 2)))

    def _steam(self, y: float) -> None:
        """The steam pipe, its tap and its outlet, beside the boiler."""
        sheet, side = self.view.sheet, (1 if self.right else -1)
        tap = next((one for one in self.scene.things if one.kind == "tap"), None)
        if tap is None:
            return
        out = self.x + side * RELIEF_OUT
        sheet.line([(self.x + side * WIDE / 2, y), (out, y), (out, y + 24)], "water")
        sheet.line([(out - 6, y + 4), (out + 6, y + 16), (out - 6, y + 16), (out + 6, y + 4)], "body", closed=True)
        self._target(tap.id, (out, y + 10))
        for one in self.scene.things:
            if one.kind == "outlet":
                self._target(one.id, (out, y + 24))
            if one.kind == "joint" and tap.id in one.ends:
                joint = (self.x + side * (WIDE / 2 + 8), y)
                sheet.ring(joint, 4.0, "body")
                self._target(one.id, joint)


def water(scene: Scene, *, fitted: bool) -> Drawing | None:
    """The water's way before and after fitting; None where nobody knows it.

    `fitted` is false where only the machine as it was is to be seen.
    """
    way = scene.water
    if not way.before:
        return None
    changed = fitted and way.after != way.before
    both = gettext("From the tank to the group: on the left without the kit, on the right with it. Not to scale.")
    view = Drawing(
        name="water",
        title=gettext("The water's way"),
        says=both if changed else gettext("From the tank to the group. Not to scale."),
        height=0.0,
    )
    ends = [
        WaterLine(view, scene, WIDTH * (0.3 if changed else 0.5), False).drawn(
            way.before, gettext("without the kit") if changed else ""
        )
    ]
    if changed:
        ends.append(WaterLine(view, scene, WIDTH * 0.7, True).drawn(way.after, gettext("with the kit")))
    view.height = max(ends) + 46
    says = _never(scene)
    if says:
        view.notes.append(says)
    return view


def _never(scene: Scene) -> str:
    """What must never lie between the boiler and its relief valve."""
    if scene.water.relief is None:
        return ""
    return gettext(
        "Nothing that can close may sit between the coil or the boiler and the relief valve: trapped water that is "
        "heated bursts whatever holds it."
    )
