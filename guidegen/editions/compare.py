"""Two records of the same guide, the older and the newer: what changed, and what caused it.

Works on plain data in today's format, so that nothing is validated: what only one of two records can hold is reported
as added or removed, never rejected.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from guidegen.editions.causes import Between, between, settled
from guidegen.editions.change import Change, GuideChanges
from guidegen.editions.compare_endings import ending_changes
from guidegen.editions.compare_measured import measured_changes
from guidegen.editions.compare_numbers import figure_changes, input_changes
from guidegen.editions.compare_pictures import picture_changes
from guidegen.editions.compare_steps import course_changes
from guidegen.editions.compare_words import around_changes, downside_changes, gain_changes, kit_changes
from guidegen.editions.pairs import both, pairs
from guidegen.editions.redrawn import position_changes
from guidegen.editions.snapshot import COURSES
from guidegen.editions.values import torque_text
from guidegen.language import gettext
from guidegen.site.pages.sentences import outcome

Data = Mapping[str, Any]


def compare(old: Iterable[Data], new: Iterable[Data]) -> tuple[GuideChanges, ...]:
    """Every guide of either edition with its changes, in the order of their ids; unchanged ones have none."""
    before = {_guide(one): one for one in old}
    after = {_guide(one): one for one in new}
    return tuple(_of_guide(key, before.get(key), after.get(key)) for key in sorted({*before, *after}))


def _guide(record: Data) -> tuple[str, str]:
    return record["variant"]["id"], record["kit"]["id"]


def _of_guide(key: tuple[str, str], old: Data | None, new: Data | None) -> GuideChanges:
    changes: tuple[Change, ...]
    either = new or old
    assert either is not None
    title = gettext("{variant} with {kit}").format(variant=either["variant"]["name"], kit=either["kit"]["name"])
    if old is None:
        changes = (Change("guide", title, None, _outcome(either)),)
    elif new is None:
        why = gettext("the guide is no longer published")
        changes = (Change("guide", title, _outcome(either), None, why if old["procedure"] else None),)
    else:
        changes = settled([*_between(old, new)], old, new)
    return GuideChanges(*key, title, changes)


def _between(old: Data, new: Data) -> Iterator[Change]:
    two = between(old, new)
    yield from _verdicts(old, new, two)
    yield from _torques(old, new)
    before, after = old["procedure"], new["procedure"]
    if before and after:
        for course in COURSES:
            yield from course_changes(course, old, new, two)
        yield from around_changes(before, after, two)
        yield from ending_changes(before, after, two)
        yield from kit_changes(old, new, two)
    yield from gain_changes(old, new, two)
    yield from downside_changes(old, new, two)
    yield from picture_changes(old, new)
    yield from input_changes(old, new, two)
    yield from position_changes(old, new)
    yield from measured_changes(old, new)
    yield from figure_changes(old, new, two)


def _outcome(record: Data) -> str:
    return outcome(record["fit"]["outcome"])


def _verdicts(old: Data, new: Data, two: Between) -> Iterator[Change]:
    """Owners are notified of a verdict whatever changed it: somebody fitted a kit because of the older one."""
    causes = two.judged()
    if old["fit"]["outcome"] != new["fit"]["outcome"]:
        why = gettext("a verdict changed")
        yield Change("verdict", gettext("the verdict"), _outcome(old), _outcome(new), why, "fit.html", causes)
    if bool(old["procedure"]) != bool(new["procedure"]):
        words = (gettext("published"), gettext("not published"))
        one, other = (words[not record["procedure"]] for record in (old, new))
        why = gettext("an instruction came or went")
        yield Change("verdict", gettext("the fitting instruction"), one, other, why, causes=causes)
    if old["kit"]["revision"] != new["kit"]["revision"]:
        yield Change("list", gettext("the kit's revision"), old["kit"]["revision"], new["kit"]["revision"])
    met = {True: gettext("met"), False: gettext("not met"), None: gettext("not known")}
    words_of = two.words("kit", "machine")
    for one, other in pairs(old["fit"]["reasons"], new["fit"]["reasons"]):
        says, place = (other or one)["says"], "fit.html"
        if one is None or other is None:
            texts = one and met[one["met"]], other and met[other["met"]]
            yield Change("requirement", says, *texts, place=place, causes=words_of)
        elif one["met"] != other["met"]:
            why = gettext("the verdict on a requirement changed")
            yield Change("verdict", says, met[one["met"]], met[other["met"]], why, place, causes)
        elif (one["says"], one["remedy"]) != (other["says"], other["remedy"]):
            texts = both(one, other, lambda side: ". ".join(filter(None, (side["says"].rstrip("."), side["remedy"]))))
            yield Change("requirement", gettext("wording"), *texts, place=place, causes=words_of)
    for one, other in pairs(old["protrusions"], new["protrusions"]):
        actions = both(one, other, lambda side: side["action"])
        if actions[0] != actions[1]:
            why = gettext("what has to be cut changed")
            yield Change("verdict", (other or one)["name"], *actions, why, "fit.html", causes)


def _torques(old: Data, new: Data) -> Iterator[Change]:
    """A torque is stated, never computed; where it reads otherwise owners are notified, whatever caused it."""
    for one, other in pairs(old["torques"], new["torques"]):
        texts = both(one, other, torque_text)
        if texts[0] != texts[1]:
            yield Change("torque", (other or one)["what"], *texts, gettext("a torque changed"))
