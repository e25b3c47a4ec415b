"""Mutants of acts and of the limits of their tests: each bound a little beyond, or far, or in another unit."""

from __future__ import annotations

from typing import Any

from tests.mutants.draft import Draft
from tests.mutants.edits import Change, insert, phase, value
from tests.mutants.table import BANJO, EXCHANGE, LOOP, TRIM, WIRED, Mutant


def own(name: str, *things: str, **more: Any) -> dict[str, Any]:
    """Return the step that an own act becomes, done to things; `role` is the highest, so that no rule asks for it."""
    return {"id": name, "do": "Look at it.", "names": things, "role": "electrically-skilled", **more}


def steps(block: str, before: str, *more: dict[str, Any]) -> Change:
    """Write several more steps above another."""

    def change(draft: Draft) -> None:
        for step in more:
            insert(block, before, step)(draft)

    return change


SEEN = {"looks": "laced"}
ASKS = {"asks": ("laced",)}

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
    Mutant("ACT03", "a look that nobody took", TRIM, insert("cool/", "empty-tank", own("more", "coil", **ASKS))),
    Mutant("ACT03", "a look that comes after", WIRED,
           steps("cool/", "empty-tank", own("asks", "coil", **ASKS), own("looks", "coil", **SEEN))),
    Mutant("ACT03", "an own act at the same thing in between", BANJO,
           steps("cool/", "empty-tank", own("looks", "banjo", **SEEN), own("other", "banjo"),
                 own("asks", "banjo", **ASKS))),
    Mutant("ACT03", "an act of the program at the same thing in between", LOOP,
           lambda draft: (insert("prepare/", "serial", own("looks", "controller", **SEEN))(draft),
                          insert("fit/", "mount", own("asks", "controller", **ASKS))(draft))[0]),
    Mutant("ACT03", "a look at one of two", EXCHANGE,
           steps("cool/", "empty-tank", own("one", "coil", **SEEN), own("both", "coil", "band", **SEEN),
                 own("again", "band"), own("asks", "coil", "band", **ASKS))),
    Mutant("ACT03", "a look on the failing side alone", TRIM,
           lambda draft: (insert("remedy:remake-joint", "count", own("looks", "coil", **SEEN))(draft),
                          insert("connect/", "+connect-heater", own("asks", "coil", **ASKS))(draft))[0]),
    Mutant("EAR01", "an own act at a lead behind the earth test", TRIM,
           insert("close", "close-cover", own("more", "boiler-earth", disturbs={"leads": ("boiler-earth",)})),
           ("EAR02",)),
    Mutant("EAR01", "an own act at the casing behind the earth test", BANJO,
           insert("sign-off", "sign-off", own("more", "casing", disturbs={"earth": True})), ("MNS04",)),
    Mutant("EAR02", "an own act at a lead behind the insulation test", LOOP,
           insert("close", "close-cover", own("more", "mains-lead", disturbs={"leads": ("mains-lead",)})), ("EAR01",)),
    Mutant("SFD01", "an own act at a device that nobody tries again", LOOP,
           insert("fit/", "mount", own("more", "limit", disturbs={"devices": ("limit",)}))),
    Mutant("MNS04", "an own act at the capped leads of the heater", BANJO,
           insert("cold-test", "+earth-gross", own("more", "heater-live", disturbs={"leads": ("heater-live",)}))),
    Mutant("PRS02", "an own act at a joint that was tight", BANJO,
           insert("connect-heater", "close-tap-hot", own("more", "joint", disturbs={"joints": ("banjo-joint",)})),
           ("MNS04",)),
    Mutant("ACT04", "a form that the language does not have", TRIM,
           insert("cool/", "empty-tank", {"id": "more", "act": "close-tap", "of": ("steam-tap",),
                                          "why": "It lies behind {relief.say:dat}."})),
    Mutant("ACT04", "another form, in a remark", BANJO,
           insert("prepare/", "serial", {"id": "more", "act": "write-record", "how": "Name {relief.say:acc} first."})),
    Mutant("ACT04", "a form in the words of a stop", LOOP,
           phase("prepare", "stop.say", "Safe stop. Nothing lies before {relief.say:gen}.")),
)  # fmt: skip
