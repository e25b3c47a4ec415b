"""Two records of the same guide, the older and the newer: what changed.

Works on plain data, so that the snapshot of an old edition can be compared whatever has been added to the record
since: what only one of two records can hold is told as new or gone, never refused.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Any

from guidegen.editions.change import Change, GuideChanges
from guidegen.editions.compare_steps import course_changes
from guidegen.editions.snapshot import COURSES
from guidegen.editions.values import figures_of, input_text, shown, statement_text, torque_text
from guidegen.language import gettext, marked
from guidegen.language.choices import choice
from guidegen.record.table import chapters
from guidegen.site.pages.numbers import anchor
from guidegen.site.pages.sentences import outcome, sentence
from guidegen.site.pages.terms import term

Data = Mapping[str, Any]

DANGERS = ("mains", "heat", "pressure", "leak", "dry-heating")
"""Kinds of hazard statement that stand for mains, pressure or heat; a leak is water that came out under pressure."""
GRAVE_STATEMENT = marked("a statement about mains, pressure or heat changed")
USES = {"tools": marked("tool"), "parts": marked("part"), "consumables": marked("consumable")}
SIDES = {"without": marked("without the kit"), "with": marked("with the kit")}


def compare(old: Iterable[Data], new: Iterable[Data]) -> tuple[GuideChanges, ...]:
    """Every guide of either edition with its changes, in the order of their ids; unchanged ones have none."""
    before = {_guide(one): one for one in old}
    after = {_guide(one): one for one in new}
    return tuple(_of_guide(key, before.get(key), after.get(key)) for key in sorted({*before, *after}))


def _guide(record: Data) -> tuple[str, str]:
    return record["variant"]["id"], record["kit"]["id"]


def _of_guide(key: tuple[str, str], old: Data | None, new: Data | None) -> GuideChanges:
    either = new or old
    assert either is not None
    title = gettext("{variant} with {kit}").format(variant=either["variant"]["name"], kit=either["kit"]["name"])
    if old is None:
        changes = [Change("guide", title, None, _outcome(either))]
    elif new is None:
        why = gettext("the guide is no longer published")
        changes = [Change("guide", title, _outcome(either), None, why if old["procedure"] else None)]
    else:
        changes = list(_between(old, new))
    return GuideChanges(*key, title, tuple(changes))


def _between(old: Data, new: Data) -> Iterator[Change]:
    yield from _verdicts(old, new)
    yield from _torques(old, new)
    before, after = old["procedure"], new["procedure"]
    if before and after:
        for course in COURSES:
            yield from course_changes(course, old, new)
        yield from _statements(before, after)
        yield from _lists(before, after)
        yield from _sentences(before, after)
    yield from _downsides(old, new)
    yield from _inputs(old, new)
    yield from _figures(old, new)


def _outcome(record: Data) -> str:
    return outcome(record["fit"]["outcome"])


def _verdicts(old: Data, new: Data) -> Iterator[Change]:
    if old["fit"]["outcome"] != new["fit"]["outcome"]:
        why = gettext("a verdict changed")
        yield Change("verdict", gettext("the verdict"), _outcome(old), _outcome(new), why, "fit.html")
    if bool(old["procedure"]) != bool(new["procedure"]):
        words = (gettext("published"), gettext("not published"))
        one, other = (words[not record["procedure"]] for record in (old, new))
        yield Change("verdict", gettext("the fitting instruction"), one, other, gettext("an instruction came or went"))
    if old["kit"]["revision"] != new["kit"]["revision"]:
        yield Change("list", gettext("the kit's revision"), old["kit"]["revision"], new["kit"]["revision"])
    met = {True: gettext("met"), False: gettext("not met"), None: gettext("cannot be told")}
    for one, other in _pairs(old["fit"]["reasons"], new["fit"]["reasons"]):
        says = (other or one)["says"]
        if one is None or other is None:
            yield Change("requirement", says, one and met[one["met"]], other and met[other["met"]], place="fit.html")
        elif one["met"] != other["met"]:
            why = gettext("the verdict on a requirement changed")
            yield Change("verdict", says, met[one["met"]], met[other["met"]], why, "fit.html")
        elif (one["says"], one["remedy"]) != (other["says"], other["remedy"]):
            texts = _both(one, other, lambda side: ". ".join(filter(None, (side["says"].rstrip("."), side["remedy"]))))
            yield Change("requirement", gettext("wording"), *texts, place="fit.html")
    for one, other in _pairs(old["protrusions"], new["protrusions"]):
        actions = _both(one, other, lambda side: side["action"])
        if actions[0] != actions[1]:
            yield Change("verdict", (other or one)["name"], *actions, gettext("what has to be cut changed"), "fit.html")


def _torques(old: Data, new: Data) -> Iterator[Change]:
    for one, other in _pairs(old["torques"], new["torques"]):
        texts = _both(one, other, torque_text)
        if texts[0] != texts[1]:
            yield Change("torque", (other or one)["what"], *texts, gettext("a torque changed"))


def _statements(before: Data, after: Data) -> Iterator[Change]:
    for one, other in _pairs(before["hazards"], after["hazards"]):
        texts = _both(one, other, statement_text)
        if texts[0] != texts[1]:
            side = other or one
            grave = gettext(GRAVE_STATEMENT) if side.get("kind") in DANGERS else None
            yield Change("statement", side.get("type_of_hazard") or side["id"], *texts, grave, "install.html#hazards")


def _lists(before: Data, after: Data) -> Iterator[Change]:
    for kind in USES:
        for one, other in _pairs(before["uses"][kind], after["uses"][kind]):
            names = _both(one, other, lambda side: side["name"])
            if names[0] != names[1]:
                yield Change("list", gettext(USES[kind]), *names, place=f"install.html#{kind}")


def _sentences(before: Data, after: Data) -> Iterator[Change]:
    """Sentences around the procedure: what to know before, after-care, when to stop using the machine."""
    for kind, name in (("preliminary", gettext("before you start")), ("aftercare", gettext("after-care"))):
        for one, other in _pairs(before[kind], after[kind]):
            texts = _both(one, other, lambda side: side["says"])
            if texts[0] != texts[1]:
                yield Change("step", name, *texts, place=f"install.html#{kind}")
    gone = [text for text in before["stop_use"] if text not in after["stop_use"]]
    come = [text for text in after["stop_use"] if text not in before["stop_use"]]
    why = gettext("when to stop using the machine changed")
    for text in gone:
        yield Change("statement", gettext("stop using the machine when"), text, None, why)
    for text in come:
        yield Change("statement", gettext("stop using the machine when"), None, text, why, "install.html#stop-use")


def _downsides(old: Data, new: Data) -> Iterator[Change]:
    for one, other in _pairs(old["downsides"], new["downsides"]):
        texts = _both(one, other, lambda side: f"{side['what']} {sentence(choice(side['likely']))}. {side['do']}")
        if texts[0] != texts[1]:
            yield Change("downside", (other or one)["about"], *texts, place="index.html#downsides")
    texts = _both(old, new, lambda side: _restoring(side["restore"]))
    if texts[0] != texts[1]:
        yield Change("downside", gettext("restoring the original"), *texts, place="index.html#undo")


def _restoring(restore: Data) -> str:
    words = gettext("possible: {how}") if restore["possible"] else gettext("impossible: {how}")
    return words.format(how=restore["how"])


def _inputs(old: Data, new: Data) -> Iterator[Change]:
    for one, other in _pairs(old["inputs"], new["inputs"]):
        texts = _both(one, other, input_text)
        if texts[0] != texts[1]:
            yield Change("input", (other or one)["name"], *texts)


def _figures(old: Data, new: Data) -> Iterator[Change]:
    """Computed values whose print differs: a change in a digit that no page shows is none.

    A draft built without draws has values alone, and is compared by them.
    """
    alone = "nominal" in (old.get("basis"), new.get("basis"))
    before, after = ({place: {**one, "low": None, "high": None} if alone else one
                      for place, one in figures_of(side) if place.split(".")[0] in chapters()}
                     for side in (old, new))  # fmt: skip
    for place in dict.fromkeys([*before, *after]):
        one, other = (shown(place, side[place]) if place in side else None for side in (before, after))
        if one != other and not (one is None and other is None):
            yield Change("figure", _name(place, new), one, other, place=f"numbers.html#{anchor(place)}")


def _name(place: str, record: Data) -> str:
    """What a figure is called, with its drink or its wait, its side, and the currency of a cost."""
    parts = place.split(".")
    try:
        name = term(place).name
    except KeyError:
        name = parts[-1]
    drinks = record["drinks"]
    more = [drinks[part]["name"] for part in parts[1:2] if parts[0] == "drinks" and part in drinks]
    later = gettext("{minutes} min later")
    more += [later.format(minutes=f"{float(part) / 60:g}") for part in parts[1:2] if parts[0] == "waiting"]
    more += [gettext(SIDES[part]) for part in parts if part in SIDES]
    more += [record["energy"]["currency"]] if place.endswith("_cost") and "currency" in record["energy"] else []
    return ", ".join([name, *more])


def _both(one: Data | None, other: Data | None, text: Callable[[Data], str]) -> tuple[str | None, str | None]:
    """The text of either side; None where there is no such side."""
    return text(one) if one else None, text(other) if other else None


def _pairs(old: Sequence[Data], new: Sequence[Data]) -> Iterator[tuple[Any, Any]]:
    """Entries of two lists by their id: in both, gone, new; in the newer one's order, what is gone at the end."""
    before = {one["id"]: one for one in old}
    after = {one["id"]: one for one in new}
    for name, entry in after.items():
        yield before.get(name), entry
    for name, entry in before.items():
        if name not in after:
            yield entry, None
