"""The threads at the two sides of a joint: what is screwed together goes together."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping

from guidegen.problems import Code, Problem
from guidegen.trade.contradiction import problem
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.workshop.base import Document
from guidegen.workshop.inventory import Inventory, InventoryJoint, InventoryThing, InventoryUnknown, ScrewedEnd
from guidegen.workshop.parts import names_in_size, size_with

EndsOf = Callable[[str], tuple[ScrewedEnd, ...] | None]
"""The threads of a thing with their facts filled in; None of one that is not there, or of which nobody has looked."""


def mates(male: str, female: str) -> bool:
    """Whether these threads can be screwed together: the same by iso-228-1 or iso-261, R in Rp or Rc by iso-7-1.

    >>> mates("G 1/8", "G 1/8"), mates("G 1/8", "G 1/4"), mates("R 1/8", "Rp 1/8"), mates("R 1/8", "R 1/8")
    (True, False, True, False)
    """
    (outside, _, size), (inside, _, other) = male.partition(" "), female.partition(" ")
    if {outside, inside} & {"R", "Rp", "Rc"}:
        return outside == "R" and inside in ("Rp", "Rc") and size == other
    return male == female


def check_machine_threads(machine: Machine) -> Iterator[Problem]:
    """The joints of a machine, before any kit."""
    found = _ends(machine, [machine.inventory])
    for name, joint in _screwed(machine.inventory):
        if fault := _one_side(joint, found) or _same_gender(joint, found) or _differ(joint, found):
            yield _problem(machine, name, fault)


def check_kit_threads(kit: Kit, machines: Collection[Machine], first: Collection[Kit] = ()) -> Iterator[Problem]:
    """The joints of a kit: on each machine with its genders, and with its threads on one at least.

    A joint may end at what a kit brought that is on the machine `first`.

    On which machines a thread is another one, the kit's requirements say.
    """
    brought = [one.inventory for one in first]
    parts = {part.id: part.threads for one in (*first, kit) for part in one.parts}
    each = [_ends(machine, [kit.inventory, *brought, machine.inventory], parts) for machine in machines]
    for name, joint in _screwed(kit.inventory):
        faults = [_one_side(joint, found) or _same_gender(joint, found) for found in each]
        threads = [_differ(joint, found) for found in each]
        never = threads[:1] if threads and all(threads) else []
        for fault in dict.fromkeys(filter(None, (*faults, *never))):
            yield _problem(kit, name, fault)


def _screwed(inventory: Inventory) -> Iterator[tuple[str, InventoryJoint]]:
    """The joints in which a thread of one side goes into the other: not on a tube, nor by a screw of their own."""
    for name, thing in inventory.items():
        if isinstance(thing, InventoryJoint) and thing.screw is None and thing.sealing != "clamping-ring":
            yield name, thing


def _ends(
    machine: Machine, inventories: Iterable[Inventory], parts: Mapping[str, tuple[ScrewedEnd, ...]] | None = None
) -> EndsOf:
    of_parts = parts or {}

    def ends(name: str) -> tuple[ScrewedEnd, ...] | None:
        thing = next((one[name] for one in inventories if name in one), None)
        if name not in of_parts and (thing is None or isinstance(thing, InventoryUnknown)):
            return None
        own = thing.threads if isinstance(thing, InventoryThing) else ()
        return tuple(_filled(machine, end) for end in (*of_parts.get(name, ()), *own))

    return ends


def _filled(machine: Machine, end: ScrewedEnd) -> ScrewedEnd:
    facts = [machine.fact(name) for name in names_in_size(end.thread)]
    if not all(one is not None and one.known for one in facts):
        return end
    return end.model_copy(update={"thread": size_with(machine.fact, end.thread)})


def _one_side(joint: InventoryJoint, ends_of: EndsOf) -> str | None:
    sides = [ends_of(name) for name in joint.between]
    if None in sides or bool(sides[0]) == bool(sides[1]):
        return None
    told, silent = joint.between if sides[0] else reversed(joint.between)
    return f"{told} says what its thread is, and {silent} does not"


def _same_gender(joint: InventoryJoint, ends_of: EndsOf) -> str | None:
    one, other = (ends_of(name) for name in joint.between)
    if not one or not other or any(a.gender != b.gender for a in one for b in other):
        return None
    return f"{joint.between[0]} and {joint.between[1]} are both {one[0].gender}"


def _differ(joint: InventoryJoint, ends_of: EndsOf) -> str | None:
    one, other = (ends_of(name) for name in joint.between)
    pairs = [(a, b) if a.gender == "male" else (b, a) for a in one or () for b in other or () if a.gender != b.gender]
    if not pairs or any("{" in a.thread + b.thread or mates(a.thread, b.thread) for a, b in pairs):
        return None
    male, female = pairs[0]
    return f"{male.thread}, male, does not go into {female.thread}, female"


def _problem(document: Document, name: str, fault: str) -> Problem:
    fix = "name the part that goes there, or write threads: of both sides, as {thread: G 1/8, gender: male}"
    return problem(document, ("inventory", name, "between"), Code.THREADS, fault, fix)
