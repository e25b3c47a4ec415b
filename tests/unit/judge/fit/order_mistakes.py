"""What may be wrong with an order's text: the change, the code, what stands at the place named, and the message."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[3] / "fixtures"))

from fit_cases import cases, payload

PAYLOAD = payload({case.name: case for case in cases()}["much known"])

WRONG = {
    "a letter": (lambda text: "Please send me the kit.", "T01", "Please", "no whole line “Reference:”"),
    "nothing": (lambda text: "", "T01", "", "no whole line “Reference:”"),
    "no reference": (lambda text: text.replace(" / 2026.2", ""), "T01", "Self", "no whole line “Reference:”"),
    "cut behind the head": (lambda text: text.split("Answers:")[0], "T02", "{rules}", "ends before its answers"),
    "cut in the answers": (lambda text: text.split("Protrusions c")[0], "T02", "<b>.", "ends before its outcome"),
    "cut in the parts": (lambda text: text.split("  seal")[0], "T02", "coil", "ends before “seal: 2 × flat seal"),
    "answered twice": (
        lambda text: text.replace("power: 1150 W", "power: 1 W\nHeater power: 2 W"),
        "T03", "Heater power: 2", "Heater power is answered twice",
    ),
    "no outcome": (
        lambda text: text.replace("fits with conditions", "fits nicely"), "T03", "Outcome", "'fits nicely' is none of",
    ),
    "two orders": (lambda text: text + text, "T03", "Reference", "a second order begins here"),
    "other rules": (
        lambda text: text.replace(PAYLOAD["pair"]["rules"], "01234567"), "T06", "2026.2", "the text says 01234567",
    ),
    "no answer": (lambda text: text.replace("Protrusions stand_out: 3.0 mm", "3 mm"), "T07", "3 mm", "“3 mm” is not"),
    "no unit": (lambda text: text.replace("1150 W", "1150"), "T07", "Heater", "none of the units W"),
    "no number": (lambda text: text.replace("12.0", "l2.0"), "T07", "Water_path inlet pro", "'l2.0' is not a number"),
    "too fine": (lambda text: text.replace("12.0", "12.04"), "T07", "Water_path inlet pro", "finer than this is read"),
    "a key": (
        lambda text: text.replace("It is straight <b>.", "straight"), "T07", "Water_path inlet f", "none of its answer",
    ),
    "an unknown fact": (lambda text: text.replace("Heater power", "Heater towel"), "T07", "Heater", "is not asked"),
    "an answer left out": (
        lambda text: text.replace("Protrusions stand_out: 3.0 mm\n", ""),
        "T07", "Answers", "Protrusions stand_out is not answered",
    ),
    "an answer too many": (
        lambda text: text.replace("\n\nOutcome", "\nWater_path inlet thread: It is G 1/8 <b>.\n\nOutcome"),
        "T07", "Water_path inlet thread", "Water_path inlet thread is not asked after the other answers",
    ),
    "a better outcome": (
        lambda text: text.replace("3.0 mm", "not sure"), "T08", "Outcome", "the answers give “cannot tell yet”",
    ),
    "another revision": (lambda text: text.replace(" / B /", " / C /"), "T08", "some-kit", "the text says C"),
    "a set that does not do": (
        lambda text: text.replace("Remedies: Trim", "Remedies: Banjo"),
        "T08", "Remedies", "Banjo does not make the kit fit; one of these would: Trim",
    ),
    "no set": (lambda text: text.replace("Remedies: Trim\n", ""), "T08", "Outcome", "no remedy does not"),
    "a reason left out": (
        lambda text: text.replace("Not met: The wall is smooth.\n", ""), "T08", "Remedies", "“Not met: The wall is",
    ),
    "another count": (lambda text: text.replace("1 × coil", "2 × coil"), "T08", "2 × coil", "wrote “1 × coil”"),
    "a part more": (lambda text: text + "1 × grinder\n", "T08", "1 × grinder", "is not in what the page wrote"),
}  # fmt: skip


WRONG_BY_KEYS = {
    "a letter": (lambda text: "Please send me the kit.", "T01", "Please", "no whole line “Reference:”"),
    "nothing": (lambda text: "", "T01", "", "no whole line “Reference:”"),
    "no kit": (lambda text: text.replace("Kit: some-kit, revision B", "Kit: some-kit"), "T01", "Self", "for kit"),
    "cut behind the head": (lambda text: text.split("Answers:")[0], "T02", "{rules}", "ends before its answers"),
    "cut in the answers": (lambda text: text.split("protrusions.c")[0], "T02", "straight", "ends before its outcome"),
    "cut in the parts": (lambda text: text.split("  seal")[0], "T02", "coil", "ends before “seal: 2 × flat seal"),
    "no answer": (lambda text: text.replace("= 3.0 mm", "is 3"), "T03", "protrusions.stand_out is", "is no answer"),
    "answered twice": (
        lambda text: text.replace("heater.power = 1150 W", "heater.power = 1 W\nheater.power = 2 W"),
        "T03", "heater.power = 2", "heater.power is answered twice",
    ),
    "no outcome": (
        lambda text: text.replace("fits with conditions", "fits nicely"), "T03", "Outcome", "'fits nicely' is none of",
    ),
    "two orders": (lambda text: text + text, "T03", "Machine", "a second order begins here"),
    "other rules": (
        lambda text: text.replace(PAYLOAD["pair"]["rules"], "01234567"), "T06", "Edition", "the text says 01234567",
    ),
    "no unit": (lambda text: text.replace("1150 W", "1150"), "T07", "heater.power", "none of the units W"),
    "no number": (lambda text: text.replace("12.0", "l2.0"), "T07", "water_path.inlet.pro", "'l2.0' is not a number"),
    "too fine": (lambda text: text.replace("12.0", "12.04"), "T07", "water_path.inlet.pro", "finer than this is read"),
    "an unknown fact": (lambda text: text.replace("heater.power", "heater.towel"), "T07", "heater.towel", "not asked"),
    "an answer left out": (
        lambda text: text.replace("protrusions.stand_out = 3.0 mm\n", ""),
        "T07", "Answers", "protrusions.stand_out is not answered",
    ),
    "an answer too many": (
        lambda text: text.replace("\n\nOutcome", "\nwater_path.inlet.thread = G 1/8\n\nOutcome"),
        "T07", "water_path.inlet.thread", "is not asked after the other answers",
    ),
    "a better outcome": (
        lambda text: text.replace("3.0 mm", "not-sure"), "T08", "Outcome", "the answers give “cannot tell yet”",
    ),
    "another revision": (lambda text: text.replace("revision B (", "revision C ("), "T08", "Kit", "the text says C"),
    "a set that does not do": (
        lambda text: text.replace("Remedies: fabrication:trim", "Remedies: kit:banjo"),
        "T08", "Remedies", "kit:banjo does not make the kit fit; one of these would: fabrication:trim",
    ),
    "no set": (lambda text: text.replace("Remedies: fabrication:trim\n", ""), "T08", "Outcome", "no remedy does not"),
    "a reason left out": (lambda text: text.replace("Not met: smooth\n", ""), "T08", "Remedies", "“Not met: smooth”"),
    "another count": (lambda text: text.replace("1 × coil", "2 × coil"), "T08", "2 × coil", "wrote “1 × coil”"),
    "a part more": (lambda text: text + "1 × grinder\n", "T08", "1 × grinder", "is not in what the page wrote"),
}  # fmt: skip
