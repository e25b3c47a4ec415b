"""The plan sheet: where the probes go, what is run in which order, what is written down, and when to stop."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from guidegen.language import gettext, marked, translation
from guidegen.record.scene import Scene
from guidegen.record.stated import Protrusion
from guidegen.site.drawings.files import svg_without_list
from guidegen.site.drawings.scene_views import SceneViews, scene_views
from guidegen.site.drawings.view import Drawing
from guidegen.site.pages.paper.frame import PAPERS
from guidegen.site.pages.sentences import sentence

PROBES: Mapping[str, str] = {
    "sensor": marked("the temperature sensor of the control, or a probe beside it"),
    "boiler-wall": marked("the boiler's wall, under its clamp or tape, not touching the coil"),
    "group": marked("the group's metal, pressed on or in a drilled screw"),
    "outlet": marked("the water that leaves the group, below the basket"),
    "coil-out": marked("the water that leaves the coil, in its outlet fitting"),
    "coil-metal": marked("the coil's tube, in the middle of its height"),
    "heater": marked("a power meter in the mains lead, logged"),
}
"""By place, where exactly a probe sits."""
RUNS: Mapping[str, str] = {
    "cold-start": marked(
        "Cold start: let it stand overnight, start the log, then switch on. Draw nothing. Log for 25 minutes."
    ),
    "shot": marked(
        "Drink: warm for 45 minutes, and 10 minutes after the last draw. Log from one minute before the drink until "
        "five minutes after it. Five of them."
    ),
    "long-draw": marked(
        "Long draw: warm as for a drink, then draw three times as much at the flow of a drink, without a puck if the "
        "flow can be held. Log from one minute before until two minutes after."
    ),
    "cooling": marked("Cooling: warm for 45 minutes, start the log, then switch off. Log for an hour with the lid on."),
}
WRITE_DOWN = (
    marked("day, time, name, serial number of the machine, configuration, block"),
    marked("kind and class of each probe, and where it sits"),
    marked("setpoint on the display, room, water in the tank before and after"),
    marked("mass in the cup and time of each drink; whatever went otherwise than planned"),
)
STOPS = (
    marked("The safety valve opens, a joint drips, or steam comes from anywhere but its outlet: switch off, pull the "
           "plug, let it cool. The run does not count."),
    marked("A display or a probe reads more than 10 °C above the setpoint: switch off."),
    marked("The residual-current device trips: do not switch on again; have the machine looked at."),
    marked("The water in the tank has changed by more than 1 °C within a block: wait, and begin the block again."),
    marked("The planned number is reached: stop, also where the result does not please. What was left out is written "
           "down with its reason."),
)  # fmt: skip
HEAD = (marked("Block"), marked("Order"), marked("Water in tank"), marked("Cup, time"), marked("Remarks"))
"""Columns of the order of drinks."""


@dataclass(frozen=True)
class PlanSheet:
    """What is to be printed. things: by probe, what of the drawings it is at; runs: kind, kits and added probe."""

    variant: str
    kits: tuple[str, ...]
    paper: str
    invented: bool
    scene: Scene
    protrusions: Sequence[Protrusion]
    probes: tuple[str, ...]
    things: Mapping[str, str]
    runs: tuple[tuple[str, tuple[str, ...], str], ...]
    blocks: tuple[tuple[tuple[str, ...], ...], ...]
    seed: int
    half_width: float


def plan_data(sheet: PlanSheet) -> dict[str, Any]:
    """What the template prints."""
    numbers = {place: number for number, place in enumerate(sheet.probes, 1)}
    return {
        **_head(sheet),
        "probes_title": gettext("Probes"),
        "probes": [[str(number), gettext(PROBES[place])] for place, number in numbers.items()],
        "pictures": list(_pictures(sheet, numbers)),
        "runs_title": gettext("Runs, the most useful first"),
        "runs_head": [gettext("Run"), gettext("With"), gettext("Probe that it needs beside the sensor")],
        "runs": [_run(one) for one in sheet.runs],
        "ways": [gettext(RUNS[kind]) for kind in dict.fromkeys(kind for kind, _, _ in sheet.runs)],
        **_order(sheet),
        "write_title": gettext("To be written down"),
        "write": [gettext(one) for one in WRITE_DOWN],
        "stop_title": gettext("When to stop"),
        "stop": [gettext(one) for one in STOPS],
    }


def _head(sheet: PlanSheet) -> dict[str, Any]:
    """What stands at the head and the foot of each page, and the caution before all else."""
    name = gettext("plan of runs")
    pair = gettext("{variant} with {kit}").format(variant=sheet.variant, kit=" + ".join(sheet.kits))
    invented = gettext("Invented for a demonstration: do not work on a real machine from this.")
    return {
        "lang": translation().code.partition("-")[0],
        "paper": PAPERS[sheet.paper],
        "title": gettext("{pair}: {sheet}").format(pair=pair, sheet=name),
        "name": sentence(name),
        "pair": pair,
        "identity": gettext("seed {seed}").format(seed=sheet.seed),
        "case": "",
        "page": gettext("page {page} of {pages}"),
        "address": "",
        "draft": "",
        "invented": invented if sheet.invented else "",
        "caution": gettext(
            "Probes on a boiler lie beside live parts and under pressure. Whoever opens the machine needs the skills "
            "that its guide asks for; work on mains leads is for an electrically skilled person, and local rules hold. "
            "Pull the plug and let it cool before any probe is touched. Power meters go between plug and socket only."
        ),
    }


def _order(sheet: PlanSheet) -> dict[str, Any]:
    """The blocks, with room for what is read in each."""
    changes = sum(one != other for one, other in pairwise(one for block in sheet.blocks for one in block))
    title = gettext("Drinks for before and after: order drawn by chance with seed {seed}")
    note = gettext(
        "So many blocks let a change of the dip be known to ± {half} °C. The order within a block is part of the "
        "proof: keep it. It takes {changes} changes of configuration."
    )
    return {
        "order_title": title.format(seed=sheet.seed),
        "order_note": note.format(half=f"{sheet.half_width:g}", changes=changes),
        "head": [gettext(one) for one in HEAD],
        "blocks": [[str(at), *map(_configuration, block)] for at, block in enumerate(sheet.blocks, 1)],
    }


def _configuration(kits: tuple[str, ...]) -> str:
    return " + ".join(kits) or gettext("without kit")


def _run(one: tuple[str, tuple[str, ...], str]) -> list[str]:
    kind, kits, place = one
    what = {"cold-start": gettext("Cold start"), "shot": gettext("Five drinks"), "long-draw": gettext("Long draw"),
            "cooling": gettext("Cooling")}[kind]  # fmt: skip
    return [what, _configuration(kits), gettext(PROBES[place])]


def _pictures(sheet: PlanSheet, numbers: Mapping[str, int]) -> Iterator[dict[str, str]]:
    """The elevation with what of the probes is on it, and the fewest other views for the rest."""
    views = scene_views(sheet.scene, sheet.protrusions)
    elevation = views.views.get("elevation")
    here = [one for one in sheet.things.values() if elevation is not None and views.place(elevation, one) is not None]
    if elevation is not None and here:
        yield _picture(views, elevation, here, sheet, numbers)
    for view, things in views.showing(one for one in sheet.things.values() if one not in here):
        yield _picture(views, view, things, sheet, numbers)


def _picture(
    views: SceneViews, view: Drawing, things: Sequence[str], sheet: PlanSheet, numbers: Mapping[str, int]
) -> dict[str, str]:
    at = {thing: numbers[place] for place, thing in reversed([*sheet.things.items()]) if thing in things}
    words = gettext("{view}; the numbers are those of the probes.").format(view=view.title)
    return {"svg": svg_without_list(view, views.listed(view, at), "paper"), "alt": words, "title": view.title}
