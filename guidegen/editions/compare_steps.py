"""The steps of two procedures: which came, went, were reworded or stand elsewhere, and whether that is grave.

A step is known by its key: course, phase, the name of an include, its id; see `_under_new_keys` for one that was
renamed. A step has to do with mains, pressure or heat when a statement about one of them stands
at it, when it cuts off or releases something, or when only an electrically skilled person may do it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from difflib import SequenceMatcher
from typing import Any

from guidegen.editions.causes import FORM, Between, Causes, if_notifiable
from guidegen.editions.change import PROGRAM, Change
from guidegen.editions.compare_words import DANGERS, statement_causes
from guidegen.editions.pairs import both, pairs
from guidegen.editions.snapshot import groups_of
from guidegen.editions.values import limit_text, statement_text, step_torque_text
from guidegen.language import gettext, marked
from guidegen.site.pages.step_words import number_name

Data = Mapping[str, Any]

GRAVE = marked("a step with mains, pressure or heat changed")
PLACES = {
    "step {number}": marked("the place of “{step}”"),
    "restoring, step {number}": marked("restoring, the place of “{step}”"),
}
FAILING = "on failing"
NOT_WORDING = ("number", "objects", "anchor", "place", "minutes", "torque", "hold", "hazards", "figure", "key",
               "pictures", "act", "authored", "cases", "after_night")  # fmt: skip
"""Fields of a step that are compared in a way of their own, or that no reader sees."""


def course_changes(course: str, old: Data, new: Data, two: Between) -> Iterator[Change]:
    """What changed in one course: the fitting or the way back."""
    after = {step["key"]: step for step in _steps(new, course)}
    before = _under_new_keys({step["key"]: step for step in _steps(old, course)}, after)
    where = marked("step {number}") if course == "fitting" else marked("restoring, step {number}")
    anew = became_acts(before, after)
    causes = FORM if anew else two.arranged()
    for key, step in after.items():
        if key in before:
            for change in _of_step(where, before[key], step, two, anew):
                yield replace(change, step=step["number"])
        else:
            why = (
                if_notifiable(gettext("a step with mains, pressure or heat is new"), causes) if is_grave(step) else None
            )
            name, place, number = _named(where, step), _place(step), step["number"]
            yield Change("step", name, None, step["do"], why, place, causes, step=number)
    for key, step in before.items():
        if key not in after:
            why = (
                if_notifiable(gettext("a step with mains, pressure or heat is gone"), causes)
                if is_grave(step)
                else None
            )
            yield Change("step", _named(where, step), step["do"], None, why, causes=causes, step=step["number"])
    yield from _moved(where, before, after, causes)


def became_acts(before: Mapping[str, Data], after: Mapping[str, Data]) -> bool:
    """Whether an instruction of sentences became one of acts: another form, whatever its steps say now.

    What was one sentence can be three acts then. A torque or a measured limit is compared as ever.
    """
    is_acts = [any(step.get("act") for step in side.values()) for side in (before, after)]
    return bool(before) and is_acts == [False, True]


def _named(where: str, step: Data) -> str:
    return gettext(where).format(number=step["number"])


def _under_new_keys(before: Mapping[str, Data], after: Mapping[str, Data]) -> dict[str, Data]:
    """The older steps, each under the key that it has today: a step that was only renamed is the same step.

    It is known again by all that it says, and else by its own id in another phase with the same values; each only
    where exactly one older and one newer step answer to it.
    """
    renamed: dict[str, str] = {}
    for mark in (_content, _own_id):
        gone = [key for key in before if key not in after and key not in renamed]
        come = [key for key in after if key not in before and key not in renamed.values()]
        old, new = (_by_mark(side, keys, mark) for side, keys in ((before, gone), (after, come)))
        renamed |= {old[one][0]: new[one][0] for one in old if len(old[one]) == len(new.get(one, ())) == 1}
    return {renamed.get(key, key): step for key, step in before.items()}


def _by_mark(steps: Mapping[str, Data], keys: Sequence[str], mark: Callable[[Data], str]) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for key in keys:
        found.setdefault(mark(steps[key]), []).append(key)
    return found


def _content(step: Data) -> str:
    return repr([_words(step), _values(step)])


def _own_id(step: Data) -> str:
    return repr([step["key"].rsplit("/", 1)[-1], _values(step)])


def _values(step: Data) -> list[Any]:
    """What a step must not lose: its numbers, torque, limit and statements."""
    numbers = [(one["name"], one["text"]) for one in step["numbers"]]
    hazards = [hazard["id"] for hazard in step["hazards"]]
    return [numbers, step_torque_text(step["torque"]), limit_text(step["hold"]), hazards]


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


def _of_step(where: str, old: Data, new: Data, two: Between, anew: bool) -> Iterator[Change]:
    name, place, causes = _named(where, new), _place(new), FORM if anew else two.step(old, new)
    torques = step_torque_text(old["torque"]), step_torque_text(new["torque"])
    if torques[0] != torques[1]:
        yield Change("torque", name, *torques, gettext("a torque changed"), place)
    limits = limit_text(old["hold"]), limit_text(new["hold"])
    if limits[0] != limits[1] and not (anew and _counted(old) and _counted(new)):
        why = limit_causes(old, new, two, causes)
        yield Change("limit", name, *limits, if_notifiable(gettext("an acceptance limit changed"), why), place, why)
    grave = gettext(GRAVE) if is_grave(old) or is_grave(new) else None
    yield from _statements(name, place, grave, old, new, two, anew)
    words = _words(old), _words(new)
    if words[0] != words[1]:
        keys = [key for key in dict.fromkeys([*words[0], *words[1]]) if words[0].get(key) != words[1].get(key)]
        old_text, new_text = (
            "; ".join(filter(None, (_failing(step) if key == FAILING else _text(side.get(key)) for key in keys)))
            for step, side in zip((old, new), words, strict=True)
        )
        yield Change("step", name, old_text, new_text, if_notifiable(grave, causes), place, causes, thing=new["key"])


def _counted(step: Data) -> bool:
    """Whether what it accepts is a count, as of drops, or nothing: no reading of an instrument."""
    accept = (step["hold"] or {}).get("accept") or {}
    return re.fullmatch(r"[0-9]+ [a-z][a-z -]*", accept.get("limit", "0 drops")) is not None


def limit_causes(old: Data, new: Data, two: Between, step: Causes) -> Causes:
    """The cause of an acceptance limit that differs: the computation's where both are calculated, else the step's.

    Words may be the program's, a limit that somebody stated never is.
    """
    limits = [(side["hold"] or {}).get("accept") or {} for side in (old, new)]
    if all(one.get("evidence") == "calculated" for one in limits):
        return two.computed()
    return ("data",) if PROGRAM.issuperset(step) else step


def _statements(
    name: str, place: str, grave: str | None, old: Data, new: Data, two: Between, anew: bool
) -> Iterator[Change]:
    """The statements at a step, each by its id."""
    for one, other in pairs(old["hazards"], new["hazards"]):
        texts = both(one, other, statement_text)
        if texts[0] != texts[1]:
            causes = FORM if anew else statement_causes(one, other, two)
            hazard = (other or one)["id"]
            yield Change("statement", name, *texts, if_notifiable(grave, causes), place, causes, thing=hazard)


def _words(step: Data) -> dict[str, Any]:
    """All that a step says to its reader, but for what is compared on its own."""
    words = {key: value for key, value in step.items() if key not in NOT_WORDING}
    hold = step["hold"] or {}
    words |= {f"hold {key}": hold[key] for key in ("criterion", "method", "record") if hold.get(key)}
    fail = hold.get("on_fail") or {}
    words[FAILING] = [fail[key] for key in ("stop", "anchor") if fail.get(key)]
    # A number in a step is compared by its text; its origin is listed among the values, and a torque on its own.
    del words["numbers"]
    torque = (step["torque"] or {}).get("is")
    for one in step["numbers"]:
        if one["text"] != torque:
            words[f"number {one['name']}"] = f"{number_name(one['name'])} {one['text']}"
    return words


def _failing(step: Data) -> str:
    """Where a failed check leads, in words: a step is compared by its anchor, and named by its number."""
    fail = (step["hold"] or {}).get("on_fail") or {}
    back = gettext("go to step {number}").format(number=fail["number"]) if fail.get("number") else ""
    return ", ".join(filter(None, (fail.get("stop"), back)))


def _text(value: Any) -> str:
    """A field's value in words."""
    if isinstance(value, Mapping):
        return ", ".join(filter(None, (_text(entry) for entry in value.values())))
    if isinstance(value, list | tuple):
        return ", ".join(filter(None, map(_text, value)))
    if isinstance(value, bool):
        return gettext("can be undone") if value else gettext("cannot be undone")
    return "" if value is None else str(value)


def _moved(where: str, before: Mapping[str, Data], after: Mapping[str, Data], causes: Causes) -> Iterator[Change]:
    """Steps of both procedures whose order among each other differs."""
    old, new = [key for key in before if key in after], [key for key in after if key in before]
    kept: set[str] = set()
    for block in SequenceMatcher(None, old, new, autojunk=False).get_matching_blocks():
        kept |= set(old[block.a : block.a + block.size])
    for key in new:
        if key not in kept:
            passed = _passed(key, old, new)
            grave = any(is_grave(after[other]) for other in (key, *passed))
            why = if_notifiable(gettext("a step changed places with one with mains, pressure or heat"), causes)
            step = after[key]
            name = gettext("step {number}")
            order = name.format(number=before[key]["number"]), name.format(number=step["number"])
            yield Change(
                "step",
                gettext(PLACES[where]).format(step=step["do"]),
                *order,
                why if grave else None,
                _place(step),
                causes,
            )


def _passed(key: str, old: Sequence[str], new: Sequence[str]) -> list[str]:
    """The steps that stood on its other side before."""
    ahead_before, ahead_after = set(old[: old.index(key)]), set(new[: new.index(key)])
    return [other for other in new if other != key and (other in ahead_before) != (other in ahead_after)]
