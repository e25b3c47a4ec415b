"""One pair checked: the judgement on the variant's data, and what its owner's self-check carries."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from guidegen.judge.comparison import Facts, Known
from guidegen.judge.fit.assumed import assumed_of
from guidegen.judge.fit.build import Computed, evidence_of, facts_of, is_doubted, is_spread, is_sure, requirements_of
from guidegen.judge.fit.explained import FitRow, rows
from guidegen.judge.fit.payload import Payload, payload_of
from guidegen.judge.fit.questions import QuestionPlan, plan
from guidegen.judge.fit.requirements import Evaluation, Requirements, evaluate
from guidegen.judge.fit.rules import compile_rules
from guidegen.judge.fit.shape import Rules
from guidegen.judge.fit.subject import JudgedKit, JudgedMachine
from guidegen.judge.fit.unit import conditions_of, questions_for, table_with
from guidegen.judge.logic import Truth
from guidegen.workshop.fact_table import FactTable
from guidegen.workshop.questions import Questions


@dataclass(frozen=True)
class Check:
    """What the fit of one pair is, and what can be asked about it."""

    sold: Requirements
    """The requirements, and what a sale asks of the owner's unit."""
    requirements: Requirements
    facts: Facts
    evaluation: Evaluation
    plan: QuestionPlan
    rows: tuple[FitRow, ...]
    payload: Payload
    table: FactTable
    questions: Questions
    """As they are asked of an owner of this variant."""
    rests_on: tuple[str, ...]
    """Assumed facts on which the verdict rests and that no question settles."""


@dataclass(frozen=True)
class OnData:
    """What a verdict on the variant's data alone rests on; `facts` are those of `stated` that are sure."""

    asked: Questions
    table: FactTable
    requirements: Requirements
    sold: Requirements
    stated: Facts
    unsure: frozenset[str]
    facts: Facts

    @classmethod
    def of(cls, machine: JudgedMachine, kit: JudgedKit, kits: Mapping[str, JudgedKit], questions: Questions | None,
           computed: Computed, table: FactTable) -> OnData:  # fmt: skip
        """See `build.requirements_of` for `computed`. `table` holds every name that may be asked."""
        asked = questions_for(machine, questions or Questions())
        table = table_with(table, asked)
        requirements = requirements_of(kit, kits, computed, table, asked)
        # What the variant's verdict rests on, and what a sale asks of the owner's unit besides.
        sold = Requirements((*requirements.roots, *conditions_of(kit, asked)))
        stated = facts_of(machine, sold)
        unsure = frozenset(fact for fact in stated if not is_sure(machine, fact, table))
        facts = {fact: known for fact, known in stated.items() if fact not in unsure}
        return cls(asked, table, requirements, sold, stated, unsure, facts)

    @cached_property
    def evaluation(self) -> Evaluation:
        """The verdict."""
        return evaluate(self.requirements, self.facts)

    def rows(self, machine: JudgedMachine) -> tuple[FitRow, ...]:
        """Its reasons."""
        return rows(self.evaluation, self.facts, self.table, lambda fact: evidence_of(machine, fact))


def check(
    machine: JudgedMachine,
    kit: JudgedKit,
    kits: Mapping[str, JudgedKit],
    questions: Questions | None,
    computed: Computed,
    table: FactTable,
    *,
    edition: str,
    contact: str,
) -> Check:
    """Judge one pair on the variant's data and compile its self-check; see `OnData`."""
    data = OnData.of(machine, kit, kits, questions, computed, table)
    asked, table, sold, facts = data.asked, data.table, data.sold, data.facts
    spread = data.unsure | frozenset(fact for fact in facts if is_spread(machine, fact))
    doubted = frozenset(fact for fact in facts if is_doubted(machine, fact))
    planned = plan(sold, data.stated, spread, asked, table, doubted)
    rules = compile_rules(sold, planned)
    against = _ruled_out(planned, rules, facts, spread)
    if against:
        left = tuple(one for one in planned.asked if one.fact not in against)
        planned = replace(planned, settled={**planned.settled, **against}, asked=left)
        rules = compile_rules(sold, planned)
    payload = payload_of(machine, kit, kits, table, sold, planned, rules, edition=edition, contact=contact)
    resting = dict.fromkeys(name for one in data.requirements.roots for name in assumed_of(one, planned, machine))
    return Check(sold, data.requirements, facts, data.evaluation, planned, data.rows(machine), payload, table, asked,
                 tuple(resting))  # fmt: skip


def _ruled_out(planned: QuestionPlan, rules: Rules, facts: Facts, spread: frozenset[str]) -> dict[str, Known]:
    """Return what an earlier owner may have changed, is asked on no way, and by the data rules a remedy out.

    No outcome hangs on such a fact, so nobody is asked. Where the data agree with the remedy it is offered with the
    fact as its proviso. Where they speak against it, it is not offered: a part for 230 V on a machine made for 120 V.
    """
    asked = {fact["fact"] for fact in rules["facts"]}
    return {
        one.fact: known
        for one in planned.asked
        if one.fact not in asked and one.fact not in spread and (known := facts.get(one.fact)) is not None
        if any(comparison.judge_known(known) is Truth.FALSE for comparison in one.comparisons)
    }
