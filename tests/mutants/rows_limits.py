"""Mutants of what screws bear, what instruments show and what wetted parts are rated for."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from guidegen.judge.acts.things import Things
from guidegen.judge.safety.facts import Value
from tests.mutants.draft import Draft
from tests.mutants.edits import kit, value, write
from tests.mutants.table import BANJO, EXCHANGE, LOOP, SPREAD, TRIM, WIRED, Change, Mutant


def shows(name: str, resolution: str | None) -> Change:
    """Let an instrument show other steps."""

    def change(draft: Draft) -> None:
        things = draft.facts.things.by_id
        draft.facts = replace(
            draft.facts, things=Things({**things, name: replace(things[name], resolution=resolution)})
        )

    return change


def rating(part: str, **changes: Any) -> Change:
    """Write other ratings of a wetted part."""
    return kit(wetted=lambda all_: tuple(replace(one, **changes) if one.part == part else one for one in all_))


def stated(name: str, text: str) -> Change:
    """Write another number in the procedure's values."""
    return lambda draft: draft.procedure["values"][name].update({"is": text})


ROWS = (
    Mutant(
        "QTY04", "two newton metres more than the hollow bolt bears", BANJO, stated("banjo_torque", "7 N·m ± 1 N·m")
    ),
    Mutant(
        "QTY04",
        "80 N·m, and a wrench that reaches",
        BANJO,
        lambda draft: (
            stated("banjo_torque", "80 N·m ± 8 N·m")(draft),
            draft.kits(ranges={"torque-wrench": ("10 N·m", "100 N·m")}),
        )[0],
    ),
    Mutant(
        "QTY04",
        "the same torque on greased bolts",
        EXCHANGE,
        write("put-boiler-back", "torque", "torque.state", "clean, dry and greased"),
    ),
    Mutant(
        "QTY04",
        "the torque of another thread",
        EXCHANGE,
        write("put-boiler-back", "torque", "torque.thread", "M6, A2-70"),
    ),
    Mutant(
        "QTY04",
        "bolts that are tightened by the tolerance too far",
        WIRED,
        lambda draft: draft.fact(
            "boiler.bolts.torque", Value("5 N·m ± 1 N·m", 5.0, "torque", "standard", "a2-70-torque-table")
        ),
    ),
    Mutant("QTY04", "nobody says what the screw is", BANJO, kit(screws=lambda _: {})),
    Mutant("QTY04", "a bond's small screw tightened like a bolt", TRIM, stated("bond_torque", "5 N·m ± 0.5 N·m")),
    Mutant("QTY04", "the bond's screw greased", EXCHANGE, write("put-back/", "bond", "torque.state", "greased")),
    Mutant(
        "QTY04",
        "nobody says what screw holds the bond",
        SPREAD,
        kit(screws=lambda known: {name: one for name, one in known.items() if name != "coil-eyelet"}),
    ),
    Mutant(
        "QTY05",
        "half a kelvin of a display of whole ones",
        TRIM,
        lambda draft: draft.fact(
            "control.shown", Value("103 °C ± 0.5 K", 376.15, "temperature", "measured", "bench-12")
        ),
    ),
    Mutant(
        "QTY05",
        "a setpoint to a twentieth of a kelvin",
        LOOP,
        lambda draft: draft.fact(
            "kit.control.setpoint",
            Value("102 °C ± 0.05 K", 375.15, "temperature", "maker-document", "kettleby-fitting-rules"),
        ),
    ),
    Mutant("QTY05", "nobody says how fine the controller shows", LOOP, shows("controller", None)),
    Mutant("QTY05", "a calliper of whole centimetres", TRIM, shows("calliper", "1 cm")),
    Mutant("PRS04", "a hose for less than the relief valve", BANJO, rating("feed-hose", pressure=12e5)),
    Mutant("PRS04", "a hose for less than the pump", BANJO, rating("feed-hose", pressure=15.9e5)),
    Mutant("PRS04", "a hose for lukewarm water", BANJO, rating("feed-hose", temperature=333.15)),
    Mutant("PRS04", "a coil for heating water", TRIM, rating("coil", drinking_water="no")),
    Mutant("PRS04", "nobody says what the fitting is rated for", EXCHANGE, rating("female-fitting", pressure=None)),
    Mutant(
        "PRS04",
        "nobody knows what the pump makes",
        WIRED,
        lambda draft: setattr(
            draft, "machine", replace(draft.machine, loads={**draft.machine.loads, "water_path.pump_pressure": None})
        ),
    ),
    Mutant(
        "ACT02",
        "a lead of 12 m, and the limit of one of 20",
        TRIM,
        lambda draft: (value("lead_length", "is", "12 m")(draft), value("earth_limit", "is", "0.5 Ω")(draft))[0],
    ),
    Mutant(
        "ACT02",
        "more than an ohm, however long the lead",
        BANJO,
        lambda draft: (value("lead_length", "is", "90 m")(draft), value("earth_limit", "is", "1.1 Ω")(draft))[0],
    ),
    Mutant("ACT02", "a thicker lead than the limit is for", WIRED, value("lead_section", "is", "2.5 mm²")),
    Mutant("ACT02", "twice the current in the protective conductor", LOOP, value("conductor_current", "is", "0.007 A")),
    Mutant("ACT02", "a display that may run away by thirty kelvin", LOOP, value("runaway", "is", "30 K")),
    Mutant(
        "ACT02", "pressure on the bench beyond what the hose is rated for", BANJO, stated("bench_pressure", "3.5 MPa")
    ),
    Mutant("ACT02", "a pump that runs for an hour against a blind filter", TRIM, value("cold_time", "is", "1 h")),
    Mutant("ACT02", "three seconds of watching", BANJO, value("watch_time", "is", "3 s")),
    Mutant("ACT02", "a minute's look while hot", EXCHANGE, value("hot_time", "is", "1 min")),
    Mutant("ACT02", "a nut turned twice round", TRIM, stated("compression_turn", "2 turns ± 1/8 turn")),
    Mutant("ACT02", "a nut turned by anything between", WIRED, stated("compression_turn", "3/4 turn ± 1/2 turn")),
    Mutant(
        "ACT02",
        "a nut turned as somebody guessed",
        EXCHANGE,
        lambda draft: draft.procedure["values"]["compression_turn"].update({"evidence": "assumed"}),
    ),
    Mutant("ACT02", "a boiler of 900 W for one of 1150 W", EXCHANGE, stated("plate_tolerance", "22 %")),
    Mutant("QTY02", "a pressure that is seen", BANJO, write("prepare/", "bench", "hold.accept.instrument", "sight")),
    Mutant(
        "QTY02",
        "a temperature that is felt",
        TRIM,
        write("again-open", "measure", "hold.accept.instrument", "hand"),
        ("THM01",),
    ),
)
