"""A drafted variant that begins from another of its family: only what was reported otherwise is written.

What the other variant's file says stays, with its evidence; as it comes from another variant, the self-check asks.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from guidegen.trade.draft_lines import protrusions, written
from guidegen.trade.machine import Machine
from guidegen.trade.paths import known_facts
from guidegen.units import UnitError, parse
from guidegen.workshop.facts import SURE, Fact

OUT = ("protrusions.stand_out", "protrusions.carry_device")
"""What is said of all that stands out together, and stands in the file as a list."""


def body(given: Mapping[str, str], base: Machine) -> Iterator[str]:
    """Yield the lines of what is said otherwise than of the other variant."""
    otherwise = {name: text for name, text in given.items() if name not in OUT and _differs(base, name, text)}
    tree: dict[str, dict[str, str]] = {}
    for name, text in otherwise.items():
        place, _, key = name.rpartition(".")
        tree.setdefault(place, {})[key] = text
    if any(name in given and _differs(base, name, given[name]) for name in OUT):
        tree.setdefault("boiler", {})
    shown: list[str] = []
    for place in sorted(tree):
        path = place.split(".")
        common = next((n for n in range(len(path), -1, -1) if path[:n] == shown[:n]), 0)
        for depth in range(common, len(path)):
            yield f"{'  ' * depth}{path[depth]}:"
        shown = path
        indent = "  " * len(path)
        yield from (f"{indent}{key}: {written(text)}" for key, text in sorted(tree[place].items()))
        if place == "boiler" and any(name in given and _differs(base, name, given[name]) for name in OUT):
            yield from protrusions(indent, given, [one.id for one in base.boiler.protrusions])


def sure(base: Machine) -> dict[str, str]:
    """What was looked at on the other variant, by name."""
    facts = ((name, base.fact(name)) for name in known_facts(type(base)))
    return {name: one.text for name, one in facts if one is not None and one.known and one.evidence in SURE}


def _differs(base: Machine, name: str, text: str) -> bool:
    """Whether what was reported contradicts what is known: a quantity that has nothing in common with that known."""
    fact = base.fact(name)
    if fact is None or not fact.known:
        return True
    if not isinstance(fact, Fact):
        return text != fact.text
    try:
        said = parse(text, fact.dimension)
    except UnitError:
        return True
    return said.high < fact.low or said.low > fact.high
