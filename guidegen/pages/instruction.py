"""The fitting instruction and the way back: what their templates are given, and the same as schema.org data."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from guidegen.language import gettext
from guidegen.pages import words
from guidegen.pages.numbers import Numbers
from guidegen.pages.page import rel
from guidegen.pages.place import has_restore, variant_path
from guidegen.record import Assessment

MAIN_DRINK = "double"
Step = dict[str, Any]


def install_values(record: Assessment, path: str, numbers: Numbers) -> dict[str, Any]:
    """What the install page's template needs beyond the record."""
    procedure = _procedure(record)
    steps = [step for phase in procedure["fitting"]["phases"] for step in phase["steps"]]
    return {
        **_shared(record, path, procedure["fitting"]),
        "main_drink": MAIN_DRINK,
        "outcome_word": words.outcome(record.fit.outcome),
        "irreversible": [step for step in steps if not step["reversible"]],
        "restorable": has_restore(record),
    }


def restore_values(record: Assessment, path: str, numbers: Numbers) -> dict[str, Any]:
    """What the restoring page's template needs beyond the record."""
    return _shared(record, path, _procedure(record)["restoring"])


def _procedure(record: Assessment) -> dict[str, Any]:
    if record.procedure is None:
        raise ValueError("a pair without a procedure has no instruction")
    return record.procedure


def _shared(record: Assessment, path: str, part: dict[str, Any]) -> dict[str, Any]:
    return {
        "p": record.procedure,
        "part": part,
        "glance": [
            {
                **{name: phase[name] for name in ("id", "number", "name", "minutes", "only_if")},
                "count": len(phase["steps"]),
                "holds": sum(step["hold"] is not None for step in phase["steps"]),
                "stop": phase["stop"] is not None,
            }
            for phase in part["phases"]
        ],
        "safety_page": rel(path, "safety.html"),
        "variant_page": rel(path, variant_path(record.variant.id)),
        "shown_numbers": shown_numbers,
        "number_name": words.number_name,
        "roles": {role: gettext(text) for role, text in words.ROLES.items()},
        "senses": {sense: gettext(text) for sense, text in words.SENSES.items()},
    }


def shown_numbers(step: Step) -> Iterator[dict[str, Any]]:
    """The numbers of a step whose origin is not said elsewhere in it: by its hold point or its torque."""
    accept = (step["hold"] or {}).get("accept") or {}
    for one in step["numbers"]:
        if one["text"] == accept.get("limit") and one["source"] == accept.get("source"):
            continue
        if step["torque"] and one["text"] in (step["torque"]["is"], step["torque"]["thread"]):
            continue
        yield one


# --- schema.org --------------------------------------------------------------------------------------


def how_to(record: Assessment) -> dict[str, Any]:
    """The instruction as schema.org HowTo; each hazard stands before what it warns of, as on the page."""
    procedure = _procedure(record)
    uses = procedure["uses"]
    return {
        "@context": "https://schema.org",
        "@type": "HowTo",
        "name": gettext("Fit the {kit} to the {variant}").format(kit=record.kit.name, variant=record.variant.name),
        "description": record.kit.summary,
        "totalTime": f"PT{round(procedure['minutes'])}M",
        "tool": [{"@type": "HowToTool", "name": one["name"]} for one in uses["tools"]],
        "supply": [
            {"@type": "HowToSupply", "name": one["name"]} for kind in ("parts", "consumables") for one in uses[kind]
        ],
        "step": [
            {
                "@type": "HowToSection",
                "name": f"{phase['number']} {phase['name']}",
                "itemListElement": [_how_to_step(step) for step in phase["steps"]],
            }
            for phase in procedure["fitting"]["phases"]
        ],
    }


def _how_to_step(step: Step) -> dict[str, Any]:
    tips = [
        " ".join(filter(None, (f"{words.signal(one['word'])}: {one['type_of_hazard']}.", one["consequence"])))
        for one in step["hazards"]
    ]
    if step["hold"]:
        tips.append(gettext("Hold point: {criterion}").format(criterion=step["hold"]["criterion"]))
    return {
        "@type": "HowToStep",
        "name": step["number"],
        "url": f"#{step['anchor']}",
        "itemListElement": [
            *({"@type": "HowToTip", "text": tip} for tip in tips[: len(step["hazards"])]),
            {"@type": "HowToDirection", "text": step["do"]},
            *({"@type": "HowToTip", "text": tip} for tip in tips[len(step["hazards"]) :]),
        ],
    }


def how_to_script(record: Assessment) -> str:
    """The same for the page's head: data, not code. No `<` is left that could end the element early."""
    text = json.dumps(how_to(record), ensure_ascii=False, separators=(",", ":"))
    for sign, escaped in (("<", "\\u003c"), (">", "\\u003e"), ("&", "\\u0026")):
        text = text.replace(sign, escaped)
    return f'<script type="application/ld+json">{text}</script>'
