"""The kernel: what each effect needs before it, changes, and must say of itself, whatever sentence it stands in.

Only what stands here makes anything safe. A row chooses an effect and words; a workshop's own acts have none of
those that set something.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from guidegen.judge.acts.things import Thing, Things
from guidegen.judge.acts.worst import worst
from guidegen.workshop.steps import Role

Fields = dict[str, Any]
ROLES: tuple[Role, ...] = ("anyone", "hand-tools", "wiring", "electrically-skilled")
"""Whoever may do the work, the least skilled first."""


@dataclass(frozen=True)
class Doing:
    """One act as it is done: its things by slot, what the row says beside the sentence, what the author adds."""

    of: tuple[Thing, ...] = ()
    at: tuple[Thing, ...] = ()
    to: tuple[Thing, ...] = ()
    says: Mapping[str, Any] = field(default_factory=dict)
    dead: str = "off"
    """What `mains` must be before a conductor is touched: `off`, or `proved_dead` in mains work."""
    for_good: bool = False
    torque: Any = None
    things: Things = field(default_factory=Things)

    @property
    def names(self) -> list[str]:
        """Ids of what it is done to, groups resolved."""
        return [name for thing in self.of for name in thing.members]


def _nothing(doing: Doing) -> Fields:
    return {}


@dataclass(frozen=True)
class Effect:
    """One effect of the kernel.

    `needs` and `sets` are values of the state; `touches` what a hand comes near; `acts` what rules ask for by name;
    `role` the least that whoever does it must be; `joins`: it takes what its things need from the kit's lists;
    `fields` adds what depends on the things.
    """

    says: str
    needs: Mapping[str, str] = field(default_factory=dict)
    sets: Mapping[str, str] = field(default_factory=dict)
    touches: tuple[str, ...] = ()
    acts: tuple[str, ...] = ()
    role: Role = "anyone"
    reversible: bool = True
    joins: bool = False
    fields: Callable[[Doing], Fields] = _nothing


def _isolated(by: str) -> Callable[[Doing], Fields]:
    corded = {"in_sight": True, "pins_clear": True} if by == "plug" else {}
    return lambda doing: {"isolate": {"by": by, "control": doing.says["control"], **corded}}


def _moved(field_: str, kind: str, needs_dead: bool = False) -> Callable[[Doing], Fields]:
    def fields(doing: Doing) -> Fields:
        moves: Fields = {kind: doing.names} | ({"permanent": True} if doing.for_good else {})
        return {field_: moves} | ({"requires": {"mains": doing.dead}} if needs_dead else {})

    return fields


def _device_leads(field_: str) -> Callable[[Doing], Fields]:
    """The leads of a device go by its name: `limit-leads`."""
    return lambda doing: {
        field_: {"leads": [f"{name}-leads" for name in doing.names]},
        "requires": {"mains": doing.dead},
    }


def _recorded(doing: Doing) -> Fields:
    """How things were; of a device with its leads."""
    leads = [f"{name}-leads" for thing in doing.of if thing.kind == "device" for name in thing.members]
    return {"records": [*doing.names, *leads]}


def _leads_back(doing: Doing) -> Fields:
    """The heater's leads go back only on a boiler that holds water and joints that held it."""
    heats = any(thing.heats for thing in doing.of)
    heating = {"leak": "cold_ok", "primed": "yes"} if heats else {}
    return {"refits": {"leads": doing.names}, "requires": {"mains": doing.dead, **heating}}


def _seated(doing: Doing) -> Fields:
    (device,) = doing.of
    rating = {"rating": f"{{{device.facts}.rating}}"} if device.kind == "device" else {}
    return {"refits": {"devices": doing.names, **rating}, "seat": {"device": device.id, **doing.says["seat"]}}


def _bonded(doing: Doing) -> Fields:
    return {"refits": {"leads": doing.names}}


def _cut(doing: Doing) -> Fields:
    (thing,) = doing.of
    facts = thing.facts
    return {"cut": {
        "of": thing.name, "tool": doing.says["tools"][0], "carries": f"{{{facts}.carries}}",
        "material": "{boiler.material}", "line": {"is": f"{{{facts}.stands_out}}"},
        "leaves": {"is": f"{{{facts}.keeps}}"},
    }}  # fmt: skip


def _supply(doing: Doing) -> Fields:
    return {"supply": {"rcd": {"is": "{trip_current}"}, "watched": True, "hands_off": True}}


def _relief(doing: Doing) -> Fields:
    (protected,) = doing.of
    return {"relief": {"device": "{relief.id}", "protects": protected.id, "between": []}}


def _leak(rung: str, medium: str, by: str, joints: tuple[str, ...] = ()) -> Callable[[Doing], Fields]:
    return lambda doing: {"leak": {"rung": rung, "medium": medium, "by": by, "joints": list(joints)}}


def _named(name: str) -> Callable[[Doing], Fields]:
    return lambda doing: {name: doing.names}


