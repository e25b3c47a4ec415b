"""Mutants of acts and of the limits of their tests: each bound a little beyond, or far, or in another unit."""

from __future__ import annotations

from tests.mutants.edits import insert, phase, value
from tests.mutants.table import BANJO, EXCHANGE, LOOP, TRIM, WIRED, Mutant

ROWS = (
    Mutant("ACT01", "an act that the table does not have", TRIM,
           insert("cool/", "empty-tank", {"id": "more", "act": "bridge-device", "of": ("limit",)})),
    Mutant("ACT01", "a thing that nobody has", TRIM,
           insert("cool/", "empty-tank", {"id": "more", "act": "close-tap", "of": ("water-tap",)})),
    Mutant("ACT01", "a thing of another kind", BANJO,
           insert("cool/", "empty-tank", {"id": "more", "act": "close-tap", "of": ("tank",)})),
    Mutant("ACT01", "a limit where none is asked", LOOP,
           insert("prepare/", "serial", {"id": "more", "act": "as-found", "limit": "3 faults"})),
    Mutant("ACT01", "no thing at all", WIRED,
           insert("cool/", "empty-tank", {"id": "more", "act": "undo-joint"})),
    Mutant("ACT01", "bolts of no joint", WIRED,
           insert("cool/", "empty-tank", {"id": "more", "act": "undo-bolts"})),
    Mutant("ACT01", "a fact of a thing where the author states a limit of its own", TRIM,
           insert("cool/", "empty-tank", {"id": "more", "act": "prime", "amount": "5 min", "limit": "3 min"})),
    Mutant("ACT02", "earth at 300 Ω", TRIM, value("earth_limit", "is", "300 Ω")),
    Mutant("ACT02", "earth a little above the standard", WIRED, value("earth_limit", "is", "0.31 Ω")),
    Mutant("ACT02", "earth in another unit", BANJO, value("earth_limit", "is", "3000 mΩ")),
    Mutant("ACT02", "insulation of 0.3 Ω", TRIM, value("insulation_limit", "is", "0.3 Ω")),
    Mutant("ACT02", "a device that passes at 1 MΩ", EXCHANGE, value("continuity_limit", "is", "1 MΩ")),
    Mutant("ACT02", "2 bar on the bench", TRIM,
           lambda draft: draft.procedure["values"]["bench_pressure"].update({"is": "2 bar"})),
    Mutant("ACT02", "0.1 mm to live parts", TRIM,
           lambda draft: draft.procedure["values"]["live_clearance"].update({"is": "0.1 mm"})),
    Mutant("ACT02", "0.1 mm to a seat", TRIM,
           lambda draft: draft.procedure["values"]["seat_clearance"].update({"is": "0.1 mm"})),
    Mutant("ACT02", "an hour to prime", BANJO, value("prime_time", "is", "1 h")),
    Mutant("ACT03", "a form that the language does not have", TRIM,
           insert("cool/", "empty-tank", {"id": "more", "act": "close-tap", "of": ("steam-tap",),
                                          "why": "It lies behind {relief.say:dat}."})),
    Mutant("ACT03", "another form, in a remark", BANJO,
           insert("prepare/", "serial", {"id": "more", "act": "write-record", "how": "Name {relief.say:acc} first."})),
    Mutant("ACT03", "a form in the words of a stop", LOOP,
           phase("prepare", "stop.say", "Safe stop. Nothing lies before {relief.say:gen}.")),
)  # fmt: skip
