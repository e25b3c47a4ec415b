"""The smallest guide that breaks a rule, and the smallest that keeps it: rule by rule, in the order of the rules."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from guidegen.judge.acts.things import Thing, Things
from guidegen.judge.safety.facts import UNKNOWN, Value, word
from guidegen.judge.safety.guide import Device, MachineSide, Outstanding, Paper, Wetted
from guidegen.workshop.texts import words_hash
from tests.unit.judge.safety.small import (
    CLOSE,
    COOL,
    DEVICES,
    DRAIN,
    HELP,
    LIVE,
    OFF,
    OPEN,
    PUMP,
    RELEASE,
    guide,
    hold,
    honest,
)

SHOCK = {"kind": "mains", "severity": "death", "probability": "could", "type_of_hazard": "Mains voltage",
         "consequence": "It can kill.", "how_to_avoid": ["Keep the plug in sight."]}  # fmt: skip
CUTS = {**SHOCK, "kind": "cutting", "severity": "moderate", "consequence": "It cuts."}
LOSS = {**SHOCK, "kind": "property", "severity": "property", "consequence": "It breaks."}
WIRED = MachineSide("m", "hard-wired", DEVICES)
DO = {"id": "a", "do": "Look at it."}
WARNED = {"id": "a", "hazards": ["h"], "do": "Look at it."}
PROVE = {"id": "prove", "do": "Prove it dead.", "sets": {"mains": "proved_dead"}, "role": "electrically-skilled",
         "uses": {"tools": ["two-pole-tester", "proving-unit"]},
         "prove": {"tester": "two-pole-tester", "pairs": ["L-N", "L-E", "N-E"],
                   "order": ["prove", "test", "prove"]}}  # fmt: skip
SUPPLY = {"rcd": {"is": "30 mA"}, "watched": True, "hands_off": True}
HOLDS = hold(at_most="0 trips", instrument="rcd")
EARTH = {"id": "earth", "do": "Test the earth.", "earth_points": ["boiler", "casing"], "sets": {"earth": "tested"},
         "uses": {"tools": ["earth-tester"]}, "hold": hold(at_most="0.3 Ω", instrument="earth-tester")}  # fmt: skip
INSULATION = {"id": "ins", "do": "Test the insulation.", "insulation_of": ["heater", "wiring"],
              "role": "electrically-skilled",
              "hold": hold(at_least="0.3 MΩ", instrument="insulation-tester")}  # fmt: skip
LEAD_OFF = {"id": "lead-off", "do": "Pull the lead.", "removes": {"leads": ["heater-live"]}, "records": ["heater-live"]}
LEAD_ON = {"id": "lead-on", "do": "Push the lead on.", "refits": {"leads": ["heater-live"]}}
CAPS = {"id": "caps", "do": "Cover the leads.", "acts": ["insulate-leads"]}
JOINT_OFF = {"id": "joint-off", "do": "Undo the joint.", "removes": {"joints": ["j"]}, "records": ["j"]}
JOINT_ON = {"id": "joint-on", "do": "Tighten the joint.", "refits": {"joints": ["j"]}}
LEAD_HANDLED = {"id": "handled", "do": "Lay it aside.", "names": ["l"], "disturbs": {"leads": ["l"]}}
LACED = {"id": "laced", "do": "Lace it.", "names": ["jacket"], "looks": "laced"}
PULLED = {"id": "pulled", "do": "Pull at it.", "names": ["jacket"], "asks": ["laced"]}
FUSE_OFF = {"id": "fuse-off", "do": "Take the fuse off.", "removes": {"devices": ["fuse"]}}
FUSE_ON = {"id": "fuse-on", "do": "Fix the fuse.", "refits": {"devices": ["fuse"], "rating": "10 A, 184 °C"},
           "seat": {"device": "fuse", "position": "top", "clamp": "clip"}}  # fmt: skip
FUSE_SEEN = {"id": "fuse-seen", "do": "Check the fuse.", "verifies": ["fuse"], "hold": hold(at_most="0 gaps")}
SEEN = {"id": "seen", "do": "Photograph it.", "records": ["fuse", "heater-live"]}
RELIEVED = {"id": "relief", "do": "Follow the hose.", "relief": {"device": "relief", "protects": "coil"},
            "hold": hold(at_most="0 valves")}  # fmt: skip
BENCH = {"id": "bench", "do": "Compare the record.", "sets": {"leak": "bench_ok"}, "hold": hold(at_least="24 bar"),
         "leak": {"rung": "bench", "medium": "cold water", "by": "maker-record"}}  # fmt: skip
AS_FOUND = {"id": "found", "do": "Confirm that it works.", "as_found": True,
            "sets": {"leak": "hot_ok", "primed": "yes"}}  # fmt: skip
COIL, SAW_ONLY = {"coil": True}, {"tools": ["hand-saw"]}
CLEAR = {"id": "clear", "do": "Measure to the terminal.", "clearance": {"between": "both", "restraint": "bands"},
         "hold": hold(at_least="8 mm", instrument="calliper")}  # fmt: skip
CUT = {"id": "cut", "do": "Saw it off.", "reversible": False, "uses": {"tools": ["hand-saw", "eye-protection"]},
       "cut": {"of": "boss", "tool": "hand-saw", "line": {"is": "6 mm ± 0.3 mm", "evidence": "measured", "source": "s"},
               "leaves": {"is": "3 mm", "evidence": "measured", "source": "s"}}}  # fmt: skip
READY = tuple({"id": act, "do": "Do it.", "acts": [act]} for act in ("part-out", "plug-ports", "hold-work"))
IDENTIFY = {"id": "identify", "do": "Look at it.", "acts": ["identify"], "hold": hold(at_most="0 leads")}
DONE = tuple({"id": act, "do": "Do it.", "acts": [act]} for act in ("deburr", "unplug-ports", "flush", "swarf-check"))
GAUGE = {"id": "gauge", "do": "Slide it over.", "hold": hold(at_most="0 tight places", instrument="ring-gauge")}
TORQUE = {"is": "5 N·m ± 0.5 N·m", "thread": "M5", "state": "dry", "evidence": "standard", "source": "s"}
FLUSH, DISCARD = ({"id": act, "do": "Run water.", "acts": [act]} for act in ("flush", "discard"))
DESCALE = {"aftercare": [{"id": "descaling", "occasion": "after-each-descaling", "act": "flush-away"}]}
LOOK_BENEATH = {"id": "beneath", "occasion": "after-a-week", "act": "look-beneath"}
COLD, WET = {"speaks_of": ("frost",)}, {"wetted": (Wetted("tube", "copper", "none", "none"),)}
PIPED = Things({
    one.id: one for one in (
        Thing("pump", "pump", "the pump", "pump", ("pump",), closes=True),
        Thing("hose", "hose", "the hose", "hose", ("hose",)),
        Thing("boiler", "boiler", "the boiler", "boiler", ("boiler",)),
        Thing("tap", "tap", "the tap", "tap", ("tap",), closes=True),
        Thing("hose-end", "joint", "the hose's end", "hose's end", ("hose-end",), ends=("pump", "hose")),
        Thing("valve", "joint", "the check valve", "valve", ("valve",), ends=("hose", "boiler"), closes=True),
        Thing("pipe", "joint", "the steam pipe", "steam pipe", ("pipe",), ends=("boiler", "tap")),
    )
})  # fmt: skip
VALVE_OFF = {"id": "valve-off", "do": "Take the check valve out.", "removes": {"joints": ["valve"]}}
PIPE_OFF = {"id": "pipe-off", "do": "Undo the steam pipe.", "removes": {"joints": ["pipe"]}}
LOOSENED = {"id": "loose", "do": "Loosen it.", "names": ["valve"], "disturbs": {"joints": ["valve"]},
            "release": {"by": "It is loose.", "proof": "Nothing drips."}}  # fmt: skip
SHUT_TAP = {"id": "shut", "do": "Close the tap.", "acts": ["close-tap"], "names": ["tap"]}
TOP = {"title": "T", "version": "1", "supersedes": "nothing", "target_group": "anyone", "place": "a bench",
       "effectivity": {"applies_to": "this", "how_to_tell": "look"}}  # fmt: skip


def make(*steps: dict[str, Any], **more: Any) -> Any:
    """Return a guide; named so that the table below reads as a table."""
    return guide(*steps, **more)


def less(step: dict[str, Any], *names: str, **more: Any) -> dict[str, Any]:
    """Return a step without some fields, or with others."""
    return {**{name: value for name, value in step.items() if name not in names}, **more}


def fails_to(aim: Any) -> dict[str, Any]:
    """Return a step whose failing side leads somewhere."""
    return {"id": "a", "do": "Look.", "hold": {**hold(at_most="0 drops"), "on_fail": aim}}


def fault(symptom: str = "drop", **acts: Any) -> dict[str, Any]:
    """Return a row of the table of faults."""
    return {"symptom": symptom, "cause": "damaged-lead", **acts}


def remedy(then: dict[str, Any]) -> dict[str, Any]:
    """Return the steps of a failing side, and where they lead."""
    return {"id": "dry", "name": "Dry", "steps": [{**OFF, "id": "off-again"}], "then": then}


def stands_out(action: str) -> MachineSide:
    """Return a machine with a boss on its boiler, and what was decided on it."""
    return MachineSide("m", "corded", protrusions=(Outstanding("boss", action, 0.003),))


#: rule, a guide that breaks it, a guide that keeps it
CASES: list[tuple[str, Any, Any]] = [
    ("ACT01", make({"id": "a", "act": "no-such-act"}), make({"id": "a", "act": "cut-installation"})),
    ("ACT04", make({"id": "a", "act": "cut-installation", "why": "Nothing touches {work.earth:acc}."}),
     make({"id": "a", "act": "cut-installation", "why": "Nothing touches {work.earth}."})),
    ("HAZ01", make(WARNED, hazards={"h": less(SHOCK, "consequence")}), make(WARNED, hazards={"h": SHOCK})),
    ("HAZ01", make(WARNED, hazards={"h": less(SHOCK, probability="will")}),
     make(WARNED, hazards={"h": less(SHOCK, probability="will", designed_out="No.")})),
    ("HAZ01", make(WARNED, hazards={"h": less(LOSS, "how_to_avoid")}),
     make(WARNED, hazards={"h": less(LOSS, "consequence")})),
    ("HAZ02", make(WARNED, hazards={"h": less(LOSS, consequence="It burns you.")}), make(WARNED, hazards={"h": LOSS})),
    ("HAZ02", make(WARNED, hazards={"h": less(CUTS, consequence="It kills.")}), make(WARNED, hazards={"h": CUTS})),
    ("HAZ03", make({"id": "a", "do": "Look.", "hazards": ["h"]}, hazards={"h": SHOCK}),
     make(WARNED, hazards={"h": SHOCK})),
    ("HAZ05", make(less(DO, notes=["Pull the plug."])), make(less(DO, notes=["The plug is white."]))),
    ("HAZ05", make(WARNED, hazards={"h": less(SHOCK, how_to_avoid=["Pull the plug, then wait."])}),
     make(WARNED, hazards={"h": SHOCK})),
    ("HAZ06", make(WARNED, hazards={"h": less(SHOCK, how_to_avoid=["Be careful."])}),
     make(WARNED, hazards={"h": SHOCK})),
    ("HAZ06", make(WARNED, hazards={"h": less(SHOCK, how_to_avoid=["The plug is out."])}),
     make(WARNED, hazards={"h": less(SHOCK, how_to_avoid=["Do not touch it."])})),
    ("HAZ07", make(WARNED, hazards={"h": SHOCK}),
     make(WARNED, hazards={"h": SHOCK}, residual=[{"hazard": "h", "remains": "Some."}])),
    ("HAZ07", make(OFF, OPEN), make(OFF, OPEN, hazards={"live-parts": SHOCK},
                                    residual=[{"hazard": "live-parts", "remains": "Some."}])),
    ("HAZ07", make(DO, residual=[{"hazard": "h", "remains": "Some."}]), make(DO)),
    ("HAZ08", make(less(WARNED, hazards=["h", "h", "h", "h"]), hazards={"h": SHOCK}),
     make(WARNED, hazards={"h": SHOCK})),
    ("SYM01", make(WARNED, hazards={"h": less(SHOCK, sign={"id": "W999", "alt": "x"})}),
     make(WARNED, hazards={"h": less(SHOCK, sign={"id": "W001", "alt": "x"})})),
    ("MNS01", make(OPEN), make(OFF, OPEN)),
    ("MNS01", make(OFF, OPEN, LEAD_OFF), make(OFF, OPEN, less(OFF, id="again"), LEAD_OFF)),
    ("MNS01", make(OFF, OPEN, less(OFF, id="b"), LEAD_OFF, mains_work=True),
     make(OFF, OPEN, PROVE, LEAD_OFF, mains_work=True)),
    ("MNS01", make(less(DO, requires={"mains": "off"})), make(OFF, less(DO, requires={"mains": "off"}))),
    ("MNS02", make(OFF, less(PROVE, "prove")), make(OFF, PROVE)),
    ("MNS02", make(OFF, less(PROVE, prove={**PROVE["prove"], "pairs": ["L-N"]})), make(OFF, PROVE)),
    ("MNS03", make(less(OFF, isolate={**OFF["isolate"], "control": None})), make(OFF)),
    ("MNS03", make(less(OFF, isolate={"by": "disconnector", "control": "Locked."}), machine=WIRED),
     make(less(OFF, isolate={"by": "disconnector", "control": "Locked."}, role="electrically-skilled"), machine=WIRED)),
    ("MNS04", make(OFF, LIVE), make(OFF, AS_FOUND, EARTH, LIVE)),
    ("MNS04", make(OFF, AS_FOUND, OPEN, EARTH, LIVE), make(OFF, AS_FOUND, OPEN, EARTH, CLOSE, LIVE)),
    ("MNS04", make(OFF, OPEN, EARTH, CLOSE, BENCH, PUMP), make(OFF, OPEN, LEAD_OFF, CAPS, EARTH, CLOSE, BENCH, PUMP)),
    ("MNS05", make(OFF, less(LIVE, hold=HOLDS)), make(OFF, less(LIVE, supply=SUPPLY, hold=HOLDS))),
    ("MNS05", make(OFF, less(LIVE, supply=SUPPLY)), make(OFF, less(LIVE, supply=SUPPLY, hold=HOLDS))),
    ("MNS05", make(OFF, less(LIVE, supply={**SUPPLY, "rcd": {"is": "300 mA"}}, hold=HOLDS)),
     make(OFF, less(LIVE, supply=SUPPLY, hold=HOLDS))),
    ("EAR01", make(OFF, LIVE), make(OFF, EARTH, LIVE)),
    ("EAR01", make(OFF, EARTH, OPEN, CLOSE, LIVE), make(OFF, OPEN, EARTH, CLOSE, LIVE)),
    ("EAR01", make(OFF, EARTH, LIVE, kit=COIL),
     make(OFF, less(EARTH, earth_points=["boiler", "coil", "casing"]), LIVE, kit=COIL)),
    ("EAR02", make(OFF, LEAD_OFF, LEAD_ON, LIVE), make(OFF, LEAD_OFF, LEAD_ON, INSULATION, LIVE)),
    ("EAR02", make(less(INSULATION, role="anyone")), make(INSULATION)),
    ("EAR02", make(OFF, INSULATION, LEAD_HANDLED, LIVE), make(OFF, LEAD_HANDLED, INSULATION, LIVE)),
    ("ACT03", make(less(DO, asks=["laced"])), make(less(DO, id="seen", looks="laced"), less(DO, asks=["laced"]))),
    ("ACT03", make(LACED, less(DO, id="b", names=["jacket"]), PULLED), make(less(DO, names=["jacket"]), LACED, PULLED)),
    ("ACT03", make(LACED, PULLED, less(PULLED, id="twice")),
     make(LACED, PULLED, less(LACED, id="b"), less(PULLED, id="c"))),
    ("THM01", make(OFF, FUSE_OFF), make(OFF, COOL, FUSE_OFF)),
    ("THM01", make(less(COOL, hold=hold(at_most="41 °C", instrument="contact-probe"))), make(COOL)),
    ("THM01", make(less(COOL, hold=hold(at_most="40 °C", instrument="infrared-thermometer"))), make(COOL)),
    ("THM01", make({"id": "w", "do": "Wait.", "sets": {"temperature": "cool"},
                    "cooling": {"by": "waiting", "wait": {"is": "{cool_down.wait}"}}},
                   facts={"cool_down.wait": Value("3 h", 10800.0, "time", "calculated")}),
     make({"id": "w", "do": "Wait.", "sets": {"temperature": "cool"},
           "cooling": {"by": "waiting", "wait": {"is": "{cool_down.wait}"}}},
          facts={"cool_down.wait": Value("4 h", 14400.0, "time", "calculated")})),
    ("PRS01", make(OFF, COOL, DRAIN, JOINT_OFF), make(OFF, COOL, RELEASE, DRAIN, JOINT_OFF)),
    ("PRS01", make(less(RELEASE, release={"by": "The tap."})), make(RELEASE)),
    ("PRS02", make(OFF, LIVE), make(OFF, AS_FOUND, LIVE)),
    ("PRS02", make(less(BENCH, leak={**BENCH["leak"], "medium": "compressed air"})), make(BENCH)),
    ("PRS02", make(less(DO, sets={"leak": "cold_ok"})), make(BENCH)),
    ("PRS02", make(OFF, OPEN, AS_FOUND), make(OFF, AS_FOUND, OPEN)),
    ("PRS05", make(OFF, COOL, less(RELEASE, names=["tap"]), DRAIN, VALVE_OFF, things=PIPED),
     make(OFF, COOL, less(RELEASE, names=["tap"]), DRAIN, LOOSENED, VALVE_OFF, things=PIPED)),
    ("PRS05", make(OFF, COOL, less(RELEASE, names=["tap"]), SHUT_TAP, DRAIN, PIPE_OFF, things=PIPED),
     make(OFF, COOL, less(RELEASE, names=["tap"]), DRAIN, PIPE_OFF, SHUT_TAP, things=PIPED)),
    ("PRS05", make(OFF, COOL, less(RELEASE, names=["tap"]), SHUT_TAP, DRAIN, less(LOOSENED, names=["pipe"], disturbs={
        "joints": ["pipe"]}), things=PIPED),
     make(OFF, COOL, less(RELEASE, names=["tap"]), DRAIN, less(LOOSENED, names=["pipe"], disturbs={
        "joints": ["pipe"]}), things=PIPED)),
    ("PRS03", make(OFF, JOINT_ON, LIVE), make(OFF, JOINT_ON, RELIEVED, LIVE)),
    ("PRS03", make(JOINT_ON, less(RELIEVED, relief={**RELIEVED["relief"], "between": ["check valve"]})),
     make(JOINT_ON, RELIEVED)),
    ("PRS03", make(JOINT_ON, less(RELIEVED, relief={**RELIEVED["relief"], "device": "fuse"})),
     make(JOINT_ON, RELIEVED)),
    ("SFD01", make(FUSE_OFF), make(FUSE_OFF, FUSE_ON, FUSE_SEEN)),
    ("SFD01", make(less(FUSE_OFF, removes={"devices": ["fuse"], "permanent": True})),
     make(less(FUSE_OFF, removes={"devices": ["brew"], "permanent": True}))),
    ("SFD01", make(FUSE_OFF, FUSE_ON, LIVE), make(FUSE_OFF, FUSE_ON, FUSE_SEEN, LIVE)),
    ("SFD02", make(less(FUSE_ON, refits={"devices": ["fuse"], "rating": "16 A, 240 °C"})), make(FUSE_ON)),
    ("SFD03", make(FUSE_OFF), make(SEEN, FUSE_OFF)),
    ("SFD03", make(less(FUSE_ON, "seat"), FUSE_SEEN), make(FUSE_ON, FUSE_SEEN)),
    ("CLR01", make(OFF, LIVE, kit=COIL), make(OFF, CLEAR, LIVE, kit=COIL)),
    ("CLR01", make(less(CLEAR, clearance={"between": "both"}), kit=COIL), make(CLEAR, kit=COIL)),
    ("CUT01", make(IDENTIFY, CUT), make(*READY, IDENTIFY, CUT)),
    ("CUT01", make(*READY, IDENTIFY, less(CUT, "reversible")), make(*READY, IDENTIFY, CUT)),
    ("CUT02", make(CUT, LIVE), make(CUT, *DONE, BENCH, LIVE)),
    ("CUT03", make(less(CUT, uses=SAW_ONLY)), make(CUT)),
    ("CUT03", make(less(CUT, uses={"tools": ["hand-saw", "eye-protection", "angle-grinder"]})), make(CUT)),
    ("CUT04", make(less(CUT, cut={**CUT["cut"], "carries": "fuse"})), make(CUT)),
    ("CUT04", make(CUT, machine=MachineSide("m", "corded", (Device("t", "t", "thermostat", "unknown"),))), make(CUT)),
    ("CUT05", make(less(CUT, cut={**CUT["cut"], "line": {"is": "6 mm ± 1 mm", "evidence": "assumed"}})), make(CUT)),
    ("CUT05", make(CUT, OFF, LIVE), make(CUT, GAUGE, OFF, LIVE)),
    ("CUT06", make(CUT), make(DO)),
    ("CUT06", make(DO, kit=COIL, machine=stands_out("trim")), make(DO, kit=COIL, machine=stands_out("cannot"))),
    ("QTY01", make(less(DO, torque={**TORQUE, "is": "5 N·m"})), make(less(DO, torque=TORQUE))),
    ("QTY01", make(less(DO, torque={**TORQUE, "state": None})), make(less(DO, torque=TORQUE))),
    ("QTY02", make(less(DO, hold=hold(at_most="low", instrument="sight"))),
     make(less(DO, hold=hold(at_most="0 drops", instrument="sight")))),
    ("QTY02", make(less(DO, hold=hold(at_most="1 Ω"))), make(less(DO, hold=hold(at_most="1 s", instrument="hand")))),
    ("PAR01", make(less(DO, uses=SAW_ONLY)), make(less(DO, uses=SAW_ONLY), kit={"tools": {"hand-saw": "saw"}})),
    ("PAR01", make(DO, kit={"parts": {"coil": "coil"}}),
     make(less(DO, uses={"parts": ["coil"]}), kit={"parts": {"coil": "c"}})),
    ("PAR01", make(less(DO, names=["coil"], only_looks=True, uses={"parts": ["coil"]}), kit={"parts": {"coil": "c"}}),
     make(less(DO, only_looks=True, uses={"parts": ["coil"]}), kit={"parts": {"coil": "c"}})),
    ("PAR02", make(LEAD_OFF), make(LEAD_OFF, LEAD_ON)),
    ("PAR02", make(less(LEAD_OFF, "records"), LEAD_ON), make(SEEN, less(LEAD_OFF, "records"), LEAD_ON)),
    ("PAR02", make(LEAD_OFF, LEAD_ON, less(LEAD_ON, id="twice")), make(LEAD_OFF, LEAD_ON)),
    ("HLD01", make(fails_to({"goto": "c"}), less(DO, id="b"), less(DO, id="c")),
     make(less(DO, id="b"), fails_to({"goto": "b"}))),
    ("HLD01", make(fails_to({"goto": "nowhere"})), make(fails_to(HELP))),
    ("HLD01", make(fails_to({"stop": "Do not go on."})), make(fails_to(HELP))),
    ("HLD02", make(phases=[{"id": "p", "name": "P", "steps": [DO]}, {"id": "q", "name": "Q", "steps": [DO]}]),
     make(phases=[{"id": "p", "name": "P", "steps": [DO], "stop": {"id": "s", "say": "Safe."}},
                  {"id": "q", "name": "Q", "steps": [DO]}])),
    ("TXT01", make(less(FUSE_ON, do="Bridge the fuse.")), make(less(DO, why="Never bridge the fuse."))),
    ("TXT01", make(less(DO, why="The fuse is pulled out.")), make(less(DO, why="The fuse works once."))),
    ("TXT01", make(DO, faults=[fault(do=[{"act": "ask-workshop", "why": "A stronger fuse would hold."}])]),
     make(DO, faults=[fault(do=[{"act": "ask-workshop", "why": "It is quicker."}])])),
    ("TXT01", make(DO, aftercare=[{**LOOK_BENEATH, "how": "Open the casing for it."}]),
     make(DO, aftercare=[{**LOOK_BENEATH, "how": "A lamp helps."}])),
    ("ACT09", make({**fails_to({"goto": "dry"}), "act": "prime"}, remedies=[remedy({"stop": "stays-off"})]),
     make({**fails_to({"goto": "dry"}), "act": "prime"}, remedies=[remedy({"stop": ("no-pump", "hang-sign")})])),
    ("ACT09", make({**fails_to({"goto": "dry"}), "act": "energise-heat"}, remedies=[remedy({"stop": "no-power"})]),
     make({**fails_to({"goto": "dry"}), "act": "energise-heat"},
          remedies=[remedy({"stop": ["no-power", "hang-sign"]})])),
    ("ACT10", make(DO, faults=[fault(check=["run-plain"])]), make(DO, faults=[fault()])),
    ("ACT10", make(DO, faults=[fault(symptom="weak-flow")]),
     make(DO, faults=[fault(symptom="weak-flow", do="descale-once")])),
    ("TXT01", make(DO, hazards={"h": less(SHOCK, consequence="So bridge it.")}), make(DO, hazards={"h": SHOCK})),
    ("TXT02", replace(make(less(DO, why="It is white.")), read=frozenset()),
     replace(make(less(DO, why="It is white.")), read=frozenset(map(words_hash, ("It is white.", DO["do"], "Work"))))),
    ("STP01", make(fails_to(HELP)), make(OFF, fails_to(HELP))),
    ("STP01", make(OFF, OPEN), make(OFF, OPEN, CLOSE)),
    ("LNG01", make(less(DO, do="Look at it, then wipe it.")), make(DO)),
    ("LNG01", make(less(DO, do="Look " + "at it " * 10)), make(DO)),
    ("LNG01", make(less(DO, do="Look at the kettle.")), make(DO)),
    ("DOC01", make(DO), make(DO, **TOP)),
    ("DOC01", make(DO, **TOP, paper=Paper("", "c", "en")), make(DO, **TOP)),
    ("DOC02", make(less(DO, when={"x": "1"}), facts={"x": UNKNOWN}),
     make(less(DO, when={"x": "1"}), facts={"x": word("2")})),
    ("DOC02", make(less(DO, when={"x": "1"}), facts={"x": Value("some", None, options=("1", "2"))}),
     make(less(DO, when={"x": "1"}, only_if="x is 1"), facts={"x": Value("some", None, options=("1", "2"))})),
    ("DOC03", make(less(DO, do="Wait 4 h.")),
     make(less(DO, do="Wait {w}.", values={"w": {"is": "4 h", "evidence": "assumed"}}))),
    ("DOC03", make(less(DO, do="Read {x}.")),
     make(less(DO, do="Read {x}."), facts={"x": Value("4 h", 14400.0, "time")})),
    ("DOC03", make(DO, paper=Paper("e", "c", "en", notice="")),
     make(DO, paper=Paper("e", "c", "en", builds=1, notice=""))),
    ("DSC01", make(DO, kit=honest() | COLD), make(DO, kit=honest("frost") | COLD)),
    ("DSC01", make(JOINT_ON, kit=honest("metals")), make(JOINT_ON, kit=honest("metals", "descaling"))),
    ("DSC02", make(DO), make(DO, kit={"restore_possible": False, "restore_text": "It is glued."})),
    ("FOD01", make(JOINT_ON, FLUSH, DISCARD, **DESCALE), make(JOINT_ON, FLUSH, DISCARD, kit=WET, **DESCALE)),
    ("FOD01", make(JOINT_ON, FLUSH, kit=WET, **DESCALE), make(JOINT_ON, FLUSH, DISCARD, kit=WET, **DESCALE)),
]  # fmt: skip
