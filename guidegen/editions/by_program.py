"""What the program recomputed or reworded in many guides: each figure and kind of words, with how many guides.

Nobody is written to for it, because what the guides are made from stayed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from guidegen.editions.change import ORDER, Change, GuideChanges, Moved
from guidegen.editions.lacking import lacking
from guidegen.language import gettext, marked, ngettext
from guidegen.record import Figure
from guidegen.site.charts.quantity import in_unit, shown_as

COMPUTED = {"step": marked("Numbers in steps"), "input": marked("Values that the program asks for")}
"""What of a kind the program computes, where its heading would claim more."""


@dataclass(frozen=True)
class Anew:
    """One thing that the program does anew, and in how many guides."""

    what: str
    guides: int

    def sentence(self) -> str:
        """In one line."""
        words = ngettext("{what}: {count} guide", "{what}: {count} guides", self.guides)
        return words.format(what=self.what, count=self.guides)


def by_program(every: Iterable[GuideChanges]) -> tuple[Anew, ...]:
    """What the program alone caused in all these guides: figures first, each with how far it moved at most."""
    found: dict[tuple[str, str], list[tuple[str, Change]]] = {}
    for one in every:
        for change in one.by_program:
            found.setdefault(_mark(change), []).append((one.guide, change))
    kinds = ["figure", *(kind for kind in ORDER if kind != "figure")]
    order = sorted(found, key=lambda mark: (kinds.index(found[mark][0][1].kind), mark))
    return tuple(_anew([change for _, change in found[mark]], len({guide for guide, _ in found[mark]}))
                 for mark in order)  # fmt: skip


def _mark(change: Change) -> tuple[str, str]:
    """What is listed as one thing: a figure by its name on every guide, other values and words by their kind."""
    if change.moved is None:
        return change.kind, "+".join(change.causes)
    first = "" if change.moved.by is not None else "missing"
    return change.kind, f"{change.moved.what} {first}"


def _anew(changes: Sequence[Change], guides: int) -> Anew:
    first = changes[0]
    if first.moved is not None:
        return Anew(moved_words(changes), guides)
    is_form = "form" in first.causes
    heading = gettext(ORDER[first.kind] if is_form else COMPUTED.get(first.kind, ORDER[first.kind]))
    words = gettext("{what}, reworded") if is_form else gettext("{what}, recomputed")
    return Anew(words.format(what=heading), guides)


def moved_words(changes: Sequence[Change]) -> str:
    """A figure that is computed anew in several places, and how far it moved at most."""
    moved = [change.moved for change in changes if change.moved is not None]
    what = moved[0].what
    if all(one.by is None for one in moved):
        is_first = all(change.old in (None, lacking().not_computed) for change in changes)
        words = gettext("{what}, computed for the first time") if is_first else gettext("{what}, recomputed")
        return words.format(what=what)
    return gettext("{what}, recomputed, up to ±{amount}").format(what=what, amount=_most(moved))


def _most(moved: Iterable[Moved]) -> str:
    """The largest difference in a metric unit; a difference of temperatures is no temperature."""
    one = max(moved, key=lambda one: one.by or 0.0)
    how = shown_as("ratio" if one.key.startswith("drop_ratio.") else one.key)
    how = shown_as("k") if how.dimension == "temperature" else how
    return in_unit(Figure(value=float(f"{one.by or 0.0:.2g}")), how, how.metric)


def lines(every: Sequence[GuideChanges]) -> Iterator[str]:
    """The same for the terminal, under a heading; nothing where the program changed nothing."""
    found = by_program(every)
    if found:
        yield gettext("recomputed or reworded by the program; nobody has to be written to")
        yield from (f"  {one.sentence()}" for one in found)
