"""The outside: the sides of the case with what one handles there, or with the marks that tell variants apart."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from guidegen.language import gettext, marked
from guidegen.record.scene import Scene, Spot
from guidegen.site.drawings.marks import Lettering, Point
from guidegen.site.drawings.view import WIDTH, Drawing

FACES = {
    "top": marked("from above, the front below"),
    "front": marked("the front"),
    "left": marked("the left side"),
    "right": marked("the right side"),
    "back": marked("the back"),
    "under": marked("from below"),
}
"""The sides in the order in which they are drawn, two beside each other."""
WIDE, BETWEEN = 136.0, 16.0
TALL = {"top": 68.0, "front": 108.0, "left": 108.0, "right": 108.0, "back": 108.0, "under": 68.0}
"""Units; nobody states the size of the case, so the sides are not to scale."""


def outside(scene: Scene) -> Drawing | None:
    """The sides of the case on which something is; None where nobody said where anything is."""
    return _case("outside", gettext("On the outside"), ((one.id, one.spot) for one in scene.things))


def marks(scene: Scene) -> Drawing | None:
    """The sides of the case on which a mark is; None where nobody said where any is."""
    title = gettext("Where its marks are")
    return _case("marks", title, ((f"mark-{one.id}", one.spot) for one in scene.marks))


def _case(name: str, title: str, things: Iterable[tuple[str, Spot | None]]) -> Drawing | None:
    placed: dict[str, list[tuple[str, Spot]]] = {}
    for thing, spot in things:
        if spot is not None and spot.side is not None:
            placed.setdefault(spot.side, []).append((thing, spot))
    if not placed:
        return None
    says = gettext("The sides of the machine's case. Not to scale.")
    view = Drawing(name=name, title=title, says=says, height=0.0)
    y = 22.0
    for pair in batched([side for side in FACES if side in placed]):
        left = (WIDTH - len(pair) * WIDE - (len(pair) - 1) * BETWEEN) / 2
        for column, side in enumerate(pair):
            _side(view, side, placed[side], (left + column * (WIDE + BETWEEN), y))
        y += max(TALL[side] for side in pair) + 28
    view.height = y - 14
    return view


def batched(sides: Sequence[str]) -> Iterator[Sequence[str]]:
    """Two at a time.

    >>> [*batched("abc")]
    ['ab', 'c']
    """
    for start in range(0, len(sides), 2):
        yield sides[start : start + 2]


def _side(view: Drawing, side: str, things: Sequence[tuple[str, Spot]], corner: Point) -> None:
    """One side of the case, by its upper left corner."""
    left, top = corner
    view.sheet.words(Lettering((left + WIDE / 2, top - 7), gettext(FACES[side]), style="muted", small=True))
    view.sheet.box(left, top, left + WIDE, top + TALL[side], "body")
    for thing, spot in things:
        place: Point = (left + (spot.across or 0.0) * WIDE, top + (1.0 - (spot.above or 0.0)) * TALL[side])
        view.sheet.ring(place, 6.0, "fine")
        view.targets[thing] = place
