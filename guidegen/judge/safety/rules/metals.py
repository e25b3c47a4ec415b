"""What the water touches: materials, lead, fillers, and pairs of metals in one water."""

from __future__ import annotations

from collections.abc import Iterator

from guidegen.judge.safety.guide import Guide, Wetted
from guidegen.judge.safety.rules.base import Found, Rule
from guidegen.workshop.metals import filler_faults, material_faults, pits


def fit_for_water(guide: Guide) -> Iterator[Found]:
    """FOD02."""
    for one in guide.kit.wetted:
        for words, fix in material_faults(one.material):
            yield _at(guide, one, words, fix)
        if one.filler and one.flux:
            for words, fix in filler_faults(one.filler, one.flux):
                yield _at(guide, one, words, fix)


def pairs(guide: Guide) -> Iterator[Found]:
    """FOD03."""
    own = {one.part: one.material for one in guide.kit.wetted}
    metals = dict(guide.machine.metals)
    if guide.kit.boiler is not None:
        metals["boiler"] = own.get(guide.kit.boiler, "unknown")
    for one in guide.kit.wetted:
        for name, other in {**metals, **own}.items():
            if pits(one.material, other):
                yield _at(guide, one, f"{one.material} in one water with {name}, which is of {other}, pits it",
                          "let the kit's requirements keep it off such machines, or use another metal")  # fmt: skip
            elif other == "unknown" and pits(one.material, "aluminium"):
                yield _at(guide, one, f"nobody knows whether {one.material} may stand before the {name}", None,
                          (f"{name}.material",))  # fmt: skip


def _at(guide: Guide, one: Wetted, words: str, fix: str | None, asks: tuple[str, ...] = ()) -> Found:
    return Found(one.place or guide.kit.place, f"{one.part}: {words}", fix=fix, asks=asks)


RULES = (
    Rule("FOD02", "error", "What the water touches is of a known material with at most 0.25 % lead, and brazed without "
         "lead or cadmium where it is joined for good.", "complete wetted:", fit_for_water),
    Rule("FOD03", "error", "No metal stands in one water with one that it pits: neither boiler nor group, nor another "
         "part of the kit.", "find the material out", pairs),
)  # fmt: skip
