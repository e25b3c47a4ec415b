"""One kit against itself, the other kits and the facts that machines have."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator

from guidegen.problems import Code, Problem, nearest, one_of
from guidegen.trade.contradiction import problem, unknown_fact, unknown_part
from guidegen.trade.kit import Kit
from guidegen.trade.water_path import CHECK_VALVE, FREE
from guidegen.units import UnitError, parse
from guidegen.workshop.base import Loc, quoted
from guidegen.workshop.downsides import EVERY_KIT
from guidegen.workshop.fact_table import FactTable
from guidegen.workshop.metals import PITTED_BY, family
from guidegen.workshop.parts import names_in_size
from guidegen.workshop.walk import everything, name_of
from guidegen.workshop.when import lines_of, values_in

UNWRITTEN = re.compile(r"has not been (?:written|described|stated) yet")
"""What the skeleton of a kit says of what nobody wrote."""
BOILER = "boiler.material"
"""What the boiler is of; whatever water has passed a kit gets there first."""


def check_kit(kit: Kit, kits: Collection[str], procedures: Collection[str], table: FactTable) -> Iterator[Problem]:
    """Whatever a kit says about its own parts, about other kits, and about facts of machines."""
    yield from _needs(kit, kits)
    yield from _remedies(kit, kits)
    if kit.id not in procedures:  # of the others the lint asks it, and more
        yield from _downsides(kit)
    else:
        yield from _unwritten(kit)
    yield from _wetted(kit)
    yield from _sizes(kit, table)
    yield from _whens(kit, table)
    yield from _gives(kit, table)
    yield from _effects(kit)
    yield from _locked(kit)
    yield from _metals(kit, table)


def _needs(kit: Kit, kits: Collection[str]) -> Iterator[Problem]:
    if kit.needs is not None and kit.needs not in kits:
        yield _no_kit(kit, ("needs",), kit.needs, kits)


def _no_kit(kit: Kit, loc: Loc, name: str, kits: Collection[str]) -> Problem:
    near = nearest(name, kits)
    fix = f"write {near}" if near else f"use one of {one_of(kits)}"
    return problem(kit, loc, Code.UNKNOWN_KIT, f'no kit "{name}"', fix)


def _remedies(kit: Kit, kits: Collection[str]) -> Iterator[Problem]:
    parts = {part.id for part in kit.parts}
    for index, requirement in enumerate(kit.requirements):
        for number, unmet in enumerate(requirement.unmet):
            loc: Loc = ("requirements", index, "unmet", number)
            loc = loc if loc in kit.places else loc[:-1]
            if unmet.kit is not None and unmet.kit not in kits:
                yield _no_kit(kit, (*loc, "kit"), unmet.kit, kits)
            if unmet.part is not None and unmet.part not in parts:
                yield unknown_part(kit, (*loc, "part"), unmet.part, parts)


def _downsides(kit: Kit) -> Iterator[Problem]:
    """Whatever every kit speaks of, and what its effects ask for: whoever orders reads it, fitted or not."""
    stated = {one.about for one in kit.downsides}
    missing = [about for about in (*EVERY_KIT, *kit.speaks_of) if about not in stated]
    if missing:
        words = f"the kit says nothing about {', '.join(missing)}"
        fix = "add a downside about each; likely: none where there is no such downside"
        yield problem(kit, ("downsides",), Code.DOWNSIDES, words, fix, key=True)


def _unwritten(kit: Kit) -> Iterator[Problem]:
    """Words of the skeleton that nobody replaced: once the kit has an instruction, somebody may read them."""
    for loc, value in everything(kit):
        if isinstance(value, str) and UNWRITTEN.search(value):
            place = kit.places[loc]
            words = f"{name_of(kit, loc)}: {value}"
            fix = "write what is so on this kit"
            yield Problem(place.path, place.line, place.column, Code.UNWRITTEN, words, fix, "warning")


def _wetted(kit: Kit) -> Iterator[Problem]:
    parts = {part.id for part in kit.parts}
    for index, wetted in enumerate(kit.wetted):
        if wetted.part not in parts:
            yield unknown_part(kit, ("wetted", index, "part"), wetted.part, parts)


def _sizes(kit: Kit, table: FactTable) -> Iterator[Problem]:
    """Facts that sizes of parts and seals name in braces."""
    sizes: list[tuple[Loc, str | None]] = []
    for index, part in enumerate(kit.parts):
        sizes.append((("parts", index, "size"), part.size))
        sizes += [
            (("parts", index, "threads", number, "thread"), end.thread) for number, end in enumerate(part.threads)
        ]
        sizes += [(("parts", index, "seals", number, "size"), seal.size) for number, seal in enumerate(part.seals)]
    for place, size in sizes:
        for fact in names_in_size(size):
            if fact not in table:
                yield unknown_fact(kit, place, fact, table)


def _whens(kit: Kit, table: FactTable) -> Iterator[Problem]:
    """Facts that the `when` of a part, tool or consumable asks, and what it compares them with."""
    for name in ("parts", "tools", "consumables"):
        for index, one in enumerate(getattr(kit, name)):
            for loc, fact, wanted in lines_of(one.when, (name, index, "when")):
                if fact in table:
                    yield from _values(kit, loc, table.dimension(fact), wanted)
                elif fact not in table.chosen:
                    yield unknown_fact(kit, loc, fact, table, key=True)


def _gives(kit: Kit, table: FactTable) -> Iterator[Problem]:
    """Facts that are so once the kit is fitted: those of machines and the workshop's own, and what each can be."""
    for name, value in kit.gives.items():
        loc: Loc = ("gives", name)
        if name not in table:
            yield unknown_fact(kit, loc, name, table)
            continue
        words, dimension = table[name].words, table.dimension(name)
        if words and value not in words:
            message, fix = f"got {quoted(value)}, {name} is never that", f"use one of {one_of(words)}"
            yield problem(kit, loc, Code.WRONG_CHOICE, message, fix)
        if dimension is None:
            continue
        try:
            parse(value, dimension)
        except UnitError as error:
            yield problem(kit, loc, error.code, error.message, error.fix)


