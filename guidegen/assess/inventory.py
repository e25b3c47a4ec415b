"""The things that an act may name on a machine with a kit, from their inventories, devices and lists."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any, get_args

from guidegen.assess.gaps import no_device, not_written
from guidegen.judge.acts.sentence import listed, started
from guidegen.judge.acts.things import Listed, Thing, Things
from guidegen.judge.safety.facts import Gap, Value, word
from guidegen.language import gettext, marked, translation
from guidegen.trade.circuit import CIRCUIT, CONTROL, GUARD_HEAT, controlling, in_circuit, in_circuit_with
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine, SafetyDevice
from guidegen.workshop.inventory import (
    CLOSING,
    AnyThing,
    Inventory,
    InventoryGroup,
    InventoryJoint,
    InventoryLead,
    InventoryUnknown,
)
from guidegen.workshop.parts import Consumable, Part, Tool

SEALS = {
    "flat-seal": marked("A new seal goes in first."),
    "two-seals": marked("One new seal goes above the ring and one below."),
    "gasket": marked("It sits on its gasket."),
    "tape": marked("Its thread is wound with tape first."),
    "clamping-ring": marked("Its nut and ring are on the tube first."),
}
"""What an instruction says of the sealing of a joint."""
LISTS: tuple[Listed, ...] = get_args(Listed)
PAIRS_KEPT = 16
"""Pairs whose things are held on to with their compiled acts: those of one variant, which are assessed one by one."""


def said(name: str) -> str:
    """The words for a sentence, of a name in a list.

    >>> said("insulation tester, 500 V"), said("coil")
    ('the insulation tester', 'the coil')
    """
    return "the " + re.split(r",| \(", name)[0]


@dataclass(frozen=True, eq=False)
class _One:
    """A document by its identity: no two are compared by what they say."""

    it: Any

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _One) and other.it is self.it

    def __hash__(self) -> int:
        return id(self.it)


def things_of(machine: Machine, kit: Kit, first: Sequence[Kit] = ()) -> tuple[Things, Mapping[str, Value]]:
    """Everything that an act may name, and what procedures may ask of it under `thing.<id>`.

    Of the kits that are on the machine `first` what they brought, as if it were the machine's own.
    The same for the same documents in a language, so that acts are compiled once for all who ask about a pair.
    """
    return _things_of(_One(machine), _One(kit), tuple(map(_One, first)), translation().fingerprint)


@lru_cache(maxsize=PAIRS_KEPT)
def _things_of(
    of_machine: _One, of_kit: _One, of_first: tuple[_One, ...], _language: str
) -> tuple[Things, Mapping[str, Value]]:
    machine: Machine = of_machine.it
    kit: Kit = of_kit.it
    first: tuple[Kit, ...] = tuple(one.it for one in of_first)
    lists = {one.id: name for name in LISTS for one in getattr(kit, name)}
    found = {part.id: replace(_listed(part, "parts"), listed=None) for one in first for part in one.parts}
    found |= {one.id: _listed(one, lists[one.id]) for name in LISTS for one in getattr(kit, name)}
    values: dict[str, Value] = {}
    for device in machine.safety_devices:
        found[device.id] = _device(device)
    for one in machine.boiler.protrusions:
        found[one.id] = Thing(one.id, "protrusion", said(one.name), one.name, (one.id,), f"thing.{one.id}")
    documents: list[tuple[Machine | Kit, Mapping[str, Listed]]] = [(machine, lists)]
    documents += [*((one, {}) for one in first), (kit, lists)]
    for document, on in documents:
        inventory = document.inventory
        for name, written in inventory.items():
            place = str(document.places[("inventory", name)])
            found[name] = replace(
                _thing(name, written, inventory, on),
                brought=document is kit and not isinstance(written, InventoryGroup),
                place=document.places.key(("inventory", name)),
            )
            values |= _facts(name, written, inventory, found[name], place)
    found |= dict(_together(machine, kit, found))
    say = found[CONTROL].say
    values |= {"thing.control-thermostat.say": word(say), "thing.control-thermostat.say-start": word(started(say))}
    if not found[CONTROL].known:
        none = no_device(machine, gettext("The thermostat that controls"))
        values |= {f"thing.control-thermostat.{part}": none for part in ("say", "say-start")}
    values |= _circuits(machine, kit, found)
    return Things(found, first=tuple(one.id for one in first)), values


def _circuits(machine: Machine, kit: Kit, found: Mapping[str, Thing]) -> dict[str, Value]:
    """What the heater's current passes before and after fitting, in words."""
    orders = {"circuit.original": in_circuit(machine), "circuit.fitted": in_circuit_with(machine, kit)}
    looked = gettext("follow both leads of the heater to the mains terminals, unplugged and cold, and photograph them")
    unknown = not_written(machine, f"inventory.{CIRCUIT}", gettext("The circuit of the heater"), looked)
    if CIRCUIT in machine.inventory:
        place = str(machine.places[("inventory", CIRCUIT, "kind")])
        unknown = replace(unknown, gaps=tuple(replace(gap, place=place, absent=False) for gap in unknown.gaps))
    return {name: unknown if order is None else word(listed([found[one].say for one in order]))
            for name, order in orders.items()}  # fmt: skip


