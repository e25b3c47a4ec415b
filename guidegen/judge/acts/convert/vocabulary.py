"""The things of all machines and kits that a procedure is for, found by the words that a sentence has for them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from guidegen.judge.acts.convert.patterns import words
from guidegen.judge.acts.row import Kinds
from guidegen.judge.acts.things import MOVED, Thing, Things

ITEM = "{item.id}"
_LIST = re.compile(r", | and ")
Ids = tuple[str, ...]
TAKEN_OFF = (*MOVED, "device")
"""Kinds of things that a photograph or a move is about."""
EXACT, DECLARED, NEAR = 0, 1, 2
"""How surely words name a thing: by all of them, by what the step declares to move, by some of them."""


@dataclass(frozen=True)
class Vocabulary:
    """The things of each machine with a kit that the procedure is for; `item_kind` of what a step is repeated over."""

    pairs: Sequence[Things]
    item_kind: str | None = None

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
        near = self._by_role(one.id for one in self._all(kinds) if words(text) and words(text) < words(one.say))
        if len(near) == 1:
            yield NEAR, (near[0],)

    def declared(self, names: Sequence[str], kinds: Kinds) -> Iterator[Ids]:
        """The things that are just what a step declares to move, record or test: one, a group, or several."""
        wanted = set(names)
        if not wanted:
            return
        single = self._by_role(one.id for one in self._all(kinds) if set(one.members) == wanted)
        if single:
            yield from ((name,) for name in single)
            return
        made: dict[str, str] = {}
        groups = {one.id: one for one in self._all(kinds) if len(one.members) > 1 and wanted.issuperset(one.members)}
        for group in sorted(groups.values(), key=lambda one: -len(one.members)):
            if not made.keys() & set(group.members):
                made |= dict.fromkeys(group.members, group.id)
        for name in names:
            known = self._by_role(one.id for one in self._all(kinds) if one.members == (name,) and one.kind in TAKEN_OFF)
            made.setdefault(name, known[0] if len(known) == 1 else "")
        if all(made.values()):
            yield tuple(dict.fromkeys(made[name] for name in names))

    def plain_id(self, name: str) -> str:
        """The id of what a step names by a fact, as `{control_thermostat.id}`."""
        found = (one.members[0] for one in self._all("any") if one.known and name == f"{{{one.facts}.id}}")
        return next(found, name)

    def having(self, names: Iterable[str]) -> list[Things]:
        """The machines with a kit that have all of some things, known well enough to name them."""
        wanted = list(names)
        return [one for one in self.pairs if all((thing := one.get(name)) and thing.known for name in wanted)]

    def of_kind(self, kinds: Kinds) -> Iterator[str]:
        """The ids of all things of some kinds."""
        yield from dict.fromkeys(one.id for one in self._all(kinds))

    def said(self, name: str) -> frozenset[str]:
        """The words of a thing, on whichever machine it is first found."""
        return next((words(one.say) for one in self._all("any") if one.id == name), frozenset())

    def _all(self, kinds: Kinds) -> Iterator[Thing]:
        for things in self.pairs:
            for thing in things.by_id.values():
                if kinds == "any" or thing.kind in kinds:
                    yield thing

    def _exact(self, text: str, kinds: Kinds) -> list[str]:
        for wanted in dict.fromkeys((words(text), words(self._named(text)))):
            if wanted and (found := self._by_role(one.id for one in self._all(kinds) if wanted in _bags(one))):
                return found
        return []

    def _named(self, text: str) -> str:
        """A text with the name of a thing in place of the fact that holds it."""
        for thing in self._all("any"):
            if thing.known and thing.facts in text:
                text = text.replace(f"{{{thing.facts}.name}}", thing.name)
        return text

    def _by_role(self, names: Iterable[str]) -> list[str]:
        """Ids, each once; what has a name by its role goes by that, since other machines have it under another id."""
        found = list(dict.fromkeys(names))
        roles = {one.members: one.id for one in self._all("any") if one.known and one.facts not in ("", f"thing.{one.id}")}
        members = {one.id: one.members for one in self._all("any") if one.known}
        return list(dict.fromkeys(roles.get(members.get(name, ()), name) for name in found))

    def _shares(self, text: str, ids: Ids) -> bool:
        bags = (words(one.say) | words(one.name) | set(one.id.split("-")) for one in self._all("any") if one.id in ids)
        # "both leads" are "both heater leads", and "every lead" may be one of them.
        return any(words(text) & bag for bag in bags)


def _bags(thing: Thing) -> tuple[frozenset[str], ...]:
    facts = (f"{{{thing.facts}.name}}", f"{{{thing.facts}.say}}")
    return (words(thing.say), words(thing.name), *map(words, facts))
