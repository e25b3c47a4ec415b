"""Which way of several a guide takes on one machine: read off the judgement of the requirements, never decided again.

`wall.way`: how the wall becomes smooth for a coil. `smooth` as it is, `trimmed`, `exchanged`, or the last two where
either will do. `bolts.way`: how the boiler's bolts are reached with the coil on. `usual`, `short-key`, or
`coil-off-first`. What the judgement leaves open is unknown here, and then no step that hangs on it is printed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType
from typing import Any

from guidegen.assess.gaps import absent, gap, open_value
from guidegen.judge.comparison import comparisons_of
from guidegen.judge.fit.check import Check, OnData
from guidegen.judge.fit.remedies import sufficient_sets
from guidegen.judge.fit.tree import Condition
from guidegen.judge.logic import Truth
from guidegen.judge.safety.facts import UNKNOWN, Gap, Value, word
from guidegen.trade.access import COIL_OFF
from guidegen.trade.cutting import EXCHANGE, TRIM, Action, Decision
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.workshop.facts import Choice, Fact
from guidegen.workshop.requirements import comparisons

WALL = MappingProxyType({f"part:{EXCHANGE}": "exchanged", f"fabrication:{TRIM}": "trimmed"})
"""What the wall becomes by each remedy."""
BOLTS = "bolts."
"""A requirement about the bolts compares with a computed name that begins so."""


DECIDES_CUTS = (
    "boiler.material", "boiler.wall", "boiler.diameter", "boiler.straight_wall", "water_path.relief_opens",
    "steam.setpoint", "steam.overshoot",
)  # fmt: skip
"""Facts of the machine, beside those of each protrusion, that a decision about cutting rests on."""
DECIDES_BOLTS = (
    "boiler.bolts.undone_from", "boiler.bolts.head", "boiler.bolts.head_room", "boiler.bolts.circle",
    "boiler.bolts.engagement", "boiler.diameter", "boiler.straight_wall",
)  # fmt: skip


def ways_of(machine: Machine, checked: Check | OnData, kit: Kit, decisions: Sequence[Decision]) -> dict[str, Value]:
    """The ways of a pair; see the module's docstring. A kit without a coil leaves wall and bolts as they are."""
    if kit.coil is None:
        return {"wall.way": word("smooth"), "bolts.way": word("usual")}
    wall, bolts = _wall(checked, decisions), _bolts(checked, kit)
    if wall is UNKNOWN:
        doubted = _doubted(machine, checked)
        wall = replace(wall, gaps=(*_of_protrusions(decisions), *_of_machine(machine, DECIDES_CUTS), *doubted))
    if bolts is UNKNOWN:
        bolts = replace(bolts, gaps=tuple(_of_machine(machine, DECIDES_BOLTS)))
    return {"wall.way": wall, "bolts.way": bolts}


def _of_protrusions(decisions: Iterable[Decision]) -> Iterator[Gap]:
    """What nobody knows of the things that stand out and are not decided."""
    for one in decisions:
        thing = one.protrusion
        facts: dict[str, Fact | Choice] = {
            "band.from": thing.band.from_,
            "band.to": thing.band.to,
            "stands_out": thing.stands_out,
            "carries": thing.carries,
            "metal_left": thing.metal_left,
        }
        for name, fact in facts.items() if one.undecided else ():
            yield from open_value(fact, f"boiler.protrusions.{thing.id}.{name}", thing.name)


def _of_machine(machine: Machine, names: Iterable[str]) -> Iterator[Gap]:
    for name in names:
        fact = machine.fact(name)
        yield from open_value(fact, name) if fact is not None else absent(machine, name).gaps


def _doubted(machine: Machine, checked: Check | OnData) -> Iterator[Gap]:
    """What is stated by nobody sure, where life and limb hang on it and a requirement about the wall asks for it."""
    names = (leaf.fact for one in _about_wall(checked) for leaf in comparisons_of(one.test))
    for name in dict.fromkeys(names):
        fact = machine.fact(name)
        if fact is not None and fact.known and name not in checked.facts:
            yield replace(gap(name, fact), stated=fact.text)


def options(way: Value) -> tuple[str, ...]:
    """The ways that are open, none where it is not known.

    >>> options(word("smooth")), options(UNKNOWN)
    (('smooth',), ())
    """
    return way.options or ((way.text,) if way.value is not None else ())


def made(payload: Mapping[str, Any]) -> dict[str, str]:
    """What of a case each remedy of a self-check brings about, by its id."""
    return {one["id"]: WALL[one["id"]] for one in payload["remedies"] if one["id"] in WALL}


def _wall(checked: Check | OnData, decisions: Sequence[Decision]) -> Value:
    sets = _sure_sets(checked, _about_wall(checked))
    words = [next((state for name, state in WALL.items() if name in ids), "smooth") for ids in sets]
    found = tuple(dict.fromkeys(words))
    # A kit that asks nothing about the wall, or too little, does not make smooth what stands in its coil's way.
    if not found or ("smooth" in found and any(one.action is not Action.LEAVE for one in decisions)):
        return UNKNOWN
    ordered = tuple(state for state in ("smooth", "trimmed", "exchanged") if state in found)
    return word(ordered[0]) if len(ordered) == 1 else Value(" or ".join(ordered), None, options=ordered)


def _about_wall(checked: Check | OnData) -> list[Condition]:
    """The requirements that one of these remedies may help."""
    return [one for one in checked.requirements.roots if any(remedy.id in WALL for remedy in one.remedies)]


def _bolts(checked: Check | OnData, kit: Kit) -> Value:
    asked = {
        one.id
        for one in kit.requirements
        if any(
            (bound := leaf.bound(checked.table)) and (bound.computed or "").startswith(BOLTS)
            for leaf in comparisons(one)
        )
    }
    about = [one for one in checked.requirements.roots if one.id in asked]
    best = next(iter(_sure_sets(checked, about)), None) if about else None
    if best is None:
        return UNKNOWN
    part = kit.short_key
    if part is not None and f"part:{part.id}" in best:
        return word("short-key")
    return word("usual" if not best else COIL_OFF if f"fabrication:{COIL_OFF}" in best else "other")


def _sure_sets(checked: Check | OnData, conditions: Iterable[Condition]) -> list[tuple[str, ...]]:
    """The remedies of each set that surely suffices for some conditions, least effort first."""
    truths: dict[str, Truth] = {one.id: one.judge(checked.facts) for one in checked.requirements.conditions}
    return [one.ids for one in sufficient_sets(conditions, truths) if not one.provided]
