"""Why two records of one guide differ, as far as they show it: by the hashes they keep, else by the values they hold.

Records of format 1 keep no hashes. Then the stated inputs separate the data from the computation, and words that differ
are of an unclear cause, which counts as the authors', unless nearly everything reads otherwise (`settled`).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from guidegen.editions.change import PROGRAM, Cause, Change
from guidegen.editions.snapshot import steps_of

Data = Mapping[str, Any]
Causes = tuple[Cause, ...]

FORM: Causes = ("form",)
"""The cause of all that reads otherwise because sentences became acts."""
WORDS = {"step": (0.5, 10), "statement": (0.9, 5)}
"""Kinds of change that are of words, and that owners may have to know of. A program that words anew changes at
least this share, and this number, of a guide's steps or statements; authors change fewer in one edition."""
PROCEDURE = ("procedure.phases", "procedure.remedies", "procedure.restore", "shared")
"""Hashes of what says which steps there are, and in which order."""
CONDITIONS = ("drinks", "tariff", "room", "feed", "usage")
"""Hashes of what goes into the computation beside machine and kit."""


@dataclass(frozen=True)
class Between:
    """Two records of one guide. `program`: whether another one made the newer; None where that is not known.

    `data`: whether what goes into the computation differs. `written`: by part, whether what was written does.
    """

    program: bool | None
    data: bool
    written: Mapping[str, bool]

    def computed(self) -> Causes:
        """The cause of a computed value that differs."""
        if self.data:
            return ("data", "computation") if self.program else ("data",)
        return ("data",) if self.program is False else ("computation",)

    def judged(self) -> Causes:
        """The cause of a verdict that differs: a fact of the machine, a limit of the kit, or who judges."""
        known = [self.written[part] for part in ("machine", "kit") if part in self.written]
        if any(known) or self.data:
            return ("data",)
        return self.computed() if known else ("unclear",)

    def words(self, *parts: str) -> Causes:
        """The cause of words that differ, and that stand in these parts of what was written."""
        if not all(part in self.written for part in parts):
            return ("unclear",)
        if any(self.written[part] for part in parts):
            return ("text",)
        return ("data",) if self.program is False else ("form",)

    def arranged(self) -> Causes:
        """The cause of a step that is new, gone, elsewhere or for somebody else: the procedure, or a fact it asks."""
        written = self.words(*PROCEDURE)
        known = [self.written[part] for part in ("machine", "kit") if part in self.written]
        return ("data",) if written == ("form",) and any(known) else written

    def step(self, old: Data, new: Data) -> Causes:
        """The cause of a step that differs in anything it says."""
        before, after = old.get("authored"), new.get("authored")
        if not before or not after:
            return self._step_by_values(old, new)
        filled = before["filled"] != after["filled"]
        if before["source"] != after["source"]:
            return ("text", "data") if filled else ("text",)
        if filled:
            return ("data",)
        if _numbers(old) != _numbers(new):
            return self.computed()
        if any(old[name] != new[name] for name in ("role", "only_if")):
            return self.arranged()
        if old["uses"] != new["uses"]:
            return self.words("kit")
        return ("data",) if self.program is False else ("form",)

    def _step_by_values(self, old: Data, new: Data) -> Causes:
        before, after = _numbers(old), _numbers(new)
        if before == after:
            return ("unclear",)
        if _stated(before) != _stated(after):
            return ("data",)
        # Only what was calculated differs; with it taken out the words must be the same.
        return self.computed() if _without(old, before) == _without(new, after) else ("unclear",)


def between(old: Data, new: Data) -> Between:
    """What two records show of their difference."""
    one, other = old.get("origin"), new.get("origin")
    written: dict[str, bool] = {}
    program: bool | None = None if not one and not other else True
    if one and other:
        program = one["program"] != other["program"]
        written = _differing(one["made_from"], other["made_from"])
    parts = [(side.get("procedure") or {}).get("authored") for side in (old, new)]
    if parts[0] and parts[1]:
        written |= {f"procedure.{name}": differs for name, differs in _differing(parts[0], parts[1]).items()}
    data = _goes_in(old, new) or any(written.get(name, False) for name in CONDITIONS)
    return Between(program, data, written)


def if_notifiable(why: str | None, causes: Causes) -> str | None:
    """Why owners must be notified of a change; None where the program alone caused it."""
    return None if PROGRAM.issuperset(causes) else why


def settled(found: Sequence[Change], old: Data, new: Data) -> tuple[Change, ...]:
    """The changes of one guide, where words of an unclear cause are the program's if most of their kind read otherwise.

    Only an edition that kept no hashes, beside one that does, was made by another program for certain.
    """
    general = set()
    if not old.get("origin") and new.get("origin"):
        for kind, (share, fewest) in WORDS.items():
            reads = {change.thing for change in found if change.kind == kind and _is_reworded(change)}
            if len(reads) >= max(fewest, share * len(_things(kind, old) & _things(kind, new))):
                general.add(kind)
    return tuple(
        replace(one, causes=("form",), notifiable=None) if one.kind in general and _is_reworded(one) else one
        for one in found
    )


def _is_reworded(change: Change) -> bool:
    """Whether the same thing reads otherwise, and it is not known whose words they are."""
    return bool(change.thing) and None not in (change.old, change.new) and change.causes == ("unclear",)


def _things(kind: str, record: Data) -> set[str]:
    """The ids of a record's steps, or of its statements."""
    if kind == "step":
        return {step["key"] for step in steps_of(record)}
    return {hazard["id"] for hazard in (record["procedure"] or {}).get("hazards", ())}


def _differing(old: Mapping[str, str], new: Mapping[str, str]) -> dict[str, bool]:
    return {name: old[name] != new[name] for name in old if name in new}


def _goes_in(old: Data, new: Data) -> bool:
    """Whether something stated differs that both records computed with."""
    before, after = ({one["id"]: [one[part] for part in ("text", "evidence", "source")] for one in side["inputs"]}
                     for side in (old, new))  # fmt: skip
    differs = any(before[name] != after[name] for name in before if name in after)
    return differs or _facts(old) != _facts(new)


def _facts(record: Data) -> list[Any]:
    """What the record repeats of the catalogue that is no uncertain input, but is computed with."""
    drinks = {name: (one.get("beverage_g"), one.get("duration_s")) for name, one in record["drinks"].items()}
    variant = [record["variant"].get(name) for name in ("control", "setpoint_degc", "voltage_v")]
    return [drinks, *variant, record["kit"]["revision"]]


def _numbers(step: Data) -> list[tuple[str, str, str | None]]:
    accept = (step["hold"] or {}).get("accept")
    limit = [("limit", accept["limit"], accept["evidence"])] if accept else []
    return [*((one["name"], one["text"], one["evidence"]) for one in step["numbers"]), *limit]


def _stated(numbers: Iterable[tuple[str, str, str | None]]) -> list[tuple[str, str, str | None]]:
    return [one for one in numbers if one[2] != "calculated"]


def _without(step: Data, numbers: Iterable[tuple[str, str, str | None]]) -> str:
    """All that a step says, with every number replaced by its name."""
    words = repr([step["do"], step["why"], step["notes"], step["uses"], step["hold"] and step["hold"]["criterion"]])
    for name, text, _ in sorted(numbers, key=lambda one: -len(one[1])):
        words = words.replace(text, f"{{{name}}}")
    return words
