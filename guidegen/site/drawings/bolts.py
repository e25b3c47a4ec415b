"""The bolts: from above with their numbers, in which order they are tightened, and how tight; to scale."""

from __future__ import annotations

import itertools
import math

from guidegen.language import gettext, marked
from guidegen.record.scene import Scene, SceneBolts
from guidegen.site.drawings.lengths import scale_bar
from guidegen.site.drawings.marks import Lettering, Point, Sheet
from guidegen.site.drawings.view import COLUMN, SYMBOL, WIDTH, Drawing, bolt_angle, on_clock, radius_of, reach_for
from guidegen.units import NARROW_SPACE, in_unit

ROOM = 20.0
"""Units above and below the flange, for the machine's sides."""
ARROW = 7.0
"""Units; the length of an arrow's head."""
BELOW = 62.0
"""Units for the order and the torque."""
SIDES = {
    "above": marked("The key comes from above, beside the boiler."),
    "below": marked("The key comes from below."),
}


class BoltsDrawing:
    """Draws the bolts of a scene from above."""

    def __init__(self, scene: Scene, bolts: SceneBolts, radius: float) -> None:
        self.scene, self.bolts, self.radius = scene, bolts, radius
        sizes = [radius, (scene.boiler.flange_mm or 0.0) / 2, (bolts.circle_mm or 0.0) / 2 + SYMBOL]
        self.scale = (WIDTH / 2 - COLUMN - ROOM) / reach_for(max(sizes))
        self.centre = (WIDTH / 2, ROOM + max(sizes) * self.scale)
        self.low = 2 * self.centre[1]
        says = [gettext("The bolts of the boiler from above, the machine's front below, counted clockwise.")]
        says += [gettext("Arrows lead from each to the one that is tightened next.")] if self._placed else []
        says += [gettext(SIDES[bolts.undone_from])] if bolts.undone_from else []
        self.view = Drawing(
            name="bolts",
            title=gettext("The bolts"),
            says=" ".join(says),
            height=self.low + BELOW,
            scale=self.scale,
        )
        self.sheet: Sheet = self.view.sheet

    @property
    def _placed(self) -> bool:
        return self.bolts.circle_mm is not None and self.bolts.clock_deg is not None

    def drawn(self) -> Drawing:
        """The view."""
        boiler = self.scene.boiler
        if boiler.flange_mm is not None:
            self.sheet.ring(self.centre, boiler.flange_mm / 2 * self.scale, "steel")
        self.sheet.ring(self.centre, self.radius * self.scale, "body")
        for words, y in ((gettext("back"), ROOM - 8), (gettext("front"), self.low - ROOM + 16)):
            self.sheet.words(Lettering((self.centre[0], y), words, style="muted", small=True))
        if self.bolts.circle_mm is not None:
            self.sheet.ring(self.centre, self.bolts.circle_mm / 2 * self.scale, "axis")
        if self._placed:
            self._heads()
            self._order()
        else:
            names = [f"bolt-{number}" for number in range(1, self.bolts.count + 1)]
            self.view.unplaced.extend(names)
            words = gettext("where bolt 1 is: not known")
            self.sheet.words(Lettering((self.centre[0], self.centre[1] + 4), words, style="muted", small=True))
        self._how_tight()
        scale_bar(self.sheet, (14, self.view.height - 10), self.scale, 20.0)
        return self.view

    def _place(self, number: int) -> Point:
        x, y = on_clock((self.bolts.circle_mm or 0.0) / 2, bolt_angle(self.scene, number) or 0.0)
        return self.centre[0] + x * self.scale, self.centre[1] + y * self.scale

    def _heads(self) -> None:
        for number in range(1, self.bolts.count + 1):
            place = self._place(number)
            if self.bolts.head_mm is not None:
                self.sheet.ring(place, self.bolts.head_mm / 2 * self.scale, "body")
            self.sheet.ring(place, 1.5, "edge")
            self.view.targets[f"bolt-{number}"] = place

    def _order(self) -> None:
        """An arrow from each bolt to the one that follows."""
        clear = (self.bolts.head_mm or 2.0) / 2 * self.scale + 3
        for one, other in itertools.pairwise(self.bolts.order):
            (x1, y1), (x2, y2) = self._place(one), self._place(other)
            length = math.hypot(x2 - x1, y2 - y1)
            if length <= 2 * clear:
                continue  # the heads touch
            along = ((x2 - x1) / length, (y2 - y1) / length)
            start = (x1 + along[0] * clear, y1 + along[1] * clear)
            tip = (x2 - along[0] * clear, y2 - along[1] * clear)
            self.sheet.line([start, tip], "edge")
            for side in (-0.35, 0.35):
                back = (tip[0] - ARROW * (along[0] + side * along[1]), tip[1] - ARROW * (along[1] - side * along[0]))
                self.sheet.line([tip, back], "edge")

    def _how_tight(self) -> None:
        order = " – ".join(map(str, self.bolts.order))
        words = gettext("Tighten in the order {order}").format(order=order)
        self.sheet.words(Lettering((WIDTH / 2, self.low + 12), words, style="strong"))
        place = (WIDTH / 2, self.low + 28)
        if self.bolts.torque_nm is None:
            self.sheet.words(Lettering(place, gettext("to what torque, nobody has stated")))
        else:
            metric, imperial = (torque_text(self.bolts, unit) for unit in ("N·m", "in·lbf"))
            lead = gettext("each to")
            self.sheet.words(Lettering(place, metric, imperial, lead=f"{lead} "))


def torque_text(bolts: SceneBolts, unit: str) -> str:
    """The torque with its tolerance.

    One inch times one pound-force is 0.1129848 N·m (NIST SP 811), so 5 N·m are 44.3 in·lbf:

    >>> bolts = SceneBolts(count=4, order=(1, 3, 2, 4), circle_mm=None, head_mm=None, head_room_mm=None,
    ...                    undone_from=None, clock_deg=None, torque_nm=5.0, torque_within_nm=0.5)
    >>> torque_text(bolts, "in·lbf").replace(NARROW_SPACE, " ")
    '44.3 in·lbf ± 4.4 in·lbf'
    >>> torque_text(bolts, "N·m").replace(NARROW_SPACE, " ")
    '5 N·m ± 0.5 N·m'
    """
    written = [one for one in (bolts.torque_nm, bolts.torque_within_nm) if one]
    return " ± ".join(f"{round(in_unit(one, 'torque', unit), 1):g}{NARROW_SPACE}{unit}" for one in written)


def bolts(scene: Scene) -> Drawing | None:
    """The bolts of a scene; None where nobody knows the boiler's diameter or how many bolts it has."""
    radius = radius_of(scene)
    return None if radius is None or scene.bolts is None else BoltsDrawing(scene, scene.bolts, radius).drawn()
