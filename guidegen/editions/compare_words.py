"""What two records say around their steps: statements, lists, sentences, downsides."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from guidegen.editions.causes import Between, Causes, if_notifiable
from guidegen.editions.change import Change
from guidegen.editions.pairs import both, pairs
from guidegen.editions.values import statement_text
from guidegen.language import gettext, marked
from guidegen.language.choices import choice
from guidegen.site.pages.sentences import sentence

Data = Mapping[str, Any]

DANGERS = ("mains", "heat", "pressure", "leak", "dry-heating")
"""Kinds of hazard statement that stand for mains, pressure or heat; a leak is water that came out under pressure."""
GRAVE_STATEMENT = marked("a statement about mains, pressure or heat changed")
USES = {"tools": marked("tool"), "parts": marked("part"), "consumables": marked("consumable")}


def around_changes(before: Data, after: Data, two: Between) -> Iterator[Change]:
    """What changed in two procedures outside of their steps."""
    yield from _statements(before, after, two)
    yield from _lists(before, after, two)
    yield from _sentences(before, after, two)
    yield from _stop_use(before, after, two)


def statement_causes(one: Data | None, other: Data | None, two: Between) -> Causes:
    """The cause of a statement that reads otherwise, is new or is gone."""
    if one is None or other is None:
        return two.arranged()
    if not one.get("authored") or not other.get("authored"):
        return ("unclear",)
    if one["authored"] != other["authored"]:
        return ("text",)
    return ("data",) if two.program is False else ("form",)


def _statements(before: Data, after: Data, two: Between) -> Iterator[Change]:
    for one, other in pairs(before["hazards"], after["hazards"]):
        texts = both(one, other, statement_text)
        if texts[0] != texts[1]:
            side, causes = other or one, statement_causes(one, other, two)
            grave = if_notifiable(gettext(GRAVE_STATEMENT), causes) if side.get("kind") in DANGERS else None
            name = side.get("type_of_hazard") or side["id"]
            yield Change("statement", name, *texts, grave, "install.html#hazards", causes, thing=side["id"])


def _lists(before: Data, after: Data, two: Between) -> Iterator[Change]:
    for kind in USES:
        for one, other in pairs(before["uses"][kind], after["uses"][kind]):
            names = both(one, other, lambda side: side["name"])
            if names[0] != names[1]:
                causes = two.words("kit") if one and other else two.arranged()
                yield Change("list", gettext(USES[kind]), *names, place=f"install.html#{kind}", causes=causes)


def _sentences(before: Data, after: Data, two: Between) -> Iterator[Change]:
    """Sentences around the procedure: what to know before, and after-care."""
    for kind, name in (("preliminary", gettext("before you start")), ("aftercare", gettext("after-care"))):
        for one, other in pairs(before[kind], after[kind]):
            texts = both(one, other, lambda side: side["says"])
            if texts[0] != texts[1]:
                causes = two.words(f"procedure.{kind}", "machine")
                yield Change("step", name, *texts, place=f"install.html#{kind}", causes=causes)


def _stop_use(before: Data, after: Data, two: Between) -> Iterator[Change]:
    gone = [text for text in before["stop_use"] if text not in after["stop_use"]]
    come = [text for text in after["stop_use"] if text not in before["stop_use"]]
    causes, name = two.words("procedure.stop_use", "machine"), gettext("stop using the machine when")
    why = if_notifiable(gettext("when to stop using the machine changed"), causes)
    for text in gone:
        yield Change("statement", name, text, None, why, causes=causes)
    for text in come:
        yield Change("statement", name, None, text, why, "install.html#stop-use", causes)


def downside_changes(old: Data, new: Data, two: Between) -> Iterator[Change]:
    """What changed in what the kit costs, and in whether and how it can be taken off again."""
    causes = two.words("kit")
    for one, other in pairs(old["downsides"], new["downsides"]):
        texts = both(one, other, lambda side: f"{side['what']} {sentence(choice(side['likely']))}. {side['do']}")
        if texts[0] != texts[1]:
            yield Change("downside", (other or one)["about"], *texts, place="index.html#downsides", causes=causes)
    texts = both(old, new, lambda side: _restoring(side["restore"]))
    if texts[0] != texts[1]:
        name = gettext("restoring the original")
        yield Change("downside", name, *texts, place="index.html#undo", causes=causes)


def _restoring(restore: Data) -> str:
    words = gettext("possible: {how}") if restore["possible"] else gettext("impossible: {how}")
    return words.format(how=restore["how"])
