"""Mutants made from the table of acts: each act of a guide done to another thing of the same kind."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any

import pytest

from guidegen.judge.acts.row import rows
from tests.mutants.draft import Draft, catalogue, draft, thawed, unfolded, written_data
from tests.mutants.table import BANJO, EXCHANGE, LOOP_WIRED, SPREAD, TRIM, Mutant, survivors
from tests.mutants.test_generated import acts_of

SHARED = "content/procedures/shared.yml"
GUIDES = (TRIM, EXCHANGE, SPREAD, BANJO, LOOP_WIRED)
"""A plug and none, each kit, with a spread and without: the acts of the others are the same."""
EITHER = {"label", "cut-ties"}
"""Acts that count whatever they are done to: a label stays for the next time, and a guide has one bundle of ties."""


def exchanged(guide: tuple[str, str]) -> Iterator[Mutant]:
    """Each act of the guide with its first thing exchanged for every other of the same kind."""
    clean = draft(*guide)
    things = clean.facts.things
    done = {(name, act) for _, name, act in acts_of(clean)}
    for path, number, written in written_acts(guide):
        row = rows()[written["act"]]
        named = written.get("of", ())
        name = named if isinstance(named, str) else named[0] if named else ""
        thing = things.get(name)
        if thing is None or row.free or written["act"] in EITHER or (written["id"], written["act"]) not in done:
            continue
        for other in things.by_id.values():
            kinds = row.kinds("of")
            if other.kind == thing.kind and "any" not in kinds and {*other.members}.isdisjoint(thing.members):
                act = {**written, "of": (other.id,)}
                change = partial(put_in, path=path, number=number, act=act)
                yield Mutant("", f"{written['id']} ({written['act']}): {other.id} in place of {name}", guide, change)


def written_acts(guide: tuple[str, str]) -> Iterator[tuple[str, int, dict[str, Any]]]:
    """The acts of a guide as they are written: `procedure` or `shared`, a running number, and the act."""
    for path, data in (
        ("procedure", written_data(f"content/procedures/{guide[1]}.yml")),
        ("shared", written_data(SHARED)),
    ):
        yield from ((path, number, act) for number, act in enumerate(acts_in(data)))


def acts_in(value: Any) -> Iterator[dict[str, Any]]:
    """Every act below a value, in the order in which it is written."""
    if isinstance(value, dict):
        if "act" in value and "id" in value:
            yield value
            return
        value = tuple(value.values())
    if isinstance(value, tuple | list):
        for one in value:
            yield from acts_in(one)


def put_in(one: Draft, path: str, number: int, act: dict[str, Any]) -> None:
    """Write another act in place of one, and compile the file anew."""
    file = one.path if path == "procedure" else SHARED
    left = iter(range(10_000))

    def copied(value: Any) -> Any:
        if isinstance(value, dict):
            if "act" in value and "id" in value:
                return act if next(left) == number else value
            return {name: copied(inner) for name, inner in value.items()}
        return tuple(map(copied, value)) if isinstance(value, tuple) else value

    dead = "proved_dead" if catalogue().procedures[one.pair[1]].mains_work else "off"
    setattr(one, path, thawed(unfolded(copied(written_data(file)), one.facts, dead, None)))


@pytest.mark.slow
@pytest.mark.parametrize("guide", GUIDES, ids="/".join)
def test_no_thing_can_be_exchanged(guide: tuple[str, str]) -> None:
    """Each act done to another thing of the same kind, one at a time."""
    assert survivors(exchanged(guide)) == []
