"""The inventories of machines and kits: what a thing names is there, a joint is between what water passes."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from guidegen.problems import Code, Problem, nearest, one_of
from guidegen.trade.check_ratings import check_ratings
from guidegen.trade.check_threads import check_kit_threads, check_machine_threads
from guidegen.trade.circuit import CONTROL, check_circuit, check_duties, check_replaced
from guidegen.trade.contradiction import problem
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.workshop.acts import WrittenAct
from guidegen.workshop.base import Document, Loc
from guidegen.workshop.entries import Include
from guidegen.workshop.inventory import (
    PASSED,
    Inventory,
    InventoryCircuit,
    InventoryGroup,
    InventoryJoint,
    InventoryLead,
    InventoryUnknown,
)
from guidegen.workshop.procedures import Procedure, SharedBlocks
from guidegen.workshop.steps import Step
from guidegen.workshop.walk import everything

MEMBERS = ((InventoryJoint, "between"), (InventoryLead, "ends"), (InventoryCircuit, "in_order"))
"""The field in which a thing names others; of a group it is `of`."""


def check_machine_things(machine: Machine) -> Iterator[Problem]:
    """A machine's things name its own, its safety devices, and what stands out of its boiler."""
    known = {*machine.inventory, *(one.id for one in machine.safety_devices)}
    known |= {one.id for one in machine.boiler.protrusions}
    yield from _named(machine, machine.inventory, known)
    yield from _wet(machine, known - _passed(machine))
    yield from check_machine_threads(machine)
    yield from check_circuit(machine)
    yield from check_duties(machine)
    yield from check_ratings(machine)


def check_kit_things(kit: Kit, machines: Collection[Machine], first: Collection[Kit] = ()) -> Iterator[Problem]:
    """A kit's things name its own, what is on its lists, what a machine has, or a kit that is on it `first`."""
    lists = {one.id for many in (kit.tools, kit.parts, kit.consumables) for one in many}
    known = {*kit.inventory, *lists}
    for machine in machines:
        known |= {*machine.inventory, *(one.id for one in machine.safety_devices)}
    for one in first:
        known |= {*one.inventory, *(part.id for part in one.parts)}
    yield from _named(kit, kit.inventory, known)
    dry = known - {name for machine in machines for name in _passed(machine)}
    for owner in (*first, kit):
        dry -= {part.id for part in owner.parts} | _wet_things(owner.inventory)
    yield from _wet(kit, dry)
    for name, thing in kit.inventory.items():
        for index, taken in enumerate(getattr(thing, "takes", ())):
            if taken not in lists:
                yield _unknown(kit, ("inventory", name, "takes", index), taken, lists)
        replaced = getattr(thing, "in_place_of", None)
        if replaced is not None and replaced not in {*known, CONTROL}:
            yield _unknown(kit, ("inventory", name, "in_place_of"), replaced, {*known, CONTROL})
    yield from check_kit_threads(kit, machines, first)
    for machine in machines:
        yield from check_replaced(kit, machine)


def _named(document: Document, inventory: Inventory, known: Collection[str]) -> Iterator[Problem]:
    for name, thing in inventory.items():
        field = next((name for kind, name in MEMBERS if isinstance(thing, kind)), "of")
        for index, other in enumerate(getattr(thing, field, ())):
            if other not in known:
                yield _unknown(document, ("inventory", name, field, index), other, known)
        if (part := getattr(thing, "part_of", None)) is not None and part not in known:
            yield _unknown(document, ("inventory", name, "part_of"), part, known)
        if isinstance(thing, InventoryGroup):
            kinds = {one.kind for member in thing.of if (one := inventory.get(member)) is not None}
            if "group" in kinds:
                words = "a group holds another group"
                yield problem(
                    document, ("inventory", name, "of"), Code.UNKNOWN_THING, words, "name the things one by one"
                )


def _wet(document: Kit | Machine, dry: Collection[str]) -> Iterator[Problem]:
    """The joints of an inventory that end at something dry."""
    for name, thing in document.inventory.items():
        ends = thing.between if isinstance(thing, InventoryJoint) else ()
        for index, end in enumerate(ends):
            if end in dry:
                fix = f"name a relief valve, a part of the kit, or a thing of kind {one_of(sorted(PASSED))}"
                words = f'no water passes "{end}"'
                yield problem(document, ("inventory", name, "between", index), Code.NO_WATER, words, fix)


def _passed(machine: Machine) -> set[str]:
    """What of a machine a joint may end at."""
    return _wet_things(machine.inventory) | {one.id for one in machine.safety_devices if one.kind == "relief-valve"}


def _wet_things(inventory: Inventory) -> set[str]:
    return {name for name, one in inventory.items() if one.kind in PASSED or isinstance(one, InventoryUnknown)}


def _unknown(document: Document, loc: Loc, name: str, known: Collection[str]) -> Problem:
    near = nearest(name, known)
    fix = f"write {near}" if near else "add it to the inventory"
    return problem(document, loc, Code.UNKNOWN_THING, f'no thing "{name}"', fix)


def check_used(kit: Kit, procedure: Procedure, shared: SharedBlocks | None) -> Iterator[Problem]:
    """Each thing of a kit is named by an act of its procedure, alone or in a group, or is where something ends."""
    steps = list(_written(procedure, shared))
    if any(isinstance(one, Step) for one in steps):
        return  # a step in words names nothing; S10 asks for acts first
    acts = [one for one in steps if isinstance(one, WrittenAct)]
    named = {name for act in acts for names in (act.of, act.at, act.to, act.with_) for name in names}
    for name, thing in kit.inventory.items():
        if name in named and isinstance(thing, InventoryGroup):
            named |= {*thing.of}
    used = [thing for name, thing in kit.inventory.items() if name in named]
    ends = {end for one in used for end in (*getattr(one, "between", ()), *getattr(one, "ends", ()))}
    for name, thing in kit.inventory.items():
        moved = isinstance(thing, InventoryJoint | InventoryLead)
        if name not in named and (moved or name not in ends):
            yield problem(kit, ("inventory", name), Code.UNUSED_THING, f"no act names {name}",
                          "delete it, or add the act that needs it", key=True)  # fmt: skip


def _written(procedure: Procedure, shared: SharedBlocks | None) -> Iterator[object]:
    """All that a procedure holds, with the shared blocks that it includes, and those that these include."""
    todo: list[object] = [procedure]
    for part in todo:
        for _, one in everything(part):
            yield one
            block = shared.blocks.get(one.include) if shared is not None and isinstance(one, Include) else None
            if block is not None and block not in todo:
                todo.append(block)
