"""From the catalogue's models to the plain values that procedures and rules ask for."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from guidegen.assess.gaps import absent, no_device, value_of
from guidegen.assess.inventory import said, things_of
from guidegen.assess.proving import pressures
from guidegen.assess.ratings import bolts, hottest, least_rating, loads, metals, rated, screw_facts, screws, wetted_side
from guidegen.heat.temperature import ZERO_CELSIUS
from guidegen.judge.acts.row import ActTable
from guidegen.judge.acts.sentence import listed
from guidegen.judge.logic import Truth
from guidegen.judge.safety.facts import UNKNOWN, Facts, Item, Value, holds, word
from guidegen.judge.safety.fill import Filler
from guidegen.judge.safety.guide import Device, Drawback, KitSide, MachineSide, Outstanding
from guidegen.language import gettext
from guidegen.trade.circuit import GUARD_HEAT, controlling, in_circuit
from guidegen.trade.cutting import EXCHANGE, Decision
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine, PidControl, SafetyDevice
from guidegen.trade.paths import known_facts
from guidegen.trade.shop import Glossary
from guidegen.units import UnitError, parse
from guidegen.workshop.base import Place
from guidegen.workshop.facts import Choice, Fact
from guidegen.workshop.inventory import InventoryThing
from guidegen.workshop.rows import OwnActs

SHORTEST_WAIT_H = 4.0
FLUSHED_TIMES = 10
"""How often the new water path is filled and emptied before the first drink."""


def facts_of(machine: Machine, kit: Kit, computed: Mapping[str, Value], decisions: Sequence[Decision],
             acts: OwnActs | None = None, first: Sequence[Kit] = ()) -> Facts:  # fmt: skip
    """Return everything that a procedure may ask about a machine with a kit.

    `computed` adds what was calculated, with the ways of wall and bolts; `decisions` say what is cut,
    `acts` are those of the workshop, `first` the kits that are on the machine before.
    """
    values = {
        name: value_of(fact, name) if (fact := machine.fact(name)) is not None else absent(machine, name)
        for name in known_facts(type(machine))
    }
    devices = machine.safety_devices
    values |= dict(_derived(machine))
    way = computed.get("wall.way", UNKNOWN)
    ways = way.options or (way.text,)
    values["protrusions.to_trim"] = way if way.gaps else _yes("trimmed" in ways)
    values["boiler.exchanged"] = way if way.gaps else _yes("exchanged" in ways)
    values |= {"machine.name": word(machine.name), "kit.id": word(kit.id), "kit.name": word(kit.name),
               "kit.revision": word(kit.revision), "kit.coil": _yes(kit.coil is not None)}  # fmt: skip
    values |= {name: value_of(fact, name) for name, fact in kit.facts()}
    lists = {
        "boiler.protrusions": tuple(_protrusion(one, devices) for one in decisions),
        "safety_devices": tuple(_device_item(one) for one in devices),
    }
    count = machine.boiler.bolts.count
    if count.known:
        lists["boiler.bolts"] = tuple(Item(str(n), f"bolt {n}", {}, "bolt") for n in crosswise(round(count.value)))
    else:
        values["boiler.bolts"] = values["boiler.bolts.count"]
    inventories = (machine.inventory, *(one.inventory for one in first), kit.inventory)
    for name, owner, fact in (*rated(kit), *(one for things in inventories for one in screw_facts(things))):
        values[name] = value_of(fact, name, owner)
    values["wetted.pressure"] = least_rating(kit, values)
    values |= dict(pressures(machine, decisions, values["wetted.pressure"]))
    things, words = things_of(machine, kit, first)
    of_devices = {
        f"thing.{one.id}.{name}": value for one in devices for name, value in _device_item(one).values.items()
    }
    return Facts({**values, **words, **of_devices, **computed}, lists, things, ActTable.of(acts))


def crosswise(count: int) -> tuple[int, ...]:
    """Return the order in which bolts on a circle are tightened: each time the one opposite.

    >>> crosswise(4), crosswise(6)
    ((1, 3, 2, 4), (1, 4, 2, 5, 3, 6))
    """
    half = (count + 1) // 2
    pairs = ((first, first + half) for first in range(1, half + 1))
    return tuple(n for pair in pairs for n in pair if n <= count)


def wait_value(touch_upper_s: float) -> Value:
    """Return how long the machine stays unplugged: four times the upper bound of the cool-down, 4 h at least.

    >>> wait_value(3000).text, wait_value(5000).text
    ('4 h', '6 h')
    """
    hours = max(SHORTEST_WAIT_H, math.ceil(2 * 4 * touch_upper_s / 3600) / 2)
    return Value(f"{hours:g} h", hours * 3600, "time", "calculated")


def flush_value(held_ml: float) -> Value:
    """Return how much water is flushed and discarded: ten fillings of the new path, in steps of 100 ml."""
    amount = max(500, math.ceil(FLUSHED_TIMES * held_ml / 100) * 100)
    return Value(f"{amount} ml", amount * 1e-6, "volume", "calculated")


def first_heat_value(ready_upper_s: float) -> Value:
    """Return how long the first heating may take: twice what was computed, in whole minutes, 2 min at least.

    Longer than that something is wrong: a thermostat that stays closed, or a lead on the wrong tab.

    >>> first_heat_value(40).text, first_heat_value(100).text
    ('2 min', '4 min')
    """
    minutes = max(2, math.ceil(2 * ready_upper_s / 60))
    return Value(f"{minutes} min", minutes * 60.0, "time", "calculated")


def machine_side(machine: Machine, decisions: Sequence[Decision], first: Sequence[Kit] = ()) -> MachineSide:
    """Return what the rules ask of the machine with the kits that are on it `first`; `decisions` say what is cut."""
    brought = {name: side for one in first for name, side in screws(one.inventory).items()}
    connection = machine.mains.connection
    return MachineSide(
        id=machine.id,
        connection=connection.value if connection.known else "unknown",
        devices=tuple(
            Device(one.id, one.name, one.kind, one.class_, one.rating.value if one.rating.known else None,
                   one.seat.value if one.seat.known else None)
            for one in machine.safety_devices
        ),
        protrusions=tuple(
            Outstanding(one.protrusion.id, one.action.value, one.keeps) for one in decisions
        ),
        circuit=in_circuit(machine) or (),
        loads=loads(machine),
        hottest=hottest(machine),
        screws={**screws(machine.inventory), **bolts(machine), **brought},
        metals=metals(machine),
    )  # fmt: skip


def kit_side(kit: Kit, facts: Facts) -> KitSide:
    """Return what the rules ask of the kit; what this machine does not need is left out."""
    return KitSide(
        id=kit.id,
        revision=kit.revision,
        tools={one.id: one.name for one in kit.tools if holds(one.when, facts) is not Truth.FALSE},
        parts={one.id: one.name for one in kit.parts if holds(one.when, facts) is not Truth.FALSE},
        consumables={one.id: one.name for one in kit.consumables if holds(one.when, facts) is not Truth.FALSE},
        details=dict(_details(kit, facts)),
        kinds={one.id: one.kind for one in kit.tools if one.kind},
        ranges={one.id: (one.range.from_, one.range.to) for one in kit.tools if one.range},
        coil=kit.coil is not None,
        wetted=wetted_side(kit, facts),
        screws=screws(kit.inventory),
        boiler=EXCHANGE if facts.get("wall.way").text == "exchanged" else None,
        speaks_of=kit.speaks_of,
        downsides=tuple(Drawback(one.about, one.what, one.likely, one.do or "") for one in kit.downsides),
        restore_possible=kit.restore.possible,
        restore_text=kit.restore.how,
        place=Place(kit.places[()].path, kit.places[("tools",)].line, 1),
    )  # fmt: skip


def _details(kit: Kit, facts: Facts) -> Iterator[tuple[str, str]]:
    """Yield how many of each part, of what size, with which seals; and how much of each consumable."""
    filler = Filler(facts, {}, {})
    for part in kit.parts:
        seals = [f"{one.count} × {one.name}, {one.material}, {filler.text(one.size)}" for one in part.seals]
        words = gettext("with {seals} each") if part.count > 1 else gettext("with {seals}")
        size = [filler.text(part.listed_size)] if part.listed_size else []
        with_seals = [words.format(seals=listed(seals))] if seals else []
        yield part.id, "; ".join([f"{part.count} ×", *size, *with_seals])
    for one in kit.consumables:
        yield one.id, one.amount
    for tool in kit.tools:
        reach = gettext("{least} to {most}").format(least=tool.range.from_, most=tool.range.to) if tool.range else None
        if tool.size or reach:
            yield tool.id, ", ".join(filter(None, (tool.size, reach)))


def avoided_words(glossary: Glossary) -> dict[str, str]:
    """Return the words that the glossary knows under another name, with that name."""
    return {other: term.name for term in glossary.terms.values() for other in term.also}


def _derived(machine: Machine) -> Iterator[tuple[str, Value]]:
    control = controlling(machine)
    if control is not None:
        yield from ((f"control_thermostat.{name}", value) for name, value in _device_item(control).values.items())
        yield "control_thermostat.id", word(control.id)
        yield "control_thermostat.name", word(control.name)
    else:
        none = no_device(machine, gettext("The thermostat that controls"))
        yield from ((f"control_thermostat.{name}", none) for name in ("id", "name", "rating", "seat"))
    names = [one.name for one in machine.safety_devices if one.class_ == "protective" and one.kind in GUARD_HEAT]
    if names:
        yield "protection.names", word(listed(names))
        yield "protection.last", word(names[-1])
    else:
        none = no_device(machine, gettext("What cuts off when it gets too hot"))
        yield from ((f"protection.{name}", none) for name in ("names", "last"))
    if isinstance(machine.control, PidControl):
        yield "control.shown", _shown(machine, machine.control.setpoint)
    out = [one.name for one in machine.boiler.protrusions]
    yield "protrusions.names", word(listed(out) if out else "nothing")
    relief = [one for one in machine.safety_devices if one.kind == "relief-valve"]
    if relief:
        yield "relief.id", word(relief[0].id)
        yield "relief.name", word(relief[0].name)
        yield "relief.say", word(said(relief[0].name))
    else:
        none = no_device(machine, gettext("The relief valve"))
        yield from ((f"relief.{name}", none) for name in ("id", "name", "say"))


def _shown(machine: Machine, setpoint: Fact) -> Value:
    """The setpoint as the machine's display can show it: no finer than the display's steps."""
    steps = [thing.resolution for thing in machine.inventory.values()
             if isinstance(thing, InventoryThing) and thing.kind == "display" and thing.resolution]  # fmt: skip
    finest = max(map(_kelvins, steps), default=0.0)
    if not setpoint.known or finest <= setpoint.plus_minus:
        return value_of(setpoint, "control.setpoint")
    text = f"{setpoint.value - ZERO_CELSIUS:g} °C ± {finest:g} K"
    return Value(text, setpoint.value, "temperature", setpoint.evidence, setpoint.source)


def _kelvins(step: str) -> float:
    """A step of a display, K; none where it shows something else."""
    try:
        return parse(step, "temperature_difference").value
    except UnitError:
        return 0.0


def _protrusion(decision: Decision, devices: tuple[SafetyDevice, ...]) -> Item:
    one = decision.protrusion

    def value(name: str, fact: Fact | Choice) -> Value:
        return value_of(fact, f"boiler.protrusions.{one.id}.{name}", one.name)

    carried = value("carries", one.carries)
    kinds = {device.id: device.kind for device in devices}
    values: dict[str, Value] = {
        "action": word(decision.action.value),
        "kind": word(one.kind),
        "function": word(one.function),
        "carries": carried,
        "carries_kind": word(kinds.get(str(carried.value), "nothing")) if carried.value is not None else carried,
        "stands_out": value("stands_out", one.stands_out),
        "width": value("width", one.width),
        "keeps": _keeps(decision),
        "from": value("band.from", one.band.from_),
        "to": value("band.to", one.band.to),
    }
    return Item(one.id, one.name, values, "protrusion", said(one.name))


def _keeps(decision: Decision) -> Value:
    """Return the metal that must remain as one number: a limit with a tolerance would be two limits."""
    if decision.keeps is None:
        return UNKNOWN
    if decision.computed:
        return Value(decision.keeps_text, decision.keeps, "length", "calculated")
    stated = decision.protrusion.metal_left
    return Value(decision.keeps_text, decision.keeps, "length", stated.evidence, stated.source)


def _device_item(one: SafetyDevice) -> Item:
    where = f"safety_devices.{one.id}"
    values = {"kind": word(one.kind), "class": word(one.class_),
              "rating": value_of(one.rating, f"{where}.rating", one.name),
              "seat": value_of(one.seat, f"{where}.seat", one.name)}  # fmt: skip
    return Item(one.id, one.name, values, "device", said(one.name))


def _yes(truth: bool) -> Value:
    return word("yes" if truth else "no")
