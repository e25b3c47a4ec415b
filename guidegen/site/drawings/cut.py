"""The cut: one protrusion in section, with the line on the metal, what goes, what remains; to scale, enlarged."""

from __future__ import annotations

from guidegen.language import gettext
from guidegen.record.scene import Scene
from guidegen.record.stated import Protrusion
from guidegen.site.drawings.lengths import dimension, length_texts, scale_bar
from guidegen.site.drawings.marks import Lettering, Point
from guidegen.site.drawings.view import COLUMN, WIDTH, Drawing

SCALES = (10.0, 8.0, 6.0, 5.0, 4.0, 3.0, 2.0, 1.0)
"""Units for a millimetre, the largest first."""
ACROSS, TALL = WIDTH - 2 * COLUMN - 90.0, 190.0
"""Units that the section has."""
MARGIN = 6.0
"""mm of wall that are drawn above and below."""
TOP, LEFT = 46.0, COLUMN + 60.0
"""Units; where the section begins."""


class WallSection:
    """Draws the wall in section: `wall` thick, with what stands `out` of it from `low` to `high`, all in mm."""

    def __init__(self, name: str, wall: float, out: float, low: float, high: float) -> None:
        self.wall, self.out, self.low, self.high = wall, out, low, high
        tall = high - low + 2 * MARGIN
        self.scale = next((s for s in SCALES if (wall + out) * s <= ACROSS and tall * s <= TALL), 1.0)
        self.view = Drawing(
            name="cut",
            title=gettext("The cut: {name}").format(name=name),
            says=gettext("The boiler's wall in section, the water side on the left; what is cut off is hatched."),
            height=TOP + tall * self.scale + 76,
            scale=self.scale,
        )
        self.sheet = self.view.sheet

    def at(self, x: float, z: float) -> Point:
        """Where a point lies on the sheet: mm from the wall's inside, and over the straight wall's lower edge."""
        return LEFT + x * self.scale, TOP + (self.high + MARGIN - z) * self.scale

    def drawn(self, decided: Protrusion) -> Drawing:
        """The view."""
        low, high, wall, far = self.low, self.high, self.wall, self.wall + self.out
        bottom, top = low - MARGIN, high + MARGIN
        self.sheet.line([self.at(0, bottom), self.at(wall, bottom), self.at(wall, top), self.at(0, top)], "steel",
                        closed=True)  # fmt: skip
        self.sheet.hatched([self.at(wall, low), self.at(far, low), self.at(far, high), self.at(wall, high)], apart=7)
        self.sheet.line([self.at(wall, bottom + 2), self.at(wall, top - 2)], "scribe")
        self._stands_out()
        self._heights()
        if decided.keeps_mm is not None:
            self._remains(decided.keeps_mm)
        scale_bar(self.sheet, (14, self.view.height - 10), self.scale, 10.0)
        self.view.name = f"cut-{decided.id}"
        self.view.targets |= {
            decided.id: self.at(wall + self.out / 2, (low + high) / 2),
            "wall": self.at(wall / 2, high + MARGIN * 0.5),
            "line": self.at(wall, low - MARGIN * 0.45),
        }
        return self.view

    def _stands_out(self) -> None:
        near, far = self.at(self.wall, 0)[0], self.at(self.wall + self.out, 0)[0]
        dimension(self.sheet, (near, TOP - 14), (far, TOP - 14), self.out)
        for x in (near, far):
            self.sheet.line([(x, self.at(0, self.high + 1)[1]), (x, TOP - 17)], "dim")

    def _heights(self) -> None:
        edge = self.at(self.wall + self.out, 0)[0]
        for height in (self.low, self.high):
            y = self.at(0, height)[1]
            self.sheet.line([(edge + 3, y), (edge + 14, y)], "dim")
            self.sheet.words(Lettering((edge + 18, y + 4), *length_texts(height), anchor="start"))
        place = (edge + 18, self.at(0, self.low)[1] + 18)
        self.sheet.words(
            Lettering(place, gettext("over the wall's lower edge"), anchor="start", style="muted", small=True)
        )

    def _remains(self, keeps: float) -> None:
        """The metal that must remain, from the water's side."""
        bottom, top = self.low - MARGIN, self.high + MARGIN
        below = self.at(0, bottom)[1] + 22
        first, last = self.at(0, 0)[0], self.at(keeps, 0)[0]
        dimension(self.sheet, (first, below), (last, below), keeps, beside=-13)
        self.sheet.line([self.at(keeps, bottom), self.at(keeps, top)], "hidden")
        for x in (first, last):
            self.sheet.line([(x, self.at(0, bottom)[1]), (x, below + 3)], "dim")
        words = gettext("must remain at least")
        self.sheet.words(Lettering((first, below + 26), words, anchor="start", style="muted", small=True))


def cut(scene: Scene, decided: Protrusion, name: str) -> Drawing | None:
    """The cut of a protrusion that is trimmed; None where it is not, or where its sizes are not known."""
    one = next((one for one in scene.protrusions if one.id == decided.id), None)
    wall = scene.boiler.wall_mm
    if one is None or decided.action != "trim" or wall is None:
        return None
    if one.from_mm is None or one.to_mm is None or one.stands_out_mm is None:
        return None
    return WallSection(name, wall, one.stands_out_mm, one.from_mm, one.to_mm).drawn(decided)
