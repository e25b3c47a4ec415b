"""The kernel: what each effect needs before it, changes, and must say of itself, whatever sentence it stands in.

Only what stands here makes anything safe. A row chooses an effect and words; a workshop's own acts have none of
those that set something.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from guidegen.judge.acts.things import Thing, Things
from guidegen.judge.acts.worst import worst
from guidegen.language import gettext
from guidegen.workshop.steps import Role

Fields = dict[str, Any]
ActPlace = Literal["step", "stop", "care", "symptom", "cause"]
"""Where an act may stand: among the steps; at the end of a failing side; in the after-care and as check or remedy of
a fault; and what is no act but a statement, as what somebody notices, and as its cause."""
SEALED, SPARE_SEALS = ("flat-seal", "two-seals"), "spare-seals"
"""Sealings with a seal that is new each time; the consumables from which those of the machine's own joints come."""
SEATED = ("device", "sensor")
"""Kinds of things that sit on a seat of their own."""
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
    things: Things = field(default_factory=Things)

    @property
    def names(self) -> list[str]:
        """Ids of what it is done to, groups resolved."""
        return [name for thing in self.of for name in thing.members]


def _nothing(doing: Doing) -> Fields:
    return {}


@dataclass(frozen=True)
class KernelEffect:
    """One effect of the kernel.

    `needs` and `sets` are values of the state; `touches` what a hand comes near; `acts` what rules ask for by name;
    `role` the least that whoever does it must be; `joins`: it takes what its things need from the kit's lists;
    `torqued`: a screw is brought to a torque, which the author states;
    `fields` adds what depends on the things. `place` is where it may stand.
    """

    says: str
    needs: Mapping[str, str] = field(default_factory=dict)
    sets: Mapping[str, str] = field(default_factory=dict)
    touches: tuple[str, ...] = ()
    acts: tuple[str, ...] = ()
    role: Role = "anyone"
    reversible: bool = True
    joins: bool = False
    torqued: bool = False
    fields: Callable[[Doing], Fields] = _nothing
    place: ActPlace = "step"


def isolated(by: str, guarded: bool = False) -> Callable[[Doing], Fields]:
    kept = {"in_sight": True, "pins_clear": True} if by == "plug" else {"guarded": guarded}
    return lambda doing: {"isolate": {"by": by, "control": doing.says["control"], **kept}}


def moved(field_: str, kind: str, needs_dead: bool = False) -> Callable[[Doing], Fields]:
    def fields(doing: Doing) -> Fields:
        moves: Fields = {kind: doing.names} | ({"permanent": True} if doing.for_good else {})
        return {field_: moves} | ({"requires": {"mains": doing.dead}} if needs_dead else {})

    return fields


def closed(doing: Doing) -> Fields:
    """Joints are closed; those of the machine on new seals of the consumables, where a seal makes them tight."""
    joints = (doing.things.get(name) for name in doing.names)
    seals = any(one is not None and one.sealing in SEALED and not one.brought for one in joints)
    return {**moved("refits", "joints")(doing), **({"consumables": (SPARE_SEALS,)} if seals else {})}


def opened(doing: Doing) -> Fields:
    """Joints come apart; where a coil ends at one, its water runs out, since tilting does not empty a coil."""
    return {**moved("removes", "joints")(doing), **_spilled(doing)}


def loosened(doing: Doing) -> Fields:
    """What presses on joints goes by hand; nobody knows whether they are tight afterwards."""
    return {"disturbs": {"joints": doing.names}, "release": doing.says["release"], **_spilled(doing)}


def _spilled(doing: Doing) -> Fields:
    """What an act on a joint of a coil takes and says more."""
    joints = (doing.things.get(name) for name in doing.names)
    ends = dict.fromkeys(end for joint in joints if joint is not None for end in joint.ends)
    coils = [thing.id for end in ends if (thing := doing.things.get(end)) is not None and thing.kind == "coil"]
    if not coils:
        return {}
    words = gettext(
        "Tilting does not empty {coil}: its water runs out here. Tissues beneath keep it off leads and terminals."
    )
    return {"notes": (words.format(coil=doing.things.listed(coils)),), "consumables": ("tissue",)}


