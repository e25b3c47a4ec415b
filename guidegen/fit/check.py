"""One pair checked: the judgement on the variant's data, and what its owner's self-check carries."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from guidegen.catalogue.kit import Kit
from guidegen.catalogue.machine import Machine
from guidegen.catalogue.questions import Questions
from guidegen.fit.build import Computed, facts_of, is_spread, requirements_of
from guidegen.fit.payload import Payload, payload_of
from guidegen.fit.questions import plan
from guidegen.fit.requirements import Evaluation, Requirements, evaluate
from guidegen.fit.rules import compile_rules
from guidegen.fit.told import Row, rows
from guidegen.fit.tree import Facts


@dataclass(frozen=True)
class Check:
    """What the fit of one pair is, and what can be asked about it."""

    requirements: Requirements
    facts: Facts
    evaluation: Evaluation
    rows: tuple[Row, ...]
    payload: Payload


def check(
    machine: Machine,
    kit: Kit,
    kits: Mapping[str, Kit],
    questions: Questions | None,
    computed: Computed,
    *,
    edition: str,
    contact: str,
) -> Check:
    """Judge one pair on the variant's data and compile its self-check. See `build.requirements_of` for `computed`."""
    asked = questions or Questions()
    requirements = requirements_of(kit, kits, computed, asked)
    facts = facts_of(machine, requirements)
    evaluation = evaluate(requirements, facts)
    spread = frozenset(fact for fact in facts if is_spread(machine, fact))
    planned = plan(requirements, facts, spread, asked)
    payload = payload_of(
        machine,
        kit,
        dict(kits),
        requirements,
        planned,
        compile_rules(requirements, planned),
        edition=edition,
        contact=contact,
    )
    return Check(requirements, facts, evaluation, rows(evaluation, facts), payload)
