"""What pages say to programs: schema.org data in JSON-LD, and nothing in it that the page does not say.

The vocabulary (HowTo and its parts, Product, Offer) and the form of durations (ISO 8601) are from memory.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from guidegen.language import gettext
from guidegen.record import Assessment
from guidegen.record.step import InstructionStep
from guidegen.site.pages import effort, sentences

CONTEXT = "https://schema.org"


def script(data: Mapping[str, Any]) -> str:
    """The data for a page's head: data, not code. No `<` is left that could end the element early."""
    text = json.dumps({"@context": CONTEXT, **data}, ensure_ascii=False, separators=(",", ":"))
    for sign, escaped in (("<", "\\u003c"), (">", "\\u003e"), ("&", "\\u0026")):
        text = text.replace(sign, escaped)
    return f'<script type="application/ld+json">{text}</script>'


def duration(minutes: float) -> str:
    """A time as ISO 8601 writes it, in hours and minutes, to the minute.

    >>> duration(95), duration(960), duration(0)
    ('PT1H35M', 'PT16H', 'PT0M')
    """
    hours, left = divmod(round(minutes), 60)
    return "PT" + (f"{hours}H" if hours else "") + (f"{left}M" if left or not hours else "")


def how_to(record: Assessment) -> dict[str, Any]:
    """The instruction as schema.org HowTo; each hazard stands before what it warns of, as on the page."""
    procedure = record.procedure
    assert procedure is not None
    uses = procedure.uses
    return {
        "@type": "HowTo",
        "name": gettext("Fit the {kit} to the {variant}").format(kit=record.kit.name, variant=record.variant.name),
        "description": record.kit.summary,
        **_times(record, procedure.minutes),
        "tool": [{"@type": "HowToTool", "name": one.name} for one in uses.tools],
        "supply": [{"@type": "HowToSupply", "name": one.name} for one in (*uses.parts, *uses.consumables)],
        "step": [
            {
                "@type": "HowToSection",
                "name": f"{phase.number} {phase.name}",
                "itemListElement": [_how_to_step(step) for step in phase.steps],
            }
            for phase in procedure.fitting.phases
        ],
    }


def _times(record: Assessment, minutes: float) -> dict[str, str]:
    """The time of the hands, and with the waits the whole; of records that do not say the waits, the first alone."""
    found = effort.days(record)
    waits = found.waits if found else ()
    times = {"performTime": duration(minutes)}
    return times | ({"totalTime": duration(minutes + sum(waits))} if waits else {})


def _how_to_step(step: InstructionStep) -> dict[str, Any]:
    tips = [
        " ".join(filter(None, (f"{sentences.signal(one.word)}: {one.type_of_hazard}.", one.consequence)))
        for one in step.hazards
    ]
    if step.hold:
        tips.append(gettext("Hold point: {criterion}").format(criterion=step.hold.criterion))
    return {
        "@type": "HowToStep",
        "name": step.number,
        "url": f"#{step.anchor}",
        "itemListElement": [
            *({"@type": "HowToTip", "text": tip} for tip in tips[: len(step.hazards)]),
            {"@type": "HowToDirection", "text": step.do},
            *({"@type": "HowToTip", "text": tip} for tip in tips[len(step.hazards) :]),
        ],
    }
