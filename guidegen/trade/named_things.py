"""The ids of all that an instruction can name on a machine or in a kit, each with its name as a list has it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from guidegen.trade.circuit import CONTROL, controlling
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.workshop.inventory import InventoryUnknown


def names_of(document: Machine | Kit) -> dict[str, str]:
    """Its things, devices, what stands out of the boiler, and what its lists have, by id.

    A thing that nobody knows is called by its id.
    """
    lists: Iterable[object]
    if isinstance(document, Machine):
        lists = (*document.safety_devices, *document.boiler.protrusions)
    else:
        lists = (*document.tools, *document.parts, *document.consumables)
    found: dict[str, str] = {one.id: one.name for one in lists}  # type: ignore[attr-defined]
    for name, thing in document.inventory.items():
        if isinstance(thing, InventoryUnknown):
            found.setdefault(name, name.replace("-", " "))
        else:
            written = getattr(thing, "name", None)
            found[name] = written or thing.say.removeprefix("the ")
    return found


def members_of(documents: Iterable[Machine | Kit], name: str) -> tuple[str, ...]:
    """The ids behind a name on any of these: of a group its members, of the control thermostat its device."""
    found: dict[str, None] = {}
    for one in documents:
        thing = one.inventory.get(name)
        if thing is not None and thing.kind == "group":
            found |= dict.fromkeys(thing.of)
        elif name == CONTROL and isinstance(one, Machine) and (device := controlling(one)):
            found[device.id] = None
    return tuple(found) or (name,)


def first_name(documents: Iterable[Machine | Kit], name: str) -> str | None:
    """What the first of these that has such a thing calls it; None where none has it."""
    tables: Iterable[Mapping[str, str]] = map(names_of, documents)
    return next((table[name] for table in tables if name in table), None)
