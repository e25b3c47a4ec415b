"""What of a verdict rests on data that nobody measured."""

from __future__ import annotations

from guidegen.judge.comparison import comparisons_of
from guidegen.judge.fit.questions import QuestionPlan
from guidegen.judge.fit.subject import JudgedMachine
from guidegen.judge.fit.tree import Condition


def assumed_of(condition: Condition, plan: QuestionPlan, machine: JudgedMachine) -> list[str]:
    """Return the written facts that are assumed and without which the condition would not be known to hold."""
    facts = dict.fromkeys(one.fact for one in comparisons_of(condition.test))
    without = {name: {other: known for other, known in plan.settled.items() if other != name} for name in facts}
    return [
        name
        for name in facts
        if (fact := machine.fact(name)) is not None
        and fact.place is not None
        and fact.evidence == "assumed"
        and name in plan.settled
        and condition.judge(without[name]) is not condition.judge(plan.settled)
    ]
