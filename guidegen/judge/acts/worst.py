"""What is assumed of a thing that an act names without an effect of the kernel: the worst.

Whatever was valid of it is undone, and the machine must be off, cool and without pressure before it is touched. So a
sentence that means more than it seems costs its author a new test, and earns no state.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from guidegen.judge.acts.things import MOVED, Thing, Things

#: what may be undone on a thing of a safety kind; `earth` and `open` are of the machine, the others of what is named
WORST: dict[str, tuple[str, ...]] = {
    "bolt": ("joints", "earth"),
    "boiler": ("joints", "earth"),
    "casing": ("earth",),
    "cover": ("earth", "open"),
    "device": ("devices", "leads"),
    "earth": ("leads",),
    "coil": ("joints", "earth"),
    "bands": ("joints", "earth"),
    "face": ("joints",),
    "faces": ("joints",),
    "gasket": ("joints",),
    "new-gasket": ("joints",),
    "heater": ("joints", "leads"),
    "hose": ("joints",),
    "new-hose": ("joints",),
    "mains-terminals": ("leads",),
    "joint": ("joints",),
    "lead": ("leads",),
    "protrusion": ("joints", "earth"),
    "seat": ("devices",),
    "sensor": ("devices",),
    "tap": ("joints",),
    "terminals": ("leads",),
    "unknown": ("devices", "joints", "leads", "earth"),
}
HANGS = {"joints": "joint", "leads": "lead"}
"""What can hang on a thing: the kinds that have two ends."""


def worst(named: tuple[Thing, ...], things: Things, dead: str) -> dict[str, Any]:
    """The fields of a step that names these things: what it disturbs, and what must be true before."""
    parts = [things.get(name) or thing for thing in named for name in thing.members]
    hit: dict[str, list[str]] = {}
    for part in parts:
        for what, name in _undone(part, things):
            hit.setdefault(what, []).append(name)
    if not hit:
        return {}
    wired, wet = "leads" in hit, "joints" in hit
    moved = {what: list(dict.fromkeys(names)) for what, names in sorted(hit.items()) if what in MOVED.values()}
    return {
        "requires": {"mains": dead if wired else "off", "temperature": "cool", "pressure": "released"}
        | ({"water": "drained"} if wet else {}),
        "sets": {"enclosure": "open"} if "open" in hit else {},
        "disturbs": {**moved, "earth": "earth" in hit},
        "role": "wiring" if wired else "hand-tools",
    }


def _undone(thing: Thing, things: Things) -> Iterator[tuple[str, str]]:
    """What may be undone, and of what: of the thing itself, or of what hangs on it."""
    if thing.kind not in WORST:
        yield from ((what, name) for what in HANGS for name in _hanging(thing, what, things))
    for what in WORST.get(thing.kind, ()):
        others = [] if MOVED.get(thing.kind) == what else _hanging(thing, what, things)
        yield from ((what, name) for name in others or [thing.id])


def _hanging(thing: Thing, what: str, things: Things) -> list[str]:
    """The joints or leads that end at a thing; for a seat, every device."""
    if thing.kind == "seat" and what == "devices":
        return [one.id for one in things.by_id.values() if one.kind == "device" and one.members == (one.id,)]
    return [one.id for one in things.by_id.values() if one.kind == HANGS.get(what) and thing.id in one.ends]
