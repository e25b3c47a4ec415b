"""Mutants of what is locked in: behind a tap that was closed or lets off something else, or where no tap is."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from tests.mutants.draft import Draft
from tests.mutants.edits import drop, insert, write
from tests.mutants.table import BANJO, BANJO_WIRED, EXCHANGE, SPREAD, TRIM, WIRED, Change, Mutant

SHUT_TAP = {"id": "shut", "do": "Close the steam tap.", "acts": ["close-tap"], "names": ["steam-tap"]}
VALVE_OFF = {"id": "valve-off", "do": "Take the check valve out.", "records": ["check-valve"],
             "removes": {"joints": ["check-valve"]}}  # fmt: skip
VALVE_ON = {"id": "valve-on", "do": "Put the check valve back.", "refits": {"joints": ["check-valve"]}}
LOOSENED = {"id": "loose", "do": "Loosen the nut of the steam pipe under a cloth.", "names": ["steam-pipe"],
            "disturbs": {"joints": ["steam-pipe"]}, "role": "hand-tools",
            "release": {"by": "It is loose.", "proof": "Nothing drips."}}  # fmt: skip


def thing(name: str, **changes: Any) -> Change:
    """Let a thing of the inventories be another."""

    def change(draft: Draft) -> None:
        things = draft.facts.things
        other = replace(things, by_id={**things.by_id, name: replace(things.by_id[name], **changes)})
        draft.facts = replace(draft.facts, things=other)

    return change


def both(first: Change, second: Change) -> Change:
    """Make two changes."""

    def change(draft: Draft) -> None:
        first(draft)
        second(draft)

    return change


FILED = {"id": "more", "do": "File it.", "cut": {"of": "wall", "tool": "flat-file"}}

ROWS = (
    Mutant("PRS05", "the tap closed before the old fitting comes off", BANJO,
           insert("exchange/", "hose-off", SHUT_TAP)),
    Mutant("PRS05", "the tap closed overnight", WIRED, insert("cool/", "+drain", SHUT_TAP)),
    Mutant("PRS05", "the tap closed, then the coil undone", TRIM,
           insert("restore:take-out/", "coil-joints-off", SHUT_TAP)),
    Mutant("PRS05", "another tap opened", BANJO_WIRED, write("release", "open-tap", "names", ["hot-water-tap"])),
    Mutant("PRS05", "a hose that holds a check valve", BANJO, thing("feed-inlet", closes=True)),
    Mutant("PRS05", "a fitting that can close", TRIM, thing("straight-inlet", closes=True)),
    Mutant("PRS05", "the tap behind a valve in the steam pipe", WIRED, thing("steam-pipe", closes=True)),
    Mutant("PRS05", "the check valve taken off the pump", TRIM, both(
        insert("put-back/", "proof-blind", VALVE_OFF), insert("put-back/", "proof-blind", VALVE_ON))),
    Mutant("PRS05", "loosened by hand in place of the tap", TRIM, both(
        insert("restore:take-out/", "coil-joints-off", SHUT_TAP),
        insert("restore:take-out/", "coil-joints-off", LOOSENED))),
    Mutant("PRS05", "the hose undone before the steam tap's pipe is known to be free", SPREAD,
           thing("steam-pipe", ends=("boiler", "somewhere"))),
    Mutant("PRS02", "a joint made after the cold leak test", BANJO, insert("connect/", "+connect-heater", {
        "id": "tee", "do": "Screw the tee in.", "refits": {"joints": ["tee"]}, "role": "hand-tools"}),
        ("MNS04", "PAR02")),
    Mutant("PRS06", "heated with a wall that nobody tried", TRIM, drop("put-back/", "proof")),
    Mutant("PRS06", "another vessel proven", TRIM, write("put-back/", "proof", "proof.vessels", ["exchange-boiler"])),
    Mutant("PRS06", "the record of the exchange boiler not compared", EXCHANGE, drop("exchange/", "boiler-proof"),
           ("PAR01",)),
    Mutant("PRS06", "the relief valve between pump and boiler", TRIM,
           write("put-back/", "proof", "proof.relief", "downstream")),
    Mutant("PRS06", "filed again behind the proof", TRIM, insert("put-back/", "relief-upstream", FILED),
           ("CUT01", "CUT02", "CUT03", "CUT05", "CUT06")),
    Mutant("PRS06", "pressed with gas", TRIM, write("put-back/", "proof", "hold.method", "Nitrogen does as well.")),
)  # fmt: skip
