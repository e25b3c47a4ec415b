"""One pair checked: the judgement on the variant's data, and what its owner's self-check carries."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from guidegen.judge.comparison import Facts, Known
from guidegen.judge.fit.build import Computed, facts_of, is_spread, requirements_of
from guidegen.judge.fit.explained import FitRow, rows
from guidegen.judge.fit.payload import Payload, payload_of
from guidegen.judge.fit.questions import QuestionPlan, plan
from guidegen.judge.fit.requirements import Evaluation, Requirements, evaluate
from guidegen.judge.fit.rules import compile_rules
from guidegen.judge.fit.shape import Rules
from guidegen.judge.fit.subject import JudgedKit, JudgedMachine
from guidegen.judge.logic import Truth
from guidegen.workshop.fact_table import FactTable
from guidegen.workshop.questions import Questions


@dataclass(frozen=True)
class Check:
    """What the fit of one pair is, and what can be asked about it."""

    requirements: Requirements
    facts: Facts
    evaluation: Evaluation
    plan: QuestionPlan
    rows: tuple[FitRow, ...]
    payload: Payload
    table: FactTable


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
    """Judge one pair on the variant's data and compile its self-check. See `build.requirements_of` for `computed`.

    `table` holds every name that may be asked.
    """
    asked = questions or Questions()
    requirements = requirements_of(kit, kits, computed, table, asked)
    facts = facts_of(machine, requirements)
    evaluation = evaluate(requirements, facts)
    spread = frozenset(fact for fact in facts if is_spread(machine, fact))
    planned = plan(requirements, facts, spread, asked, table)
    rules = compile_rules(requirements, planned)
    against = _ruled_out(planned, rules, facts, spread)
    if against:
        left = tuple(one for one in planned.asked if one.fact not in against)
        planned = QuestionPlan({**planned.settled, **against}, left, planned.open)
        rules = compile_rules(requirements, planned)
    payload = payload_of(machine, kit, kits, table, requirements, planned, rules, edition=edition, contact=contact)
    return Check(requirements, facts, evaluation, planned, rows(evaluation, facts, table), payload, table)


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
