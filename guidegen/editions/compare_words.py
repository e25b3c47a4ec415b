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
    """Sentences before the procedure: what to know."""
    for one, other in pairs(before["preliminary"], after["preliminary"]):
        texts = both(one, other, lambda side: side["says"])
        if texts[0] != texts[1]:
            causes, name = two.words("procedure.preliminary", "machine"), gettext("before you start")
            yield Change("step", name, *texts, place="install.html#preliminary", causes=causes)


def kit_changes(old: Data, new: Data, two: Between) -> Iterator[Change]:
    """Which other kits are fitted before this one, and which come off before it."""
    places = {"before_fitting": "install.html#preliminary", "before_restoring": "restore.html#preliminary"}
    for kind, place in places.items():
        for one, other in pairs(old[kind], new[kind]):
            texts = both(one, other, lambda side: side["says"])
            if texts[0] != texts[1]:
                yield Change("step", gettext("other kits"), *texts, place=place, causes=two.words("kit", "machine"))
    news = ({"id": one["other"], "says": one["order"]["says"]} for one in new["together"])
    for one, other in pairs([{"id": one["other"], "says": one["order"]["says"]} for one in old["together"]], [*news]):
        texts = both(one, other, lambda side: side["says"])
        if texts[0] != texts[1]:
            yield Change("step", gettext("other kits"), *texts, place="index.html#together",
                         causes=two.words("kit", "machine"))  # fmt: skip


def gain_changes(old: Data, new: Data, two: Between) -> Iterator[Change]:
    """What changed in what the kit gains beside heat; records of before have none."""
    for one, other in pairs(old.get("gains", ()), new.get("gains", ())):
        texts = both(one, other, _gain)
        if texts[0] != texts[1]:
            name = (other or one)["title"]
            yield Change("gain", name, *texts, place=f"index.html#gain-{(other or one)['id']}", causes=two.words("kit"))


def _gain(one: Data) -> str:
    return f"{one['without']['text']} → {one['with']['text']}. {one['how']}"


def downside_changes(old: Data, new: Data, two: Between) -> Iterator[Change]:
    """What changed in what the kit costs, and in whether and how it can be taken off again."""
    causes = two.words("kit")
    for one, other in pairs(old["downsides"], new["downsides"]):
        texts = both(one, other, _downside)
        if texts[0] != texts[1]:
            yield Change("downside", (other or one)["about"], *texts, place="index.html#downsides", causes=causes)
    texts = both(old, new, lambda side: _restoring(side["restore"]))
    if texts[0] != texts[1]:
        name = gettext("restoring the original")
        yield Change("downside", name, *texts, place="index.html#undo", causes=causes)


def _downside(one: Data) -> str:
    """A downside as its table says it; one that the kit says is none has no more than its words."""
    likely = "" if one["likely"] == "none" else f"{sentence(choice(one['likely']))}."
    return " ".join(filter(None, (one["what"], likely, one["do"])))


def _restoring(restore: Data) -> str:
    words = gettext("possible: {how}") if restore["possible"] else gettext("impossible: {how}")
    return words.format(how=restore["how"])
