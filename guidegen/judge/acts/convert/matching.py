"""The act that a step of the old form is: a row whose sentence it says and whose effect is at least as strict."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Any

from guidegen.judge.acts.compiled import compiled
from guidegen.judge.acts.convert.patterns import Slots, literal, slots_in, words
from guidegen.judge.acts.convert.strictness import SENSES, unsaid, unused, weaker
from guidegen.judge.acts.convert.vocabulary import DECLARED, EXACT, ITEM, Ids, Kinds, Vocabulary
from guidegen.judge.acts.effects import ROLES, least_role
from guidegen.judge.acts.kernel import EFFECTS
from guidegen.judge.acts.row import TableRow, rows
from guidegen.judge.acts.things import Things
from guidegen.workshop.acts import WrittenAct
from guidegen.workshop.rows import SLOTS
from guidegen.workshop.steps import Role, Step

ORDER = ("id", "when", "only_if", "act", "of", "at", "to", "with", "amount", "limit", "back_to", "for_good", "torque",
         "why", "role", "minutes", "figure")  # fmt: skip
"""The order in which the fields of an act are written."""
AMOUNT = re.compile(r"\{[\w.]+\}|[0-9][0-9.]* ?[a-z]+|(?:(?:a|an|half|one|two|three|quarters?|of|full) )*turns?")
"""A fact, a time or a turn, and nothing else that a sentence may say there."""
_STATED = re.compile(r"\{\w+\}")
"""A value that a procedure states: its name has no point in it, as those of the machine's facts have."""
ALIKE = 0.3
"""Share of words that a sentence and a template have in common, from which on it is worth naming the act."""
HELD = ("tools", "consumables")
"""Lists whose things an act can name under `with`; parts follow from what it is done to."""
Written = dict[str, Any]
"""An act as it is written: its fields, those without a value left out."""


@dataclass(frozen=True)
class Match:
    """An act for a step: as written, which of the row's ways the step is, and the words that are lost."""

    act: Written
    way: int
    ways: int
    unsaid: tuple[tuple[str, str], ...]
    rank: tuple[int, ...] = ()


@dataclass(frozen=True)
class NoAct:
    """Why a step is no act."""

    reason: str


@dataclass(frozen=True)
class _RowReading:
    """One way to read a step by a row: its slots as ids, and how surely."""

    name: str
    row: TableRow
    way: int
    slots: Mapping[str, Ids]
    amount: str | None
    sureness: int


def match(step: Step, vocabulary: Vocabulary, dead: str = "off") -> Match | NoAct:
    """The act that says what a step says and is at least as strict on every machine that has its things."""
    found: list[Match] = []
    reasons: list[tuple[int, str]] = []
    for reading in _readings(step, vocabulary):
        made = _tried(step, reading, vocabulary, dead)
        if isinstance(made, Match):
            found.append(made)
        else:
            reasons.append((len(made), f"as `{reading.name}` it would lose: {'; '.join(made)}"))
    if not found:
        return NoAct(min(reasons)[1] if reasons else _nearest(step.do))
    best = min(one.rank for one in found)
    chosen = [one for one in found if one.rank == best]
    if len({str(one.act) for one in chosen}) > 1:
        return NoAct(f"it could be {' or '.join(sorted({_short(one.act) for one in chosen}))}")
    return chosen[0]


def _nearest(sentence: str) -> str:
    """No act has these words, and the one that has most of them."""
    wanted = words(sentence)
    said = {name: words(way.say or "") for name, row in rows().items() if row.place == "step" for way in row.ways}
    alike = {name: len(wanted & one) / len(wanted | one) for name, one in said.items()}
    best = max(alike, key=lambda name: alike[name])
    near = f"the nearest is `{best}`" if alike[best] >= ALIKE else "`guidegen check --acts` lists them all"
    return f"no act has these words; {near}"


def _short(act: Written) -> str:
    return ", ".join(f"{name}: {act[name]}" for name in ("act", *SLOTS) if name in act)


def declared(step: Step) -> tuple[str, ...]:
    """What a step declares to move, to record or to test."""
    for part in (step.removes, step.refits):
        if part is not None:
            return (*part.devices, *part.joints, *part.leads)
    if step.relief is not None:
        return (step.relief.protects,)
    return step.records or step.verifies or step.earth_points


