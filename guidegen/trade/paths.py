"""Dotted names of facts, as requirements use them: `boiler.straight_wall`, `control.kind`.

The names are read off the machine's model, so a requirement cannot ask for a fact that no machine has.
"""

from __future__ import annotations

import types
import typing
from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import Annotated, Any, Literal

from pydantic import BaseModel

from guidegen.trade.access import seal_keeps
from guidegen.trade.machine import Machine, MachineData
from guidegen.trade.water_path import valve_moves
from guidegen.units import Quantity
from guidegen.workshop.fact_table import FactKind, FactTable
from guidegen.workshop.facts import EVIDENCE, Evidence
from guidegen.workshop.fields import Choice, Choices, Dimension, Fact, Spec
from guidegen.workshop.fitted import FITTED
from guidegen.workshop.own_facts import PLACE, UnreadValues

#: Numbers that the geometry of the coil gives; a requirement may compare a fact with them. `coil.flush`: what may stand
#: out under it. `bolts.…`: of the key that a tool of the kit is, and of the short one that a part is, the height that
#: it needs over a bolt's head, and the bolt circle from which on the coil leaves it free; see `guidegen.trade.access`.
COMPUTED = {
    "coil.flush": "length",
    "coil.height": "length",
    "coil.envelope_diameter": "length",
    "coil.radial_build": "length",
    "coil.length": "length",
    "coil.bend_radius": "length",
    "bolts.key_room": "length",
    "bolts.key_circle": "length",
    "bolts.short_key_room": "length",
    "bolts.short_key_circle": "length",
}

#: Places of the machine from which names that are worked out follow; a test moves each and looks.
FOLLOWS = {
    "coil.": ("boiler.diameter", "boiler.straight_wall"),
    "bolts.": ("boiler.diameter", "boiler.straight_wall", "boiler.bolts"),
    "protrusions.": ("boiler.protrusions", "boiler.diameter", "boiler.straight_wall"),
}

#: Names that a `when:` may ask besides facts: what was chosen for the guide at hand, not what the machine is.
CHOSEN = ("protrusions.to_trim", "boiler.exchanged", "wall.way", "bolts.way")


VALVE_MOVES, SEAL_KEEPS = "water_path.valve_moves", "boiler.seal_keeps"

#: Facts that follow from others: about the boiler's protrusions taken together, the check valve's joint, the seals.
_DERIVED = {
    "protrusions.stand_out": FactKind(
        "length", (), Spec("How far the highest protrusion sticks out", ("0 mm", "20 mm"), "depth gauge")
    ),
    "protrusions.carry_device": FactKind(
        None,
        ("yes", "no"),
        Spec("A protrusion carries a safety device", None, "look, unplugged and cold", vital=True),
    ),
    "protrusions.trimmable": FactKind(
        None, ("yes", "no"), Spec("Every protrusion in the way can be trimmed", None, "measure what stands out")
    ),
    VALVE_MOVES: FactKind(
        None, ("yes", "no"), Spec("The check valve can be moved", None, "look how the check valve is joined")
    ),
    SEAL_KEEPS: FactKind(
        None, ("yes", "no"), Spec("The boiler's gasket does not settle", None, "ask the maker of the gasket")
    ),
}


@lru_cache(maxsize=16)
def known_facts(model: type[MachineData] = MachineData) -> FactTable:
    """Return the table of every name that may be asked of a machine, a workshop's own facts among them."""
    unread = f"{PLACE}." if model.model_fields[PLACE].annotation is UnreadValues else ""
    return FactTable(dict(_walk(model, "")) | _DERIVED, COMPUTED, CHOSEN, FOLLOWS, unread)


def _walk(model: type[BaseModel], prefix: str) -> Iterator[tuple[str, FactKind]]:
    for name, info in model.model_fields.items():
        path = f"{prefix}{info.alias or name}"
        yield from _of_annotation(info.annotation, tuple(info.metadata), path)


def _of_annotation(annotation: Any, metadata: tuple[Any, ...], path: str) -> Iterator[tuple[str, FactKind]]:
    origin = typing.get_origin(annotation)
    if origin is Annotated:
        inner, *more = typing.get_args(annotation)
        yield from _of_annotation(inner, (*more, *metadata), path)
    elif origin in (types.UnionType, typing.Union):
        for inner in typing.get_args(annotation):
            yield from _of_annotation(inner, metadata, path)
    elif origin is Literal and path.endswith(".kind"):
        kinds = ("pid", "thermostat") if path == "control.kind" else typing.get_args(annotation)
        yield path, FactKind(None, kinds, None)
    elif annotation in (Fact, Choice):
        spec = next((item for item in metadata if isinstance(item, Spec)), None)
        dimension = next((item.dimension for item in metadata if isinstance(item, Dimension)), None)
        words = next((item.words for item in metadata if isinstance(item, Choices)), ())
        yield path, FactKind(dimension, words, spec)
    elif isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield from _walk(annotation, f"{path}.")


def fact_of(machine: Machine, path: str) -> Fact | Choice | None:
    """Return the fact of a machine behind a name, or None where this machine has none."""
    if path == "protrusions.stand_out":
        return _highest(machine)
    if path == "protrusions.carry_device":
        return _carries(machine)
    if path == "protrusions.trimmable":
        return Choice(text="unknown", known=False)
    if path == VALVE_MOVES:
        return valve_moves(machine)
    if path == SEAL_KEEPS:
        return seal_keeps(machine)
    if path.startswith(FITTED):
        return Choice(text="no", word="no", evidence="assumed")
    node: Any = machine
    for part in path.split("."):
        node = getattr(node, part, getattr(node, f"{part}_", None))
    if isinstance(node, str):
        return Choice(text=node, word=node, place=None)
    return node if isinstance(node, Fact | Choice) else None


def _highest(machine: Machine) -> Fact:
    heights = [protrusion.stands_out for protrusion in machine.boiler.protrusions]
    if not heights:
        nothing = Quantity(0.0, 0.0, "length", "0 mm")
        evidence = evidence_of_wall(machine)
        return Fact(text="no protrusion", dimension="length", quantity=nothing, evidence=evidence)
    unknown = [fact for fact in heights if not fact.known]
    return unknown[0] if unknown else max(heights, key=lambda fact: fact.value)


def _carries(machine: Machine) -> Choice:
    carried = [protrusion.carries for protrusion in machine.boiler.protrusions]
    evidence = weakest((fact.evidence for fact in carried), evidence_of_wall(machine))
    if any(fact.known and fact.value != "nothing" for fact in carried):
        return Choice(text="yes", word="yes", evidence=evidence)
    if any(not fact.known for fact in carried):
        return Choice(text="unknown", known=False)
    return Choice(text="no", word="no", evidence=evidence)


def evidence_of_wall(machine: Machine) -> Evidence:
    """Return on what evidence nothing stands out of a wall: who measured its height looked at it."""
    return machine.boiler.straight_wall.evidence


def weakest(evidence: Iterable[Evidence], otherwise: Evidence) -> Evidence:
    """Return the weakest of several kinds of evidence, in the order in which they are listed; `otherwise` of none.

    >>> weakest(["measured", "assumed", "standard"], "measured"), weakest([], "measured")
    ('assumed', 'measured')
    """
    return max(evidence, key=EVIDENCE.index, default=otherwise)
