"""The things of all machines and kits that a procedure is for, found by the words that a sentence has for them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from guidegen.judge.acts.convert.patterns import words
from guidegen.judge.acts.row import Kinds
from guidegen.judge.acts.things import MOVED, Thing, Things

ITEM = "{item.id}"
_LIST = re.compile(r", | and ")
Ids = tuple[str, ...]
TAKEN_OFF = (*MOVED, "device")
"""Kinds of things that a photograph or a move is about."""
JOINING = frozenset({"and", "at", "between", "both", "each", "every", "from", "in", "on", "to", "with"})
"""Words between those of things; any other word may say something that no act does."""
EXACT, DECLARED, NEAR = 0, 1, 2
"""How surely words name a thing: by all of them, by what the step declares to move, by some of them."""


@dataclass(frozen=True)
class Vocabulary:
    """The things of each machine with a kit that the procedure is for; `item_kind` of what a step is repeated over."""

    pairs: Sequence[Things]
    item_kind: str | None = None

    def having(self, names: Iterable[str]) -> list[Things]:
        """The machines with a kit that have all of some things, known well enough to name them."""
        wanted = list(names)
        return [one for one in self.pairs if all((thing := one.get(name)) and thing.known for name in wanted)]

    def named(self, text: str, kinds: Kinds, pinned: Sequence[Ids] = ()) -> Iterator[tuple[int, Ids]]:
        """What a slot's words can mean, and how surely: all readings of the surest kind that has any.

        `pinned` are the things that the step declares to move, where the slot is the one for these.
        """
        if self.item_kind and text in ("{item.name}", "{item.say}"):
            yield EXACT, (ITEM,)
            return
        if whole := self._exact(text, kinds):
            yield from ((EXACT, (one,)) for one in whole)
            return
        parts = [self._exact(one, kinds) for one in _LIST.split(text)]
        if len(parts) > 1 and all(len(one) == 1 for one in parts):
            yield EXACT, tuple(one[0] for one in parts)
            return
        if fitting := [ids for ids in pinned if self._shares(text, ids)]:
            yield from ((DECLARED, ids) for ids in fitting)
            return
        near = self._by_role(name for name, one in self._of(kinds) if words(text) and words(text) < words(one.say))
        if len(near) == 1:
            yield NEAR, (near[0],)

    def declared(self, names: Sequence[str], kinds: Kinds) -> Iterator[Ids]:
        """The things that are just what a step declares to move, record or test: one, a group, or several."""
        wanted = set(names)
        if not wanted:
            return
        if whole := self._by_role(name for name, one in self._of(kinds) if set(one.members) == wanted):
            yield from ((name,) for name in whole)
            return
        made: dict[str, str] = {}
        groups = {name: one.members for name, one in self._of(kinds) if len(one.members) > 1}
        for group in sorted(groups, key=lambda name: -len(groups[name])):
            if wanted.issuperset(groups[group]) and not made.keys() & set(groups[group]):
                made |= dict.fromkeys(groups[group], group)
        for name in names:
            known = self._by_role(key for key, one in self._of(kinds) if one.members == (name,) and _comes_off(one))
            made.setdefault(name, known[0] if len(known) == 1 else "")
        if all(made.values()):
            yield tuple(dict.fromkeys(made[name] for name in names))

    def plain_id(self, name: str) -> str:
        """The id of what a step names by a fact, as `{control_thermostat.id}`."""
        found = (one.members[0] for _, one in self._all if one.known and name == f"{{{one.facts}.id}}")
        return next(found, name)

    def of_kind(self, kinds: Kinds) -> Iterator[str]:
        """The names of all things of some kinds."""
        yield from dict.fromkeys(name for name, _ in self._of(kinds))

    def said(self, name: str) -> frozenset[str]:
        """The words of a thing, on whichever machine it is first found."""
        return next((words(one.say) for key, one in self._all if key == name), frozenset())

    @cached_property
    def _all(self) -> list[tuple[str, Thing]]:
        """Every thing under the name that an act has for it, each once."""
        return list(dict.fromkeys((name, one) for things in self.pairs for name, one in things.by_id.items()))

    @cached_property
    def _roles(self) -> dict[Ids, str]:
        """What has a name by its role: that name, by the ids behind it."""
        return {one.members: name for name, one in self._all if one.known and one.facts and name != one.id}

    def _of(self, kinds: Kinds) -> Iterator[tuple[str, Thing]]:
        yield from ((name, one) for name, one in self._all if kinds == "any" or one.kind in kinds)

    def _exact(self, text: str, kinds: Kinds) -> list[str]:
        for wanted in dict.fromkeys((words(text), words(self._filled(text)))):
            if wanted and (found := self._by_role(name for name, one in self._of(kinds) if wanted in _bags(one))):
                return found
        return []

    def _filled(self, text: str) -> str:
        """A text with the name of a thing in place of the fact that holds it."""
        for _, thing in self._all:
            if thing.known and thing.facts and thing.facts in text:
                text = text.replace(f"{{{thing.facts}.name}}", thing.name)
        return text

    def _by_role(self, names: Iterable[str]) -> list[str]:
        """Names, each once; what has one by its role goes by that, since other machines have it under another id."""
        return list(dict.fromkeys(self._roles.get((name,), name) for name in names))

    @cached_property
    def _heard(self) -> frozenset[str]:
        """Every word that things are called by, one or several of them."""
        named = (words(one.say) | words(one.name) | set(name.split("-")) for name, one in self._all)
        return frozenset(map(_one_of_them, frozenset().union(*named))) | JOINING

    def _shares(self, text: str, ids: Ids) -> bool:
        """Return whether a text speaks of these things, and of things alone: "both leads" are both heater leads."""
        bags = (words(one.say) | words(one.name) | set(name.split("-")) for name, one in self._all if name in ids)
        said = words(text)
        return any(said & bag for bag in bags) and all(_one_of_them(word) in self._heard for word in said)


def _one_of_them(word: str) -> str:
    return word.removesuffix("s")


def _comes_off(thing: Thing) -> bool:
    return thing.kind in TAKEN_OFF


def _bags(thing: Thing) -> tuple[frozenset[str], ...]:
    facts = (f"{{{thing.facts}.name}}", f"{{{thing.facts}.say}}")
    return (words(thing.say), words(thing.name), *map(words, facts))
