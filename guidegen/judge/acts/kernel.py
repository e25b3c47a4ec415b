"""The table of effects: all that can be done to a machine, and the only place where anything is made safe."""

from __future__ import annotations

from guidegen.judge.acts.effects import (
    OWN,
    KernelEffect,
    bonded,
    clear,
    closed,
    cut,
    device_leads,
    isolated,
    leads_back,
    leak,
    loosened,
    moved,
    named,
    opened,
    own,
    proven,
    recorded,
    relief,
    seated,
    supply,
)
from guidegen.judge.acts.kernel_around import AROUND, OFF

WET = {"pressure": "released", "water": "drained", "temperature": "cool"}
BENCH = {**OFF, "leak": "bench_ok", "temperature": "cool"}
POWER = {"enclosure": "closed", "earth": "tested"}

EFFECTS: dict[str, KernelEffect] = {
    # the supply
    "cut-by-plug": KernelEffect("The mains is off.", sets=OFF, fields=isolated("plug")),
    "cut-by-disconnector": KernelEffect(
        "The mains is off.", sets=OFF, role="electrically-skilled", fields=isolated("disconnector")
    ),
    "still-locked": KernelEffect(
        "The mains is off, and was: the padlock would show it. What was let off before a night is let off.",
        sets=OFF,
        role="electrically-skilled",
        fields=isolated("disconnector", guarded=True),
    ),
    "prove-dead": KernelEffect(
        "The conductors are proved dead.",
        OFF,
        {"mains": "proved_dead"},
        role="electrically-skilled",
        fields=lambda doing: {
            "prove": {
                "tester": doing.says["tools"][0],
                "pairs": ["L-N", "L-E", "N-E"],
                "order": ["prove", "test", "prove"],
            }
        },
    ),
    "energise-pump": KernelEffect(
        "The pump has power, the heater has none.",
        {**POWER, "leak": "bench_ok"},
        {"mains": "pump_only"},
        role="hand-tools",
        fields=supply,
    ),
    "energise-heat": KernelEffect(
        "Pump and heater have power for the first time.",
        {**POWER, "leak": "cold_ok", "primed": "yes"},
        {"mains": "live"},
        role="hand-tools",
        fields=supply,
    ),
    "energise-use": KernelEffect(
        "The machine is in use.", {**POWER, "leak": "hot_ok", "primed": "yes"}, {"mains": "live"}
    ),
    "operate": KernelEffect("A switch, tap or tank is set; nothing that makes anything safe."),
    "operate-dead": KernelEffect("The same, with the mains off.", OFF),
    "shut-tap": KernelEffect("A tap is closed; it lets nothing off any more.", acts=("close-tap",)),
    "watch": KernelEffect("The machine is watched under power.", {"mains": "live"}),
    # cool, without pressure, empty
    "wait-until-cool": KernelEffect(
        "The machine is cool.",
        OFF,
        {"temperature": "cool"},
        fields=lambda doing: {"cooling": {"by": "waiting", "wait": {"is": "{cool_down.wait}"}}},
    ),
    "measure-cool": KernelEffect(
        "The machine is cool.", {}, {"temperature": "cool"}, fields=lambda doing: {"cooling": {"by": "measuring"}}
    ),
    "release-pressure": KernelEffect(
        "The pressure is off.",
        {**OFF, "temperature": "cool"},
        {"pressure": "released"},
        fields=lambda doing: {"release": doing.says["release"]},
    ),
    "loosen-joint": KernelEffect(
        "What no tap lets off is let off at a joint; the joint counts as disturbed.",
        WET,
        role="hand-tools",
        fields=loosened,
    ),
    "drain": KernelEffect("The water is out.", {"pressure": "released", "enclosure": "closed"}, {"water": "drained"}),
    # covers
    "undo-screws": KernelEffect("Screws of a cover are out.", OFF, acts=("undo-screws",), role="hand-tools"),
    "open-cover": KernelEffect(
        "The machine is open; its earth counts as disturbed.", OFF, {"enclosure": "open"}, role="hand-tools"
    ),
    "close-cover": KernelEffect("The machine is closed.", OFF, {"enclosure": "closed"}, role="hand-tools"),
    # looking
    "look": KernelEffect("Something is looked at, measured, laid ready or written down."),
    "look-dead": KernelEffect("The same, with the mains off.", OFF),
    "lay": KernelEffect("A part is where it belongs, or off again; nothing that makes anything safe."),
    "as-found": KernelEffect(
        "The machine was tight and filled before anything was changed.",
        {},
        {"leak": "hot_ok", "primed": "yes"},
        fields=lambda doing: {"as_found": True},
    ),
    "photograph": KernelEffect("It is recorded how these were.", fields=recorded),
    # leads and devices
    "detach-leads": KernelEffect(
        "Leads are off; earth and insulation count as disturbed.",
        role="wiring",
        fields=moved("removes", "leads", needs_dead=True),
    ),
    "attach-leads": KernelEffect(
        "Leads are on, those of the heater only on a boiler that holds water and whose joints held "
        "it; earth and insulation count as disturbed.",
        role="wiring",
        joins=True,
        fields=leads_back,
    ),
    "bond": KernelEffect(
        "A part of metal has its lead to earth.", OFF, acts=("bond",), role="wiring", joins=True, torqued=True
    ),
    "bond-earth": KernelEffect(
        "The lead of a part ends at an earth place.",
        OFF,
        acts=("bond",),
        role="wiring",
        joins=True,
        torqued=True,
        fields=bonded,
    ),
    "attach-earth": KernelEffect("An earth place is tight again.", OFF, acts=("bond",), role="wiring", torqued=True),
    "insulate-leads": KernelEffect(
        "Bare ends are capped.", touches=("conductors",), acts=("insulate-leads",), role="wiring"
    ),
    "touch-leads": KernelEffect("Conductors are touched.", touches=("conductors",), role="wiring"),
    "restrain-leads": KernelEffect("Leads are tied.", touches=("conductors",), acts=("restrain",), role="wiring"),
    "detach-device-leads": KernelEffect(
        "The leads of a device are off; earth and insulation count as disturbed.",
        role="wiring",
        fields=device_leads("removes"),
    ),
    "attach-device-leads": KernelEffect("The leads of a device are on.", role="wiring", fields=device_leads("refits")),
    "detach-device": KernelEffect(
        "A device or sensor is off its seat.",
        {"temperature": "cool"},
        role="hand-tools",
        fields=moved("removes", "devices"),
    ),
    "seat-device": KernelEffect(
        "A device or sensor sits; nobody has tried it yet.",
        {"temperature": "cool"},
        role="hand-tools",
        joins=True,
        fields=seated,
    ),
    "verify-device": KernelEffect(
        "The device conducts.", touches=("conductors",), role="wiring", fields=named("verifies")
    ),
    "verify-series": KernelEffect(
        "The heater's current passes the device.",
        touches=("conductors",),
        role="wiring",
        fields=lambda doing: {"in_series": [name for thing in doing.at for name in thing.members]},
    ),
    "verify-sensor": KernelEffect("The sensor sits.", touches=("boiler",), fields=named("verifies")),
    # joints and the boiler
    "undo-joint": KernelEffect(
        "A joint is open; every leak test and the filling count no more.",
        WET,
        role="hand-tools",
        fields=opened,
    ),
    "make-joint": KernelEffect("A joint is closed, and not tested.", role="hand-tools", joins=True, fields=closed),
    "torque": KernelEffect(
        "A screw is at its torque.",
        touches=("boiler",),
        role="hand-tools",
        torqued=True,
    ),
    "touch-boiler": KernelEffect("A hand is at the boiler.", touches=("boiler",)),
    "wipe": KernelEffect("A face or seat is clean.", touches=("boiler",), role="hand-tools"),
    "part-out": KernelEffect("The boiler is out.", touches=("boiler",), acts=("part-out",), role="hand-tools"),
    "part-in": KernelEffect(
        "The boiler is back in its place.", {"temperature": "cool"}, touches=("boiler",), role="hand-tools"
    ),
    "plug-ports": KernelEffect("Every port is closed.", acts=("plug-ports",)),
    "unplug-ports": KernelEffect("Every port is free.", acts=("unplug-ports",)),
    # cutting
    "identify": KernelEffect("It is known what is to be cut.", acts=("identify",), role="hand-tools"),
    "hold-work": KernelEffect("The work is held.", acts=("hold-work",), role="hand-tools"),
    "cut": KernelEffect(
        "Metal is gone for good.", acts=("catch-dust",), role="hand-tools", reversible=False, fields=cut
    ),
    "deburr": KernelEffect("Edges are blunt.", acts=("deburr",), role="hand-tools"),
    "rinse": KernelEffect("Chips are rinsed out.", acts=("flush",)),
    "look-for-swarf": KernelEffect("No chip is left.", acts=("swarf-check",)),
    "restrain": KernelEffect("A part cannot move.", acts=("restrain",), role="hand-tools"),
    # tests
    "clearance": KernelEffect("The distance to live parts is measured.", OFF, role="wiring", fields=clear),
    "relief-path": KernelEffect(
        "Nothing that can close lies before the relief valve.", role="hand-tools", fields=relief
    ),
    "earth-test": KernelEffect(
        "The protective earth of a part is tested.", OFF, role="electrically-skilled", fields=named("earth_points")
    ),
    "earth-test-closed": KernelEffect(
        "The protective earth is tested, the machine closed.",
        {**OFF, "enclosure": "closed"},
        {"earth": "tested"},
        role="electrically-skilled",
        fields=named("earth_points"),
    ),
    "insulation-test": KernelEffect(
        "The insulation is tested.",
        OFF,
        touches=("conductors",),
        role="electrically-skilled",
        fields=lambda doing: {"insulation_of": ["heater", "wiring"]},
    ),
    "insulation-test-wiring": KernelEffect(
        "The insulation of the wiring alone is tested: it tells nothing of the heater.",
        OFF,
        touches=("conductors",),
        role="electrically-skilled",
        fields=lambda doing: {"insulation_of": ["wiring"]},
    ),
    "insulation-test-heater": KernelEffect(
        "The insulation of the heater alone is tested: it tells nothing of the wiring.",
        OFF,
        touches=("conductors",),
        role="electrically-skilled",
        fields=lambda doing: {"insulation_of": ["heater"]},
    ),
    "sign": KernelEffect("An electrically skilled person has signed.", {**OFF, **POWER}),
    "bench-record": KernelEffect(
        "A new part was tested by its maker, an old one is whole.",
        {},
        {"leak": "bench_ok"},
        fields=leak("bench", "cold water"),
    ),
    "prime": KernelEffect("The boiler holds water.", {"mains": "pump_only"}, {"primed": "yes"}, acts=("prime",)),
    "pump-cold": KernelEffect("Every joint stands under the pump's pressure.", {"mains": "pump_only"}),
    "pump-by-hand": KernelEffect(
        "Every joint stands under the pressure of a pump that is worked by hand.",
        {**OFF, "leak": "bench_ok"},
        {"pressure": "unknown", "water": "full"},
        acts=("pump-by-hand",),
        role="hand-tools",
    ),
    "fill-by-hand": KernelEffect("The boiler is full of cold water.", BENCH, {"water": "full"}, role="hand-tools"),
    "prove-vessel": KernelEffect(
        "A vessel that was cut bore more, cold, than it has to bear hot.",
        {**BENCH, "water": "full"},
        {"pressure": "unknown"},
        role="electrically-skilled",
        fields=proven,
    ),
    "proof-record": KernelEffect("Whoever made a vessel proved it.", fields=proven),
    "after-pressure": KernelEffect("Something is taken out once nothing presses on it.", {"pressure": "released"}),
    "leak-cold": KernelEffect(
        "The joints are tight cold.",
        {},
        {"leak": "cold_ok"},
        fields=leak("cold", "cold water", ("every joint",)),
    ),
    "leak-hot": KernelEffect("Nothing drips while hot.", {"mains": "live"}, fields=leak("hot", "hot water")),
    "leak-cooled": KernelEffect(
        "The joints are tight after the first heat.",
        {"temperature": "cool"},
        {"leak": "hot_ok"},
        touches=("boiler",),
        role="hand-tools",
        fields=leak("cooled", "cold water", ("every joint",)),
    ),
    "flush": KernelEffect("The new path is flushed.", acts=("flush",)),
    OWN: KernelEffect("Nothing is certain of what is named: it counts as disturbed.", fields=own),
    "discard": KernelEffect("The flushed water is gone.", acts=("discard",)),
    **AROUND,
}
"""Every effect by its name."""
