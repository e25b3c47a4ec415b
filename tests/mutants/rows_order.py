"""Mutants of the order of acts: a look, a test or a way back left out, something left in or open."""

from __future__ import annotations

from tests.mutants.edits import all_of, drop, insert, later, move, remedy, write
from tests.mutants.table import BANJO, BANJO_WIRED, EXCHANGE, LOOP, LOOP_WIRED, SPREAD, TRIM, WIRED, Mutant

RULES = frozenset({"ACT05", "ACT06", "ACT07", "ACT08", "ACT11", "ACT12", "ACT13"})
"""What acts ask of each other stands beside every other rule: its findings are expected where any step is missing."""

ROWS = (
    Mutant("ACT05", "bolts tightened without reading their marks", TRIM, drop("take-boiler-out", "bolt-marks")),
    Mutant("ACT05", "the pump never pressed against the blind filter", BANJO, drop("cold-test", "press")),
    Mutant("ACT05", "the wall sawed before anybody knows the bolts", TRIM, drop("take-out/", "bolts-room-short")),
    Mutant("ACT05", "nobody compares the pressure record", TRIM, drop("prepare/", "bench"), ("PAR01",)),
    Mutant("ACT05", "the insulation of the wiring not tested before the pump", BANJO,
           drop("cold-test", "insulation-wiring")),
    Mutant("ACT05", "pressed hot without the blind filter", BANJO, drop("heat/", "blind-in-hot")),
    Mutant("ACT05", "the exchange boiler not compared", EXCHANGE, drop("exchange/", "seats")),
    Mutant("ACT05", "the gasket not looked at", WIRED, drop("remedy:remake-joint", "which-joint")),
    Mutant("ACT06", "nobody tries whether the device lies flat", TRIM, drop("put-boiler-back", "device-flat")),
    Mutant("ACT06", "the hose not followed", BANJO_WIRED, drop("exchange/", "hose-way")),
    Mutant("ACT06", "new leads not tied", LOOP, drop("fit/", "tie"), ("PAR01",)),
    Mutant("ACT06", "the coil not measured against seats", SPREAD, drop("coil-on", "seats-clear")),
    Mutant("ACT07", "the steam tap not closed before heat", TRIM, drop("connect-heater", "close-tap-hot")),
    Mutant("ACT07", "heat against the blind filter", BANJO, drop("cold-test", "blind-out")),
    Mutant("ACT07", "caps left on", WIRED, drop("connect-heater", "caps-off")),
    Mutant("ACT07", "the machine drained with a full tank", BANJO, drop("remedy:remake-joint", "tank-out")),
    Mutant("ACT07", "the insulation tested with the switch off", TRIM, drop("insulation", "switch-for-test")),
    Mutant("ACT07", "plugs taken out when the boiler is in", WIRED,
           move("put-boiler-back", "boiler-in", "take-plugs-out")),
    Mutant("ACT07", "the padlock still on", WIRED, drop("cold-test", "+unlock")),
    Mutant("ACT08", "compression fittings left on", TRIM, drop("restore:take-out/", "fittings-off")),
    Mutant("ACT08", "the hollow bolt left in", BANJO, drop("restore:exchange/", "banjo-off")),
    Mutant("ACT08", "the bracket left on", LOOP, drop("restore:put-back/", "bracket-off")),
    Mutant("ACT08", "the bracket put on again on the way back", LOOP,
           insert("restore:put-back/", "casing-screws",
                  {"id": "again", "do": "Screw the bracket on.", "act": "mount", "order": {"fits": ["bracket"]}})),
    Mutant("ACT08", "the banjo's bolt put in again on the way back", BANJO, all_of(
        write("restore:exchange/", "banjo-off", "removes.permanent", False),
        insert("restore:exchange/", "fitting-on",
               {"id": "again", "do": "Screw the bolt in.", "act": "start-joint", "names": ["banjo-joint"],
                "refits": {"joints": ["banjo-joint"]}}))),
    Mutant("ACT11", "no signature before the first heat", LOOP_WIRED, drop("test/", "+sign-off")),
    Mutant("ACT11", "no signature before the pump", TRIM, drop("cold-test", "+sign-off")),
    Mutant("ACT11", "no signature after the cooled look", BANJO_WIRED, drop("cooled-look", "+sign-off")),
    Mutant("ACT12", "the way to the relief valve followed after the cut", TRIM, drop("take-out/", "relief-first")),
    Mutant("ACT12", "live parts measured after the cut", TRIM,
           later("take-out/", "live-room", "put-back/", "clearance")),
    Mutant("ACT12", "the pressure record compared after the cut", TRIM,
           later("prepare/", "bench", "put-back/", "clearance")),
    Mutant("ACT12", "the bolts looked at after the cut", TRIM,
           later("take-out/", "bolts-room-short", "put-back/", "clearance")),
    Mutant("ACT13", "a loose device tried again as it is", EXCHANGE,
           write("put-boiler-back", "device-flat", "hold.on_fail.goto", "device-flat")),
    Mutant("ACT13", "a damp joint wrapped anew", BANJO,
           insert("cold-test", "cold-look", {"id": "remake-joint", "do": "Wipe it dry."})),
    Mutant("ACT13", "pressed again while it drips hot", TRIM, write("hot-look", "hot-press", "id", "after-heat")),
    Mutant("ACT13", "a leak when hot tested cold again without making the joint", BANJO,
           remedy("after-heat", "then", {"goto": "cold-test"})),
)  # fmt: skip
