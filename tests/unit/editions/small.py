"""Small records as plain data, in the form that an edition's snapshot is made from; every part is invented."""

from __future__ import annotations

import copy
import datetime
from typing import Any

from guidegen.editions.edition import Edition, GuideFacts, Notice

Data = dict[str, Any]

HOT = {
    "id": "hot-parts",
    "kind": "heat",
    "word": "WARNING",
    "type_of_hazard": "Hot parts",
    "consequence": "They burn.",
    "how_to_avoid": ["Wait."],
}
SWARF = {
    "id": "swarf",
    "kind": "cutting",
    "word": "CAUTION",
    "type_of_hazard": "Sharp edges",
    "consequence": "They cut.",
    "how_to_avoid": ["Wear gloves."],
}


def figure(value: float, low: float | None = None, high: float | None = None) -> Data:
    """A computed value."""
    return {"value": value, "low": low, "high": high, "reason": None}


def step(key: str, do: str, **more: Any) -> Data:
    """A step with everything that a record says of one."""
    blank: Data = {
        "key": key,
        "anchor": "",
        "number": "",
        "do": do,
        "why": None,
        "only_if": None,
        "role": "anyone",
        "minutes": 1.0,
        "reversible": True,
        "figure": None,
        "hazards": [],
        "notes": [],
        "keeps_control": None,
        "release": None,
        "seat": None,
        "uses": {"tools": [], "parts": [], "consumables": []},
        "numbers": [],
        "torque": None,
        "hold": None,
        "place": "content/procedures/kit.yml:10:5",
    }
    return {**blank, **more}


def hold(limit: str, fail: str | None = None) -> Data:
    """A hold point with a limit."""
    way = fail and {"stop": None, "who_can_help": None, "number": "1.1", "anchor": fail}
    return {
        "criterion": "It holds.",
        "method": "Look.",
        "accept": {"sense": "at_most", "limit": limit, "instrument": "meter", "evidence": "standard", "source": None},
        "record": None,
        "on_fail": way,
    }


def course(*phases: list[Data], name: str = "fitting") -> Data:
    """A course with its steps numbered as a record numbers them."""
    made = []
    for number, steps in enumerate(phases, 1):
        for index, one in enumerate(steps, 1):
            one["number"] = f"{number}.{index}"
            one["anchor"] = f"{name}-{one['key'].replace('/', '-')}"
        made.append({"id": f"p{number}", "number": number, "name": f"Phase {number}", "minutes": 1.0, "stop": None,
                     "steps": steps})  # fmt: skip
    return {"minutes": 1.0, "phases": made, "remedies": []}


def steps() -> list[Data]:
    """A short piece of work: a harmless step, a hot one, one with a torque, one with a limit."""
    return [
        step("work/label", "Label the leads."),
        step("work/touch", "Touch the boiler.", hazards=[copy.deepcopy(HOT)]),
        step("work/photo", "Take a photograph."),
        step("work/tighten", "Tighten the bolts.", torque={"is": "5 N·m", "thread": "M5", "state": "dry"}),
        step("work/measure", "Measure the leak.", hold=hold("2 drops", "fitting-work-label")),
    ]


def record(variant: str = "plain-one", kit: str = "collar", work: list[Data] | None = None, **more: Any) -> Data:
    """A record of one pair."""
    inputs = [
        {"id": "boiler.mass", "name": "Boiler, empty", "value": 0.5, "low": 0.49, "high": 0.51, "unit": "kg",
         "text": "500 g ± 10 g", "evidence": "assumed", "source": None, "settles": "weigh it",
         "place": "machines/plain/family.yml:14:9"},
    ]  # fmt: skip
    made: Data = {
        "format": 1,
        "variant": {"id": variant, "family": "plain", "name": variant.title(), "setpoint_degc": 103.0},
        "kit": {"id": kit, "name": kit.title(), "revision": "A"},
        "edition": "next",
        "fit": {
            "outcome": "fits",
            "reasons": [{"id": "wall", "says": "The wall is tall enough.", "met": True, "remedy": None}],
        },
        "drinks": {"double": {"name": "Double", "with": {"sensor_drop_k": figure(5.0, 4.5, 5.5)}}},
        "shot": {"with": {"time_s": [float(i) for i in range(20)], "sensor_degc": [100.0] * 20}},
        "torques": [{"id": "bolts", "what": "4 bolts", "nominal_n_m": 5.0, "plus_minus_n_m": 0.5, "thread": "M5",
                     "state": "dry", "source": "table"}],
        "protrusions": [{"id": "boss", "name": "boss", "action": "leave"}],
        "downsides": [{"id": "mass", "about": "mass", "what": "Heavier.", "likely": "certain", "do": "Nothing."}],
        "restore": {"possible": True, "how": "Take it off."},
        "inputs": inputs,
        "lint": [],
        "before_fitting": [],
        "before_restoring": [],
        "together": [],
        "procedure": {
            "title": "Fitting",
            "hazards": [copy.deepcopy(HOT), copy.deepcopy(SWARF)],
            "preliminary": [],
            "aftercare": [],
            "stop_use": ["Any drop."],
            "uses": {"tools": [{"id": "key", "name": "4 mm key", "steps": ["1.4"]}], "parts": [], "consumables": []},
            "fitting": course(steps() if work is None else work),
            "restoring": None,
        },
    }  # fmt: skip
    return {**made, **more}


def edition(name: str, supersedes: str | None = None, day: int = 1, **more: Any) -> Edition:
    """An edition's facts, with one guide."""
    guides = more.pop("guides", {"plain-one/collar": "A"})
    note = more.pop("note", None)
    facts = {key: GuideFacts(title=key, outcome="fits", revision=revision) for key, revision in guides.items()}
    return Edition(
        edition=name,
        date=datetime.date(2025, 3, day),
        supersedes=supersedes,
        reason=more.pop("reason", f"Reason of {name}."),
        notice=Notice(text=note, guides=tuple(guides)) if note else None,
        guides=facts,
    )
