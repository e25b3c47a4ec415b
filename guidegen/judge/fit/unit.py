"""What a sale asks of the owner's unit beyond the kit's requirements: socket, earlier repairs, safety devices as found.

No variant's data can settle it, so it is judged in the self-check alone, never in the verdict on a variant.
"""

from __future__ import annotations

from collections.abc import Iterator

from guidegen.judge.comparison import Comparison, OneOf
from guidegen.judge.fit.build import known_of
from guidegen.judge.fit.subject import JudgedKit, JudgedMachine
from guidegen.judge.fit.tree import Condition
from guidegen.workshop.fact_table import FactKind, FactTable
from guidegen.workshop.facts import Spec
from guidegen.workshop.fitted import FITTED
from guidegen.workshop.questions import Question, Questions


def questions_for(machine: JudgedMachine, questions: Questions) -> Questions:
    """Return the questions as they are asked of an owner of this variant.

    Where the guide was written for a machine as the data say, any other answer suspends the sale.
    """
    asked = (_for(machine, one) if one.holds is not None and not one.of_unit else one for one in questions.questions)
    return questions.model_copy(update={"questions": tuple(one for one in asked if one is not None)})


def _for(machine: JudgedMachine, question: Question) -> Question:
    known = known_of(machine.fact(question.fact))
    if not isinstance(known, frozenset) or len(known) > 1:
        # Nothing to disagree with.
        return question.model_copy(update={"holds": None})
    return question.agreeing(next(iter(known)))


def conditions_of(kit: JudgedKit, questions: Questions) -> tuple[Condition, ...]:
    """Return what has to hold on the owner's unit before this kit is sold for it, in the order of the questions."""
    return tuple(
        Condition(
            id=question.fact.replace(".", "-").replace("_", "-"),
            says=question.holds or "",
            test=Comparison(question.fact, OneOf(frozenset(choice.is_ for choice in question.good))),
            because=question.why,
        )
        for question in questions.questions
        if question.holds is not None and question.counts_for(kit.id, kit.kinds)
    )


def table_with(table: FactTable, questions: Questions) -> FactTable:
    """Return the table of facts with those of the unit, and of kits on it, that somebody is asked for."""
    return table.having(dict(_kinds(questions)))


def _kinds(questions: Questions) -> Iterator[tuple[str, FactKind]]:
    for question in questions.questions:
        if question.of_unit or question.fact.startswith(FITTED):
            words = tuple(choice.is_ for choice in question.choices)
            yield question.fact, FactKind(None, words, Spec(question.title or question.fact))