def _readings(step: Step, vocabulary: Vocabulary) -> Iterator[_RowReading]:
    for name, row in rows().items():
        for number, way in enumerate(row.ways):
            if row.place != "step":
                continue
            if way.when and not _within(way.when, step.when):
                continue
            for slots in slots_in(step.do, way.say or ""):
                yield from _read(name, way, number, slots, step, vocabulary)


def _within(condition: Mapping[str, Any], when: Mapping[str, Any] | None) -> bool:
    """Return whether a condition is part of another one, whose parts all hold together."""
    return when is not None and (condition == when or all(when.get(key) == value for key, value in condition.items()))


def _read(
    name: str, row: TableRow, way: int, slots: Slots, step: Step, vocabulary: Vocabulary
) -> Iterator[_RowReading]:
    moved = [vocabulary.plain_id(one) for one in declared(step)]
    choices: list[list[tuple[int, Ids]]] = []
    for slot in SLOTS:
        kinds = row.kinds(slot)
        pinned = list(vocabulary.declared(moved, kinds)) if slot == "of" else []
        if slot in slots:
            choices.append(list(vocabulary.named(slots[slot], kinds, pinned)))
        elif kinds and f"{{{slot}}}" not in (row.say or ""):
            choices.append(list(_unspoken(step, vocabulary, kinds, pinned)))
        else:
            choices.append([(EXACT, ())])
    choices.append(list(_tool(slots, row, vocabulary)))
    amount = slots.get("amount") or next(_amounts(step, row), None)
    if amount is not None and not AMOUNT.fullmatch(amount):
        return
    for chosen in product(*choices):
        ids = {slot: one for slot, (_, one) in zip((*SLOTS, "with"), chosen, strict=True)}
        yield _RowReading(name, row, way, ids, amount, sum(sure for sure, _ in chosen))


def _unspoken(step: Step, vocabulary: Vocabulary, kinds: Kinds, pinned: Sequence[Ids]) -> Iterator[tuple[int, Ids]]:
    """A thing that the sentence does not name: what the step declares or takes in hand, or its other texts speak of."""
    found = list(pinned) or [(name,) for name in vocabulary.of_kind(kinds) if name in step.uses.parts]
    if not found:
        spoken = frozenset().union(*(words(text) for text in _other_texts(step)))
        found = [(name,) for name in vocabulary.of_kind(kinds) if (said := vocabulary.said(name)) and said <= spoken]
    yield from ((DECLARED, ids) for ids in found)


def _other_texts(step: Step) -> Iterator[str]:
    hold, release = step.hold, step.release
    texts = (step.why, hold and hold.criterion, hold and hold.on_fail and hold.on_fail.stop, release and release.proof)
    yield from (text for text in texts if text)


def _tool(slots: Slots, row: TableRow, vocabulary: Vocabulary) -> Iterator[tuple[int, Ids]]:
    if "with" not in slots:
        yield EXACT, ()
        return
    usual = vocabulary.said(row.tools[0]) if row.tools else frozenset()
    if usual and words(slots["with"]) <= usual:
        yield EXACT, ()
        return
    yield from vocabulary.named(slots["with"], ("tool", "part", "consumable"))


def _amounts(step: Step, row: TableRow) -> Iterator[str]:
    """The time or turn of an act, where its criterion alone says it: as the only number there that somebody stated."""
    named = _STATED.findall(step.hold.criterion) if row.amount and row.hold and step.hold else []
    yield from named if len(named) == 1 else ()


def _tried(step: Step, reading: _RowReading, vocabulary: Vocabulary, dead: str) -> Match | list[str]:
    """The act of a reading, or what is wrong with it on the machines that have its things."""
    act = _written(step, reading, dead)
    if not (having := vocabulary.having(_things_in(act))):
        return ["no machine has all of its things"]
    made = _compiled(act, reading, having[0], vocabulary, dead)
    if not isinstance(made, Step):
        return made
    old = _ready(step, dead)
    act = _carried(act, old, made, _Same(having[0]))
    if not (having := vocabulary.having(_things_in(act))):
        return [f"uses: without {', '.join(unused(old, made, HELD))}"]
    lost: list[tuple[tuple[str, str], ...]] = []
    for things in having:
        made, same = _compiled(act, reading, things, vocabulary, dead), _Same(things)
        wrong = list(weaker(old, made, same)) if isinstance(made, Step) else made
        if wrong or not isinstance(made, Step):
            return wrong
        lost.append(tuple(unsaid(old, made, same.text)))
    # A kit without a tool that this step needs does not have the step.
    least = min(lost, key=len)
    slots = sum(map(bool, reading.slots.values()))
    rank = (reading.sureness, -literal(reading.row.say or ""), -slots, len(least), -len(having))
    return Match(act, reading.way, len(rows()[reading.name].ways), least, rank)


