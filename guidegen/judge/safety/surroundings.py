"""What surrounds an entry of a procedure: a phase or block, what it is included by, what it is repeated over."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from guidegen.judge.safety.facts import Facts, Item
from guidegen.workshop.entries import Each, Include
from guidegen.workshop.when import Condition


@dataclass(frozen=True)
class Surroundings:
    """The conditions of an entry, the facts that it sees, its prefix, the texts that an include gives."""

    conditions: tuple[Condition, ...]
    facts: Facts
    scenarios: tuple[Facts, ...]
    prefix: str
    phase: str
    suffix: str = ""
    only_if: str | None = None
    item: str | None = None
    item_kind: str | None = None
    given: Mapping[str, str] = field(default_factory=dict)

    def included(self, entry: Include) -> Surroundings:
        """What surrounds the entries of a shared block that is included here."""
        return replace(
            self,
            conditions=self.conditions + ((entry.when,) if entry.when else ()),
            prefix=self.prefix + (f"{entry.as_}/" if entry.as_ else ""),
            only_if=entry.only_if or self.only_if,
            given={**self.given, **entry.given},
        )

    def repeated(self, entry: Each, item: Item) -> Surroundings:
        """What surrounds the entries that are repeated here, for one of the things."""
        return replace(
            self,
            conditions=self.conditions + ((entry.where,) if entry.where else ()),
            facts=self.facts.for_item(item),
            scenarios=tuple(one.for_item(item) for one in self.scenarios),
            suffix=f"-{item.id}",
            item=item.id,
            item_kind=item.kind,
            only_if=entry.only_if or self.only_if,
        )
