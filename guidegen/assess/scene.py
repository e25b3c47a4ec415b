"""The scene of a pair: where everything is on the machine with the kit, as stated and as computed, for drawings."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator
from typing import Any

from guidegen.assess.adapt import crosswise
from guidegen.assess.family_scale import family_of
from guidegen.assess.inventory import things_of
from guidegen.heat.coil import Wound, layer_height
from guidegen.judge.acts.things import Thing, Things
from guidegen.judge.fit.marks import seen_marks
from guidegen.record.base import rounded
from guidegen.record.scene import (
    Scene,
    SceneBoiler,
    SceneBolts,
    SceneCircuit,
    SceneCoil,
    SceneLayer,
    SceneMark,
    SceneProtrusion,
    SceneThing,
    SceneWater,
    Spot,
)
from guidegen.trade import Catalogue
from guidegen.trade.boiler import WrittenProtrusion
from guidegen.trade.circuit import in_circuit, in_circuit_with
from guidegen.trade.effects.feed_coil import FeedCoil
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.trade.positions import Position
from guidegen.workshop.clock import bearing
from guidegen.workshop.facts import Choice, Fact
from guidegen.workshop.inventory import InventoryThing

MM = 1e3
PASCAL_PER_BAR = 1e5
BOLTS = "boiler-bolts"
"""Under this name the positions say where bolt 1 is."""
INLETS = {"straight": "straight-inlet", "banjo": "banjo-inlet"}
"""What an inventory calls the inlet fitting, by what is stated of it."""
BRANCHES = ("upstream", "downstream")
NOT_PLACED = ("tool", "consumable", "group", "protrusion", "bolt", "unknown")
"""Kinds that have no place of their own in a drawing: held in the hand, or drawn as what they are."""


def scene(known: Catalogue, machine: Machine, kit: Kit) -> Scene:
    """The scene of a machine with a kit."""
    things, _ = things_of(machine, kit)
    return Scene(
        boiler=_boiler(machine),
        bolts=_bolts(machine),
        protrusions=tuple(_protrusion(machine, one) for one in machine.boiler.protrusions),
        coil=_coil(machine, kit.coil),
        things=tuple(_thing(machine, kit, one) for one in things.by_id.values() if _drawn(one)),
        water=_water(machine, kit, things),
        circuit=SceneCircuit(before=in_circuit(machine), after=in_circuit_with(machine, kit)),
        marks=tuple(SceneMark(id=one.id, spot=_spot(one.at)) for one in seen_marks(machine)),
        family=family_of(known, machine),
    )


def millimetres(fact: Fact | None) -> float | None:
    """A length as stated, mm; None where nobody knows it."""
    return None if fact is None or not fact.known else rounded(fact.value * MM)


def _boiler(machine: Machine) -> SceneBoiler:
    boiler = machine.boiler
    return SceneBoiler(
        diameter_mm=millimetres(boiler.diameter),
        straight_wall_mm=millimetres(boiler.straight_wall),
        height_mm=millimetres(boiler.height),
        flange_mm=millimetres(boiler.flange),
        clearance_mm=millimetres(boiler.clearance),
        wall_mm=millimetres(boiler.wall),
    )


def _bolts(machine: Machine) -> SceneBolts | None:
    bolts = machine.boiler.bolts
    if not bolts.count.known:
        return None
    count, side = round(bolts.count.value), bolts.undone_from
    return SceneBolts(
        count=count,
        order=crosswise(count),
        circle_mm=millimetres(bolts.circle),
        head_mm=millimetres(bolts.head),
        head_room_mm=millimetres(bolts.head_room),
        undone_from=_word(side),
        clock_deg=_clock(machine.positions.get(BOLTS)),
        torque_nm=rounded(bolts.torque.value) if bolts.torque.known else None,
        torque_within_nm=rounded(bolts.torque.plus_minus) if bolts.torque.known else None,
    )


def _protrusion(machine: Machine, one: WrittenProtrusion) -> SceneProtrusion:
    return SceneProtrusion(
        id=one.id,
        kind=one.kind,
        clock_deg=_clock(machine.positions.get(one.id)),
        from_mm=millimetres(one.band.from_),
        to_mm=millimetres(one.band.to),
        stands_out_mm=millimetres(one.stands_out),
        width_mm=millimetres(one.width),
    )


def _coil(machine: Machine, effect: FeedCoil | None) -> SceneCoil | None:
    """The coil as the stated sizes give it; None where there is none, or nobody knows round what it goes."""
    wound = effect.wound(machine) if effect is not None and effect.size.value else None
    if effect is None or wound is None:
        return None
    return SceneCoil(
        tube_mm=rounded(effect.tube.outside.value * MM),
        wall_mm=rounded(effect.tube.wall.value * MM),
        pitch_mm=rounded((effect.tube.outside.value + effect.gap.value) * MM),
        height_mm=rounded(wound.height * MM),
        layers=tuple(_layers(machine, effect, wound)),
    )


def _layers(machine: Machine, effect: FeedCoil, wound: Wound) -> Iterator[SceneLayer]:
    tube, gap = effect.tube.outside.value, effect.gap.value
    heights = [float(layer_height(turns, tube, gap)) for turns in wound.turns_per_layer]
    place = _word(effect.outer_layer)
    for number, (turns, height) in enumerate(zip(wound.turns_per_layer, heights, strict=True)):
        above = heights[0] - height
        start = 0.0 if not number or place == "lower-end" else above if place == "upper-end" else None
        mean = machine.boiler.diameter.value + (2 * number + 1) * tube
        yield SceneLayer(
            turns=rounded(turns), mean_mm=rounded(mean * MM), from_mm=None if start is None else rounded(start * MM)
        )


def _drawn(one: Thing) -> bool:
    return one.kind not in NOT_PLACED and len(one.members) == 1 and one.members[0] == one.id and one.known


def _thing(machine: Machine, kit: Kit, one: Thing) -> SceneThing:
    inlet = machine.water_path.inlet
    fitted = one.id == INLETS.get(_word(inlet.fitting) or "")
    return SceneThing(
        id=one.id,
        name=one.name,
        kind=one.kind,
        # A part of the kit's list that no inventory names is the kit's as well.
        brought=one.brought or one.kind == "part",
        spot=_spot(machine.positions.get(one.id)),
        ends=one.ends,
        drawn_as=_drawn_as(machine, kit, one.id),
        stands_out_mm=millimetres(inlet.projection if fitted else None),
        there=fitted or one.id not in INLETS.values(),
    )


def _drawn_as(machine: Machine, kit: Kit, name: str) -> str | None:
    """The thing in whose place it is in a drawing: as written, or what it belongs to."""
    written = kit.inventory.get(name, machine.inventory.get(name))
    if not isinstance(written, InventoryThing):
        return None
    return written.drawn_as or written.part_of


def _spot(at: Position | None) -> Spot | None:
    if at is None or (at.side is None and _clock(at) is None):
        return None
    shares = {"across": at.across, "above": at.above}
    return Spot(
        clock_deg=_clock(at),
        up_mm=millimetres(at.up),
        out_mm=millimetres(at.out),
        side=at.side,
        **{name: rounded(one.value) for name, one in shares.items() if one is not None and one.known},
    )


def _clock(at: Position | None) -> float | None:
    shown = _word(at.clock) if at is not None else None
    return None if shown is None else bearing(shown)


def _word(choice: Choice | None) -> Any:
    return choice.word if choice is not None and choice.known else None


# --- water -----------------------------------------------------------------------------------------------


def _water(machine: Machine, kit: Kit, things: Things) -> SceneWater:
    path = machine.water_path
    joints = [one for one in things.by_id.values() if one.kind == "joint" and len(one.ends) == 2]
    own = [one for one in joints if not one.brought]
    pump = next((name for name, one in machine.inventory.items() if one.kind == "pump"), None)
    boiler = next((name for name, one in machine.inventory.items() if one.kind == "boiler"), None)
    relief = next((one.id for one in machine.safety_devices if one.kind == "relief-valve"), None)
    before = _way(own, pump, boiler)
    brought = [one for one in joints if one.brought]
    return SceneWater(
        before=before,
        after=_way_with(own, brought, pump, boiler, before),
        # A machine without a relief valve has no branch to draw.
        relief_branch=_word(path.relief_branch) if relief and _word(path.relief_branch) in BRANCHES else None,
        check_valve=_word(path.check_valve),
        relief=relief,
        pump_bar=_bar(path.pump_pressure),
        relief_bar=_bar(path.relief_opens),
    )


def _way_with(
    own: list[Thing], brought: list[Thing], pump: str | None, boiler: str | None, before: tuple[str, ...]
) -> tuple[str, ...]:
    """The way with the kit on: the shortest that passes as many of the kit's joints as there are on one way."""
    best, passed = before, 0
    for start in brought:
        # Each joint of the kit is passed: the way to one of its ends, and on from the other.
        for first, second in (start.ends, start.ends[::-1]):
            ahead = _way([*brought, *own], pump, first, without=(second, start.id))
            behind = _way([*brought, *own], second, boiler, without=(*ahead, first, start.id))
            if not ahead or not behind:
                continue
            way = (*ahead, start.id, *behind)
            count = sum(one.id in way for one in brought)
            if count > passed or (count == passed and len(way) < len(best)):
                best, passed = way, count
    return best


def _way(joints: Iterable[Thing], start: str | None, end: str | None, without: tuple[str, ...] = ()) -> tuple[str, ...]:
    """Things and joints from one to the other along the fewest joints; nothing where none lead there."""
    if start is None or end is None:
        return ()
    beside: dict[str, list[tuple[str, str]]] = {}
    for one in joints:
        if one.id not in without:
            for here, there in (one.ends, one.ends[::-1]):
                beside.setdefault(here, []).append((one.id, there))
    came: dict[str, tuple[str, ...]] = {start: (start,)}
    waiting = deque([start])
    while waiting:
        here = waiting.popleft()
        for joint, there in beside.get(here, ()):
            if there not in came and there not in without:
                came[there] = (*came[here], joint, there)
                waiting.append(there)
    return came.get(end, ())


def _bar(fact: Fact) -> float | None:
    return rounded(fact.value / PASCAL_PER_BAR) if fact.known else None
