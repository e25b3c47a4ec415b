"""The questions of the self-check against the facts that machines have, and remedies against the parts of kits."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import get_args

from guidegen.problems import Code, Problem, one_of
from guidegen.trade.catalogue import Catalogue
from guidegen.trade.contradiction import problem, unknown_fact, unknown_part
from guidegen.trade.effects import EFFECTS
from guidegen.trade.known_remedies import is_timed
from guidegen.unit_table import NAMES
from guidegen.units import UnitError, parse
from guidegen.workshop.base import Loc
from guidegen.workshop.fact_table import FactKind, FactTable
from guidegen.workshop.questions import Effort, Question, Questions


def check_questions(known: Catalogue, procedures: Collection[str]) -> Iterator[Problem]:
    """What the self-check asks must be facts of machines, with the answers that such a fact can have.

    `procedures` are the kits that have a file with an instruction, whether it could be read or not.
    """
    asked = known.questions
    if asked is None:
        return
    for index, question in enumerate(asked.questions):
        yield from _named(known, asked, ("questions", index), question)
        if not question.of_unit:
            yield from _about_machines(asked, ("questions", index), question, known.table)
    for index, effort in enumerate(asked.remedies):
        kit = known.kits.get(effort.kit)
        if kit is not None and effort.part is not None and effort.part not in {part.id for part in kit.parts}:
            yield unknown_part(asked, ("remedies", index, "part"), effort.part, {part.id for part in kit.parts})
        elif kit is not None and (effort.kit in known.procedures or effort.kit not in procedures):
            yield from _minutes(known, asked, index, effort)


def _about_machines(asked: Questions, loc: Loc, question: Question, table: FactTable) -> Iterator[Problem]:
    """A fact that machines have, in a unit or with answers that it can have."""
    field = table.get(question.fact)
    if field is None:
        yield unknown_fact(asked, (*loc, "fact"), question.fact, table)
    elif question.choices:
        yield from _choices(asked, loc, question, field)
    elif field.dimension is None:
        yield problem(asked, (*loc, "fact"), Code.COMPARISON, f"{question.fact} takes choices", "write choices")
    elif question.measures != field.dimension:
        words = f"{question.fact} is {NAMES[field.dimension]}, the units are of {NAMES[question.measures]}"
        yield problem(asked, (*loc, "units"), Code.COMPARISON, words, "correct the units")
    else:
        yield from _plausible(asked, loc, question, field)


def _plausible(asked: Questions, loc: Loc, question: Question, field: FactKind) -> Iterator[Problem]:
    """What such machines have is said once: with the fact, or, where nothing is said there, with the question."""
    known = field.spec.plausible if field.spec is not None else None
    if known is not None and question.plausible:
        words = f"such machines have {known[0]} to {known[1]}: that is what their data are held against, too"
        yield problem(asked, (*loc, "plausible"), Code.WRITTEN_TWICE, words, "delete plausible", key=True)
    elif known is None and not question.plausible:
        words = f"nobody says what {question.fact} can be"
        yield problem(asked, loc, Code.MISSING_KEY, words, "add plausible: [30 mm, 90 mm], what such machines have")


def _named(known: Catalogue, asked: Questions, loc: Loc, question: Question) -> Iterator[Problem]:
    """The kits that a question counts for, and the places that its answers hide."""
    for number, kit in enumerate(question.kits):
        if kit not in known.kits and known.kits:
            words, fix = f"there is no kit {kit}", f"use some of {one_of(list(known.kits))}"
            yield problem(asked, (*loc, "kits", number), Code.UNKNOWN_KIT, words, fix)
    there = [word for effect in EFFECTS for word in get_args(effect.model_fields["kind"].annotation)]
    for number, kind in enumerate(question.effects):
        if kind not in there:
            fix = f"use some of {one_of(there)}"
            yield problem(asked, (*loc, "effects", number), Code.WRONG_CHOICE, f'no kit has an effect "{kind}"', fix)
    table = known.table
    for number, choice in enumerate(question.choices):
        for at, place in enumerate(choice.hides):
            if place != question.fact and not any(table.within(name, place) for name in table):
                yield unknown_fact(asked, (*loc, "choices", number, "hides", at), place, table)
        if choice.effect == "rules-out" and not question.of_unit:
            words = f"what {question.fact} rules out is for the requirements of a kit to say"
            yield problem(asked, (*loc, "choices", number, "effect"), Code.COMPARISON, words, "delete effect")


def _minutes(known: Catalogue, asked: Questions, index: int, effort: Effort) -> Iterator[Problem]:
    """What an instruction adds up is not written a second time; what none carries out has to be."""
    loc: Loc = ("remedies", index)
    if is_timed(known, effort) and effort.minutes is not None:
        words = f"the instruction of {effort.kit} says how long that takes"
        yield problem(asked, (*loc, "minutes"), Code.WRITTEN_TWICE, words, "delete minutes", key=True)
    elif not is_timed(known, effort) and effort.minutes is None:
        words = "no instruction says how long that takes"
        yield problem(asked, loc, Code.MISSING_KEY, words, "add minutes: 15, what it takes")


def _choices(asked: Questions, loc: Loc, question: Question, field: FactKind) -> Iterator[Problem]:
    """Answers to pick from. Of a quantity they are values that nobody measures: a rating plate names one of two."""
    for number, choice in enumerate(question.choices):
        here: Loc = (*loc, "choices", number, "is")
        if choice.open:
            continue
        if field.dimension is not None:
            try:
                parse(choice.is_, field.dimension)
            except UnitError as error:
                yield problem(asked, here, error.code, f"{question.fact}: {error.message}", error.fix)
        elif field.words and choice.is_ not in field.words:
            fix = f"use one of {one_of(field.words)}"
            words = f'{question.fact} is never "{choice.is_[:60]}"'
            yield problem(asked, here, Code.WRONG_CHOICE, words, fix)
