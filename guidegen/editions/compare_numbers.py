"""The values that went into two records, and the figures that came out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from guidegen.editions.causes import Between, Causes
from guidegen.editions.change import Change, Moved
from guidegen.editions.lacking import lacking
from guidegen.editions.pairs import both, pairs
from guidegen.editions.values import figures_of, input_text, shown
from guidegen.language import gettext, marked
from guidegen.record.places import key
from guidegen.record.table import chapters
from guidegen.site.pages.numbers import anchor
from guidegen.site.pages.terms import term

Data = Mapping[str, Any]

SIDES = {"without": marked("without the kit"), "with": marked("with the kit")}


def input_changes(old: Data, new: Data, two: Between) -> Iterator[Change]:
    """Values that went in. One that only another program asks for, of the same machine and kit, is that program's."""
    asked: Causes = two.words("machine", "kit")
    for one, other in pairs(old["inputs"], new["inputs"]):
        texts = both(one, other, input_text)
        if texts[0] != texts[1]:
            program = two.program and not (one and other) and asked != ("text",)
            causes: Causes = ("computation",) if program else ("data",)
            yield Change("input", (other or one)["name"], *texts, causes=causes)


def figure_changes(old: Data, new: Data, two: Between) -> Iterator[Change]:
    """Computed values whose print differs: a change in a digit that no page shows is none.

    A draft built without draws has values alone, and is compared by them.
    """
    alone = "nominal" in (old.get("basis"), new.get("basis"))
    before, after = ({place: {**one, "low": None, "high": None} if alone else one
                      for place, one in figures_of(side) if place.split(".")[0] in chapters()}
                     for side in (old, new))  # fmt: skip
    missing = lacking().not_computed
    for place in dict.fromkeys([*before, *after]):
        sides = [side.get(place) for side in (before, after)]
        one, other = (shown(place, side) if side else None for side in sides)
        if one == other:
            continue
        first = sides[0] is None or sides[0]["reason"] == missing
        causes: Causes = ("computation",) if first and two.program is not False else two.computed()
        moved = Moved(_term(place), key(place), _apart(sides[0], sides[1]))
        name = _name(place, new)
        yield Change("figure", name, one, other, place=f"numbers.html#{anchor(place)}", causes=causes, moved=moved)


def _apart(old: Data | None, new: Data | None) -> float | None:
    """How far value or ends are apart at most; None where one of the two has none."""
    if not old or not new or old["value"] is None or new["value"] is None:
        return None
    ends = [(old[name], new[name]) for name in ("value", "low", "high")]
    return max(float(abs(one - other)) for one, other in ends if one is not None and other is not None)


def _term(place: str) -> str:
    try:
        return term(place).name
    except KeyError:
        return place.split(".")[-1]


def _name(place: str, record: Data) -> str:
    """What a figure is called, with its drink or its wait, its side, and the currency of a cost."""
    parts = place.split(".")
    drinks = record["drinks"]
    more = [drinks[part]["name"] for part in parts[1:2] if parts[0] == "drinks" and part in drinks]
    later = gettext("{minutes} min later")
    more += [later.format(minutes=f"{float(part) / 60:g}") for part in parts[1:2] if parts[0] == "waiting"]
    more += [gettext(SIDES[part]) for part in parts if part in SIDES]
    more += [record["energy"]["currency"]] if place.endswith("_cost") and "currency" in record["energy"] else []
    return ", ".join([_term(place), *more])
