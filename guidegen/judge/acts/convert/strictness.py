"""What a step of the old form asked for or did, and the step of an act in its place does not."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from guidegen.judge.acts.effects import ROLES
from guidegen.judge.safety.hazard_kinds import needed_by
from guidegen.judge.safety.state import CHAINS, EXACT
from guidegen.workshop.steps import Hold, Step

Says = Callable[[str], str]
"""A text with the facts in it under one name each."""
SENSES = ("at_most", "at_least", "within")
KEPT_WHOLE = ("relief", "cut", "seat", "supply", "isolate", "prove", "cooling", "torque")
"""Parts of a step whose every stated value the act must have too; what they say in prose aside."""
PROSE = ("control", "position", "clamp")
LISTS = ("records", "verifies", "earth_points", "insulation_of", "touches", "acts")
USED = ("tools", "parts", "consumables")
UNCLAIMED = {"undo-screws", "close-tap"}
"""Acts that steps of the old form could not name; no rule takes them for a proof of anything."""


def weaker(old: Step, new: Step, same: Says) -> Iterator[str]:
    """Everything in which the new step is less strict than the old one, or does something else.

    `same` puts the names of one thing into one form, as `{control_thermostat.id}` and the id it stands for.
    """
    yield from _states(old, new)
    for name in ("removes", "refits"):
        yield from _moves(name, getattr(old, name), getattr(new, name), same)
    for name in LISTS:
        before, after = (set(map(same, getattr(one, name))) for one in (old, new))
        if lost := before - after:
            yield f"{name}: without {', '.join(sorted(lost))}"
        # A photograph of a device shows its leads as well.
        shown = {f"{one}-leads" for one in before} if name == "records" else set()
        if name != "touches" and (more := after - before - UNCLAIMED - shown):
            yield f"{name}: also {', '.join(sorted(more))}, which the old step does not do"
    if missing := unused(old, new, ("tools", "consumables")):
        yield f"uses: without {', '.join(missing)}"
    if lost := set(old.hazards) - {*new.hazards, *needed_by(new)}:
        yield f"hazards: without {', '.join(sorted(lost))}"
    if (old.as_found, old.reversible) != (new.as_found, new.reversible):
        yield "as_found or reversible is another"
    if ROLES.index(new.role) < ROLES.index(old.role):
        yield f"role: {new.role} in place of {old.role}"
    yield from _parts(old, new, same)
    yield from _hold(old.hold, new.hold, same)


def unused(old: Step, new: Step, kinds: Sequence[str] = USED) -> tuple[str, ...]:
    """What the old step takes in hand and the new one does not."""
    taken = {one for kind in USED for one in getattr(new.uses, kind)}
    return tuple(one for kind in kinds for one in getattr(old.uses, kind) if one not in taken)


def _states(old: Step, new: Step) -> Iterator[str]:
    for name, value in old.requires.items():
        found, chain = new.requires.get(name), CHAINS[name]
        exact = (name, value) in EXACT
        if found is None or (found != value if exact else chain.index(found) < chain.index(value)):
            yield f"requires: without {name}: {value}"
    if old.sets != new.sets:
        yield f"sets: {_given(new.sets)} in place of {_given(old.sets)}"


def _given(values: dict[str, str]) -> str:
    return ", ".join(f"{name} {value}" for name, value in values.items()) or "nothing"


def _moves(name: str, old: Any, new: Any, same: Says) -> Iterator[str]:
    """Moves are the same, or it is another step: neither more nor less comes off or goes on."""
    for kind in ("devices", "joints", "leads"):
        before, after = (set(map(same, getattr(one, kind, ()))) for one in (old, new))
        if before != after:
            is_, was = (", ".join(sorted(names)) or "nothing" for names in (after, before))
            yield f"{name}: {is_} in place of {was}"
    if getattr(old, "permanent", False) != getattr(new, "permanent", False):
        yield f"{name}: permanent is another"


def _parts(old: Step, new: Step, same: Says) -> Iterator[str]:
    for name in KEPT_WHOLE:
        before, after = getattr(old, name), getattr(new, name)
        if before is None:
            if after is not None:
                yield f"{name}: the old step has none"
            continue
        if after is None:
            yield f"{name}: lost"
            continue
        was, is_ = (one.model_dump(exclude_none=True, exclude=set(PROSE)) for one in (before, after))
        for key, value in was.items():
            if value and not _holds(value, is_.get(key), same):
                yield f"{name}.{key.rstrip('_')}: {is_.get(key)} in place of {value}"
    for name in ("release", "clearance"):
        if (getattr(old, name) is None) != (getattr(new, name) is None):
            yield f"{name}: one of the two steps has none"
    yield from _leak(old, new)


def _holds(value: Any, found: Any, same: Says) -> bool:
    """Return whether a stated value is still there; evidence and source of a fact may have moved to the fact."""
    if isinstance(value, dict):
        return isinstance(found, dict) and _holds(value["is_"], found.get("is_"), same) if "is_" in value else False
    if isinstance(value, str):
        return isinstance(found, str) and same(value) == same(found)
    return bool(value == found)


def _leak(old: Step, new: Step) -> Iterator[str]:
    if old.leak is None and new.leak is None:
        return
    if old.leak is None or new.leak is None:
        yield "leak: one is a leak test, the other is not"
    elif (old.leak.rung, old.leak.medium) != (new.leak.rung, new.leak.medium):
        yield "leak: another test"
    elif not set(old.leak.joints) <= set(new.leak.joints):
        yield "leak: without some joints"


def _hold(old: Hold | None, new: Hold | None, same: Says) -> Iterator[str]:
    if old is None:
        return
    if new is None:
        yield "hold: lost"
        return
    yield from _accept(old, new, same)
    if old.record and not new.record:
        yield f'record: without "{old.record}"'
    if old.on_fail is None or new.on_fail is None:
        return
    if bool(old.on_fail.stop) != bool(new.on_fail.stop) or old.on_fail.goto != new.on_fail.goto:
        was, is_ = (one.goto or "a stop" for one in (old.on_fail, new.on_fail))
        yield f"on_fail: leads to {is_} in place of {was}"


def _accept(old: Hold, new: Hold, same: Says) -> Iterator[str]:
    if old.accept is None:
        return
    if new.accept is None:
        yield "accept: lost"
        return
    for sense in SENSES:
        was, is_ = (getattr(one, sense) for one in (old.accept, new.accept))
        if was is None:
            continue
        if is_ is None or not _same_limit(was, is_, same):
            yield f"accept: {is_ or 'nothing'} in place of {sense} {was}"
    if old.accept.instrument not in (None, new.accept.instrument):
        yield f"accept: read with {new.accept.instrument} in place of {old.accept.instrument}"


def _same_limit(was: str, is_: str, same: Says) -> bool:
    """Counts are compared by their number: 0 new valves are 0 valves."""
    return same(was) == same(is_) or (was.split(" ")[0] == is_.split(" ")[0] == "0")


def unsaid(old: Step, new: Step, same: Says) -> Iterator[tuple[str, str]]:
    """The texts of the old step that the new one does not have: the field, and the words."""
    pairs: list[tuple[str, Any, Any]] = [("do", old.do, new.do), ("why", old.why, new.why)]
    pairs += [("notes", one, one if one in new.notes else None) for one in old.notes]
    for name, field in (("isolate", "control"), ("release", "by"), ("release", "proof"), ("clearance", "between"),
                        ("clearance", "restraint"), ("seat", "position"), ("seat", "clamp")):  # fmt: skip
        pairs.append((field, getattr(getattr(old, name), field, None), getattr(getattr(new, name), field, None)))
    if old.hold is not None and new.hold is not None:
        pairs += [
            (name, getattr(old.hold, name), getattr(new.hold, name)) for name in ("criterion", "method", "record")
        ]
        before, after = old.hold.on_fail, new.hold.on_fail
        pairs += [(name, getattr(before, name, None), getattr(after, name, None)) for name in ("stop", "who_can_help")]
        if old.hold.accept is not None and (text := old.hold.accept.source) and not _counted(old.hold):
            pairs.append(("source", text, None))
    pairs += [("uses", one, None) for one in unused(old, new)]
    for name, was, is_ in pairs:
        if was and (is_ is None or same(was) != same(is_)):
            yield name, was


def _counted(hold: Hold) -> bool:
    accept = hold.accept
    return accept is not None and any(
        (getattr(accept, sense) or "").split(" ")[0] in ("0", "1", "2") for sense in SENSES
    )
