"""What a procedure may ask of a machine and a kit, as plain values.

A fact is a value with its text, evidence and source; or unknown; or a factory spread, of which the reader's own
machine has one.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from itertools import product
from typing import Any

from guidegen.judge import when
from guidegen.judge.acts.row import ActTable
from guidegen.judge.acts.things import Things
from guidegen.judge.comparison import Known
from guidegen.judge.logic import Interval, Truth
from guidegen.units import UnitError, parse
from guidegen.workshop.acts import WrittenAct
from guidegen.workshop.base import Place
from guidegen.workshop.when import names_in


@dataclass(frozen=True)
class Gap:
    """A fact of machine or kit that nobody knows: its name and title, what settles it, and where it is to be written.

    `absent` is True where the file does not say `unknown` but says nothing, so that a line has to be added. `stated` is
    what the file says where that is assumed, and life and limb hang on it.
    """

    name: str
    title: str
    settles: str = ""
    place: str = ""
    absent: bool = False
    stated: str = ""


@dataclass(frozen=True)
class Value:
    """One fact: how it is printed, what it compares as (SI or a word; None: unknown), and where it comes from.

    `ends` are those of a quantity that is known between two; `options` those of a factory spread.
    `gaps` are the catalogue's facts that would have to be known first. A value that is unknown without a gap has a
    name that no machine and no kit has: a mistake of whoever wrote the procedure. `names` are those that the text
    lists, where it lists some: each has forms in a language with cases. `place` is where it was written.
    """

    text: str
    value: str | float | None
    dimension: str = ""
    evidence: str = "assumed"
    source: str | None = None
    options: tuple[str, ...] = ()
    ends: tuple[float, float] | None = None
    gaps: tuple[Gap, ...] = ()
    names: tuple[str, ...] = ()
    place: Place | None = field(default=None, compare=False)

    @property
    def known(self) -> Known | None:
        """Return what is known for comparisons; None where nothing is."""
        if self.value is None:
            return None
        if not isinstance(self.value, str):
            return Interval.between(*(self.ends or (self.value, self.value)))
        return _quantity(self.value, self.dimension) if self.dimension else frozenset({self.value})


def _quantity(text: str, dimension: str) -> Known | None:
    """Return one possibility of a spread as a quantity."""
    try:
        read = parse(text, dimension)
    except UnitError:
        return None
    return Interval.between(read.low, read.high)


UNKNOWN = Value("unknown", None)


@dataclass(frozen=True)
class Item:
    """One of the things that a step is repeated over: a protrusion, a bolt, a safety device.

    `say` are its words in a sentence where they are not its name with an article before it.
    """

    id: str
    name: str
    values: Mapping[str, Value]
    kind: str = ""
    say: str = ""


@dataclass(frozen=True)
class Facts:
    """Everything a procedure may ask: facts and lists of items by dotted name, things, and the acts done to them.

    `placed` are acts that no author writes: by course, what is looked at before anything is changed. `near` are the
    kits that lean on this one, or this one on them.
    """

    values: Mapping[str, Value] = field(default_factory=dict)
    lists: Mapping[str, tuple[Item, ...]] = field(default_factory=dict)
    things: Things = field(default_factory=Things)
    judged: dict[int, tuple[object, Truth]] = field(default_factory=dict, init=False, repr=False, compare=False)
    """What was asked of these facts before, by the identity of the condition; see `holds`."""
    acts: ActTable = field(default_factory=ActTable)
    placed: Mapping[str, tuple[WrittenAct, ...]] = field(default_factory=dict)
    near: tuple[str, ...] = ()

    def get(self, name: str) -> Value:
        """Return a fact; a name that nobody knows is unknown."""
        return self.values.get(name, UNKNOWN)

    def having(self, more: Mapping[str, Value]) -> Facts:
        """Return the facts with more or other values."""
        return replace(self, values={**self.values, **more})

    def for_item(self, item: Item) -> Facts:
        """Return the facts as a repeated step sees them: those of its item are called `item.…`."""
        own = {f"item.{name}": value for name, value in item.values.items()}
        say = item.say or item.name
        words = {"item.id": word(item.id), "item.name": word(item.name), "item.say": word(say)}
        words["item.say-start"] = word(say[:1].upper() + say[1:])
        return self.having({**words, **own})

    def scenarios(self) -> tuple[Facts, ...]:
        """Return the facts once for each combination of factory spreads, in a fixed order."""
        spread = {name: value for name, value in sorted(self.values.items()) if value.options}
        choices = [[word(option, value) for option in value.options] for value in spread.values()]
        return tuple(self.having(dict(zip(spread, chosen, strict=True))) for chosen in product(*choices))

    def cases(self) -> tuple[str, ...]:
        """Return what each scenario is called, in the same order: the options that it takes.

        >>> Facts({"way": Value("a or b", None, options=("a", "b"))}).cases(), Facts().cases()
        (('a', 'b'), ('',))
        """
        spread = [value.options for _, value in sorted(self.values.items()) if value.options]
        return tuple(", ".join(chosen) for chosen in product(*spread))


def word(text: str, like: Value | None = None) -> Value:
    """Return a fact that is a word and certain, or one option of a spread."""
    if like is None:
        return Value(text, text, evidence="measured")
    return Value(text, text, like.dimension, like.evidence, like.source)


def holds(condition: Mapping[str, Any] | None, facts: Facts) -> Truth:
    """Judge a `when:` on these facts.

    >>> holds({"mains.connection": "corded"}, Facts({"mains.connection": word("corded")}))
    <Truth.TRUE: 'true'>
    >>> holds({"mains.connection": "corded"}, Facts())
    <Truth.UNKNOWN: 'unknown'>
    """
    # Many steps share a condition, which is never changed: it is judged once, and held on to by its truth.
    judged = facts.judged.get(id(condition))
    if judged is None:
        known = {name: one for name in names_in(condition) if (one := facts.get(name).known) is not None}
        truth = when.holds(condition, known, lambda name: _dimension(known.get(name), facts.get(name)))
        judged = facts.judged[id(condition)] = (condition, truth)
    return judged[1]


def _dimension(known: Known | None, value: Value) -> str | None:
    return (value.dimension or "count") if isinstance(known, Interval) else None
