"""Mutants of things: a lead, a joint or a part that the kit forgets together with the steps that would name it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from guidegen.judge.acts.things import Thing, Things
from tests.mutants.draft import Draft
from tests.mutants.edits import Change, drop, kit, spot
from tests.mutants.table import BANJO, EXCHANGE, LOOP, LOOP_WIRED, SPREAD, TRIM, WIRED, Mutant


def both(*changes: Change) -> Change:
    """Several changes that only together are one that somebody would make."""

    def change(draft: Draft) -> None:
        for one in changes:
            one(draft)

    return change


def without(*names: str) -> Change:
    """Leave things out of the inventory."""

    def change(draft: Draft) -> None:
        left = {name: one for name, one in draft.facts.things.by_id.items() if name not in names}
        draft.facts = replace(draft.facts, things=Things(left))

    return change


def thing(name: str, **changes: Any) -> Change:
    """Write other fields of a thing."""

    def change(draft: Draft) -> None:
        known = draft.facts.things.by_id
        draft.facts = replace(draft.facts, things=Things({**known, name: replace(known[name], **changes)}))

    return change


def more(one: Thing) -> Change:
    """One more thing in the inventory."""

    def change(draft: Draft) -> None:
        draft.facts = replace(draft.facts, things=Things({**draft.facts.things.by_id, one.id: one}))

    return change


def wetted(part: str, **changes: Any) -> Change:
    """Write other fields of a wetted part; with none, leave it out."""
    return kit(wetted=lambda all_: tuple(replace(one, **changes) if one.part == part else one for one in all_
                                         if changes or one.part != part))  # fmt: skip


def ends(block: str, name: str, end: str) -> Change:
    """Let a step name a lead at one end alone."""

    def change(draft: Draft) -> None:
        steps, index = spot(draft, block, name)
        lead = steps[index]["names"][0]
        steps[index]["names"] = [lead, end]

    return change


def metal(name: str, of: str) -> Change:
    """Write of what a part of the machine is."""

    def change(draft: Draft) -> None:
        draft.machine = replace(draft.machine, metals={**draft.machine.metals, name: of})

    return change


UNBOND = both(drop("put-back/", "bond"), drop("put-back/", "bond-end"), drop("restore:take-out/", "bond-off"),
              kit(parts=lambda all_: {name: one for name, one in all_.items() if name != "bond-lead"}))  # fmt: skip
SPARE = Thing("spare-joint", "joint", "the spare joint", "spare joint", ("spare-joint",), brought=True)
SPARE_LEAD = Thing("spare-lead", "lead", "the spare lead", "spare lead", ("spare-lead",), brought=True)

ROWS = (
    # EAR03
    Mutant("EAR03", "the bond left out of the kit, and its steps", TRIM, both(without("coil-bond"), UNBOND)),
    Mutant("EAR03", "the bond in the inventory, and nobody fixes it", WIRED, UNBOND, ("MNS04", "STP01", "PAR04")),
    Mutant("EAR03", "the bond ends at the casing", EXCHANGE, thing("coil-bond", ends=("coil-eyelet", "casing")),
           ("PAR04",)),
    Mutant("EAR03", "the bond begins at the bands", SPREAD, thing("coil-eyelet", part_of="clamp-band"), ("PAR04",)),
    Mutant("EAR03", "the bond screwed on at one end", TRIM, drop("put-back/", "bond")),
    Mutant("EAR03", "the banjo's thread wound with tape", BANJO, thing("banjo-joint", sealing="tape")),
    # MNS04: whatever the kit brings, or the fitting took off, is on before any power
    Mutant("MNS04", "a joint that nobody makes", TRIM, more(SPARE), ("STP01",)),
    Mutant("MNS04", "a lead that nobody fixes", LOOP, more(SPARE_LEAD), ("STP01",)),
    Mutant("MNS04", "the old fitting not put back", BANJO,
           both(drop("restore:exchange/", "fitting-on"), drop("restore:exchange/", "fitting-torque")), ("STP01",)),
    Mutant("MNS04", "the old hose not put back", WIRED, drop("restore:put-back/", "hose-on"), ("STP01",)),
    # PAR03
    Mutant("PAR03", "one end of the coil without a joint", TRIM, without("coil-inlet"),
           ("PAR02", "EAR03", "PRS05", "ACT01")),
    Mutant("PAR03", "the new hose ends nowhere", BANJO, without("new-hose-pump"), ("PAR02",)),
    Mutant("PAR03", "two fittings on the list, joints for one", EXCHANGE, without("inlet-union", "coil-inlet"),
           ("PAR02", "EAR03", "ACT01")),
    Mutant("PAR03", "the hollow bolt not declared", BANJO, wetted("banjo-bolt")),
    # PAR04
    Mutant("PAR04", "a supply lead that stays on the switch", LOOP,
           ends("restore:put-back/", "supply-off", "controller")),
    Mutant("PAR04", "a lead of the heater that stays on the thermostat's", LOOP_WIRED,
           ends("restore:put-back/", "heater-off", "controller")),
    Mutant("PAR04", "a lead that nobody plugs into the controller", LOOP,
           ends("fit/", "heater-lead", "labelled-leads")),
    Mutant("PAR04", "a bond that stays on the coil", TRIM, ends("restore:take-out/", "bond-off", "earth-screw")),
    # FOD02
    Mutant("FOD02", "3 % lead", TRIM, wetted("female-fitting", material="brass with at most 3 % lead")),
    Mutant("FOD02", "brass that does not say how much lead", BANJO, wetted("banjo", material="brass")),
    Mutant("FOD02", "a metal that nobody knows in water", BANJO, wetted("banjo-bolt", material="zinc die casting")),
    Mutant("FOD02", "tin-lead solder", TRIM, wetted("coil", filler="tin-lead solder")),
    Mutant("FOD02", "soft solder", TRIM, wetted("coil", filler="soft solder", flux="rosin")),
    Mutant("FOD02", "a brazing alloy with cadmium", SPREAD,
           wetted("coil", filler="brazing alloy with cadmium", flux="brazing flux")),
    # FOD03
    Mutant("FOD03", "a boiler of aluminium behind the copper coil", TRIM, metal("boiler", "aluminium")),
    Mutant("FOD03", "a group of aluminium", WIRED, metal("group", "aluminium")),
    Mutant("FOD03", "nobody knows what the group is of", SPREAD, metal("group", "unknown")),
    Mutant("FOD03", "an exchange boiler of aluminium", EXCHANGE, wetted("exchange-boiler", material="aluminium")),
    Mutant("FOD03", "fittings of aluminium on the copper coil", TRIM,
           wetted("female-fitting", material="aluminium")),
)  # fmt: skip
