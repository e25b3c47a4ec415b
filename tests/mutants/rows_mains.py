"""Mutants of mains, earth, heat and water."""

from __future__ import annotations

from guidegen.judge.safety.facts import Value
from tests.mutants.edits import all_of, drop, erase, insert, move, value, write
from tests.mutants.table import BANJO, BANJO_WIRED, LOOP, LOOP_WIRED, SPREAD, TRIM, WIRED, Mutant

OPEN = {"id": "peek", "do": "Lift the top cover off once more.", "sets": {"enclosure": "open"}}
SHUT = {"id": "shut", "do": "Put the top cover back.", "sets": {"enclosure": "closed"}}

ROWS = (
    # MNS01
    Mutant("MNS01", "isolate step dropped", TRIM, drop("cut", "cut-off"), ("STP01", "MNS04", "HLD01")),
    Mutant("MNS01", "phase begins without looking for the plug", TRIM, drop("take-out/", "+again")),
    Mutant("MNS01", "not checked again after opening", BANJO, drop("exchange/", "+again-open"), ("THM01", "PRS01")),
    Mutant("MNS01", "opened while the pump is on", TRIM, move("cold-test", "open-again", "prime"), ("MNS04",)),
    Mutant("MNS01", "plug out of sight", LOOP, write("cut", "cut-off", "isolate.in_sight", False)),
    Mutant("MNS01", "pins not clear", BANJO, write("again", "still-off", "isolate.pins_clear", False)),
    Mutant("MNS01", "conductors touched without proving dead", LOOP, drop("again-open", "prove-dead"), ("PAR01",)),
    Mutant("MNS01", "conductors touched without proving dead, hard-wired", WIRED, drop("again-open", "prove-dead"),
           ("PAR01",)),
    # MNS02
    Mutant("MNS02", "non-contact pen alone", LOOP,
           write("again-open", "prove-dead", "prove.tester", "non-contact-pen")),
    Mutant("MNS02", "N–E left out", WIRED, write("again-open", "prove-dead", "prove.pairs", ["L-N", "L-E"])),
    Mutant("MNS02", "tester not proved afterwards", LOOP_WIRED,
           write("again-open", "prove-dead", "prove.order", ["prove", "test"])),
    Mutant("MNS02", "no proving unit", BANJO_WIRED,
           write("again-open", "prove-dead", "uses.tools", ["two-pole-tester"]), ("PAR01",)),
    Mutant("MNS02", "said, not proved", LOOP, erase("again-open", "prove-dead", "prove")),
    # MNS03
    Mutant("MNS03", "control of the plug not said", TRIM, erase("cut", "cut-off", "isolate.control")),
    Mutant("MNS03", "control of the plug not said the next day", LOOP, erase("again", "still-off", "isolate.control")),
    Mutant("MNS03", "hard-wired isolated by anyone", WIRED, write("cut", "cut-off", "role", "anyone", nth=1)),
    Mutant("MNS03", "hard-wired leads pulled by anyone", BANJO_WIRED,
           write("heater-off", "heater-leads", "role", "hand-tools")),
    Mutant("MNS03", "off without being cut off", BANJO, erase("again", "still-off", "isolate"), ("MNS01",)),
    # MNS04
    Mutant("MNS04", "primed by saying so", BANJO, erase("cold-test", "prime", "acts")),
    Mutant("MNS04", "energised with the cover off", TRIM, drop("connect/", "+close"), ("MNS01",)),
    Mutant("MNS04", "pump on before the bench test", TRIM,
           all_of(erase("prepare/", "as-found", "sets.leak"), erase("prepare/", "bench", "sets.leak")), ("PRS02",)),
    Mutant("MNS04", "pump on with the heater's leads on", BANJO, drop("exchange/", "+heater-off"), ("PAR02",)),
    Mutant("MNS04", "heater's leads not insulated", TRIM, drop("heater-off", "caps"), ("PAR01",)),
    Mutant("MNS04", "not primed", TRIM, erase("cold-test", "prime", "sets")),
    Mutant("MNS04", "fuse left out", TRIM, drop("put-boiler-back", "device-on"), ("SFD01", "PAR02", "HLD01")),
    Mutant("MNS04", "full power with the heater's leads off", BANJO, drop("connect-heater", "heater-on"),
           ("PAR02", "STP01")),
    Mutant("MNS04", "measured live by anyone with the cover off", LOOP,
           insert("heat/", "settle", {**OPEN, "role": "hand-tools"}), ("MNS01", "EAR01", "STP01")),
    # MNS05
    Mutant("MNS05", "residual-current device of 300 mA", TRIM, value("trip_current", "is", "300 mA")),
    Mutant("MNS05", "not watched", BANJO, write("cold-test", "power-pump", "supply.watched", False)),
    Mutant("MNS05", "nothing to do when the device trips", BANJO, erase("cold-test", "power-pump", "hold")),
    Mutant("MNS05", "hands on", LOOP, write("first-heat", "power-heat", "supply.hands_off", False)),
    Mutant("MNS05", "no residual-current device named", WIRED, erase("cold-test", "power-pump", "supply.rcd", nth=1)),
    # EAR01
    Mutant("EAR01", "coil not tested", TRIM, drop("earth-inside", "earth-coil")),
    Mutant("EAR01", "boiler not tested", LOOP, drop("earth-inside", "earth-boiler")),
    Mutant("EAR01", "casing not tested", BANJO, erase("earth-casing", "earth-casing", "earth_points")),
    Mutant("EAR01", "re-opened after the earth test", TRIM, lambda draft: (
        insert("sign-off", "sign-off", OPEN)(draft), insert("sign-off", "sign-off", SHUT)(draft))[0],
        ("MNS04",)),
    Mutant("EAR01", "limit replaced by low", TRIM, value("earth_limit", "is", "low"), ("QTY02",)),
    Mutant("EAR01", "no source of the limit", LOOP, value("earth_limit", "source"), ("DOC03",)),
    # EAR02
    Mutant("EAR02", "insulation test dropped", TRIM, drop("connect/", "+insulation")),
    Mutant("EAR02", "insulation test by anyone", LOOP, write("insulation", "insulation", "role", "anyone")),
    Mutant("EAR02", "insulation test before the leads go on", BANJO,
           move("connect/", "+insulation", "+connect-heater")),
    Mutant("EAR02", "no lower limit", LOOP_WIRED, erase("insulation", "insulation", "hold.accept.at_least"),
           ("QTY02", "DOC03")),
    # THM01
    Mutant("THM01", "temperature not measured after opening", TRIM, drop("again-open", "measure"), ("PAR01", "PRS01")),
    Mutant("THM01", "infrared thermometer", TRIM,
           write("again-open", "measure", "hold.accept.instrument", "infrared-thermometer"), ("QTY02",)),
    Mutant("THM01", "cool at 60 °C", BANJO, value("touch_limit", "is", "60 °C"), ("ACT02",)),
    Mutant("THM01", "an hour is enough", LOOP,
           lambda draft: draft.fact("cool_down.wait", Value("1 h", 3600.0, "time", "calculated"))),
    Mutant("THM01", "a wait that nobody computed", BANJO, write("cool-down", "wait", "cooling.wait", {
        "is": "5 h", "evidence": "assumed"}) and (lambda draft: (
            write("cool-down", "wait", "cooling.wait", {"is": "5 h", "evidence": "assumed"})(draft),
            write("cool-down", "wait", "do", "Leave the machine unplugged overnight.")(draft))[0])),
    # PRS01
    Mutant("PRS01", "pressure not released", TRIM, drop("cool/", "+release")),
    Mutant("PRS01", "not drained", BANJO, drop("cool/", "+drain")),
    Mutant("PRS01", "released without proof", SPREAD, erase("release", "open-tap", "release.proof")),
    Mutant("PRS01", "released by nothing", BANJO, erase("release", "open-tap", "release"), ("PRS05",)),
    Mutant("PRS01", "remedy opens a full joint", TRIM, drop("remedy:remake-joint", "+drain")),
    # PRS02
    Mutant("PRS02", "heat before the cold leak test", TRIM, drop("cold-test", "cold-look")),
    Mutant("PRS02", "tested with compressed air", BANJO,
           write("prepare/", "bench", "leak.medium", "compressed air")),
    Mutant("PRS02", "air in the words", TRIM,
           write("cold-test", "cold-look", "hold.method", "Blow compressed air at every joint."),
           ("TXT01",)),
    Mutant("PRS02", "a joint not looked at", TRIM, write("cold-test", "cold-look", "leak.joints", ["coil-outlet"])),
    Mutant("PRS02", "no look after cooling", BANJO, drop("cooled-look", "cooled-look")),
    Mutant("PRS02", "the pump never ran", TRIM, erase("cold-test", "power-pump", "sets"), ("MNS01",)),
    Mutant("PRS02", "taken as found after opening", LOOP, lambda draft: (
        drop("prepare/", "as-found")(draft),
        insert("test/", "+insulation", {
            "id": "as-found", "do": "Confirm that it was tight.", "as_found": True,
            "sets": {"leak": "hot_ok", "primed": "yes"}})(draft))[0], ("MNS04",)),
    # PRS03
    Mutant("PRS03", "relief valve never checked", TRIM, drop("put-back/", "relief-upstream")),
    Mutant("PRS03", "a check valve between", BANJO, write("exchange/", "relief", "relief.between", ["check valve"])),
    Mutant("PRS03", "not a relief valve", SPREAD, write("put-back/", "relief-downstream", "relief.device", "fuse")),
    Mutant("PRS03", "no hold point", WIRED, erase("put-back/", "relief-downstream", "hold")),
)  # fmt: skip
