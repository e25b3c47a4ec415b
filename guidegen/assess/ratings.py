"""What parts are rated for and screws bear: facts with their gaps for procedures, plain numbers for the rules."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from guidegen.heat.threads import named
from guidegen.heat.tightening import SHEAR, YIELD, Screw, greatest_torque, least_friction
from guidegen.judge.logic import Truth
from guidegen.judge.safety.facts import UNKNOWN, Facts, Value, holds
from guidegen.judge.safety.guide import ScrewSide, Wetted
from guidegen.language import gettext, marked
from guidegen.trade.kit import Kit, WettedSurface
from guidegen.trade.machine import Machine
from guidegen.workshop.facts import Choice, Fact
from guidegen.workshop.inventory import Inventory, InventoryJoint, InventoryThing, JointScrew

RATED = ("pressure", "temperature", "drinking_water")
LOADS = ("water_path.relief_opens", "water_path.pump_pressure")
"""What presses on whatever is wet."""
ENDS = {"screw": marked("its screw"), "hole": marked("the thread it goes into"), "neck": marked("its hollow neck")}
ByName = Mapping[str, Fact | Choice | None]


def rated(kit: Kit) -> Iterator[tuple[str, str, Fact | Choice]]:
    """Each rating of each wetted part: the name under which procedures ask for it, the part's name, the fact."""
    names = {part.id: part.name for part in kit.parts}
    for one in kit.wetted:
        for field in RATED:
            yield f"wetted.{one.part}.{field}", names.get(one.part, one.part), getattr(one, field)


def least_rating(kit: Kit, values: Mapping[str, Value]) -> Value:
    """The pressure that every wetted part is rated for; unknown while that of one is."""
    pressures = [values[f"wetted.{one.part}.pressure"] for one in kit.wetted]
    if gaps := tuple(gap for one in pressures for gap in one.gaps):
        return Value("unknown", None, gaps=gaps)
    known = [one for one in pressures if one.ends]
    return min(known, key=lambda one: one.ends[0] if one.ends else 0.0) if known else UNKNOWN


def metals(machine: Machine) -> dict[str, str]:
    """What a machine's wetted parts are of, or `unknown`."""
    parts = {"boiler": machine.boiler.material, "group": machine.group.material}
    return {name: one.value if one.known else "unknown" for name, one in parts.items()}


def wetted_side(kit: Kit, facts: Facts) -> tuple[Wetted, ...]:
    """What the rules ask of the wetted parts that this machine gets, at the low end of what each is rated for."""
    counts = {one.id: one.count for one in kit.parts if holds(one.when, facts) is not Truth.FALSE}
    return tuple(
        _wetted(kit, index, one, counts[one.part]) for index, one in enumerate(kit.wetted) if one.part in counts
    )


def _wetted(kit: Kit, index: int, one: WettedSurface, count: int) -> Wetted:
    return Wetted(
        one.part, one.material, one.filler, one.flux, one.source, one.water == "hot",
        one.pressure.low if one.pressure.known else None,
        one.temperature.low if one.temperature.known else None,
        one.drinking_water.value if one.drinking_water.known else None,
        kit.places[("wetted", index, "part")], one.ways * count,
    )  # fmt: skip


def loads(machine: Machine) -> dict[str, float | None]:
    """The pressures that a wetted part must bear, Pa: the upper end of each; None where nobody knows."""
    path = machine.water_path
    facts = dict(zip(LOADS, (path.relief_opens, path.pump_pressure), strict=True))
    return {name: fact.high if fact.known else None for name, fact in facts.items()}


def hottest(machine: Machine) -> float | tuple[str, ...]:
    """The hottest that the water of the boiler gets in use, K; or the names of the facts that nobody knows of it."""
    steam = machine.steam
    unknown = _asked({"steam.setpoint": steam.setpoint, "steam.overshoot": steam.overshoot})
    return unknown or steam.setpoint.high + steam.overshoot.high


def screw_facts(inventory: Inventory) -> Iterator[tuple[str, str, Fact | Choice]]:
    """Each fact of the screws of an inventory: the name under which it is asked for, whose it is, the fact."""
    for name, joint in _screwed(inventory):
        for field, fact in _fields(joint.screw).items():
            yield f"thing.{name}.screw.{field}", joint.say.removeprefix("the "), fact


def screws(inventory: Inventory) -> dict[str, ScrewSide]:
    """What the screws of an inventory bear, by joint."""
    return {name: _joint(f"thing.{name}.screw", joint.screw) for name, joint in _screwed(inventory) if joint.screw}


def bolts(machine: Machine) -> dict[str, ScrewSide]:
    """What each of the boiler's bolts bears: they go into boiler or group, whichever is weaker."""
    one = machine.boiler.bolts
    facts = {"thread": one.thread, "class": one.class_, "engagement": one.engagement}
    named_facts: ByName = {f"boiler.bolts.{name}": fact for name, fact in facts.items()}
    metals = {"boiler.material": machine.boiler.material, "group.material": machine.group.material}
    asks = _asked({**named_facts, **metals})
    side = ScrewSide(one.thread.text, asks=asks)
    if not asks and one.engagement is not None:
        into = min((metal.value for metal in metals.values()), key=lambda metal: SHEAR.get(metal, 0.0))
        side = _borne(one.thread.text, one.class_.text, into, one.engagement.low)
    count = round(one.count.value) if one.count.known else 0
    things = (name for name, thing in machine.inventory.items() if thing.kind == "bolt")
    return dict.fromkeys((*map(str, range(1, count + 1)), *things), side)


def _screwed(inventory: Inventory) -> Iterator[tuple[str, InventoryJoint | InventoryThing]]:
    for name, thing in inventory.items():
        if isinstance(thing, InventoryJoint | InventoryThing) and thing.screw is not None:
            yield name, thing


def _fields(screw: JointScrew | None) -> dict[str, Fact | Choice]:
    return {name: fact for name in JointScrew.model_fields if (fact := getattr(screw, name, None)) is not None}


def _asked(facts: ByName) -> tuple[str, ...]:
    return tuple(name for name, fact in facts.items() if fact is None or not fact.known)


def _joint(prefix: str, screw: JointScrew) -> ScrewSide:
    if asks := _asked({f"{prefix}.{name}": fact for name, fact in _fields(screw).items()}):
        return ScrewSide(screw.thread.text, asks=asks)
    bore, cross = (0.0 if one is None else one.high for one in (screw.bore, screw.cross))
    return _borne(screw.thread.text, screw.metal.text, screw.into.text, screw.engagement.low, bore, cross)


def _borne(thread: str, metal: str, into: str, engaged: float, bore: float = 0.0, cross: float = 0.0) -> ScrewSide:
    """What a screw bears with everything at its low end, and its bores at their high one."""
    for strength, of in ((YIELD, metal), (SHEAR, into)):
        if of not in strength:
            return ScrewSide(thread, fault=gettext("nothing is known of the strength of {what}").format(what=of))
    try:
        size = named(thread)
    except KeyError as error:
        return ScrewSide(thread, fault=str(error.args[0]))
    most = []
    for dry in (True, False):
        limits = greatest_torque(
            Screw(size, YIELD[metal], least_friction(metal, dry), SHEAR[into], engaged, bore, cross)
        )
        end = next(end for end in ENDS if getattr(limits, end) == limits.most)
        most.append((limits.most, gettext(ENDS[end])))
    return ScrewSide(thread, dry=most[0], greased=most[1])
