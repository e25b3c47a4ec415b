"""One-place changes of a draft, each a function that a row of the table holds.

A block is named `open` (a shared block), `take-out/` (a phase of the procedure), `restore:take-out/` (a phase of
the restoring) or `remedy:after-heat` (a remedy in shared.yml).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from guidegen.judge.safety.guide import KitSide
from tests.mutants.draft import Draft

Change = Callable[[Draft], None]
GONE = object()


def entries(draft: Draft, block: str) -> list[dict[str, Any]]:
    """Return the entries of a block."""
    if block.startswith("remedy:"):
        found = [one for one in draft.shared["remedies"] if one["id"] == block.removeprefix("remedy:")]
    elif block.startswith("restore:"):
        phases = draft.procedure["restore"]["phases"]
        found = [one for one in phases if one["id"] == block.removeprefix("restore:").rstrip("/")]
    elif block.endswith("/"):
        found = [one for one in draft.procedure["phases"] if one["id"] == block.rstrip("/")]
    else:
        found = [draft.shared["blocks"][block]]
    (one,) = found
    steps: list[dict[str, Any]] = one["steps"]
    return steps


def spot(draft: Draft, block: str, name: str) -> tuple[list[dict[str, Any]], int]:
    """Return the list that holds a step (or the include of a block) and its index there; repeated steps count."""
    return _spot(entries(draft, block), name)


def _spot(steps: list[dict[str, Any]], name: str) -> tuple[list[dict[str, Any]], int]:
    for index, entry in enumerate(steps):
        if name in (entry.get("id"), f"+{entry.get('include')}"):
            return steps, index
        if "each" in entry:
            try:
                return _spot(entry["steps"], name)
            except LookupError:
                continue
    raise LookupError(name)


def drop(block: str, name: str) -> Change:
    """Leave a step out; `+open` is the include of the block `open`."""

    def change(draft: Draft) -> None:
        steps, index = spot(draft, block, name)
        del steps[index]

    return change


def later(block: str, name: str, other: str, before: str) -> Change:
    """Put a step above another of another list."""

    def change(draft: Draft) -> None:
        steps, index = spot(draft, block, name)
        step = steps.pop(index)
        aim, place = spot(draft, other, before)
        aim.insert(place, step)

    return change


def all_of(*changes: Change) -> Change:
    """Make several changes."""

    def change(draft: Draft) -> None:
        for one in changes:
            one(draft)

    return change


def move(block: str, name: str, before: str) -> Change:
    """Put a step above another of the same list."""

    def change(draft: Draft) -> None:
        steps, index = spot(draft, block, name)
        step = steps.pop(index)
        steps.insert(_spot(steps, before)[1], step)

    return change


def insert(block: str, before: str, step: dict[str, Any]) -> Change:
    """Write one more step above another."""

    def change(draft: Draft) -> None:
        steps, index = spot(draft, block, before)
        steps.insert(index, {"minutes": 1, **step})

    return change


def write(block: str, name: str, path: str, value: Any, nth: int = 0) -> Change:
    """Write another value of a field: `hold.accept.at_most`. `nth` picks among steps of one id."""

    def change(draft: Draft) -> None:
        steps, index = spot(draft, block, name)
        for _ in range(nth):
            index += 1 + [one.get("id") for one in steps[index + 1 :]].index(name)
        put(steps[index], path, value)

    return change


def erase(block: str, name: str, path: str, nth: int = 0) -> Change:
    """Leave a field out."""
    return write(block, name, path, GONE, nth)


def put(thing: Any, path: str, value: Any) -> None:
    """Write or erase one value below a thing; numbers in the path are indices."""
    *way, last = (int(part) if part.isdigit() else part for part in path.split("."))
    for part in way:
        thing = thing[part]
    if value is GONE:
        del thing[last]
    else:
        thing[last] = value


def hazard(name: str, path: str, value: Any = GONE) -> Change:
    """Write or erase a field of a statement."""
    return lambda draft: put(draft.hazards["hazards"][name], path, value)


def top(path: str, value: Any = GONE) -> Change:
    """Write or erase a field of the procedure."""
    return lambda draft: put(draft.procedure, path, value)


def value(name: str, path: str, new: Any = GONE) -> Change:
    """Write or erase a field of a stated value of shared.yml."""
    return lambda draft: put(draft.shared["values"][name], path, new)


def phase(name: str, path: str, new: Any = GONE) -> Change:
    """Write or erase a field of a phase."""

    def change(draft: Draft) -> None:
        (one,) = [one for one in draft.procedure["phases"] if one["id"] == name]
        put(one, path, new)

    return change


def remedy(name: str, path: str, new: Any = GONE) -> Change:
    """Write or erase a field of a remedy."""

    def change(draft: Draft) -> None:
        (one,) = [one for one in draft.shared["remedies"] if one["id"] == name]
        put(one, path, new)

    return change


def kit(**changes: Callable[[Any], Any]) -> Change:
    """Change fields of the kit."""

    def change(draft: Draft) -> None:
        side: KitSide = draft.kit
        draft.kit = replace(side, **{name: make(getattr(side, name)) for name, make in changes.items()})

    return change


def device(name: str, **changes: Any) -> Change:
    """Change what is known of a safety device."""

    def change(draft: Draft) -> None:
        devices = tuple(replace(one, **changes) if one.id == name else one for one in draft.machine.devices)
        draft.machine = replace(draft.machine, devices=devices)

    return change


def paper(**changes: Any) -> Change:
    """Change what the guide says of itself."""

    def change(draft: Draft) -> None:
        draft.paper = replace(draft.paper, **changes)

    return change
