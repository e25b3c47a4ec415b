"""Words of an instruction: who does a step, what a limit means, what a number in a step is called."""

from __future__ import annotations

import json
from collections.abc import Iterable
from functools import cache
from importlib import resources

from guidegen.language import gettext, marked

ROLES = {
    "electrically-skilled": marked("Electrically skilled person only."),
}
"""Roles that a step names; everybody else is covered by the instruction's target group."""

SENSES = {
    "at_least": marked("at least"),
    "at_most": marked("at most"),
    "is": marked("exactly"),
    "equals": marked("exactly"),
    "within": marked("within"),
}

COMPUTED_NAMES = {
    "cool_down.wait": marked("Waiting time"),
    "flush.volume": marked("Volume to flush"),
    "display.low": marked("Lowest on the display"),
    "display.high": marked("Highest on the display"),
    "coil.turns": marked("Turns of the coil"),
    "coil.layers": marked("Layers of the coil"),
    "coil.height": marked("Height of the coil"),
    "coil.length": marked("Length of the coil"),
    "coil.held": marked("Water in the coil"),
    "relief.pushed_out": marked("Water pushed out during a warm-up"),
    "locked.rise": marked("Pressure that trapped water gains with each degree"),
    "locked.yields": marked("Pressure at which the tube yields"),
    "locked.warms": marked("Warming of trapped water until the tube yields"),
    "item.stands_out": marked("It stands out"),
    "item.keeps": marked("Metal that must remain"),
    "item.metal_left": marked("Metal that must remain"),
    "item.width": marked("Its width"),
    "first_heat.limit": marked("Longest time for the first heating"),
    "item.metal_least": marked("Least metal that must remain"),
    "item.from": marked("Lower end, above the wall's lower edge"),
    "item.to": marked("Upper end"),
    "union_turn": marked("Turn of the union nut"),
    "compression_turn": marked("Turn of the compression nut"),
    "cold_time": marked("Time under pressure"),
    "hot_time": marked("Time to look"),
    "lead_length": marked("Longest mains lead that the limit is for"),
    "lead_section": marked("Its largest cross-section"),
    "bolts.room": marked("Least room over the bolt heads"),
    "control.shown": marked("Setpoint on the display"),
    "plate_tolerance": marked("Greatest difference in power"),
    "relief.bench": marked("Least pressure of the bench test"),
    "vessel.proof": marked("Least pressure that proves the boiler"),
    "vessel.bears": marked("Greatest pressure that it withstands"),
    "proof_time": marked("Time under test pressure"),
    "wetted.pressure": marked("Least rating of what is under pressure"),
}


OF_A_SCREW = {"screw.thread": marked("Thread of the screw"), "screw.metal": marked("Metal of the screw")}
"""By the end of the name: whatever is screwed on."""


def number_name(name: str) -> str:
    """What a page calls a number that a step prints.

    >>> number_name("boiler.bolts.torque"), number_name("cool_down.wait"), number_name("touch_limit")
    ('Tightening torque', 'Waiting time', 'Touch limit')
    """
    ending = ".".join(name.split(".")[-2:])
    title = fact_titles().get(name) or COMPUTED_NAMES.get(name) or OF_A_SCREW.get(ending, "")
    return gettext(title) or name.rpartition(".")[2].replace("_", " ").capitalize()


@cache
def fact_titles() -> dict[str, str]:
    """What a machine's facts are called, by their dotted names: `tests/fact_titles.py` writes the table anew."""
    text = (resources.files("guidegen.site.pages") / "data" / "facts.json").read_text(encoding="utf-8")
    titles: dict[str, str] = json.loads(text)
    return titles


def who(roles: Iterable[str]) -> str:
    """Who works in a phase, by the roles of its steps.

    >>> who(["anyone", "hand-tools"]), who(["anyone", "electrically-skilled"]), who(["electrically-skilled"])
    ('you', 'you, skilled', 'skilled')
    """
    skilled = {role == "electrically-skilled" for role in roles}
    return ", ".join(text for there, text in ((False, gettext("you")), (True, gettext("skilled"))) if there in skilled)


def again_rule(connection: str, contact: str | None) -> str:
    """When a check that sends the reader back is enough: nobody shall go round for ever."""
    if connection == "corded":
        words = gettext("If the same check fails a third time, stop, leave the machine unplugged, and ask: {contact}")
    else:
        words = gettext("If the same check fails a third time, stop, leave the machine locked off, and ask: {contact}")
    return words.format(contact=contact or gettext("the workshop"))


def letter(place: int) -> str:
    """The mark of the first, second, … origin: small letters, then two of them.

    >>> letter(0), letter(25), letter(26)
    ('a', 'z', 'aa')
    """
    ahead, here = divmod(place, 26)
    return (letter(ahead - 1) if ahead else "") + "abcdefghijklmnopqrstuvwxyz"[here]
