"""Who may do what, what the kits are for and what people do all the same, and when nobody should begin.

Said once: the safety page prints it whole, the head of each instruction in short.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from guidegen.language import gettext, marked
from guidegen.record import Assessment
from guidegen.site.pages.template import render


@dataclass(frozen=True)
class RoleWords:
    """A role of a step: its name, who that is, what it may do, and what it leaves to somebody else."""

    name: str
    person: str
    may: str
    never: str


ROLES: Mapping[str, RoleWords] = {
    "anyone": RoleWords(
        marked("anyone"),
        marked(
            "An adult who has read the whole guide, is well and alert, and stops when something is not as the "
            "guide says."
        ),
        marked(
            "Pull the plug and keep it in sight, wait and measure until the boiler is cool, let pressure and water "
            "off, look, photograph, label, write down, plug and rinse parts that are out, and run the closed machine."
        ),
        marked("Takes no cover off, undoes no joint, pulls no lead."),
    ),
    "hand-tools": RoleWords(
        marked("hand tools"),
        marked(
            "The same, and used to spanner, torque wrench, saw and file: you have done such work before and know what "
            "a tight thread feels like. Owning the tools is not enough."
        ),
        marked(
            "With the plug out, the machine cool and empty: undo and make joints, take the boiler out, cut and file, "
            "put sensors and devices back on their seats. Plug the closed machine in for the tests, at the steps that "
            "say so."
        ),
        marked(
            "No lead, no terminal. A machine that is wired into the wall is touched inside only after an electrically "
            "skilled person has locked it off and proved it dead."
        ),
    ),
    "wiring": RoleWords(
        marked("wiring"),
        marked(
            "On a machine with a plug: whoever may do the work with hand tools. On a machine that is wired into the "
            "wall, and in a kit that changes mains wiring: an electrically skilled person only."
        ),
        marked(
            "With the plug out and in sight: take covers off and put them back, pull labelled leads and push them "
            "back, fix earth leads, and make the first rough check of the earth."
        ),
        marked("No lead of another length or size, no new joint in a lead, nothing that was not labelled."),
    ),
    "electrically-skilled": RoleWords(
        marked("electrically skilled"),
        marked(
            "A person with the education and experience to perceive the risks of electricity and to avoid its hazards "
            "(IEC 60050-195), and with whatever licence your country asks for: an electrician, a repair shop, the "
            "workshop's fitting service."
        ),
        marked(
            "Lock off and prove dead, everything on machines wired into the wall, all work on mains wiring, the tests "
            "of earth and insulation, and the signature without which no machine is switched on again."
        ),
        marked("Live parts: no guide here asks for work on them. The rules of the trade come before any guide."),
    ),
}

NOT_BY_READING = marked(
    "Reading this makes nobody electrically skilled. If you are not that person, the guide says at which steps you "
    "need one."
)

INTENDED = marked(
    "One {kit} on one {machine}, fitted and tested as its guide says, by people who may do each step. Afterwards: "
    "coffee, hot water and steam, with every cover closed, from drinking water, indoors, with somebody in the room."
)


@dataclass(frozen=True)
class Misuse:
    """What people can be expected to do although it is not meant: in short, and what comes of it."""

    what: str
    because: str


MISUSES = (
    Misuse(
        marked("running it with a cover off"),
        marked("Bare terminals carry mains voltage and the boiler burns. Even a quick look can kill."),
    ),
    Misuse(
        marked("bridging, removing or changing a protective device because it trips"),
        marked("It has found a fault. Without it the same fault ends in a fire, a burst or a live case."),
    ),
    Misuse(
        marked("going on past a hold point that failed, or without the signature"),
        marked("Everything that follows relies on it."),
    ),
    Misuse(
        marked("leaving it on unwatched, or on a timer, with a new kit"),
        marked("Joints and leads show their faults in the first hours of heat. Somebody has to be there to see them."),
    ),
    Misuse(
        marked("fitting the kit to another machine, variant or revision"),
        marked("Distances to live parts, seats of devices and sizes of joints were checked only for that one."),
    ),
    Misuse(
        marked("using other parts, seals, hoses or solder than the list names"),
        marked("They were chosen for heat, pressure and drinking water together."),
    ),
    Misuse(
        marked("heating it empty, or filling it with anything but drinking water"),
        marked("A dry boiler destroys itself and what is beside it. Milk and cleaners foam, clog and eat into metal."),
    ),
)  # fmt: skip

PERSON = (
    marked("Never alone: a second adult is within call and knows where the power is cut off."),
    marked("Not tired, ill or in a hurry, and not after alcohol, drugs or medicine that makes drowsy."),
    marked("Take off rings, watches and anything that dangles."),
)
PLACE = (marked("Keep children and animals out of the room, during breaks too, until the machine is closed."),)
KITS = marked(
    "Kits come off in the reverse of the order in which they went on, the last one first, each by its own "
    "restoring instruction."
)


def head_words(record: Assessment) -> dict[str, Any]:
    """What the head of an instruction prints: conditions for person and place, use and misuse of this pair."""
    machine = gettext("{variant} that nobody has changed except as a guide here says").format(
        variant=record.variant.name
    )
    kit = gettext("{kit}, revision {revision},").format(kit=record.kit.name, revision=record.kit.revision)
    return {
        "intended": gettext(INTENDED).format(kit=kit, machine=machine),
        "misuses": [gettext(one.what) for one in MISUSES],
        "person": [gettext(one) for one in (*PERSON, NOT_BY_READING)],
        "place": [gettext(one) for one in PLACE],
    }


def safety_blocks() -> dict[str, Markup]:
    """The same for hand-written pages, as HTML: `roles`, `use`, `before`."""
    machine = gettext("machine of the variant that its guide names")
    values = {"roles": ROLES, "general": gettext(INTENDED).format(kit=gettext("kit"), machine=machine),
              "misuses": MISUSES, "person": PERSON, "place": (*PLACE, KITS), "not_by_reading": NOT_BY_READING,
              "said": gettext}  # fmt: skip
    parts = ("roles", "use", "before")
    return {name: Markup(_one_block(render("conduct.html", part=name, **values))) for name in parts}


def _one_block(html: str) -> str:
    """Without empty lines, at which Markdown would take the rest for its own."""
    return "\n".join(line for line in html.splitlines() if line.strip())
