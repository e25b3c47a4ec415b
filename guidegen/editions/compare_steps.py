"""The steps of two procedures: which came, went, were reworded or stand elsewhere, and whether that is grave.

A step is known by its key. A step has to do with mains, pressure or heat when a statement about one of them stands
at it, when it cuts off or releases something, or when only an electrically skilled person may do it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from difflib import SequenceMatcher
from typing import Any

from guidegen.editions.change import Change
from guidegen.editions.snapshot import groups_of
from guidegen.editions.values import limit_text, statement_text, step_torque_text
from guidegen.language import gettext, marked
from guidegen.site.pages.step_words import number_name

Data = Mapping[str, Any]

DANGERS = ("mains", "heat", "pressure", "leak", "dry-heating")
GRAVE = marked("a step with mains, pressure or heat changed")
PLACES = {
    "step {number}": marked("the place of “{step}”"),
    "restoring, step {number}": marked("restoring, the place of “{step}”"),
}
NOT_WORDING = ("number", "anchor", "place", "minutes", "torque", "hold", "hazards", "figure")
"""Fields of a step that are compared in a way of their own, or that a reader does not follow."""


def course_changes(course: str, old: Data, new: Data) -> Iterator[Change]:
    """What changed in one course: the fitting or the way back."""
    before, after = ({step["key"]: step for step in _steps(record, course)} for record in (old, new))
    where = marked("step {number}") if course == "fitting" else marked("restoring, step {number}")
    for key, step in after.items():
        if key in before:
            yield from _of_step(where, before[key], step)
        else:
            why = gettext("a step with mains, pressure or heat is new") if is_grave(step) else None
            yield Change("step", gettext(where).format(number=step["number"]), None, step["do"], why, _place(step))
    for key, step in before.items():
        if key not in after:
            why = gettext("a step with mains, pressure or heat is gone") if is_grave(step) else None
            yield Change("step", gettext(where).format(number=step["number"]), step["do"], None, why)
    yield from _moved(where, before, after)


def is_grave(step: Data) -> bool:
    """Whether a step has to do with mains, pressure or heat."""
    kinds = {hazard.get("kind") for hazard in step["hazards"]}
    return bool(
        kinds & {*DANGERS}
        or step.get("keeps_control")
        or step.get("release")
        or step.get("role") == "electrically-skilled"
    )


def _steps(record: Data, course: str) -> Iterator[Data]:
    for group in groups_of(record, course):
        yield from group["steps"]


def _place(step: Data) -> str:
    page = "restore" if step["anchor"].startswith("restoring-") else "install"
    return f"{page}.html#{step['anchor']}"


def _of_step(where: str, old: Data, new: Data) -> Iterator[Change]:
    name, place = gettext(where).format(number=new["number"]), _place(new)
    torques = step_torque_text(old["torque"]), step_torque_text(new["torque"])
    if torques[0] != torques[1]:
        yield Change("torque", name, *torques, gettext("a torque changed"), place)
    limits = limit_text(old["hold"]), limit_text(new["hold"])
    if limits[0] != limits[1]:
        yield Change("limit", name, *limits, gettext("an acceptance limit changed"), place)
    grave = gettext(GRAVE) if is_grave(old) or is_grave(new) else None
    statements = [[statement_text(hazard) for hazard in step["hazards"]] for step in (old, new)]
    for text in statements[0]:
        if text not in statements[1]:
            yield Change("statement", name, text, None, grave, place)
    for text in statements[1]:
        if text not in statements[0]:
            yield Change("statement", name, None, text, grave, place)
    words = _words(old), _words(new)
    if words[0] != words[1]:
        keys = [key for key in dict.fromkeys([*words[0], *words[1]]) if words[0].get(key) != words[1].get(key)]
        old_text, new_text = ("; ".join(_text(side.get(key)) for key in keys) for side in words)
        yield Change("step", name, old_text, new_text, grave, place)


def _words(step: Data) -> dict[str, Any]:
    """All that a step tells its reader, but for what is compared on its own."""
    words = {key: value for key, value in step.items() if key not in NOT_WORDING}
    hold = step["hold"] or {}
    words |= {f"hold {key}": hold[key] for key in ("criterion", "method", "record") if hold.get(key)}
    fail = hold.get("on_fail") or {}
    words["on failing"] = [fail[key] for key in ("stop", "anchor") if fail.get(key)]
    # A number in a step is told by its text; where it comes from is told among the values, and a torque on its own.
    del words["numbers"]
    torque = (step["torque"] or {}).get("is")
    for one in step["numbers"]:
        if one["text"] != torque:
            words[f"number {one['name']}"] = f"{number_name(one['name'])} {one['text']}"
    return words


def _text(value: Any) -> str:
    """A field's value in words."""
    if isinstance(value, Mapping):
        return ", ".join(filter(None, (_text(entry) for entry in value.values())))
    if isinstance(value, list | tuple):
        return ", ".join(filter(None, map(_text, value)))
    if isinstance(value, bool):
        return gettext("can be undone") if value else gettext("cannot be undone")
    return "" if value is None else str(value)


def _moved(where: str, before: Mapping[str, Data], after: Mapping[str, Data]) -> Iterator[Change]:
    """Steps of both procedures whose order among each other differs."""
    old, new = [key for key in before if key in after], [key for key in after if key in before]
    kept: set[str] = set()
    for block in SequenceMatcher(None, old, new, autojunk=False).get_matching_blocks():
        kept |= set(old[block.a : block.a + block.size])
    for key in new:
        if key not in kept:
            passed = _passed(key, old, new)
            grave = any(is_grave(after[other]) for other in (key, *passed))
            why = gettext("a step changed places with one with mains, pressure or heat") if grave else None
            step = after[key]
            name = gettext("step {number}")
            order = name.format(number=before[key]["number"]), name.format(number=step["number"])
            yield Change("step", gettext(PLACES[where]).format(step=step["do"]), *order, why, _place(step))


def _passed(key: str, old: Sequence[str], new: Sequence[str]) -> list[str]:
    """The steps that stood on its other side before."""
    ahead_before, ahead_after = set(old[: old.index(key)]), set(new[: new.index(key)])
    return [other for other in new if other != key and (other in ahead_before) != (other in ahead_after)]
