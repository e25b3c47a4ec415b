"""What the numbers page of a pair lists: every figure and input, or of a stated gain what the kit has to do with.

Other pages link to a row only where there is one.
"""

from __future__ import annotations

from collections.abc import Sequence

from guidegen.record import Assessment, Figure
from guidegen.record.places import SIDES, known_figures, neutral
from guidegen.record.stated import Input
from guidegen.site.pages.place import gain_is

DEPENDS_ON = 3
"""Inputs that a row names, each leading to its line below: where it was written, and what would settle it."""
OF_THE_KIT = "kit."
"""How the names of a kit's own inputs begin."""

_SEEN: list[tuple[Assessment, frozenset[str]]] = []
_MOST_SEEN = 4


def listed(record: Assessment) -> frozenset[str]:
    """The places of the figures that have a row; those of the last few records are remembered, for their many pages.

    A kit whose gain is stated leaves the machine's own figures as they are: of these only what a downside or a logged
    run names.
    """
    for one, found in _SEEN:
        if one is record:
            return found
    _SEEN.insert(0, (record, _listed(record)))
    del _SEEN[_MOST_SEEN:]
    return _SEEN[0][1]


def _listed(record: Assessment) -> frozenset[str]:
    known = known_figures(record)
    if gain_is(record) != "stated":
        return frozenset(known)
    named = {one.figure for one in record.downsides}
    named |= {one.place for one in record.measured.figures} if record.measured else set()
    rows: dict[str, list[str]] = {}
    for place in known:
        rows.setdefault(row_of(place), []).append(place)
    return frozenset(
        place
        for places in rows.values()
        if named.intersection(places) or _moved(places[0], [known[one] for one in places])
        for place in places
    )


def row_of(place: str) -> str:
    """The place of a figure whichever side it is of: one row has both.

    >>> row_of("budget.with.mass_kg")
    'budget.mass_kg'
    """
    return ".".join(part for part in place.split(".") if part not in SIDES)


def _moved(place: str, sides: Sequence[Figure]) -> bool:
    """Whether the kit makes something of a figure another than it was."""
    if len(sides) > 1:
        return sides[0] != sides[1]
    same = neutral(place)
    return same is not None and sides[0].value not in (None, same)


def inputs(record: Assessment) -> tuple[Input, ...]:
    """The inputs that have a row: the kit's own, and those that a listed figure depends on."""
    if gain_is(record) != "stated":
        return record.inputs
    names = {name for place in listed(record) for name in [*record.influence.get(place, {})][:DEPENDS_ON]}
    return tuple(one for one in record.inputs if one.id in names or one.id.startswith(OF_THE_KIT))


def input_anchor(ident: str) -> str:
    """The id of an input's row on the numbers page."""
    return "in-" + ident.replace(".", "-")
