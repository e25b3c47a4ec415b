"""What machine and kit hold, whether or not a step names it: bonded, and joined and freed at every end."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Set

from guidegen.judge.acts.things import Thing, Things
from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.model import ResolvedStep
from guidegen.judge.safety.rules.base import Found, Rule
from guidegen.workshop.metals import is_metal

CONDUCTS = ("flat-seal", "two-seals", "clamping-ring")
"""Sealings of joints in which metal touches metal: threads, or a ring that bites into the tube. Tape insulates."""


def bonded(guide: Guide) -> Iterator[Found]:
    """EAR03."""
    things = guide.resolved.things
    metal = {one.part for one in guide.kit.wetted if is_metal(one.material)}
    earthed = earthed_parts(things, metal)
    for one in guide.kit.wetted:
        if one.part in metal - earthed and not _stands_for_boiler(things, one.part):
            words = f"{one.part} is of metal, and nothing joins it to earth: a loose live lead would make it live"
            yield Found(one.place or guide.kit.place, words)
    for lead in _bonds(things):
        ends = {
            name
            for step in guide.resolved.fitting.steps
            if "bond" in step.step.acts and lead.id in step.step.names
            for name in step.step.names
        }
        for end in lead.ends:
            if end not in ends:
                yield Found(lead.place or guide.kit.place, f"no step screws {lead.id} on at {end}, where it ends",
                            fix="add the act, or write where the lead ends")  # fmt: skip


def earthed_parts(things: Things, metal: Set[str]) -> set[str]:
    """Parts that a lead joins to an earth place, that are screwed to the boiler, or to another such part of metal.

    What a kit's part is screwed to on the machine may be of anything, so nothing is earthed through it.
    """
    found = {things.owner(end) for lead in _bonds(things) for end in lead.ends}
    joints = [one for one in things.by_id.values() if one.kind == "joint" and one.sealing in CONDUCTS]
    for joint in joints:
        if any(_kind(things, end) == "boiler" for end in joint.ends):
            found |= _joined(things, joint)
    grown = True
    while grown:
        near = [_joined(things, joint) & metal for joint in joints]
        more = {part for parts in near if found & parts for part in parts} - found
        found |= more
        grown = bool(more)
    return found


def _bonds(things: Things) -> list[Thing]:
    """Leads of the kit one end of which is an earth place."""
    leads = (one for one in things.by_id.values() if one.kind == "lead" and one.brought)
    return [one for one in leads if any(_kind(things, end) == "earth" for end in one.ends)]


def _joined(things: Things, joint: Thing) -> set[str]:
    return {things.owner(end) for end in joint.ends} | {name for _, name in joint.takes}


def _kind(things: Things, name: str) -> str:
    thing = things.get(name)
    return thing.kind if thing is not None else ""


def _stands_for_boiler(things: Things, part: str) -> bool:
    return _kind(things, part) == "spare-boiler"


def joined(guide: Guide) -> Iterator[Found]:
    """PAR03."""
    things = guide.resolved.things
    joints = [one for one in things.by_id.values() if one.kind == "joint" and one.brought]
    ends = [things.owner(end) for joint in joints for end in joint.ends]
    taken = {name for joint in joints for _, name in joint.takes}
    for one in guide.kit.wetted:
        found, wanted = ends.count(one.part), one.ways
        if _stands_for_boiler(things, one.part) or (not found and one.part in taken):
            continue
        if found < wanted:
            words = f"{one.part}: water has {wanted} ways in and out of it; the inventory has joints for {found}"
            yield Found(one.place or guide.kit.place, words)
    known = {one.part for one in guide.kit.wetted}
    for joint in joints:
        for name in sorted(_joined(things, joint) - known):
            if name in guide.kit.parts:
                yield Found(joint.place or guide.kit.place, f"{joint.id} joins {name}, which wetted: does not declare",
                            fix=f"add part: {name} to wetted:")  # fmt: skip


def ended(guide: Guide) -> Iterator[Found]:
    """PAR04."""
    things, back = guide.resolved.things, guide.resolved.restoring
    bonds = _bonds(things)
    for lead in things.by_id.values():
        if lead.kind == "lead" and lead.brought:
            ends = [end for end in lead.ends if not _own_sensor(things, end)]
            it = ("leads", lead.id)
            on = [step for step in guide.resolved.fitting.steps if it in step.refits]
            off = [step for step in (back.steps if back else ()) if it in step.removes]
            for end in _unnamed(things, ends, on) if lead not in bonds else ():
                yield _loose(guide, lead, f"no step of the fitting puts {lead.id} on at {end}, where it ends")
            for end in _unnamed(things, ends, off) if back else ():
                yield _loose(guide, lead, f"no step of the restoring takes {lead.id} off {end}, where it ends")


def _own_sensor(things: Things, end: str) -> bool:
    """Whether a lead ends in a sensor of the kit: it is one with it, and goes where the sensor goes."""
    thing = things.get(end)
    return thing is not None and thing.kind == "sensor" and thing.brought


def _unnamed(things: Things, ends: Iterable[str], steps: Iterable[ResolvedStep]) -> Iterator[str]:
    """Yield the ends that none of the steps names, neither themselves nor what they belong to."""
    named = {name for step in steps for name in step.step.names}
    return (end for end in ends if named.isdisjoint((end, things.owner(end))))


def _loose(guide: Guide, lead: Thing, words: str) -> Found:
    return Found(lead.place or guide.kit.place, words)


RULES = (
    Rule("EAR03", "error", "Each part of metal in the kit's water path is joined to earth: by a lead of the kit, put "
         "on at both of its ends; by the thread with which it sits on the boiler; or by a thread or ring to another "
         "such part of the kit.", "add a lead to the inventory, with one end on the part and the other at an earth "
         "place", bonded),
    Rule("PAR03", "error", "Each wetted part of the kit has a joint at each way of the water, and each part that a "
         "joint takes is declared among the wetted ones.", "add the joint to the inventory; what a joint only holds "
         "stands under its takes:", joined),
    Rule("PAR04", "error", "Each lead of the kit is put on at both of its ends, and the way back takes it off at both: "
         "an end that stays on leaves the other one loose, and perhaps live.", "name both ends in the act, one under "
         "at: and one under to:, or write where the lead ends", ended),
)  # fmt: skip
