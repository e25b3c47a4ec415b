"""What is known of a variant, and what to find out next: what would decide most, how it is measured, with a drawing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from guidegen.language import gettext, ngettext
from guidegen.record import Assessment
from guidegen.record.claims import wanted
from guidegen.record.places import headlines
from guidegen.record.self_check import AskedWords
from guidegen.site.drawings.measuring import drawn
from guidegen.site.pages import sentences

BEST = 3
"""So many measurements are shown first: what one does in an hour with the lid off."""


@dataclass(frozen=True)
class ToMeasure:
    """One thing to find out: what it is, how, what it decides, and the figure of how it is measured."""

    title: str
    how: str
    decides: str
    figure: Markup


@dataclass(frozen=True)
class ToFindOut:
    """What of a variant is known of all that the kits ask, the measurements that are worth most, and the others."""

    known: tuple[str, ...]
    best: tuple[ToMeasure, ...]
    others: tuple[str, ...]


def to_find_out(group: Sequence[Assessment]) -> ToFindOut | None:
    """What there is to find out of a variant before it can be told whether each kit fits; None where that is told."""
    if all(one.fit.outcome != "cannot-tell-yet" for one in group):
        return None
    found = [*_deciding(group), *_moving(group[0])]
    titles = [one.title for one in found]
    rest = [one for index, one in enumerate(found) if one.title not in titles[:index]]
    others = (f"{one.title}: {one.how}" if one.how else one.title for one in rest[BEST:])
    return ToFindOut(tuple(dict.fromkeys(_known(group))), tuple(rest[:BEST]), tuple(others))


def _known(group: Sequence[Assessment]) -> Iterator[str]:
    for record in group:
        for one in record.fit.reasons:
            if one.met is not None:
                yield sentences.sentence(one.detail)


def _deciding(group: Sequence[Assessment]) -> Iterator[ToMeasure]:
    """The facts that nobody knows and kits ask for: those of most kits first, then those that take least time."""
    asked: dict[str, AskedWords] = {one.fact: one for record in group for one in record.self_check.questions}
    open_ = [
        (how.fact, how.title, reason.settles or "", record.kit.name)
        for record in group
        if record.fit.outcome == "cannot-tell-yet"
        for reason in record.fit.reasons
        if reason.met is None
        for how in reason.evidence
        if how.evidence in (None, "assumed") or not how.settles
    ]
    kits = Counter(fact for fact, _, _ in {(fact, title, kit) for fact, title, _, kit in open_})
    first = {fact: (title, settles) for fact, title, settles, _ in reversed(open_)}
    minutes = {fact: asked[fact].minutes if fact in asked else 60.0 for fact in first}
    for number, fact in enumerate(sorted(first, key=lambda one: (-kits[one], minutes[one], one)), 1):
        title, settles = first[fact]
        words = asked.get(fact)
        how = gettext("with {tool}, {where}").format(tool=words.tool, where=words.where) if words else settles
        decides = ngettext("decides about one kit", "decides about {count} kits", kits[fact]).format(count=kits[fact])
        figure = drawn(fact, f"find-out-{number}") if number <= BEST else Markup()
        yield ToMeasure(sentences.sentence(title), how, decides, figure)


def _moving(record: Assessment) -> Iterator[ToMeasure]:
    """The inputs of the computation that nobody knows, those first that move its headlines most."""
    decides = gettext("moves the computed figures")
    for one in wanted(record, *headlines(record.main_drink)):
        yield ToMeasure(sentences.sentence(one.name), one.settles or "", decides, Markup())