def _together(machine: Machine, kit: Kit, found: Mapping[str, Thing]) -> Iterator[tuple[str, Thing]]:
    """Things that are others under another name: the thermostat that controls, all devices, a joint found damp."""
    control = controlling(machine)
    yield CONTROL, _device(control, "control_thermostat") if control else _unknown(CONTROL, "control_thermostat")
    guards = tuple(one.id for one in machine.safety_devices if one.kind in GUARD_HEAT)
    yield "all-devices", Thing("all-devices", "device", "every device", gettext("every device"), guards)
    joints = (one for name in (*machine.inventory, *kit.inventory) if (one := found[name]).kind == "joint")
    tools = tuple(dict.fromkeys(tool for one in joints for tool in one.tools))
    name = gettext("damp joint")
    yield "damp-joint", Thing("damp-joint", "joint", "the damp joint", name, ("damp-joint",), tools=tools)


def _device(one: SafetyDevice, facts: str = "") -> Thing:
    return Thing(one.id, "device", said(one.name), one.name, (one.id,), facts or f"thing.{one.id}",
                 closes=one.kind == "relief-valve")  # fmt: skip


def _listed(one: Part | Tool | Consumable, on: Listed) -> Thing:
    kind = {"tools": "tool", "parts": "part", "consumables": "consumable"}[on]
    tool_kind = (one.kind if isinstance(one, Tool) else None) or one.id
    return Thing(
        one.id, kind, one.say or said(one.name), one.name, (one.id,), f"thing.{one.id}", listed=on, tool_kind=tool_kind,
        resolution=getattr(one, "resolution", None),
    )  # fmt: skip


def _thing(name: str, written: AnyThing, inventory: Inventory, lists: Mapping[str, Listed]) -> Thing:
    if isinstance(written, InventoryUnknown):
        return _unknown(name, f"thing.{name}")
    if isinstance(written, InventoryGroup):
        parts = [one for member in written.of if (one := inventory.get(member)) is not None]
        takes = _taken((name for one in parts for name in getattr(one, "takes", ())), lists)
        tools = tuple(dict.fromkeys(tool for one in parts for tool in getattr(one, "tools", ())))
        kind, heats = parts[0].kind if parts else "part", any(getattr(one, "heats", False) for one in parts)
        return Thing(name, kind, written.say, written.say, written.of, f"thing.{name}", tools, takes, heats=heats)
    takes = _taken(getattr(written, "takes", ()), lists)
    tools = getattr(written, "tools", ())
    heats = isinstance(written, InventoryLead) and written.heats
    listed = lists.get(name)
    ends: tuple[str, ...] = getattr(written, "between", getattr(written, "ends", ()))
    return Thing(name, written.kind, written.say, written.name or _without_article(written.say), (name,),
                 f"thing.{name}", tools, takes, listed, heats, ends=ends,
                 sealing=getattr(written, "sealing", ""), settles=getattr(written, "settles", False),
                 resolution=getattr(written, "resolution", None),
                 closes=written.kind in CLOSING or getattr(written, "closes", False),
                 part_of=getattr(written, "part_of", None) or "")  # fmt: skip


def _unknown(name: str, facts: str) -> Thing:
    """A thing of which nobody knows enough to name it: its words are a fact that is not known."""
    return Thing(name, "unknown", f"{{thing.{name}.say}}", name, (name,), facts, known=False, closes=True)


def _taken(names: Iterable[str], lists: Mapping[str, Listed]) -> tuple[tuple[Listed, str], ...]:
    return tuple(dict.fromkeys((lists[name], name) for name in names if name in lists))


def _without_article(text: str) -> str:
    return text.removeprefix("the ")


def _facts(name: str, written: AnyThing, inventory: Inventory, thing: Thing, place: str) -> dict[str, Value]:
    if isinstance(written, InventoryUnknown):
        what = name.replace("-", " ")
        gap = Gap(f"inventory.{name}", what, gettext("photograph it with what is round it"), place)
        parts = ("say", "say-start", "name", "seat", "seals")
        return {f"thing.{name}.{part}": Value("unknown", None, gaps=(gap,)) for part in parts}
    found = {"say": word(thing.say), "name": word(thing.name)}
    for part in ("seat", "held"):
        if text := getattr(written, part, None):
            found[part] = word(text)
    first = inventory.get(written.of[0]) if isinstance(written, InventoryGroup) else written
    if isinstance(first, InventoryJoint):
        found |= {"seals": _seals(name, first, place), "settles": word("yes" if first.settles else "no")}
    return {f"thing.{name}.{part}": value for part, value in found.items()}


def _seals(name: str, joint: InventoryJoint, place: str) -> Value:
    """What an instruction says of the seal of a joint; unknown of one that nobody has opened yet."""
    if joint.sealing in SEALS:
        return word(gettext(SEALS[joint.sealing]))
    title = gettext("Seal of {joint}").format(joint=joint.say)
    look = gettext("look at it with the joint undone, or ask the maker of the part")
    return Value("unknown", None, gaps=(Gap(f"inventory.{name}.sealing", title, look, place),))
