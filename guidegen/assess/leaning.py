"""Kits that lean on each other: one is fitted on what another brought or took away, or both are joined to one thing.

Such kits come off in the reverse order of how they went on, and an instruction that expects a machine's own part where
another kit has put one says so.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import replace

from guidegen.assess.inventory import said
from guidegen.assess.verdict import standing
from guidegen.judge.acts.things import Thing
from guidegen.judge.safety.facts import Facts
from guidegen.judge.safety.resolve import named_in
from guidegen.language import gettext, marked
from guidegen.language.forms import PartOf
from guidegen.record.stated import KitNote
from guidegen.trade import Catalogue
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.workshop.acts import WrittenAct
from guidegen.workshop.inventory import InventoryJoint, InventoryThing

OFF_FIRST = marked("If the {other} is on the machine, it comes off first, by its own restoring instruction.")
LOOKS = {"fitting": "look-for-kits", "restoring": "look-for-later-kits"}
"""By course the act that looks for other kits before anything is changed."""
PLAIN_TO_SEE = (
    "coil", "fitting", "controller", "spare-boiler", "sensor", "bracket", "valve", "pump", "bands", "new-hose", "hose",
)  # fmt: skip
"""By what of its things a kit is known, the plainest first."""


def leans_on(kit: Kit, other: Kit) -> bool:
    """Whether a kit is fitted on what another brought: it needs it, may call for it, or a joint ends there."""
    return other.id in kit.called_for or not _ends(kit).isdisjoint({*other.inventory} - {*kit.inventory})


def share(kit: Kit, other: Kit, machine: Machine) -> tuple[str, ...]:
    """What of the machine both kits are joined to, but for its boiler, to which every water path leads."""
    things = machine.inventory
    both = _ends(kit) & _ends(other)
    return tuple(name for name, one in things.items() if name in both and one.kind not in ("boiler", "unknown"))


def _ends(kit: Kit) -> set[str]:
    return {end for one in kit.inventory.values() if isinstance(one, InventoryJoint) for end in one.between}


def displaces(other: Kit, facts: Facts, named: Collection[str]) -> bool:
    """Whether a kit puts something in the place of what an instruction names, which is kept in a bag then."""
    places = (getattr(one, "in_place_of", None) for one in other.inventory.values())
    gone = (facts.things.get(one) for one in places if one)
    return any(name in named for thing in gone if thing is not None for name in thing.members)


def others(known: Catalogue, machine: Machine, kit: Kit, facts: Facts) -> tuple[Kit, ...]:
    """The kits that can be on this machine as well, and that lean on this one, or this one on them."""
    procedure, shared = known.procedures.get(kit.id), known.shared
    named = named_in(procedure, shared, facts) if procedure is not None and shared is not None else ()
    return tuple(_others(known, machine, kit, lambda other: displaces(other, facts, named)))


def _others(known: Catalogue, machine: Machine, kit: Kit, displaced: Callable[[Kit], bool]) -> Iterator[Kit]:
    for other in known.kits.values():
        if other.id == kit.id or other.id not in known.procedures:
            continue
        related = leans_on(kit, other) or leans_on(other, kit) or share(kit, other, machine) or displaced(other)
        if related and not standing(known, machine, other).fit.refused:
            yield other


def before_fitting(machine: Machine, kit: Kit, near: tuple[Kit, ...], first: tuple[Kit, ...]) -> Iterator[KitNote]:
    """What of other kits is on the machine, or is not, when a kit is fitted; `first` are those that it needs there."""
    for one in first:
        says = gettext("The {kit} is fitted by its own instruction, tested, and its record signed.")
        yield KitNote(id=one.id, says=says.format(kit=one.name), because=None)
    for one in in_the_way(machine, near, first):
        because = gettext("This instruction expects the machine's own parts where the {other} has others.")
        if leans_on(one, kit):
            because = gettext("It needs what the {kit} replaces.")
        yield _note(gettext(OFF_FIRST), because, kit, one)


def in_the_way(machine: Machine, near: Sequence[Kit], first: Sequence[Kit]) -> tuple[Kit, ...]:
    """The kits that come off before this one is fitted."""
    return tuple(one for one in near if one not in first and not described(machine, one))


def on_top(kit: Kit, near: Sequence[Kit]) -> tuple[Kit, ...]:
    """The kits that come off before this one does, where they went on after it."""
    return tuple(one for one in near if not leans_on(kit, one))


def looking(known: Catalogue, facts: Facts, machine: Machine, kit: Kit, first: Sequence[Kit]) -> Facts:
    """The facts with the kits near this one, with the act that looks for them in each course, and what it looks for."""
    near = others(known, machine, kit, facts)
    wanted = {"fitting": in_the_way(machine, near, first), "restoring": on_top(kit, near)}
    shown = {one.id: _shown(one) for kits in wanted.values() for one in kits}
    placed = {
        course: (WrittenAct(id=LOOKS[course], act=LOOKS[course], of=tuple(shown[one.id].id for one in kits)),)
        for course, kits in wanted.items() if kits
    }  # fmt: skip
    things = facts.things.having({one.id: one for one in shown.values()})
    return replace(facts, things=things, placed=placed, near=tuple(one.id for one in near))


def _shown(kit: Kit) -> Thing:
    """A kit that is on a machine, by the thing that it is known by."""
    plain = [one for one in kit.inventory.values() if isinstance(one, InventoryThing) and one.kind in PLAIN_TO_SEE]
    first = min(plain, key=lambda one: PLAIN_TO_SEE.index(one.kind), default=None)
    thing = first.say if first is not None else said(kit.parts[0].name) if kit.parts else gettext("anything")
    name = f"kit:{kit.id}"
    return Thing(name, "other-kit", PartOf(thing, kit.name), kit.name, (name,))


def before_restoring(kit: Kit, near: tuple[Kit, ...]) -> Iterator[KitNote]:
    """Which kits come off before this one."""
    for one in near:
        says, because = gettext(OFF_FIRST), gettext("It needs what the {kit} brought.")
        if leans_on(kit, one):
            says = gettext("If the {other} is on the machine too, it stays on until this kit is off.")
            because = gettext("The {kit} needs what it brought.")
        elif not leans_on(one, kit):
            says = gettext(
                "If the {other} was fitted after this kit, it comes off first, by its own restoring instruction."
            )
            because = gettext("Both are joined to the same parts of the machine.")
        yield _note(says, because, kit, one)


def _note(says: str, because: str, kit: Kit, other: Kit) -> KitNote:
    names = {"kit": kit.name, "other": other.name}
    return KitNote(id=other.id, says=says.format(**names), because=because.format(**names))


def described(machine: Machine, kit: Kit) -> bool:
    """Whether an instruction for this machine is one for a machine with the kit on as well: nothing else is so then."""
    for name, value in kit.gives.items():
        fact = machine.fact(name)
        if fact is None or value not in ((fact.text,) if fact.known else fact.options):
            return False
    return bool(kit.gives)
