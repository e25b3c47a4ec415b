"""Mutants of devices, cuts, quantities, parts, hold points and the guide as a document."""

from __future__ import annotations

import datetime
from dataclasses import replace

from guidegen.judge.safety.facts import UNKNOWN, Value
from tests.mutants.draft import Draft
from tests.mutants.edits import all_of, device, drop, erase, hazard, insert, kit, paper, put, remedy, top, write
from tests.mutants.table import BANJO, EXCHANGE, LOOP, LOOP_WIRED, SPREAD, TRIM, WIRED, Change, Mutant


def item(name: str, fact: str, new: Value) -> Change:
    """Write another fact of a protrusion."""

    def change(draft: Draft) -> None:
        lists = dict(draft.facts.lists)
        lists["boiler.protrusions"] = tuple(
            replace(one, values={**one.values, fact: new}) if one.id == name else one
            for one in lists["boiler.protrusions"]
        )
        draft.facts = replace(draft.facts, lists=lists)

    return change


def without(name: str) -> Change:
    """Leave a downside out."""
    return kit(downsides=lambda all_: tuple(one for one in all_ if one.about != name))


def more(what: str, name: str) -> Change:
    """List one more tool, part or consumable."""
    return kit(**{what: lambda listed: {**listed, name: name}})


def less(what: str, name: str) -> Change:
    """Unlist one."""
    return kit(**{what: lambda listed: {key: one for key, one in listed.items() if key != name}})


def no_aftercare(draft: Draft) -> None:
    """Leave the advice on descaling out."""
    draft.procedure["aftercare"] = [one for one in draft.procedure["aftercare"] if one["id"] != "descaling"]


def decision(name: str, action: str) -> Change:
    """Decide otherwise on a protrusion."""

    def change(draft: Draft) -> None:
        out = tuple(replace(one, action=action) if one.id == name else one for one in draft.machine.protrusions)
        draft.machine = replace(draft.machine, protrusions=out)

    return change


STATED = {"is": "3 mm ± 0.1 mm", "evidence": "measured", "source": "bench-12"}
DAY = datetime.date(2026, 1, 31)
ASSUMED = Value("6 mm ± 0.3 mm", 0.006, "length", "assumed")
ALUMINIUM = Value("aluminium", "aluminium", evidence="measured", source="bench-12")
CARRIES = Value("limit", "limit", evidence="measured")
ROTARY = ["rotary-tool", "eye-protection", "face-shield", "ffp2-mask", "hearing-protection", "hand-saw"]

