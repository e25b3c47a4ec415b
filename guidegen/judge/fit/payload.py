"""Everything that the self-check of one pair carries: the rules, and the words that go with them.

It is plain data: it lies in the record, in the page, and in every edition, so that an order can be held against the
rules of the edition that it was made with.
"""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Iterable, Mapping
from typing import TypedDict

from guidegen.judge.comparison import comparisons_of
from guidegen.judge.fit.assumed import assumed_of
from guidegen.judge.fit.build import applies
from guidegen.judge.fit.explained import detail, joined_by_or, remedied_by, wanted
from guidegen.judge.fit.questions import QuestionPlan
from guidegen.judge.fit.requirements import Requirements
from guidegen.judge.fit.rules import compact
from guidegen.judge.fit.shape import Rules
from guidegen.judge.fit.subject import JudgedKit, JudgedMachine
from guidegen.judge.fit.tree import Condition, all_remedies
from guidegen.judge.logic import Truth
from guidegen.language import gettext
from guidegen.language.choices import choice
from guidegen.workshop.fact_table import FactTable
from guidegen.workshop.parts import Part, size_with
from guidegen.workshop.questions import Question

HASHED_AS = {"sufficient": "mending"}
"""Former keys of the rules. Orders carry the digest, so a new key must not change it."""
NOT_HASHED_EMPTY = ("beyond",)
"""Keys of a fact that older rules lack: where they hold nothing the digest is what it was."""


class Pair(TypedDict):
    """What is checked against what, in which edition."""

    variant: str
    variant_name: str
    kit: str
    kit_name: str
    revision: str
    edition: str
    rules: str
    """A digest: two editions with the same digest judge alike."""


class Words(TypedDict):
    """One question in words."""

    fact: str
    title: str
    ask: str
    why: str
    tool: str
    where: str
    under_lid: bool
    minutes: float
    photos: list[str]
    hint: str | None
    """What the variant's data say, where an earlier owner may have changed it."""
    choices: list[list[str]]
    """Word and text of each answer that can be picked."""
    screen: str | None
    """Questions of one screen are asked beside each other."""


class ConditionWords(TypedDict):
    """One condition in words; `detail` where the data settle it."""

    id: str
    says: str
    because: str
    wanted: str
    remedied_by: str | None
    detail: str | None
    assumed: list[str]
    """Of what the data settle, the facts that nobody has measured, in words."""


class RemedyWords(TypedDict):
    """One remedy in words."""

    id: str
    name: str
    kind: str
    minutes: float
    cuts: bool
    mains_work: bool


class Payload(TypedDict):
    """The whole."""

    pair: Pair
    rules: Rules
    questions: list[Words]
    conditions: list[ConditionWords]
    remedies: list[RemedyWords]
    parts: dict[str, list[str]]
    """What to order: under "" with the kit in any case, under a remedy's id with that remedy."""
    unasked: list[str]
    """Facts that nobody can be asked for, in words: only the workshop can find them out."""
    contact: str


class WhichPair(TypedDict):
    """The edition, for the link."""

    edition: str


class Variant(TypedDict):
    """One variant, what is seen on it from outside, and what its rating plate names."""

    id: str
    name: str
    seen: list[str]
    plate: str


class Which(TypedDict):
    """Everything that the page needs to tell variants apart."""

    pair: WhichPair
    rules: Rules
    shows: list[list[int]]
    """Per question of the rules, per variant: what it shows there, see `guidegen.judge.fit.identified`."""
    questions: list[Words]
    variants: list[Variant]
    contact: str


def payload_of(
    machine: JudgedMachine,
    kit: JudgedKit,
    kits: Mapping[str, JudgedKit],
    table: FactTable,
    requirements: Requirements,
    plan: QuestionPlan,
    rules: Rules,
    *,
    edition: str,
    contact: str,
) -> Payload:
    """Return what the page and the order need."""
    remedies = {remedy.id: remedy for remedy in all_remedies(requirements.roots)}
    asked = {one.fact: one for one in plan.asked}
    return Payload(
        pair=Pair(
            variant=machine.id,
            variant_name=machine.name,
            kit=kit.id,
            kit_name=kit.name,
            revision=kit.revision,
            edition=edition,
            rules=digest(rules),
        ),
        rules=rules,
        questions=[question_words(asked[fact["fact"]].question, table, machine) for fact in rules["facts"]],
        conditions=[_condition(one, plan, table, machine) for one in requirements.conditions],
        remedies=[
            RemedyWords(
                id=one.id,
                name=one.name,
                kind=one.kind,
                minutes=one.minutes,
                cuts=one.cuts,
                mains_work=one.mains_work,
            )
            for one in remedies.values()
        ],
        parts=_OrderLines(machine, table).parts(kit, kits, tuple(remedies)),
        unasked=[table.title(fact) for fact in plan.open if _matters(fact, requirements.roots, plan)],
        contact=contact,
    )


def digest(rules: Rules) -> str:
    """Return eight digits that change when the rules do."""
    facts = [
        {name: part for name, part in fact.items() if part or name not in NOT_HASHED_EMPTY} for fact in rules["facts"]
    ]
    hashed = {HASHED_AS.get(name, name): part for name, part in {**rules, "facts": facts}.items()}
    return hashlib.sha256(compact(hashed).encode()).hexdigest()[:8]


