"""What changed in all guides, each thing once with the guides that it holds for: what owners must be told stands first.

One correction in a family's file changes every guide of it in the same way, and whoever decides whether to publish has
to see the one line that matters.
"""

from __future__ import annotations

import re
from collections.abc import Hashable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from guidegen.editions.by_program import moved_words
from guidegen.editions.change import ORDER, Change, GuideChanges
from guidegen.language import gettext, ngettext

MOST_STEPS = 6
"""So many numbers of steps are named; each guide's own page has all."""


@dataclass(frozen=True)
class Told:
    """One thing that changed, and where."""

    kind: str
    words: str
    why: str
    """Its causes in words; empty where they are unclear."""
    notifiable: str | None
    guides: tuple[GuideChanges, ...]

    def count(self) -> str:
        """In how many guides."""
        return ngettext("{count} guide", "{count} guides", len(self.guides)).format(count=len(self.guides))


def told(every: Sequence[GuideChanges]) -> tuple[Told, ...]:
    """What the data or the authors changed: first what owners must be told, then by kind."""
    found: dict[Hashable, list[tuple[GuideChanges, Change]]] = {}
    for one in every:
        for change in one.own:
            found.setdefault(_mark(change), []).append((one, change))
    kinds = [*ORDER]
    made = [_told([guide for guide, _ in group], [change for _, change in group]) for group in found.values()]
    return tuple(sorted(made, key=lambda one: (not one.notifiable, kinds.index(one.kind))))


def headed(every: Sequence[GuideChanges]) -> list[tuple[str, str, list[Told]]]:
    """The same under headings: an id, the heading, and what stands under it."""
    listed = told(every)
    groups = [("notify", gettext("To be told to whoever fitted"), [one for one in listed if one.notifiable])]
    for kind, heading in ORDER.items():
        groups.append((kind, gettext(heading), [one for one in listed if one.kind == kind and not one.notifiable]))
    return [group for group in groups if group[2]]


def _mark(change: Change) -> Hashable:
    """What counts as the same in several guides: neither a step's number, nor by how much a figure moved."""
    apart = change.kind, change.notifiable, change.causes
    if change.moved is not None:
        return *apart, change.moved.what, change.moved.by is None
    if change.kind == "guide":
        return *apart, change.old, change.new
    about = change.about.replace(change.step, "") if change.step else change.about
    return *apart, about, change.old, change.new


def _told(guides: Sequence[GuideChanges], changes: Sequence[Change]) -> Told:
    first, where = changes[0], tuple(dict.fromkeys(guides))
    return Told(first.kind, _words(changes), first.why(), first.notifiable, where)


def _words(changes: Sequence[Change]) -> str:
    first = changes[0]
    if len(changes) == 1:
        return first.sentence()
    if first.moved is not None:
        return moved_words(changes)
    if first.kind == "guide":
        return replace(first, about=gettext("a guide")).sentence()
    if first.step:
        return replace(first, about=first.about.replace(first.step, _numbers(one.step for one in changes))).sentence()
    return first.sentence()


def _numbers(steps: Iterable[str]) -> str:
    """Numbers of steps in their order, as `5.9, 5.10, 7.8`."""
    parts = {step: [part.zfill(9) for part in re.findall(r"[0-9]+|[^0-9.]+", step)] for step in steps}
    listed = sorted(parts, key=lambda step: parts[step])
    return ", ".join([*listed[:MOST_STEPS], *(["…"] if len(listed) > MOST_STEPS else [])])


# --- where -------------------------------------------------------------------------------------------


def where(guides: Sequence[GuideChanges], every: Sequence[GuideChanges]) -> str:
    """Which guides these are among all, as short as can be: `all 24 guides`, `every kit on mk1, mk2; kit-a on mk3`."""
    if len(guides) == len(every) > 1:
        return gettext("all {count} guides").format(count=len(every))
    all_kits = {one.kit for one in every}
    by_kits: dict[tuple[str, ...], list[str]] = {}
    for variant, kits in _by_variant(guides):
        by_kits.setdefault(kits, []).append(variant)
    words = gettext("{kits} on {variants}")
    return "; ".join(
        words.format(kits=gettext("every kit") if len(kits) == len(all_kits) > 1 else ", ".join(kits),
                     variants=", ".join(variants))
        for kits, variants in by_kits.items()
    )  # fmt: skip


def _by_variant(guides: Sequence[GuideChanges]) -> Iterator[tuple[str, tuple[str, ...]]]:
    for variant in dict.fromkeys(one.variant for one in guides):
        yield variant, tuple(one.kit for one in guides if one.variant == variant)
