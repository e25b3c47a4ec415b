"""Compile the requirements of one pair into rules that a browser walks: numbers, no conversion, no logic of its own."""

from __future__ import annotations

import itertools
import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from guidegen.fit.diagram import MOST_NODES, compose, ordered
from guidegen.fit.logic import Truth
from guidegen.fit.questions import Asked, Plan
from guidegen.fit.remedies import RemedySet, sufficient_sets
from guidegen.fit.requirements import OUTCOMES, Requirements
from guidegen.fit.shape import FORMAT, ConditionRules, FactRules, MendingRules, Rules, SetRules, Tree, UnitRules
from guidegen.fit.store import Store, TooLarge
from guidegen.fit.tree import Comparison, Condition, OneOf, Test, comparisons_of

MOST_STEPS = 400
"""Nodes of the finished diagram of one pair."""
MOST_MENDABLE = 6
"""Unmet conditions with remedies; the table of sufficient sets doubles with each."""
MOST_CASES = 20_000
"""Combinations of answers that are tried while the table of sufficient sets is made."""

LETTER = {Truth.TRUE: "T", Truth.FALSE: "F", Truth.UNKNOWN: "?"}


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
        return (
            f"{self.questions} questions, {self.nodes} nodes, {self.edges} edges, {self.classes} classes of answers, "
            f"{self.remedy_rows} rows of remedies, {self.bytes} bytes"
        )


def compile_rules(requirements: Requirements, plan: Plan) -> Rules:
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
    return Rules(
        format=FORMAT,
        outcomes=list(OUTCOMES),
        facts=[_fact(one) for one in asked],
        nodes=nodes,
        top=branch(top),
        conditions=[_condition(one, trees, index) for one in conditions],
        roots=[index[one.id] for one in requirements.roots],
        mending=_mending(requirements, plan, asked),
    )


def sizes(rules: Rules) -> Sizes:
    """Return how large the rules are; bytes as compact JSON."""
    return Sizes(
        questions=len(rules["facts"]),
        nodes=len(rules["nodes"]),
        edges=sum(len(node) - 1 for node in rules["nodes"]),
        classes=sum(len(fact["classes"]) for fact in rules["facts"]),
        remedy_rows=len(rules["mending"]["table"]),
        bytes=len(compact(rules).encode()),
    )


def compact(rules: Rules) -> str:
    """Return the rules as JSON without a space, keys in the order of the shape."""
    return json.dumps(rules, ensure_ascii=False, separators=(",", ":"))


def _fact(asked: Asked) -> FactRules:
    return FactRules(
        fact=asked.fact,
        minutes=asked.question.minutes,
        classes=["".join(LETTER[truth] for truth in vector) for vector in asked.vectors],
        definite=list(asked.definite),
        units=[_unit(asked, place) for place in range(len(asked.cells))],
        choices=dict(asked.choices),
        unsure=asked.unsure,
    )


def _unit(asked: Asked, place: int) -> UnitRules:
    cells = asked.cells[place]
    scale = cells.scale
    limits: list[list[int | None]] = [
        [None, None] if isinstance(one.test, OneOf) else list(scale.limits(one.test)) for one in asked.comparisons
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
    """Writes tests with what is settled folded away. A fact that no node asks counts as not known."""

    def __init__(self, plan: Plan, asked: Sequence[Asked]) -> None:
        self._plan = plan
        self._asked = {one.fact: (place, one) for place, one in enumerate(asked)}
        self._dropped = {one.fact for one in plan.asked} - set(self._asked)

    def of(self, test: Test) -> Tree:
        if isinstance(test, Comparison):
            if test.fact in self._asked:
                place, asked = self._asked[test.fact]
                return [place, asked.comparisons.index(test)]
            return "?" if test.fact in self._dropped else LETTER[test.judge(self._plan.settled)]
        neutral, final = ("T", "F") if test.kind == "all" else ("F", "T")
        members = [member for member in map(self.of, test.members) if member != neutral]
        if final in members:
            return final
        if all(member == "?" for member in members):
            return "?" if members else neutral
        return members[0] if len(members) == 1 else [test.kind, *members]


def _mending(requirements: Requirements, plan: Plan, asked: Sequence[Asked]) -> MendingRules:
    """Return the table of sufficient sets for every combination of answers that can end in one."""
    facts = {one.fact for one in asked}
    bearing = [one for one in requirements.conditions if _bears(one, requirements) and facts & _facts_of(one)]
    mendable = sum(bool(one.remedies) for one in bearing)
    if mendable > MOST_MENDABLE:
        raise TooLarge(
            f"{mendable} conditions with remedies are asked, {MOST_MENDABLE} at most: settle some in the data"
        )
    table: dict[str, int] = {}
    sets: list[list[SetRules]] = []
    for truths in _cases(requirements, plan, asked, bearing):
        key = "".join(LETTER[truths[one.id]] for one in bearing)
        found = sufficient_sets(requirements.roots, truths)
        if key in table or not found or not found[0].remedies or found[0].provided:
            continue
        row = [_set(one) for one in found]
        if row not in sets:
            sets.append(row)
        table[key] = sets.index(row)
    index = {condition.id: place for place, condition in enumerate(requirements.conditions)}
    return MendingRules(conditions=[index[one.id] for one in bearing], table=dict(sorted(table.items())), sets=sets)


def _bears(condition: Condition, requirements: Requirements) -> bool:
    """Return whether the sets depend on it; the kit's own conditions without remedy are all true by then."""
    return bool(condition.remedies) or condition not in requirements.roots


def _facts_of(condition: Condition) -> set[str]:
    return {comparison.fact for comparison in comparisons_of(condition.test)}


def _cases(
    requirements: Requirements, plan: Plan, asked: Sequence[Asked], bearing: Sequence[Condition]
) -> Iterator[dict[str, Truth]]:
    """Yield the truths of all conditions for every combination of classes of the facts that bear on remedies."""
    wanted = {fact for one in bearing for fact in _facts_of(one)}
    varied = [one for one in asked if one.fact in wanted]
    cases = 1
    for one in varied:
        cases *= len(one.vectors)
    if cases > MOST_CASES:
        raise TooLarge(
            f"{cases} combinations of answers bear on remedies, {MOST_CASES} at most: settle some in the data"
        )
    for ways in itertools.product(*(range(len(one.vectors)) for one in varied)):
        vectors = {
            (one.fact, comparison): one.vectors[way][place]
            for one, way in zip(varied, ways, strict=True)
            for place, comparison in enumerate(one.comparisons)
        }
        truths = {}
        for condition in requirements.conditions:
            if condition in bearing or not _facts_of(condition) & {one.fact for one in asked}:
                truths[condition.id] = _truth(condition.test, vectors, plan)
            else:
                # A condition of the kit itself without a remedy: the outcome is only reached where it holds.
                truths[condition.id] = Truth.TRUE
        yield truths


def _truth(test: Test, vectors: dict[tuple[str, Comparison], Truth], plan: Plan) -> Truth:
    if isinstance(test, Comparison):
        found = vectors.get((test.fact, test))
        return test.judge(plan.settled) if found is None else found
    members = (_truth(member, vectors, plan) for member in test.members)
    result = Truth.TRUE if test.kind == "all" else Truth.FALSE
    for member in members:
        result = result & member if test.kind == "all" else result | member
    return result


def _set(one: RemedySet) -> SetRules:
    return SetRules(
        remedies=list(one.ids),
        provided=[condition.id for condition in one.provided],
        minutes=one.minutes,
        cuts=one.cuts,
        mains_work=one.mains_work,
    )