def _own(doing: Doing) -> Fields:
    """The worst of everything named; what is cut or used up does not come back."""
    for_good = {"reversible": False} if doing.for_good else {}
    return {**worst((*doing.of, *doing.at, *doing.to), doing.things, doing.dead), **for_good}


def _clear(doing: Doing) -> Fields:
    (part,) = doing.of
    return {"clearance": {
        "between": f"{part.name} and the nearest live terminal, leads and caps included",
        "restraint": doing.says["restraint"],
    }}  # fmt: skip


OWN = "own"
"""The effect of a workshop's own acts."""
OFF = {"mains": "off"}
WET = {"pressure": "released", "water": "drained", "temperature": "cool"}
POWER = {"enclosure": "closed", "earth": "tested"}

EFFECTS: dict[str, Effect] = {
    # the supply
    "cut-by-plug": Effect("The mains is off.", sets=OFF, fields=_isolated("plug")),
    "cut-by-disconnector": Effect(
        "The mains is off.", sets=OFF, role="electrically-skilled", fields=_isolated("disconnector")
    ),
    "prove-dead": Effect(
        "The conductors are proved dead.", OFF, {"mains": "proved_dead"}, role="electrically-skilled",
        fields=lambda doing: {"prove": {"tester": doing.says["tools"][0], "pairs": ["L-N", "L-E", "N-E"],
                                        "order": ["prove", "test", "prove"]}},
    ),
    "energise-pump": Effect(
        "The pump has power, the heater has none.", {**POWER, "leak": "bench_ok"}, {"mains": "pump_only"},
        role="hand-tools", fields=_supply,
    ),
    "energise-heat": Effect(
        "Pump and heater have power for the first time.", {**POWER, "leak": "cold_ok", "primed": "yes"},
        {"mains": "live"}, role="hand-tools", fields=_supply,
    ),
    "energise-use": Effect(
        "The machine is in use.", {**POWER, "leak": "hot_ok", "primed": "yes"}, {"mains": "live"}
    ),
    "operate": Effect("A switch, tap or tank is set; nothing that makes anything safe."),
    "operate-dead": Effect("The same, with the mains off.", OFF),
    "watch": Effect("The machine is watched under power.", {"mains": "live"}),
    # cool, without pressure, empty
    "wait-until-cool": Effect(
        "The machine is cool.", OFF, {"temperature": "cool"},
        fields=lambda doing: {"cooling": {"by": "waiting", "wait": {"is": "{cool_down.wait}"}}},
    ),
    "measure-cool": Effect(
        "The machine is cool.", {}, {"temperature": "cool"}, fields=lambda doing: {"cooling": {"by": "measuring"}}
    ),
    "release-pressure": Effect(
        "The pressure is off.", {**OFF, "temperature": "cool"}, {"pressure": "released"},
        fields=lambda doing: {"release": doing.says["release"]},
    ),
    "drain": Effect("The water is out.", {"pressure": "released"}, {"water": "drained"}),
    # covers
    "undo-screws": Effect("Screws of a cover are out.", OFF, acts=("undo-screws",), role="hand-tools"),
    "open-cover": Effect("The machine is open; its earth counts as disturbed.", OFF, {"enclosure": "open"},
                         role="hand-tools"),
    "close-cover": Effect("The machine is closed.", OFF, {"enclosure": "closed"}, role="hand-tools"),
    # looking
    "look": Effect("Something is looked at, measured, laid ready or written down."),
    "look-dead": Effect("The same, with the mains off.", OFF),
    "as-found": Effect(
        "The machine was tight and filled before anything was changed.", {}, {"leak": "hot_ok", "primed": "yes"},
        fields=lambda doing: {"as_found": True},
    ),
    "photograph": Effect("It is recorded how these were.", fields=_recorded),
    # leads and devices
    "detach-leads": Effect("Leads are off; earth and insulation count as disturbed.", role="wiring",
                           fields=_moved("removes", "leads", needs_dead=True)),
    "attach-leads": Effect("Leads are on, those of the heater only on a boiler that holds water and whose joints held "
                           "it; earth and insulation count as disturbed.", role="wiring",
                           joins=True, fields=_leads_back),
    "bond": Effect("A part of metal has its lead to earth.", OFF, acts=("bond",), role="wiring", joins=True),
    "bond-earth": Effect("The lead of a part ends at an earth place.", OFF, acts=("bond",), role="wiring",
                         joins=True, fields=_bonded),
    "insulate-leads": Effect("Bare ends are capped.", touches=("conductors",), acts=("insulate-leads",),
                             role="wiring"),
    "touch-leads": Effect("Conductors are touched.", touches=("conductors",), role="wiring"),
    "restrain-leads": Effect("Leads are tied.", touches=("conductors",), acts=("restrain",), role="wiring"),
    "detach-device-leads": Effect("The leads of a device are off; earth and insulation count as disturbed.",
                                  role="wiring", fields=_device_leads("removes")),
    "attach-device-leads": Effect("The leads of a device are on.", role="wiring", fields=_device_leads("refits")),
    "detach-device": Effect("A device or sensor is off its seat.", {"temperature": "cool"}, role="hand-tools",
                            fields=_moved("removes", "devices")),
    "seat-device": Effect("A device or sensor sits; nobody has tried it yet.", {"temperature": "cool"},
                          role="hand-tools", joins=True, fields=_seated),
    "verify-device": Effect("The device conducts.", touches=("conductors",), role="wiring",
                            fields=_named("verifies")),
    "verify-sensor": Effect("The sensor sits.", touches=("boiler",), fields=_named("verifies")),
    # joints and the boiler
    "undo-joint": Effect("A joint is open; every leak test and the filling count no more.", WET, role="hand-tools",
                         fields=_moved("removes", "joints")),
    "make-joint": Effect("A joint is closed, and not tested.", role="hand-tools", joins=True,
                         fields=_moved("refits", "joints")),
    "torque": Effect("A screw is at its torque.", touches=("boiler",), role="hand-tools",
                     fields=lambda doing: {"torque": doing.torque}),
    "touch-boiler": Effect("A hand is at the boiler.", touches=("boiler",)),
    "wipe": Effect("A face or seat is clean.", touches=("boiler",), role="hand-tools"),
    "part-out": Effect("The boiler is out.", touches=("boiler",), acts=("part-out",), role="hand-tools"),
    "part-in": Effect("The boiler is back in its place.", {"temperature": "cool"}, touches=("boiler",),
                      role="hand-tools"),
    "plug-ports": Effect("Every port is closed.", acts=("plug-ports",)),
    "unplug-ports": Effect("Every port is free.", acts=("unplug-ports",)),
    # cutting
    "identify": Effect("It is known what is to be cut.", acts=("identify",), role="hand-tools"),
    "hold-work": Effect("The work is held.", acts=("hold-work",), role="hand-tools"),
    "cut": Effect("Metal is gone for good.", acts=("catch-dust",), role="hand-tools", reversible=False, fields=_cut),
    "deburr": Effect("Edges are blunt.", acts=("deburr",), role="hand-tools"),
    "rinse": Effect("Chips are rinsed out.", acts=("flush",)),
    "look-for-swarf": Effect("No chip is left.", acts=("swarf-check",)),
    "restrain": Effect("A part cannot move.", acts=("restrain",), role="hand-tools"),
    # tests
    "clearance": Effect("The distance to live parts is measured.", OFF, role="wiring", fields=_clear),
    "relief-path": Effect("Nothing that can close lies before the relief valve.", role="hand-tools", fields=_relief),
    "earth-test": Effect("The protective earth of a part is tested.", OFF, role="electrically-skilled",
                         fields=_named("earth_points")),
    "earth-test-closed": Effect(
        "The protective earth is tested, the machine closed.", {**OFF, "enclosure": "closed"}, {"earth": "tested"},
        role="electrically-skilled", fields=_named("earth_points"),
    ),
    "insulation-test": Effect(
        "The insulation is tested.", OFF, touches=("conductors",), role="electrically-skilled",
        fields=lambda doing: {"insulation_of": ["heater", "wiring"]},
    ),
    "sign": Effect("An electrically skilled person has signed.", {**OFF, **POWER}),
    "bench-record": Effect("A new part was tested by its maker, an old one is whole.", {}, {"leak": "bench_ok"},
                           fields=_leak("bench", "cold water", "maker-record")),
    "prime": Effect("The boiler holds water.", {"mains": "pump_only"}, {"primed": "yes"}, acts=("prime",)),
    "pump-cold": Effect("Every joint stands under the pump's pressure.", {"mains": "pump_only"}),
    "after-pressure": Effect("Something is taken out once nothing presses on it.", {"pressure": "released"}),
    "leak-cold": Effect("The joints are tight cold.", {}, {"leak": "cold_ok"},
                        fields=_leak("cold", "cold water", "machine-pump", ("every joint",))),
    "leak-hot": Effect("Nothing drips while hot.", {"mains": "live"},
                       fields=_leak("hot", "hot water", "machine-pump")),
    "leak-cooled": Effect(
        "The joints are tight after the first heat.", {"temperature": "cool"}, {"leak": "hot_ok"},
        touches=("boiler",), role="hand-tools",
        fields=_leak("cooled", "cold water", "machine-pump", ("every joint",)),
    ),
    "flush": Effect("The new path is flushed.", acts=("flush",)),
    OWN: Effect("Nothing is certain of what is named: it counts as disturbed.", fields=_own),
    "discard": Effect("The flushed water is gone.", acts=("discard",)),
}  # fmt: skip
"""Every effect by its name."""


def least_role(effect: Effect, row: Role | None, author: Role | None, things: Role = "anyone") -> Role:
    """Who may do it: what the row says, or the author, never less than the effect, or what it is done to, needs."""
    said = row or ("hand-tools" if effect.role == "anyone" else effect.role)
    return max(said, effect.role, author or "anyone", things, key=ROLES.index)
