"""The clean guides of the demonstration as data that a test may change in one place, and lint again.

The acts of the demonstration are compiled first: what is changed are the steps that the rules see, so that the rules
are tried on dangers which no act can be written to bring about.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import cache
from pathlib import Path
from typing import Any

from guidegen.assess import guiding, verdict
from guidegen.assess.adapt import (
    avoided_words,
    first_heat_value,
    flush_value,
    kit_side,
    machine_side,
    wait_value,
)
from guidegen.judge.acts.compiled import compiled
from guidegen.judge.safety.facts import Facts, Value
from guidegen.judge.safety.guide import Guide, KitSide, MachineSide, Paper
from guidegen.judge.safety.lint import Finding, lint
from guidegen.judge.safety.resolve import resolve
from guidegen.trade.catalogue import Catalogue
from guidegen.trade.load import look
from guidegen.workshop.acts import WrittenAct
from guidegen.workshop.base import Loc, Place, Places
from guidegen.workshop.nodes import to_data
from guidegen.workshop.procedures import Hazards, Procedure, SharedBlocks
from guidegen.workshop.reader import read_file

#: what the steps of a list are repeated over
KINDS = {"boiler.protrusions": "protrusion", "safety_devices": "device", "boiler.bolts": "bolt"}
#: acts that are no steps stay as they are written
AROUND = ("aftercare", "faults", "stop_use", "then")
ROOT = Path(__file__).parents[2]

#: what the assessment computes; any plausible number does here
COMPUTED = {
    "cool_down.wait": wait_value(3000.0),
    "flush.volume": flush_value(58.0),
    "first_heat.limit": first_heat_value(80.0),
    "coil.layers": Value("2", 2.0, "count", "calculated"),
    "coil.height": Value("40 mm", 0.040, "length", "calculated"),
    "relief.pushed_out": Value("6 ml", 6e-6, "volume", "calculated"),
    "locked.rise": Value("8 bar", 8e5, "pressure", "calculated"),
    "locked.yields": Value("136 bar", 136e5, "pressure", "calculated"),
    "locked.warms": Value("24 °C", 24.0, "temperature_difference", "calculated"),
}


@cache
def catalogue() -> Catalogue:
    """Read the demonstration once."""
    known, _ = look(ROOT)
    assert known is not None
    return known


@cache
def written_data(path: str) -> dict[str, Any]:
    data, _ = to_data(read_file(ROOT / path, path))
    return data


@dataclass
class Draft:
    """One guide before it is made: change one thing of it, then call `findings`."""

    procedure: dict[str, Any]
    shared: dict[str, Any]
    hazards: dict[str, Any]
    kit: KitSide
    machine: MachineSide
    facts: Facts
    paper: Paper
    path: str
    pair: tuple[str, str]
    words: dict[str, str] = field(default_factory=dict)
    read: frozenset[str] | None = None

    def guide(self) -> Guide:
        """Return the guide."""
        procedure = _model(Procedure, self.procedure, self.path, self.pair)
        shared = _model(SharedBlocks, self.shared, "content/procedures/shared.yml", self.pair)
        hazards = _model(Hazards, self.hazards, "content/hazards.yml", self.pair)
        resolved = resolve(procedure, shared, self.facts)
        return Guide(resolved, hazards, self.machine, self.kit, self.paper, self.words, self.read)

    def findings(self) -> tuple[Finding, ...]:
        """Return everything that the lint finds."""
        return lint(self.guide())

    def fact(self, name: str, value: Value) -> None:
        """Write another value of a fact."""
        self.facts = self.facts.having({name: value})

    def kits(self, **changes: Any) -> None:
        """Write other values of the kit."""
        self.kit = replace(self.kit, **changes)


def read_everything(one: Draft) -> Draft:
    """Return a draft of which somebody has read every text that it has now."""
    guide = one.guide()
    texts = (*(text.written for text in guide.resolved.texts), *guide.hazards.texts)
    one.read = frozenset(text.hash for text in texts)
    return one


def draft(variant: str, kit: str) -> Draft:
    """Return the clean guide of a variant with a kit, free to change."""
    known = catalogue()
    machine, one = known.machines[variant], known.kits[kit]
    facts, pair = _facts(variant, kit)
    return Draft(
        procedure=thawed(_steps(variant, kit, f"content/procedures/{kit}.yml")),
        shared=thawed(_steps(variant, kit, "content/procedures/shared.yml")),
        hazards=thawed(written_data("content/hazards.yml")),
        kit=kit_side(one, facts),
        machine=machine_side(machine, pair.decisions),
        facts=facts,
        paper=Paper("next", known.workshop.contact, known.workshop.language),
        path=f"content/procedures/{kit}.yml",
        pair=(variant, kit),
        words=avoided_words(known.glossary),
    )


@cache
def _facts(variant: str, kit: str) -> tuple[Facts, verdict.Judged]:
    """Return what the procedure may ask, as the assessment gives it, and the judgement behind it."""
    known = catalogue()
    machine, one = known.machines[variant], known.kits[kit]
    pair = verdict.judged(known, machine, one, "next")
    return guiding.facts_for(known, machine, one, verdict.fit_part(pair.check), pair, COMPUTED), pair


@cache
def _steps(variant: str, kit: str, path: str) -> dict[str, Any]:
    """Return a file of procedures with its acts compiled for a pair."""
    facts, _ = _facts(variant, kit)
    dead = "proved_dead" if catalogue().procedures[kit].mains_work else "off"
    return unfolded(written_data(path), facts, dead, None)


def unfolded(value: Any, facts: Facts, dead: str, item_kind: str | None) -> Any:
    if isinstance(value, tuple):
        return tuple(made for one in value for made in _unfolded_entry(one, facts, dead, item_kind))
    if not isinstance(value, dict):
        return value
    kind = KINDS.get(str(value.get("each")), item_kind)
    return {name: one if name in AROUND else unfolded(one, facts, dead, kind) for name, one in value.items()}


def _unfolded_entry(entry: Any, facts: Facts, dead: str, item_kind: str | None) -> Iterator[Any]:
    if not isinstance(entry, dict) or "act" not in entry:
        yield unfolded(entry, facts, dead, item_kind)
        return
    steps = compiled(WrittenAct.model_validate(entry), facts.things, item_kind, dead).steps
    if not steps:  # of another pair: it stays an act, which is left out here
        yield entry
    for step in steps:
        data = step.model_dump(by_alias=True, exclude_defaults=True)
        hazards = data.pop("hazards", ())
        yield {"hazards": hazards, **data} if hazards else data


def thawed(value: Any) -> Any:
    """Return the data with lists in place of tuples, nothing shared with the original."""
    if isinstance(value, dict):
        return {name: thawed(one) for name, one in value.items()}
    if isinstance(value, tuple | list):
        return [thawed(one) for one in value]
    return value


def frozen(value: Any) -> Any:
    if isinstance(value, dict):
        return {name: frozen(one) for name, one in value.items()}
    if isinstance(value, tuple | list):
        return tuple(frozen(one) for one in value)
    return value


@cache
def _clean(model: type[Any], path: str, pair: tuple[str, str]) -> tuple[str, Any]:
    """Return the clean data as text, and its document: what a mutant leaves alone is not read again."""
    data = thawed(written_data(path) if model is Hazards else _steps(*pair, path))
    return repr(data), _made(model, data, path)


def _model(model: type[Any], data: dict[str, Any], path: str, pair: tuple[str, str]) -> Any:
    clean, document = _clean(model, path, pair)
    # Order counts as well (HAZ03), and dicts compare without it.
    return document if repr(data) == clean else _made(model, data, path)


def _made(model: type[Any], data: dict[str, Any], path: str) -> Any:
    """Validate changed data; places count the values in the order in which they are written."""
    document = model.model_validate(frozen(data))
    table: dict[Loc, Place] = {}
    names: dict[Loc, Place] = {}
    _number(data, (), path, table, names)
    document._places = Places(table, names)
    return document


def _number(value: Any, loc: Loc, path: str, table: dict[Loc, Place], names: dict[Loc, Place]) -> None:
    table[loc] = Place(path, len(table) + 1, 1)
    if isinstance(value, dict):
        for name, one in value.items():
            names[(*loc, name)] = Place(path, len(table) + 1, 1)
            _number(one, (*loc, name), path, table, names)
    elif isinstance(value, list):
        for index, one in enumerate(value):
            _number(one, (*loc, index), path, table, names)