ROWS = (
    # SFD01
    Mutant("SFD01", "refit deleted", TRIM, drop("put-boiler-back", "device-on"), ("MNS04", "PAR02", "HLD01")),
    Mutant("SFD01", "not verified", EXCHANGE, drop("put-boiler-back", "device-check"), ("SFD03",)),
    Mutant("SFD01", "protective thermostat taken off for good", LOOP,
           device("brew-thermostat", duty="protective"), ("SFD04",)),
    Mutant("SFD01", "thermostat of unknown duty taken off for good", LOOP_WIRED,
           device("brew-thermostat", duty="unknown"), ("SFD04",)),
    Mutant("SFD01", "sensor never checked", LOOP, drop("fit/", "sensor-check"), ("SFD03",)),
    # SFD02
    Mutant("SFD02", "fuse uprated", TRIM, write("put-boiler-back", "device-on", "refits.rating", "15 A, 240 °C")),
    Mutant("SFD02", "fuse of less than the machine's", EXCHANGE,
           write("put-boiler-back", "device-on", "refits.rating", "6 A, 184 °C")),
    Mutant("SFD02", "machine's rating is another", WIRED, device("fuse", rating="10 A, 152 °C, one shot")),
    # SFD03
    Mutant("SFD03", "seat not photographed", TRIM, erase("take-boiler-out", "photograph-seat", "records"), ("PAR02",)),
    Mutant("SFD03", "the sensor's seat not photographed", TRIM, drop("take-boiler-out", "photograph-sensor"),
           ("PAR02",)),
    Mutant("SFD03", "clamp not said", LOOP, erase("fit/", "sensor-on", "seat.clamp")),
    Mutant("SFD03", "position not said", EXCHANGE, erase("put-boiler-back", "device-on", "seat.position")),
    Mutant("SFD03", "sensor's seat not checked", TRIM, drop("put-boiler-back", "sensor-check"), ("SFD01",)),
    # SFD04
    Mutant("SFD04", "nobody proves any device in series", LOOP, drop("fit/", "series"), ("ACT06",)),
    Mutant("SFD04", "the fuse proved in series, the limit not", LOOP_WIRED,
           write("fit/", "series", "in_series", ["fuse"])),
    Mutant("SFD04", "proved by looking, without a hold point", LOOP, erase("fit/", "series", "hold")),
    Mutant("SFD04", "the thermostat back, nothing proved in series", LOOP, drop("restore:put-back/", "series")),
    # CLR01
    Mutant("CLR01", "clearance never measured", TRIM, drop("put-back/", "clearance")),
    Mutant("CLR01", "measured with the heater's leads off alone", TRIM, drop("connect/", "clearance-again")),
    Mutant("CLR01", "no restraint", EXCHANGE, erase("put-back/", "clearance", "clearance.restraint")),
    Mutant("CLR01", "no hold point", WIRED, erase("put-back/", "clearance", "hold")),
    Mutant("CLR01", "far enough", SPREAD, write("put-back/", "clearance", "hold.accept.at_least", "far"),
           ("QTY02", "DOC03")),
    # CUT01
    Mutant("CUT01", "not identified", TRIM, drop("trim/", "identify")),
    Mutant("CUT01", "not clamped", TRIM, drop("trim/", "hold-work"), ("PAR01",)),
    Mutant("CUT01", "marked reversible", TRIM, erase("trim/", "saw", "reversible")),
    Mutant("CUT01", "no line", TRIM, erase("trim/", "saw", "cut.line")),
    Mutant("CUT01", "nothing must remain", TRIM, erase("trim/", "file-down", "cut.leaves")),
    Mutant("CUT01", "ports open", TRIM, drop("take-boiler-out", "plug-ports"), ("PAR01",)),
    Mutant("CUT01", "boiler still in the machine", TRIM, drop("take-boiler-out", "boiler-out")),
    # CUT02
    Mutant("CUT02", "not deburred", TRIM, drop("trim/", "deburr")),
    Mutant("CUT02", "plugs left in", TRIM, drop("trim/", "plugs-out")),
    Mutant("CUT02", "not rinsed", TRIM, erase("trim/", "rinse", "acts")),
    Mutant("CUT02", "nobody looks for swarf", TRIM, drop("trim/", "swarf")),
    # CUT03
    Mutant("CUT03", "saw without eye protection", TRIM, write("trim/", "saw", "uses.tools", ["hand-saw", "ffp2-mask"])),
    Mutant("CUT03", "angle grinder", TRIM,
           write("trim/", "saw", "uses.tools", ["angle-grinder", "hand-saw", "eye-protection", "ffp2-mask"]),
           ("PAR01",)),
    Mutant("CUT03", "rotary tool, disc not checked", TRIM, write("trim/", "saw", "uses.tools", ROTARY), ("PAR01",)),
    Mutant("CUT03", "aluminium dust not caught", TRIM, lambda draft: (
        draft.fact("boiler.material", ALUMINIUM), erase("trim/", "saw", "acts")(draft))[0]),
    # CUT04
    Mutant("CUT04", "what is cut carries the limit thermostat", TRIM, item("drain-boss", "carries", CARRIES)),
    Mutant("CUT04", "a thermostat of unknown duty", TRIM, device("limit", duty="unknown")),
    Mutant("CUT04", "carries a device that nobody knows", TRIM, write("trim/", "saw", "cut.carries", "some-device")),
    Mutant("CUT04", "seat not gauged", TRIM, lambda draft: put(draft.procedure["phases"][3]["steps"][2]["steps"][3][
        "cut"], "carries", "limit")),
    # CUT05
    Mutant("CUT05", "cut line assumed", TRIM, item("drain-boss", "stands_out", ASSUMED)),
    Mutant("CUT05", "remaining metal assumed", TRIM,
           item("drain-boss", "keeps", Value("2.7 mm", 0.0027, "length", "assumed"))),
    Mutant("CUT05", "torque assumed", BANJO, top("values.banjo_torque.evidence", "assumed")),
    Mutant("CUT05", "template assumed", TRIM,
           write("trim/", "saw", "cut.template", {"is": "6 mm", "evidence": "assumed"})),
    Mutant("CUT05", "ring gauge dropped", TRIM, lambda draft: (
        drop("trim/", "gauge")(draft), drop("coil-on", "gauge-all")(draft))[0], ("PAR01",)),
    # CUT06
    Mutant("CUT06", "cuts what must not be cut", TRIM, decision("drain-boss", "cannot")),
    Mutant("CUT06", "cuts what is left", TRIM, decision("drain-boss", "leave")),
    Mutant("CUT06", "less metal than must remain", TRIM,
           item("drain-boss", "keeps", Value("2.6 mm", 0.0026, "length", "measured", "bench-12"))),
    Mutant("CUT06", "a bare word for the metal", TRIM, write("trim/", "saw", "cut.leaves", {
        "is": "3 mm² ± 0.1 mm²", "evidence": "measured", "source": "bench-12"}), ("CUT01",)),
    Mutant("CUT06", "cuts beside the list", TRIM, insert("trim/", "deburr", {
        "id": "flange", "hazards": ["saw-and-file", "metal-dust"], "do": "File the flange.", "acts": ["catch-dust"],
        "reversible": False, "uses": {"tools": ["flat-file", "eye-protection"], "consumables": ["dust-cloth"]},
        "cut": {"of": "flange", "tool": "flat-file", "line": STATED, "leaves": STATED}})),
    Mutant("CUT06", "trimming is forgotten", TRIM, lambda draft: put(
        draft.procedure["phases"][3]["steps"][2], "where", {"item.action": "leave"}), ("PAR01",)),
    # QTY01
    Mutant("QTY01", "torque without tolerance", BANJO, top("values.banjo_torque.is", "5 N·m")),
    Mutant("QTY01", "torque in words", BANJO, top("values.banjo_torque.is", "hand-tight"),),
    Mutant("QTY01", "thread state left out", TRIM, erase("put-boiler-back", "torque", "torque.state")),
    Mutant("QTY01", "thread left out", WIRED, erase("put-boiler-back", "torque", "torque.thread")),
    Mutant("QTY01", "no source", EXCHANGE, lambda draft: draft.fact(
        "boiler.bolts.torque", Value("5 N·m ± 0.5 N·m", 5.0, "torque", "standard")), ("DOC03",)),
    # QTY02
    Mutant("QTY02", "limit replaced by low", LOOP, write("fit/", "tie", "hold.accept.at_least", "low"), ("DOC03",)),
    Mutant("QTY02", "two limits", TRIM, write("trim/", "swarf", "hold.accept.at_least", "1 chip")),
    Mutant("QTY02", "no instrument", BANJO, erase("prepare/", "bench", "hold.accept.instrument")),
    Mutant("QTY02", "nothing to do on fail", TRIM, erase("trim/", "metal-left", "hold.on_fail"), ("HLD01",)),
    Mutant("QTY02", "no acceptance at all", LOOP, erase("heat/", "gains", "hold.accept")),
    # PAR01
    Mutant("QTY03", "80 N·m with a wrench that ends at ten", BANJO,
           lambda draft: draft.procedure["values"]["banjo_torque"].update({"is": "80 N·m ± 8 N·m"}), ("QTY04",)),
    Mutant("QTY03", "less than the wrench can be set to", BANJO,
           lambda draft: draft.procedure["values"]["banjo_torque"].update({"is": "1 N·m ± 0.5 N·m"})),
    Mutant("QTY03", "at the very end of the wrench", EXCHANGE,
           lambda draft: draft.procedure["values"]["fitting_torque"].update({"is": "9.5 N·m ± 1 N·m"}), ("QTY04",)),
    Mutant("QTY03", "nobody says how far the wrench goes", TRIM, kit(ranges=lambda known: {})),
    Mutant("PAR01", "tool unlisted", TRIM, less("tools", "torque-wrench")),
    Mutant("PAR01", "part listed and never used", BANJO, more("parts", "spare-gasket")),
    Mutant("PAR01", "a part that is only looked at", BANJO, all_of(more("parts", "clip"), insert(
        "prepare/", "bench", {"id": "clip", "do": "Look at the clip.", "act": "write-serial", "names": ["clip"],
                              "only_looks": True, "uses": {"parts": ["clip"]}}))),
    Mutant("PAR01", "consumable unlisted", LOOP, less("consumables", "cable-ties")),
    Mutant("PAR01", "a tool that the kit does not know", SPREAD,
           write("coil-on", "wipe", "uses.tools", ["wire-brush"])),
    # PAR02
    Mutant("PAR02", "earth lead not reconnected", TRIM, drop("put-boiler-back", "earth-lead-on"), ("MNS04", "STP01")),
    Mutant("PAR02", "reconnected twice", BANJO, insert("connect-heater", "heater-on", {
        "id": "again-on", "do": "Push both heater leads on.", "refits": {"leads": ["heater-live", "heater-neutral"]}})),
    Mutant("PAR02", "leads neither labelled nor photographed", BANJO,
           write("exchange/", "picture", "records", ["feed-inlet", "old-hose"])),
    Mutant("PAR02", "a lead taken off in a remedy and forgotten", TRIM, insert("remedy:after-cooled", "+heater-off", {
        "id": "pump-lead", "do": "Pull the pump's lead off.", "removes": {"leads": ["pump-live"]},
        "records": ["pump-live"], "role": "wiring"}), ("MNS04", "STP01")),
    Mutant("PAR02", "thermostat's leads not said to be permanent", LOOP,
           erase("take-out/", "leads-off", "removes.permanent"), ("MNS04", "STP01")),
    # HLD01
    Mutant("HLD01", "fail branch leads forward", TRIM,
           write("cold-test", "cold-look", "hold.on_fail", {"goto": "connect"}), ("PRS02",)),
    Mutant("HLD01", "fail branch leads past the gauge", TRIM,
           write("trim/", "gauge", "hold.on_fail", {"goto": "deburr"})),
    Mutant("HLD01", "fail branch leads nowhere", BANJO,
           write("prepare/", "bench", "hold.on_fail", {"goto": "the-day-after"})),
    Mutant("HLD01", "stop without help", LOOP, erase("sign-off", "sign-off", "hold.on_fail.who_can_help")),
    Mutant("HLD01", "remedy leads forward", BANJO, remedy("remake-joint", "then", {"goto": "connect"}),
           ("PRS02", "MNS04")),
    # STP01
    Mutant("STP01", "night stop with the power on", LOOP, drop("heat/", "+power-off")),
    Mutant("STP01", "failed first heat ends with the power on", TRIM, write(
        "first-heat", "watch", "hold.on_fail", {"stop": "Do not go on.", "who_can_help": "a repair shop"})),
    Mutant("STP01", "night stop after the hot look with the power on", BANJO, drop("heat/", "+power-off")),
    Mutant("STP01", "hot look stops with the power on", WIRED, write(
        "hot-look", "hot-look", "hold.on_fail", {"stop": "Do not go on.", "who_can_help": "a repair shop"})),
    # DOC01
    Mutant("DOC01", "no version", TRIM, top("version")),
    Mutant("DOC01", "no effectivity", BANJO, top("effectivity")),
    Mutant("DOC01", "no contact", LOOP, paper(contact="")),
    # DOC02
    Mutant("DOC02", "connection unknown", TRIM, lambda draft: draft.fact("mains.connection", UNKNOWN),
           ("MNS01", "STP01", "PRS01", "PRS02", "HLD01", "PAR01")),
    Mutant("DOC02", "relief branch unknown", SPREAD, lambda draft: draft.fact("water_path.relief_branch", UNKNOWN),
           ("PRS03",)),
    Mutant("DOC02", "wall unknown", TRIM, lambda draft: draft.fact("wall.way", UNKNOWN),
           ("CUT06", "PAR01", "MNS04", "STP01")),
    Mutant("DOC02", "spread without words for the reader", SPREAD,
           erase("put-back/", "fitting-outlet-banjo", "only_if")),
    Mutant("DOC02", "a block that nobody wrote", LOOP, write("take-out/", "+open", "include", "opening"),
           ("MNS01",)),
    # DOC03
    Mutant("DOC03", "a number in the text", TRIM, write("cool/", "empty-tank", "do", "Wait 20 min.")),
    Mutant("DOC03", "a fact that nobody knows", LOOP, lambda draft: draft.fact("kit.control.kp", UNKNOWN)),
    Mutant("DOC03", "a number in the after-care", TRIM, top("aftercare.0.how", "It lasts for 500 h.")),
    Mutant("DOC03", "a number in a statement", LOOP, hazard("hot-metal", "consequence", "Metal of 90 °C burns.")),
    Mutant("DOC03", "evidence without source", BANJO, top("values.bench_pressure.source")),
    Mutant("DOC03", "no evidence", TRIM, top("values.live_clearance.evidence")),
    Mutant("DOC03", "page one does not say that nobody did it yet", SPREAD, paper(notice="")),
    # DSC01
    Mutant("DSC01", "downsides emptied", TRIM, kit(downsides=lambda _: ())),
    Mutant("DSC01", "warranty not mentioned", BANJO, without("warranty")),
    Mutant("DSC01", "skills not mentioned", LOOP, without("skills")),
    Mutant("DSC01", "a coil, and nothing about frost", TRIM, without("frost")),
    Mutant("DSC01", "a coil, and nothing about water that stood", TRIM, without("stagnation")),
    Mutant("DSC01", "a joint in the water, and nothing about its metals", BANJO, without("metals")),
    Mutant("DSC01", "another control, and nothing about the drink's temperature", LOOP, without("profile")),
    Mutant("DSC01", "insurance not mentioned", LOOP, without("insurance")),
    Mutant("DSC01", "nothing to do about it", TRIM,
           kit(downsides=lambda all_: (replace(all_[0], do=""), *all_[1:]))),
    # DSC02
    Mutant("DSC02", "restoring dropped", TRIM, top("restore.phases", []), ("PAR01",)),
    Mutant("DSC02", "kit does not say whether", BANJO, kit(restore_possible=lambda _: None)),
    Mutant("DSC02", "what stays is not said", TRIM, top("restore.lasting", [])),
    Mutant("DSC02", "no way back described", LOOP, top("restore")),
    # FOD01
    Mutant("FOD01", "no wetted part", TRIM, kit(wetted=lambda _: ()), ("PAR03",)),
    Mutant("FOD01", "flux not named", BANJO,
           kit(wetted=lambda all_: (replace(all_[0], flux=None), *all_[1:]))),
    Mutant("FOD01", "first water not discarded", SPREAD, drop("flush", "discard")),
    Mutant("FOD01", "nothing about descaling", BANJO, no_aftercare),
    Mutant("FOD01", "flushed once a year", TRIM, top("aftercare.3.occasion", "every-year")),
    Mutant("FOD01", "something else after descaling", SPREAD, top("aftercare.3.act", "look-beneath")),
    # WVR01
    Mutant("WVR01", "a waiver for what has none", TRIM, top("waivers", [
        {"rule": "MNS01", "because": "We know.", "role": "the workshop", "date": DAY}])),
    Mutant("WVR01", "a waiver for nothing", BANJO, top("waivers", [
        {"rule": "MNS05", "because": "We know.", "role": "the workshop", "date": DAY}])),
    Mutant("WVR01", "a waiver for an editorial rule", LOOP, top("waivers", [
        {"rule": "LNG01", "because": "We know.", "role": "the workshop", "date": DAY}])),
)  # fmt: skip
