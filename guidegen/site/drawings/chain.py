"""The heater's circuit and the earth: what the current passes, in order, before and after fitting; not to scale.

For the electrically skilled person: leads with their ends, the devices that open the circuit, and what is joined to
earth. What the kit brings is copper.
"""

from __future__ import annotations

from collections.abc import Sequence

from guidegen.language import gettext
from guidegen.record.scene import Scene, SceneThing
from guidegen.site.drawings.marks import Lettering, Point, Sheet, Style
from guidegen.site.drawings.view import COLUMN, WIDTH, Drawing

TOP, STEP, TALL, WIDE = 40.0, 40.0, 18.0, 46.0
EARTHS = ("earth", "place")


class Chain:
    """Draws one circuit down a line: from the mains, through switch and devices, to the heater and back."""

    def __init__(self, view: Drawing, scene: Scene, x: float, *, named: bool) -> None:
        self.view, self.scene, self.x, self.named = view, scene, x, named
        self.sheet: Sheet = view.sheet
        self.known = {one.id: one for one in scene.things}
        self.y = TOP

    def drawn(self, order: Sequence[str], title: str, *, kit: bool) -> float:
        """Draw it; returns where it ends."""
        self.sheet.words(Lettering((self.x, 16), title, style="strong"))
        leads = [one for one in self.scene.things if one.kind == "lead" and (kit or not one.brought)]
        wires, back = self._wires(order, leads)
        self._terminals()
        for place, name in enumerate(order):
            self._wire(wires.get(place, []))
            self._device(name)
            self._sensor(name, leads)
        self._wire(wires.get(len(order), []))
        self._heater(back)
        return self.y

    def _wires(
        self, order: Sequence[str], leads: Sequence[SceneThing]
    ) -> tuple[dict[int, list[SceneThing]], list[SceneThing]]:
        """The leads before each thing of the circuit, by its place, the heater's last; and those of the way back."""
        wires: dict[int, list[SceneThing]] = {}
        back: list[SceneThing] = []
        for lead in leads:
            ends = sorted(one for end in lead.ends if (one := self._place(end, order)) is not None)
            if len(ends) < 2:
                continue
            whole = ends == [-1, len(order)]
            if whole and any(one.ends == lead.ends for one in wires.get(len(order), [])):
                back.append(lead)
            else:
                wires.setdefault(len(order) if whole else ends[0] + 1 if ends[1] == len(order) else ends[1], []).append(
                    lead
                )
        return wires, back

    def _place(self, end: str, order: Sequence[str]) -> int | None:
        """Where an end of a lead is in the circuit: -1 at the mains, the last at the heater; None beside it."""
        known = self.known.get(end)
        name = known.drawn_as if known is not None and known.drawn_as else end
        if name in order:
            return order.index(name)
        kind = self.known[name].kind if name in self.known else ""
        return {"mains-terminals": -1, "terminals": len(order)}.get(kind)

    def _terminals(self) -> None:
        for x in (self.x, self.x + BACK):
            self.sheet.ring((x, self.y), 3.5, "body")
        self.sheet.words(Lettering((self.x - 8, self.y + 4), "L", anchor="end", style="muted"))
        self.sheet.words(Lettering((self.x + BACK + 8, self.y + 4), "N", anchor="start", style="muted"))
        for one in self.scene.things:
            if one.kind == "mains-terminals":
                self.view.targets[one.id] = (self.x, self.y)
        self.y += 3.5

    def _wire(self, leads: Sequence[SceneThing]) -> None:
        brought = any(one.brought for one in leads)
        self.sheet.line([(self.x, self.y), (self.x, self.y + STEP - TALL)], "kit-line" if brought else "edge")
        for place, lead in enumerate(leads):
            self.view.targets[lead.id] = (self.x, self.y + (STEP - TALL) * (place + 1) / (len(leads) + 1))
        self.y += STEP - TALL

    def _device(self, name: str) -> None:
        one = self.known.get(name)
        style: Style = "kit" if one is not None and one.brought else "body"
        self.sheet.box(self.x - WIDE / 2, self.y, self.x + WIDE / 2, self.y + TALL, style)
        middle = self.y + TALL / 2
        self.sheet.line([(self.x - 12, middle), (self.x - 5, middle), (self.x + 5, middle - 6)], "fine")
        self.sheet.line([(self.x + 6, middle), (self.x + 12, middle)], "fine")
        self.view.targets[name] = (self.x - WIDE / 2, middle)
        self._name(one.name if one is not None else "", middle)
        self.y += TALL

    def _name(self, name: str, y: float) -> None:
        """What stands in the line, beside it where there is room."""
        x = self.x + BACK + 10
        if self.named and len(name) * LETTER <= WIDTH - COLUMN - x:
            self.sheet.words(Lettering((x, y + 3.5), name, anchor="start", style="muted", small=True))

    def _sensor(self, name: str, leads: Sequence[SceneThing]) -> None:
        """A sensor that a lead joins to what was drawn last."""
        for lead in leads:
            other = next((end for end in lead.ends if end != name), "")
            if name in lead.ends and other in self.known and self.known[other].kind == "sensor":
                y, end = self.y - 4, self.x + WIDE / 2 + 34
                self.sheet.line([(self.x + WIDE / 2, y), (end, y)], "kit-line" if lead.brought else "edge")
                self.sheet.ring((end, y), 4.5, "kit" if self.known[other].brought else "body")
                self.view.targets[lead.id], self.view.targets[other] = (self.x + WIDE / 2 + 26, y), (end, y)

    def _heater(self, back: Sequence[SceneThing]) -> None:
        sheet, x, top = self.sheet, self.x, self.y
        zigzag: list[Point] = [(x, top)]
        zigzag += [(x + (7 if number % 2 else -7), top + 5 + number * 5) for number in range(6)]
        bottom = top + 35
        self._name(gettext("heater"), top + 18)
        sheet.line([*zigzag, (x, bottom)], "edge")
        sheet.line([(x, bottom), (x, bottom + 8), (x + BACK, bottom + 8), (x + BACK, TOP + 3.5)], "edge")
        for one in self.scene.things:
            if one.kind == "terminals" and one.drawn_as is None:
                self.view.targets[one.id] = (x, top)
        for one in back:
            self.view.targets[one.id] = (x + BACK, bottom)
        self.y = bottom + 8


