"""The reference of fields for page and terminal: what each is, how it is found out, an example, what depends on it."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any, get_args

from guidegen.assess.inputs import MACHINE, SIZES
from guidegen.record.fields import FieldPart, FieldSection
from guidegen.trade.catalogue import Catalogue
from guidegen.trade.described import described
from guidegen.trade.effects import EFFECTS
from guidegen.trade.field_walk import MACHINE as MACHINE_FILE
from guidegen.trade.field_walk import WalkedField, walk, walk_model
from guidegen.trade.paths import COMPUTED, known_facts
from guidegen.trade.schema import KINDS
from guidegen.unit_table import UNITS
from guidegen.units import parse
from guidegen.workshop.base import Place, Text
from guidegen.workshop.fact_table import FactTable
from guidegen.workshop.nodes import to_data
from guidegen.workshop.own_facts import FILE, PLACE, WrittenFact, values_of
from guidegen.workshop.reader import read_file
from guidegen.workshop.requirements import comparisons

ABOUT = {
    "machine": "A family's file holds what its variants share; a variant's file what differs. `null` removes.",
    "builds": "What owners reported of builds; `guidegen fitted add` writes it.",
    "run": "What a logged file is; `guidegen run add` asks for it.",
    "kit": "A kit; its effects, its parts, what it asks of a machine, what it costs.",
    "procedure": "How a kit is fitted; `guidegen new procedure` lays one down.",
    "shared": "Blocks of steps and remedies that every procedure uses.",
    "workshop": "Who publishes, and how a day is computed.",
    "drinks": "The drinks that are computed.",
    "sources": "Where values come from.",
    "glossary": "The words of the trade.",
    "hazards": "Hazard statements that a step may carry.",
    "facts": "Facts of your own, for machines to state and kits to ask.",
    "acts": "Acts of your own.",
    "questions": "What the self-check can ask, and what remedies take.",
    "read": "Which texts somebody has read; `guidegen read --confirm` writes it.",
    "pictures": "Photographs, each with what it shows.",
    "offers": "Prices, with the days on which they hold.",
}
"""What each kind of file holds."""
EXAMPLES = {
    "text": "a few words", "true or false": "true", "a whole number": "3", "a number": "0.8", "a day": "2026-03-31",
    "an id": "a-name", "an amount of money": "149.00 EUR", "words": "a few words",
    "a quantity with its unit": "62 dB(A) ± 1 dB(A)",
}  # fmt: skip
RUNS = "every computed figure: it is an input of the runs, and its ± becomes part of their ranges"
COIL = "all that is computed of a coil: how it lies on the wall decides its length, its layers and its room"
SHOWN = 6
"""So many places of one kind are named; the rest is counted."""
_BRACES = re.compile(r"\{([^{}]+)\}")


def fields(known: Catalogue | None = None) -> tuple[FieldSection, ...]:
    """Every field of every kind of file; with a workshop also what of it depends on each fact."""
    uses = _uses(known) if known is not None else {}
    own = tuple(_own(known.facts.facts)) if known is not None and known.facts is not None else ()
    return tuple(
        section.model_copy(
            update={
                "fields": tuple(
                    one.model_copy(update={"needed_by": (*one.needed_by, *uses[one.name])}) if one.name in uses else one
                    for one in (*section.fields, *(own if section.kind == MACHINE_FILE else ()))
                )
            }
        )
        for section in _sections()
    )


def _own(facts: tuple[WrittenFact, ...]) -> Iterator[FieldPart]:
    """The facts of a workshop's own, which a machine's file states as any."""
    for one in walk_model(values_of(facts), PLACE):
        title = one.spec.title if one.spec else one.key
        yield _part([one], f"{title}; a fact of your own, declared in {FILE}.")


@cache
def _sections() -> tuple[FieldSection, ...]:
    return tuple(
        FieldSection(kind=kind, where=where, about=ABOUT[kind], fields=tuple(_parts(kind)))
        for kind, (_, where) in KINDS.items()
    )


def _parts(kind: str) -> Iterator[FieldPart]:
    """The fields of a kind, each name once: what several kinds of one thing share stands together."""
    named: dict[str, list[WalkedField]] = defaultdict(list)
    for one in walk(kind):
        named[one.name].append(one)
    yield from (_part(several) for several in named.values())
    if kind == "machine":
        yield from _worked_out({*named})


def _part(several: list[WalkedField], says: str = "") -> FieldPart:
    one = several[0]
    words = [other.written.removeprefix("the word ") for other in several]
    written = one.written if len({*words}) == 1 else f"one of {', '.join(dict.fromkeys(words))}"
    spec = one.spec
    says = says or described(one.model, one.key)
    says += f" Its parts are those of `{one.same_as}`." if one.same_as else ""
    return FieldPart(
        name=one.name,
        says=says,
        written=written,
        example=f"{one.key}: {_example(one)}",
        title=spec.title if spec else None,
        settles=(spec.settles or None) if spec else None,
        plausible=spec.plausible if spec else None,
        vital=bool(spec and spec.vital),
        required=one.required,
        needed_by=tuple(_of_the_program(one.name)),
    )


def _worked_out(written: set[str]) -> Iterator[FieldPart]:
    """Facts that follow from others: requirements and questions may name them, and nobody writes them."""
    for name, kind in known_facts().items():
        if name not in written and kind.spec is not None:
            yield FieldPart(
                name=name,
                says=f"{kind.spec.title}; worked out from other facts, so it stands in no file.",
                written=f"one of {', '.join(kind.words)}" if kind.words else "a length",
                example=f"fact: {name}",
                title=kind.spec.title,
                settles=kind.spec.settles or None,
                plausible=kind.spec.plausible,
                vital=kind.spec.vital,
            )


def _example(one: WalkedField) -> str:
    if one.dimension is not None:
        return _quantity(one)
    if one.words:
        return one.words[0]
    written = one.written.removeprefix("the word ").removeprefix("one of ").split(", ")[0].split(" or ")[0]
    if written.startswith("a list"):
        return "[…]"
    if written.startswith("a mapping"):
        return "{…}"
    return EXAMPLES.get(one.written.split(" or ")[0] if one.written in EXAMPLES else written, written)


def _quantity(one: WalkedField) -> str:
    """A value in the middle of what is plausible, with a ± as somebody would measure it."""
    assert one.dimension is not None
    if one.spec is None or one.spec.plausible is None:
        unit = next(iter(UNITS[one.dimension]))
        return "230 V~" if one.dimension == "voltage" else f"12 {unit}".strip()
    first, last = (parse(end, one.dimension) for end in one.spec.plausible)
    unit = next((word for word in one.spec.plausible[1].split(" ", 1)[1:]), "")
    factor, offset = UNITS[one.dimension][unit]
    middle = ((first.value + last.value) / 2 - offset) / factor
    half = (last.value - first.value) / factor / 50
    value = f"{middle:.3g} {unit} ± {half:.1g} {unit}" if unit else f"{middle:.3g} ± {half:.1g}"
    return f"{{is: {value}, evidence: measured, source: bench-1}}"


# --- what depends on a field -----------------------------------------------------------------------------


def _of_the_program(name: str) -> Iterator[str]:
    if name in MACHINE or name in _of_effects():
        yield RUNS
    if name in SIZES:
        yield COIL
    follow = [one for one in COMPUTED if known_facts().within(one, name)] if name in known_facts() else []
    if follow:
        yield f"computed names that requirements compare with: {', '.join(follow)}"


@cache
def _of_effects() -> frozenset[str]:
    """The fields of a kit's effects that are inputs of the runs."""
    kinds = {effect: get_args(effect.model_fields["kind"].annotation)[0] for effect in EFFECTS}
    return frozenset(f"kit.effects.{kind}.{name}" for effect, kind in kinds.items() for name in effect.drawn)


