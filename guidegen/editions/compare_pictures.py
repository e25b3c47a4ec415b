"""The photographs of two records: which came, went, or were taken anew. Nobody has to be written to for one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from guidegen.editions.change import Change
from guidegen.editions.pairs import both, pairs
from guidegen.editions.snapshot import steps_of
from guidegen.language import gettext

Data = Mapping[str, Any]


def picture_changes(old: Data, new: Data) -> Iterator[Change]:
    """What changed in the photographs of a guide, each once, wherever it stands."""
    for one, other in pairs(list(_pictures(old)), list(_pictures(new))):
        words = both(one, other, lambda side: side["words"])
        if one and other and one["digest"] != other["digest"]:
            words = words[0], gettext("{words} (a new photograph)").format(words=words[1])
        if words[0] != words[1]:
            yield Change("picture", gettext("picture"), *words)


def _pictures(record: Data) -> Iterator[Data]:
    """Every photograph of a record; what an edition of before pictures kept has none."""
    holders = [record["variant"], *record["variant"].get("marks", ()), record["kit"], *steps_of(record)]
    found = {one["id"]: one for holder in holders for one in holder.get("pictures", ())}
    yield from found.values()
