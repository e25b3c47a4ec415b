"""Compile the requirements of one pair into rules that a browser walks: numbers, no conversion, no logic of its own."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from guidegen.judge.comparison import Comparison, OneOf, Test
from guidegen.judge.fit.conditions import LETTER, sufficient_rules
from guidegen.judge.fit.diagram import MOST_NODES, compose, ordered
from guidegen.judge.fit.questions import Asked, QuestionPlan
from guidegen.judge.fit.requirements import OUTCOMES, Requirements
from guidegen.judge.fit.shape import (
    FORMAT,
    ConditionRules,
    FactRules,
    Rules,
    SufficientRules,
    Tree,
    UnitRules,
)
from guidegen.judge.fit.store import Store, TooLarge
from guidegen.judge.fit.tree import Condition

MOST_STEPS = 400
"""Nodes of the finished diagram of one pair."""


@dataclass(frozen=True)
class Sizes:
    """How large the rules of one pair are."""

    questions: int
    nodes: int
    edges: int
    classes: int
    remedy_rows: int
    bytes: int

    def __str__(self) -> str:
        """Return one line for the terminal."""
        parts = (
            _count(self.questions, "question"),
            _count(self.nodes, "step"),
            _count(self.edges, "branch", "branches"),
            f"{_count(self.remedy_rows, 'row')} of remedies",
            f"{self.bytes} bytes",
        )
        return ", ".join(parts)


def _count(count: int, one: str, many: str = "") -> str:
    return f"{count} {one if count == 1 else many or one + 's'}"


def compile_rules(requirements: Requirements, plan: QuestionPlan) -> Rules:
    """Return the rules of one pair; raise `TooLarge` where they would not stay small."""
    order = ordered(requirements, plan)
    store = Store(MOST_NODES)
    top = compose(store, requirements, plan, order)
    numbers = store.reachable(top)
    inner = [number for number in numbers if not store.is_end(number)]
    if len(inner) > MOST_STEPS:
        raise TooLarge(f"the self-check has {len(inner)} steps, {MOST_STEPS} at most: settle more facts in the data")
    used = sorted({store.level(number) for number in inner})
    asked = [order[level] for level in used]
    places = {number: place for place, number in enumerate(inner)}

    def branch(number: int) -> int:
        return -1 - OUTCOMES.index(store.value(number)) if store.is_end(number) else places[number]

    nodes = [
        [used.index(store.level(number)), *(branch(child) for child in store.children(number))] for number in inner
    ]
    trees = _Trees(plan, asked)
    conditions = requirements.conditions
    index = {condition.id: place for place, condition in enumerate(conditions)}
    rules = Rules(
        format=FORMAT,
        outcomes=list(OUTCOMES),
        facts=[fact_rules(one) for one in asked],
        nodes=nodes,
        top=branch(top),
        conditions=[_condition(one, trees, index) for one in conditions],
        roots=[index[one.id] for one in requirements.roots],
        sufficient=SufficientRules(conditions=[], table={}, sets=[]),
    )
    rules["sufficient"] = sufficient_rules(requirements, rules)
    return rules


def sizes(rules: Rules) -> Sizes:
    """Return how large the rules are; bytes as compact JSON."""
    return Sizes(
        questions=len(rules["facts"]),
        nodes=len(rules["nodes"]),
        edges=sum(len(node) - 1 for node in rules["nodes"]),
        classes=sum(len(fact["classes"]) for fact in rules["facts"]),
        remedy_rows=len(rules["sufficient"]["table"]),
        bytes=len(compact(rules).encode()),
    )


def compact(rules: Mapping[str, object]) -> str:
    """Return the rules as JSON without a space, keys in the order of the shape."""
    return json.dumps(rules, ensure_ascii=False, separators=(",", ":"))


def fact_rules(asked: Asked) -> FactRules:
    """Return one question as it travels: classes, units with their cuts, choices."""
    return FactRules(
        fact=asked.fact,
        minutes=asked.question.minutes,
        classes=["".join(LETTER[truth] for truth in vector) for vector in asked.vectors],
        definite=list(asked.definite),
        units=[_unit(asked, place) for place in range(len(asked.cells))],
        choices=dict(asked.choices),
        unsure=asked.unsure,
        beyond=list(asked.beyond),
    )


def _unit(asked: Asked, place: int) -> UnitRules:
    cells = asked.cells[place]
    scale = cells.scale
    limits: list[list[int | None]] = [
        [None, None] if isinstance(one.test, OneOf) or one.negated else list(scale.limits(one.test))
        for one in asked.comparisons
    ]
    return UnitRules(
        unit=scale.unit,
        decimals=scale.decimals,
        plus_minus=scale.plus_minus,
        plausible=list(scale.plausible),
        cuts=list(cells.cuts),
        ways=list(cells.classes),
        limits=limits,
    )


def _condition(condition: Condition, trees: _Trees, index: dict[str, int]) -> ConditionRules:
    return ConditionRules(
        id=condition.id,
        test=trees.of(condition.test),
        remedies=[
            {"id": remedy.id, "needs": [index[need.id] for need in remedy.needs]} for remedy in condition.remedies
        ],
    )


class _Trees:
    """Writes tests with what is settled folded away. A fact that no node asks is not known, but need not be."""

    def __init__(self, plan: QuestionPlan, asked: Sequence[Asked]) -> None:
        self._plan = plan
        self._asked = {one.fact: (place, one) for place, one in enumerate(asked)}
        self._dropped = {one.fact for one in plan.asked} - set(self._asked)

    def of(self, test: Test) -> Tree:
        if isinstance(test, Comparison):
            tree = self._plainly(test)
            for place, asked in self._asked.values():
                hiding = self._plan.hiding(asked, test)
                if hiding and tree not in ("-", "?"):
                    tree = ["unless", tree, place, *hiding]
            return tree
        neutral, final = ("T", "F") if test.kind == "all" else ("F", "T")
        members = [member for member in map(self.of, test.members) if member != neutral]
        if final in members:
            return final
        if not members:
            return neutral
        if all(isinstance(member, str) for member in members):
            return "-" if "-" in members else "?"
        return members[0] if len(members) == 1 else [test.kind, *members]

    def _plainly(self, test: Comparison) -> Tree:
        """Return a comparison whose place nothing hides."""
        if test.fact in self._asked:
            place, asked = self._asked[test.fact]
            return [place, asked.comparisons.index(test)]
        return "-" if test.fact in self._dropped else LETTER[test.judge(self._plan.settled)]
