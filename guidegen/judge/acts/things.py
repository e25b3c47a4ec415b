"""Things as an act names them: id, kind, words, and what the machine's or kit's data say of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from guidegen.judge.acts.sentence import listed
from guidegen.workshop.base import Place

MOVED = {"device": "devices", "joint": "joints", "lead": "leads", "sensor": "devices"}
"""Kinds of things that are taken off and put on, and what a step's moves call them."""
Listed = Literal["tools", "parts", "consumables"]


@dataclass(frozen=True)
class Thing:
    """One thing, or several that a sentence names together.

    `members` are the ids behind it; `facts` the name under which procedures ask for what is known of it (`item` for
    the thing of a repeated step); `tools` the spanners that a joint needs in place of the usual one; `takes` what of
    the kit's lists goes with it; `listed` the list that it stands on itself; `brought`: the kit brings it; `ends`
    are what a joint or lead connects, `sealing` is what makes a joint tight, `closed_with` are the tools that closing
    it takes beside those that opened it; `resolution` is the smallest step that it shows; `closes`: it can stop the
    water. A joint that `settles` is tightened once more after the first heat. `part_of` is what a place belongs to,
    `place` where an inventory says all this.
    """

    id: str
    kind: str
    say: str
    name: str
    members: tuple[str, ...]
    facts: str = ""
    tools: tuple[str, ...] = ()
    takes: tuple[tuple[Listed, str], ...] = ()
    listed: Listed | None = None
    heats: bool = False
    known: bool = True
    brought: bool = False
    tool_kind: str = ""
    ends: tuple[str, ...] = ()
    sealing: str = ""
    closed_with: tuple[str, ...] = ()
    settles: bool = False
    resolution: str | None = None
    closes: bool = False
    part_of: str = ""
    place: Place | None = field(default=None, compare=False)


@dataclass(frozen=True)
class Things:
    """All things that the acts of one machine with one kit may name, by id."""

    by_id: Mapping[str, Thing] = field(default_factory=dict)
    made: dict[object, list[Any]] = field(default_factory=dict, repr=False, compare=False)
    """What acts were compiled to before, shared with the things made of these; see `guidegen.judge.acts.compiled`."""
    first: tuple[str, ...] = ()
    """Ids of the kits that are on the machine before; what they brought is among the things."""

    def having(self, more: Mapping[str, Thing]) -> Things:
        """Return the things with more or other ones."""
        return Things({**self.by_id, **more}, self.made, self.first)

    def get(self, name: str) -> Thing | None:
        """Return a thing; None where neither machine nor kit has it."""
        return self.by_id.get(name)

    @property
    def brought(self) -> Iterator[tuple[str, str]]:
        """Kind and name, as a step's moves have them, of what the kit brings: it is not on the machine before."""
        for thing in self.by_id.values():
            if thing.brought and thing.kind in MOVED:
                yield MOVED[thing.kind], thing.id

    def owner(self, name: str) -> str:
        """The part that a place belongs to; of whatever is no such place, itself."""
        thing = self.by_id.get(name)
        return thing.part_of if thing is not None and thing.part_of else name

    def tool(self, kind: str) -> str:
        """The id of the kit's tool of a kind; the kind itself where the kit calls it so, or has none."""
        return next((one.id for one in self.by_id.values() if one.listed and one.tool_kind == kind), kind)

    def gathered(self, names: Iterable[str]) -> tuple[str, ...]:
        """The same things, those of a group under its one name where all of them are there."""
        left = list(names)
        for one in self.by_id.values():
            if len(one.members) > 1 and {*one.members} <= {*left}:
                first = next(name for name in left if name in one.members)
                left = [one.id if name == first else name for name in left if name == first or name not in one.members]
        return tuple(left)

    def listed(self, names: Iterable[str]) -> str:
        """The words of several things as a sentence lists them; a thing that is no more than a name is that name."""
        return listed(self.words(names))

    def words(self, names: Iterable[str]) -> tuple[str, ...]:
        """The words of each of them."""
        found = ((name, self.get(name)) for name in names)
        return tuple(name if thing is None else thing.say for name, thing in found)


@dataclass(frozen=True)
class WatchedThings(Things):
    """The same things, which note what they were asked, so that an answer can be used again where it would be the same.

    Not for what looks through all of them.
    """

    named: dict[str, Thing | None] = field(default_factory=dict)
    taken: dict[str, str] = field(default_factory=dict)

    def get(self, name: str) -> Thing | None:
        """Return a thing, and note it."""
        self.named[name] = thing = super().get(name)
        return thing

    def tool(self, kind: str) -> str:
        """The id of a tool of a kind, which is noted."""
        self.taken[kind] = name = super().tool(kind)
        return name

    def alike(self, others: Things) -> bool:
        """Whether others answer all that was asked as these did."""
        return all(others.get(name) is thing for name, thing in self.named.items()) and all(
            others.tool(kind) == name for kind, name in self.taken.items()
        )


def item(kind: str) -> Thing:
    """The thing of a repeated step, whichever it is: its words are filled in later.

    >>> item("bolt").say
    '{item.say}'
    """
    return Thing("{item.id}", kind, "{item.say}", "{item.name}", ("{item.id}",), "item")