def _things_in(act: Written) -> Iterator[str]:
    for slot in (*SLOTS, "with"):
        names = act.get(slot, ())
        yield from (name for name in ((names,) if isinstance(names, str) else names) if name != ITEM)


def _compiled(
    act: Written, reading: _RowReading, things: Things, vocabulary: Vocabulary, dead: str
) -> Step | list[str]:
    made = compiled(WrittenAct.model_validate(act), things, vocabulary.item_kind, dead)
    return [one.message for one in made.faults] or _ready(made.steps[reading.way], dead)


def _carried(act: Written, old: Step, new: Step, same: _Same) -> Written:
    """The act with what its row does not say by itself: another reason, and more to take in hand."""
    more: Written = {}
    if old.why and (new.why is None or same.text(old.why) != same.text(new.why)):
        more["why"] = old.why
    row = rows()[act["act"]]
    if unused(old, new, HELD) and not any("{with}" in (way.say or "") for way in row.ways):
        more["with"] = (*old.uses.tools, *unused(old, new, ("consumables",)))
    return {name: {**act, **more}[name] for name in ORDER if name in act or name in more}


def _ready(step: Step, dead: str) -> Step:
    """Wiring is for an electrically skilled person in mains work."""
    skilled = step.role == "wiring" and dead == "proved_dead"
    return step.model_copy(update={"role": "electrically-skilled"}) if skilled else step


@dataclass(frozen=True)
class _Same:
    """Puts the names that one machine has for a thing into one form."""

    things: Things

    def __call__(self, name: str) -> str:
        for thing in self.things.by_id.values():
            if name == f"{{{thing.facts}.id}}" and len(thing.members) == 1:
                return thing.members[0]
        return name

    def text(self, text: str) -> str:
        """The words of a text; a thing's name is as good as its words, and the joints are listed by the program."""
        plain = text.replace(".name}", ".say}").replace("{joints}", "{work.joints}")
        for thing in self.things.by_id.values():
            if thing.known and thing.facts and thing.facts in plain:
                plain = plain.replace(f"{{{thing.facts}.say}}", thing.say)
        return " ".join(sorted(words(plain)))


def _written(step: Step, reading: _RowReading, dead: str) -> Written:
    row, hold = reading.row, step.hold
    act: Written = {"id": step.id}
    if step.when and not (row.when == step.when and len(rows()[reading.name].ways) == 1):
        act["when"] = step.when
    act |= {"only_if": step.only_if, "act": reading.name}
    act |= {slot: ids[0] if len(ids) == 1 else ids for slot, ids in reading.slots.items() if ids}
    act["amount"] = reading.amount if row.amount else None
    if row.hold and row.hold.asks_limit and hold and hold.accept:
        act["limit"] = next((text for name in SENSES if (text := getattr(hold.accept, name))), None)
    if row.hold and row.hold.goto == "back" and hold and hold.on_fail:
        act["back_to"] = hold.on_fail.goto
    act["for_good"] = True if step.removes and step.removes.permanent else None
    if row.torqued and step.torque:
        act["torque"] = step.torque.model_dump(by_alias=True, exclude_none=True)
    if ROLES.index(step.role) > ROLES.index(_least(row, dead)):
        act["role"] = step.role
    act["minutes"] = step.minutes if step.minutes != row.minutes else None
    act["figure"] = step.figure
    return {name: value for name, value in act.items() if value is not None}


def _least(row: TableRow, dead: str) -> Role:
    role = least_role(EFFECTS[row.effect or ""], row.role, None)
    return "electrically-skilled" if role == "wiring" and dead == "proved_dead" else role