BACK = 34.0
"""Units from the live side to the neutral one."""
LETTER = 5.6
"""Units that a letter of a small text takes, at most on the mean."""


def chain(scene: Scene) -> Drawing | None:
    """The heater's circuit and the earth; None where nobody knows the circuit."""
    circuit = scene.circuit
    if circuit.before is None:
        return None
    view = Drawing(
        name="chain",
        title=gettext("The heater's circuit and the earth"),
        says=gettext("What the heater's current passes through, in order, and what is joined to earth. Not to scale."),
        height=0.0,
    )
    changed = circuit.after is not None and circuit.after != circuit.before
    first = Chain(view, scene, WIDTH * (0.28 if changed else 0.4), named=not changed)
    ends = [first.drawn(circuit.before, gettext("without the kit") if changed else "", kit=False)]
    if changed and circuit.after is not None:
        ends.append(
            Chain(view, scene, WIDTH * 0.6, named=False).drawn(circuit.after, gettext("with the kit"), kit=True)
        )
    view.height = _earth(view, scene, max(ends) + 26) + 22
    return view


def _earth(view: Drawing, scene: Scene, top: float) -> float:
    """Earth screws and the leads that begin there; returns where it ends."""
    sheet = view.sheet
    earths = [one for one in scene.things if one.kind == "lead" and _earths(one, scene)]
    start = next((end for one in earths for end in one.ends if _kind(scene, end) == "earth"), None)
    y = top
    for place, lead in enumerate(earths):
        row = y + place * 26
        far = next((end for end in lead.ends if end != start), lead.ends[-1])
        sheet.line([(WIDTH * 0.3, row), (WIDTH * 0.7, row)], "kit-line" if lead.brought else "edge")
        sheet.ring((WIDTH * 0.7, row), 4.5, "kit" if lead.brought else "body")
        view.targets[lead.id] = (WIDTH * 0.5, row)
        view.targets[far] = (WIDTH * 0.7, row)
    if start is not None and earths:
        last = y + (len(earths) - 1) * 26
        sheet.line([(WIDTH * 0.3, y), (WIDTH * 0.3, last + 10)], "edge")
        for number, half in enumerate((9, 6, 3)):
            level = last + 10 + number * 4
            sheet.line([(WIDTH * 0.3 - half, level), (WIDTH * 0.3 + half, level)], "edge")
        sheet.ring((WIDTH * 0.3, y), 4.5, "body")
        view.targets[start] = (WIDTH * 0.3, y)
        y = last + 18
    return y


def _earths(lead: SceneThing, scene: Scene) -> bool:
    return any(_kind(scene, end) in EARTHS for end in lead.ends)


def _kind(scene: Scene, name: str) -> str:
    return next((one.kind for one in scene.things if one.id == name), "")