def _uses(known: Catalogue) -> Mapping[str, tuple[str, ...]]:
    """By fact what of the workshop depends on it, each with its place."""
    found: dict[str, list[str]] = defaultdict(list)
    for kit in known.kits.values():
        for index, one in enumerate(kit.requirements):
            place = kit.places[("requirements", index, "id")]
            for name in dict.fromkeys(leaf.fact for leaf in comparisons(one) if leaf.fact):
                found[name].append(f"whether {kit.name} fits: {one.says} ({place.path}:{place.line})")
    for index, question in enumerate(known.questions.questions if known.questions else ()):
        assert known.questions is not None
        place = known.questions.places[("questions", index, "fact")]
        found[question.fact].append(f"the self-check asks it ({place.path}:{place.line})")
    steps = _places(known)
    for name, places in steps.items():
        more = f", and {len(places) - SHOWN} more places" if len(places) > SHOWN else ""
        found[name].append(f"words and conditions at {', '.join(places[:SHOWN])}{more}")
    return {name: tuple(lines) for name, lines in found.items()}


def _places(known: Catalogue) -> Mapping[str, list[str]]:
    """By fact the lines of kits and procedures that print it in braces or ask it in a condition."""
    documents = [*known.kits.values(), *known.procedures.values(), *([known.shared] if known.shared else [])]
    paths = sorted({place.path for one in documents for _, place in one.places.items() if place.path})
    found: dict[str, list[str]] = defaultdict(list)
    for path in paths:
        for name, place in _named(to_data(read_file(known.root / path, path))[0], None, known.table):
            words = f"{place.path}:{place.line}"
            if words not in found[name]:
                found[name].append(words)
    return found


def _named(value: Any, place: Place | None, table: FactTable) -> Iterator[tuple[str, Place]]:
    if isinstance(value, Mapping):
        for key, one in value.items():
            here = one.place if isinstance(one, Text) else place
            if key in table and here is not None:
                yield key, here
            yield from _named(one, here, table)
    elif isinstance(value, tuple):
        for one in value:
            yield from _named(one, place, table)
    elif isinstance(value, Text) and value.place is not None:
        yield from ((name, value.place) for name in _BRACES.findall(value) if name in table)