def question_words(question: Question, table: FactTable, machine: JudgedMachine | None = None) -> Words:
    """Return a question in words, with what the variant's data say where an earlier owner may have changed it."""
    known = machine.fact(question.fact) if machine is not None else None
    return Words(
        fact=question.fact,
        title=table.title(question.fact),
        ask=question.ask,
        why=question.why,
        tool=question.tool,
        where=question.where,
        under_lid=question.look == "under-lid",
        minutes=question.minutes,
        photos=list(question.photos),
        hint=choice(known.text) if known is not None and known.known and question.may_differ else None,
        choices=[[choice.is_, choice.says] for choice in question.choices],
        screen=question.screen,
    )


def _condition(condition: Condition, plan: QuestionPlan, table: FactTable, machine: JudgedMachine) -> ConditionWords:
    comparisons = tuple(dict.fromkeys(comparisons_of(condition.test)))
    offered = next((one.question for one in plan.asked if one.question.holds == condition.says), None)
    settled = all(one.fact in plan.settled for one in comparisons)
    return ConditionWords(
        id=condition.id,
        says=condition.says,
        because=condition.because,
        wanted=wanted(condition.test, table) if offered is None else joined_by_or(one.says for one in offered.good),
        remedied_by=remedied_by((remedy.kind, remedy.name, False) for remedy in condition.remedies) or None,
        detail="; ".join(detail(one, plan.settled, table, imperial=False) for one in comparisons) if settled else None,
        assumed=[table.title(name) for name in assumed_of(condition, plan, machine)] if settled else [],
    )


def _matters(fact: str, conditions: Iterable[Condition], plan: QuestionPlan) -> bool:
    """Return whether a condition that asks for a fact may stand in the way; remedies of what is met do not."""
    return any(
        any(comparison.fact == fact for comparison in comparisons_of(one.test))
        or any(_matters(fact, remedy.needs, plan) for remedy in one.remedies)
        for one in conditions
        if one.test.judge(plan.settled) is not Truth.TRUE
    )


class _OrderLines:
    """The lines of an order for one machine: parts with sizes, each with its seals, only those made for it."""

    def __init__(self, machine: JudgedMachine, table: FactTable) -> None:
        self._machine, self._table = machine, table

    def parts(self, kit: JudgedKit, kits: Mapping[str, JudgedKit], remedies: tuple[str, ...]) -> dict[str, list[str]]:
        """Return the lines of the kit under "", those of each remedy under its id."""
        alternatives = {unmet.part for requirement in kit.requirements for unmet in requirement.unmet}
        beside = self._beside(kit, alternatives)
        always = [part for part in kit.parts if part.id not in alternatives and part.id not in beside]
        found = {"": [_kit(kit), *self._of_parts(kit, always)]}
        for remedy in remedies:
            kind, _, name = remedy.partition(":")
            if kind == "kit" and name in kits:
                found[remedy] = [_kit(kits[name]), *self._of_parts(kits[name], kits[name].parts)]
            elif kind == "part":
                found[remedy] = self._of_parts(kit, [one for one in kit.parts if name in (one.id, beside.get(one.id))])
        return found

    def _beside(self, kit: JudgedKit, alternatives: Collection[str | None]) -> dict[str, str]:
        """Return the parts that come with such an alternative alone, each with it: both are for the same choice."""
        chosen = {part.id: self._chosen(part) for part in kit.parts}
        by_choice = {chosen[name]: name for name in chosen if name in alternatives and chosen[name]}
        return {
            name: by_choice[asks] for name, asks in chosen.items() if name not in alternatives and asks in by_choice
        }

    def _chosen(self, part: Part) -> str:
        """Return what a part asks of the choices for a guide; empty where it asks nothing."""
        asks = part.when if isinstance(part.when, Mapping) else {}
        return repr(sorted((name, wanted) for name, wanted in asks.items() if name in self._table.chosen))[1:-1]

    def _of_parts(self, kit: JudgedKit, parts: Iterable[Part]) -> list[str]:
        return [line for part in parts for line in self._of_part(kit, part)]

    def _of_part(self, kit: JudgedKit, part: Part) -> list[str]:
        truth = applies(part, self._machine, self._table, kit)
        if truth is Truth.FALSE:
            return []
        doubt = "" if truth is Truth.TRUE else " " + gettext("(only if made for your machine: we ask)")
        size = size_with(self._machine.fact, part.listed_size)
        lines = [f"{part.count} × {part.name}{f', {size}' if size else ''}{doubt}"]
        return lines + [
            "  "
            + gettext("seal: {count} × {name}, {size}, {material}").format(
                count=seal.count,
                name=seal.name,
                size=size_with(self._machine.fact, seal.size),
                material=seal.material,
            )
            for seal in part.seals
        ]


def _kit(kit: JudgedKit) -> str:
    return gettext("Kit {kit}, revision {revision}").format(kit=kit.name, revision=kit.revision)