def _values(kit: Kit, loc: Loc, dimension: str | None, wanted: object) -> Iterator[Problem]:
    """A quantity is compared with quantities of its dimension; else no machine would ever be meant."""
    for text in values_in(wanted) if dimension is not None else ():
        try:
            parse(text, dimension or "")
        except UnitError as error:
            yield problem(kit, loc, Code.NOT_JUDGED, error.message, error.fix)


def _effects(kit: Kit) -> Iterator[Problem]:
    for index, effect in enumerate(kit.effects):
        for inner, words, fix in effect.contradictions():
            yield problem(kit, ("effects", index, *inner), Code.OUT_OF_BOUNDS, words, fix)


def _locked(kit: Kit) -> Iterator[Problem]:
    """Whoever heats water in a coil asks for a way to the relief valve; without asking, any machine would do."""
    asked = (one for one in kit.requirements if one.fact == CHECK_VALVE)
    words = [set(one.one_of or filter(None, (one.is_,))) for one in asked]
    if kit.coil is not None and not any(found and found <= set(FREE) for found in words):
        message = f"nothing asks for {CHECK_VALVE}, so water could be locked in the coil and heated"
        fix = f"add a requirement: fact: {CHECK_VALVE}, one_of: [{', '.join(FREE)}]"
        yield problem(kit, ("requirements",), Code.LOCKED_COIL, message, fix, key=True)


def _metals(kit: Kit, table: FactTable) -> Iterator[Problem]:
    """A metal that pits another asks what the boiler is of; without asking, any machine would do."""
    declared = [family(one.material) for one in kit.wetted]
    if kit.coil is not None and kit.coil.tube.material.value not in (None, *declared):
        words = f"the tube of the coil is of {kit.coil.tube.material.text}, and no wetted part is"
        yield problem(kit, ("wetted",), Code.METALS, words, "add the coil to wetted:, with its material", key=True)
    for metal, pitting in PITTED_BY.items():
        found = [one for one in pitting if one in declared]
        asked = (set(one.one_of or filter(None, (one.is_,))) for one in kit.requirements if one.fact == BOILER)
        if found and not any(words and metal not in words for words in asked):
            others = [word for word in table[BOILER].words if word != metal]
            message = f"nothing asks for {BOILER}, so {found[0]} could stand before {metal} and pit it"
            fix = f"add a requirement: fact: {BOILER}, one_of: [{', '.join(others)}]"
            yield problem(kit, ("requirements",), Code.METALS, message, fix, key=True)