def device_leads(field_: str) -> Callable[[Doing], Fields]:
    """The leads of a device go by its name: `limit-leads`."""
    return lambda doing: {
        field_: {"leads": [f"{name}-leads" for name in doing.names]},
        "requires": {"mains": doing.dead},
    }


def recorded(doing: Doing) -> Fields:
    """How things were; of a device with its leads. A seat is seen where its device is named, not among other things."""
    seen = [
        name
        for thing in doing.of
        for name in thing.members
        if thing.kind in SEATED or (one := doing.things.get(name)) is None or one.kind not in SEATED
    ]
    leads = [f"{name}-leads" for thing in doing.of if thing.kind == "device" for name in thing.members]
    return {"records": [*seen, *leads]}


def leads_back(doing: Doing) -> Fields:
    """The heater's leads go back only on a boiler that holds water and joints that held it."""
    heats = any(thing.heats for thing in doing.of)
    heating = {"leak": "cold_ok", "primed": "yes"} if heats else {}
    return {"refits": {"leads": doing.names}, "requires": {"mains": doing.dead, **heating}}


def seated(doing: Doing) -> Fields:
    (device,) = doing.of
    rating = {"rating": f"{{{device.facts}.rating}}"} if device.kind == "device" else {}
    return {"refits": {"devices": doing.names, **rating}, "seat": {"device": device.id, **doing.says["seat"]}}


def bonded(doing: Doing) -> Fields:
    return {"refits": {"leads": doing.names}}


def cut(doing: Doing) -> Fields:
    (thing,) = doing.of
    facts = thing.facts
    return {"cut": {
        "of": thing.name, "tool": doing.says["tools"][0], "carries": f"{{{facts}.carries}}",
        "material": "{boiler.material}", "line": {"is": f"{{{facts}.stands_out}}"},
        "leaves": {"is": f"{{{facts}.keeps}}"},
    }}  # fmt: skip


def supply(doing: Doing) -> Fields:
    return {"supply": {"rcd": {"is": "{trip_current}"}, "watched": True, "hands_off": True}}


def relief(doing: Doing) -> Fields:
    (protected,) = doing.of
    return {"relief": {"device": "{relief.id}", "protects": protected.id, "between": []}}


def proven(doing: Doing) -> Fields:
    """A vessel bore the pressure; where it came through the feed, the relief valve must branch off before that."""
    through = any(thing.part_of or thing.kind == "hose" for thing in doing.at)
    return {"proof": {"vessels": doing.names, **({"relief": "{water_path.relief_branch}"} if through else {})}}


def leak(rung: str, medium: str, joints: tuple[str, ...] = ()) -> Callable[[Doing], Fields]:
    return lambda doing: {"leak": {"rung": rung, "medium": medium, "joints": list(joints)}}


def named(name: str) -> Callable[[Doing], Fields]:
    return lambda doing: {name: doing.names}


def own(doing: Doing) -> Fields:
    """The worst of everything named; what is cut or used up does not come back."""
    for_good = {"reversible": False} if doing.for_good else {}
    return {**worst((*doing.of, *doing.at, *doing.to), doing.things, doing.dead), **for_good}


def clear(doing: Doing) -> Fields:
    (part,) = doing.of
    return {"clearance": {
        "between": f"{part.name} and the nearest live terminal, leads and caps included",
        "restraint": doing.says["restraint"],
    }}  # fmt: skip


OWN = "own"
"""The effect of a workshop's own acts."""


def least_role(effect: KernelEffect, row: Role | None, author: Role | None, things: Role = "anyone") -> Role:
    """Who may do it: what the row says, or the author, never less than the effect, or what it is done to, needs."""
    said = row or ("hand-tools" if effect.role == "anyone" and effect.place == "step" else effect.role)
    return max(said, effect.role, author or "anyone", things, key=ROLES.index)


LOOKS = frozenset({
    "look", "look-dead", "as-found", "photograph", "watch", "verify-device", "verify-series", "verify-sensor",
    "clearance", "relief-path", "earth-test", "earth-test-closed", "insulation-test", "insulation-test-wiring",
    "insulation-test-heater", "bench-record", "leak-cold", "leak-hot", "leak-cooled",
})  # fmt: skip
"""Effects that only look at their things, measure or try them: nothing is fitted by them, and nothing used up."""
