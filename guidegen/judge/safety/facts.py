"""What a procedure may ask of a machine and a kit, as plain values, and the three-valued answer to `when:`.

A fact is a value with its text, evidence and source; or unknown; or a factory spread, of which the reader's own
machine has one. An unknown fact makes a condition unknown, never true (strong Kleene logic).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import product
from typing import Any

from guidegen.units import UnitError, parse

Truth = bool | None
"""True, False, or None where it cannot be told."""


@dataclass(frozen=True)
class Gap:
    """A fact of machine or kit that nobody knows: its name and title, what settles it, and where it is to be written.

    `absent` is True where the file does not say `unknown` but says nothing, so that a line has to be added.
    """

    name: str
    title: str
    settles: str = ""
    place: str = ""
    absent: bool = False


@dataclass(frozen=True)
class Value:
    """One fact: how it is printed, what it compares as (SI or a word; None: unknown), and where it comes from.

    `gaps` are the catalogue's facts that would have to be known first. A value that is unknown without a gap has a
    name that no machine and no kit has: a mistake of whoever wrote the procedure.
    """

    text: str
    value: str | float | bool | None
    dimension: str = ""
    evidence: str = "assumed"
    source: str | None = None
    options: tuple[str, ...] = ()
    gaps: tuple[Gap, ...] = ()


UNKNOWN = Value("unknown", None)


@dataclass(frozen=True)
class Item:
    """One of the things that a step is repeated over: a protrusion, a bolt, a safety device."""

    id: str
    name: str
    values: Mapping[str, Value]


@dataclass(frozen=True)
class Facts:
    """Everything a procedure may ask: single facts by dotted name, and lists of items by dotted name."""

    values: Mapping[str, Value] = field(default_factory=dict)
    lists: Mapping[str, tuple[Item, ...]] = field(default_factory=dict)

    def get(self, name: str) -> Value:
        """Return a fact; a name that nobody knows is unknown."""
        return self.values.get(name, UNKNOWN)

    def having(self, more: Mapping[str, Value]) -> Facts:
        """Return the facts with more or other values."""
        return Facts({**self.values, **more}, self.lists)

    def for_item(self, item: Item) -> Facts:
        """Return the facts as a repeated step sees them: those of its item are called `item.…`."""
        own = {f"item.{name}": value for name, value in item.values.items()}
        return self.having({"item.id": word(item.id), "item.name": word(item.name), **own})

    def scenarios(self) -> tuple[Facts, ...]:
        """Return the facts once for each combination of factory spreads, in a fixed order."""
        spread = {name: value for name, value in sorted(self.values.items()) if value.options}
        choices = [[word(option, value) for option in value.options] for value in spread.values()]
        return tuple(
            Facts({**self.values, **dict(zip(spread, chosen, strict=True))}, self.lists) for chosen in product(*choices)
        )


def word(text: str, like: Value | None = None) -> Value:
    """Return a fact that is a word and certain, or one option of a spread."""
    if like is None:
        return Value(text, text, evidence="measured")
    return Value(text, text, like.dimension, like.evidence, like.source)


def holds(condition: Mapping[str, Any] | None, facts: Facts) -> Truth:
    """Answer a `when:`: all of its lines hold; True, False or None where a fact is unknown.

    A line is a fact and its wanted value, a list of wanted values, or `at_least`, `at_most`, `not` with one;
    `any`, `all` and `not` take conditions.

    >>> holds({"mains.connection": "corded"}, Facts({"mains.connection": word("corded")}))
    True
    >>> holds({"mains.connection": "corded"}, Facts()) is None
    True
    """
    return True if not condition else _all(_line(name, wanted, facts) for name, wanted in condition.items())


def names_in(condition: Mapping[str, Any] | None) -> frozenset[str]:
    """Return the facts that a condition asks."""
    return frozenset(_names(condition)) if condition else frozenset()


def _names(condition: Mapping[str, Any]) -> Iterator[str]:
    for name, wanted in condition.items():
        if name in ("any", "all"):
            for part in wanted:
                yield from _names(part)
        elif name == "not":
            yield from _names(wanted)
        else:
            yield name


def _line(name: str, wanted: Any, facts: Facts) -> Truth:
    if name == "all":
        return _all(holds(part, facts) for part in wanted)
    if name == "any":
        return _not(_all(_not(holds(part, facts)) for part in wanted))
    if name == "not":
        return _not(holds(wanted, facts))
    return _compare(facts.get(name), wanted)


def _compare(have: Value, wanted: Any) -> Truth:
    if have.value is None:
        return None
    if isinstance(wanted, Mapping):
        return _all(_sense(have, sense, limit) for sense, limit in wanted.items())
    if isinstance(wanted, tuple | list):
        return any(_same(have, one) for one in wanted)
    return _same(have, wanted)


def _sense(have: Value, sense: str, limit: Any) -> Truth:
    if sense == "not":
        return _not(_compare(have, limit))
    if not isinstance(have.value, float | int):
        return None
    try:
        bound = parse(str(limit), have.dimension).value
    except UnitError:
        return None
    return have.value >= bound if sense == "at_least" else have.value <= bound


def _same(have: Value, wanted: Any) -> bool:
    if isinstance(have.value, bool):
        return str(wanted).lower() == str(have.value).lower()
    if isinstance(have.value, float | int):
        try:
            return parse(str(wanted), have.dimension or "count").value == have.value
        except UnitError:
            return False
    return str(wanted) == have.value


def _not(truth: Truth) -> Truth:
    return None if truth is None else not truth


def _all(truths: Iterator[Truth]) -> Truth:
    listed = list(truths)
    if False in listed:
        return False
    return None if None in listed else True
