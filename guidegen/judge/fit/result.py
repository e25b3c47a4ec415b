"""How a self-check stands, in the page's words: outcome, reasons with numbers, remedies, what to find out and to order.

`result_of` describes a finished one exactly as the page does. Of an unfinished one `result_on_data` says what the
variant's data give together with the answers so far.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from guidegen.judge.comparison import Comparison, comparisons_of
from guidegen.judge.fit.answers import NOT_SURE, PHOTO, shown, write_answer
from guidegen.judge.fit.check import Check
from guidegen.judge.fit.explained import FitRow, rows
from guidegen.judge.fit.from_data import from_data
from guidegen.judge.fit.order import NOTHING_TO_ORDER, to_order
from guidegen.judge.fit.payload import ConditionWords, Payload, Which, Words
from guidegen.judge.fit.phrases import PHRASES
from guidegen.judge.fit.questions import is_hidden, known_from
from guidegen.judge.fit.requirements import Requirements, evaluate
from guidegen.judge.fit.shape import SetRules, Tree, UnitRules
from guidegen.judge.fit.walk import Answer, Walk, below, class_of
from guidegen.language import gettext
from guidegen.units import write_count
from guidegen.workshop.questions import Question


@dataclass(frozen=True)
class ReasonReport:
    """One condition in the way: known to be unmet, or not known."""

    id: str
    met: bool | None
    says: str
    because: str
    numbers: tuple[str, ...]


@dataclass(frozen=True)
class RemedySetReport:
    """One sufficient set of remedies, what it asks for in turn, and the parts it adds to the order."""

    remedies: tuple[str, ...]
    names: tuple[str, ...]
    minutes: float
    cuts: bool
    mains_work: bool
    provided: tuple[str, ...]
    to_order: tuple[str, ...]


@dataclass(frozen=True)
class QuestionShown:
    """One question, and which answers it takes."""

    fact: str
    title: str
    ask: str
    how: str
    takes: tuple[str, ...]
    from_data: str | None


@dataclass(frozen=True)
class Result:
    """The whole. `finished`: the answers decide; else the variant's data stand in for what is still asked."""

    outcome: str
    sentence: str
    finished: bool
    answers: tuple[tuple[str, str], ...]
    unused: tuple[str, ...]
    """Facts that were answered although nobody asks for them after the other answers."""
    next: QuestionShown | None
    reasons: tuple[ReasonReport, ...]
    remedies: tuple[RemedySetReport, ...]
    ours: tuple[str, ...]
    """What the variant's data settle, a line each, with what of it is assumed."""
    decide: tuple[QuestionShown, ...]
    """What would decide it, best start first."""
    unasked: tuple[str, ...]
    """What only the workshop can find out."""
    photographs: tuple[str, ...]
    """What the workshop must see, because the answer is none that an owner can make clearer."""
    to_order: tuple[str, ...]
    """In any case, or with the chosen set of remedies where one is named."""


def result_of(payload: Payload, answers: Mapping[str, Answer], found: Walk, choice: int | None = None) -> Result:
    """Return a finished self-check as its page shows it; with a choice, what to order includes those remedies."""
    outcome = found["outcome"] or ""
    words = {one["id"]: one for one in payload["conditions"]}
    sets = found["remedies"]
    needed = found["decide"]["needed"] if found["decide"] else []
    first = found["decide"]["first"] if found["decide"] else None
    return Result(
        outcome=outcome,
        sentence=gettext(PHRASES["sentences"][outcome]),
        finished=True,
        answers=_answers(payload, answers, found),
        unused=tuple(name for name in answers if name not in found["asked"]),
        next=None,
        reasons=tuple(
            ReasonReport(name, False if truth == "F" else None, words[name]["says"], words[name]["because"],
                       _numbers(payload, words[name], answers))
            for name, truth in found["reasons"]
        ),
        remedies=tuple(_set(payload, one) for one in sets),
        ours=from_data(payload),
        decide=tuple(asked(payload, name) for name in sorted(needed, key=lambda name: name != first)),
        unasked=tuple(payload["unasked"]) if found["decide"] else (),
        photographs=tuple(_photographs(payload, answers, found["asked"])) if found["decide"] else (),
        to_order=tuple(to_order(payload, found, sets[choice] if choice is not None and sets else None)),
    )  # fmt: skip


def result_on_data(check: Check, answers: Mapping[str, Answer], found: Walk) -> Result:
    """Return how an unfinished self-check stands where the variant's data hold for what is still asked.

    What only an owner knows of the unit counts as far as it is answered.
    """
    payload = check.payload
    by_fact = {fact["fact"]: fact for fact in payload["rules"]["facts"]}
    known = dict(check.facts)
    hidden: set[Comparison] = set()
    for name, answer in answers.items():
        question = check.questions.about(name)
        if question is None:
            continue
        text = write_answer(by_fact[name], answer)
        answered = known_from(question, text, check.table)
        known.pop(name, None)
        if answered is not None:
            known[name] = answered
        hidden.update(_hidden(check, question, text))
    evaluation = evaluate(_answered(check, answers), known, hidden)
    by_id = {row.id: row for row in rows(evaluation, known, check.table)}
    sets = [
        SetRules(remedies=list(one.ids), provided=[need.id for need in one.provided], minutes=one.minutes,
                 cuts=one.cuts, mains_work=one.mains_work)
        for one in evaluation.remedies
    ]  # fmt: skip
    orders = evaluation.outcome in ("fits", "fits-with-conditions")
    return Result(
        outcome=evaluation.outcome,
        sentence=gettext(PHRASES["sentences"][evaluation.outcome]),
        finished=False,
        answers=_answers(payload, answers, found),
        unused=tuple(name for name in answers if name not in found["asked"]),
        next=asked(payload, found["ask"]) if found["ask"] is not None else None,
        reasons=tuple(
            ReasonReport(row.id, row.met, row.says, one.condition.because, _on_data(payload, row, answers))
            for one in evaluation.judged
            if (row := by_id[one.condition.id]).met is not True
        ),
        remedies=tuple(_set(payload, one) for one in sets),
        ours=from_data(payload),
        decide=(),
        unasked=tuple(payload["unasked"]) if evaluation.outcome == "cannot-tell-yet" else (),
        photographs=tuple(_photographs(payload, answers, list(answers))),
        to_order=("To order:", *payload["parts"][""]) if orders else (NOTHING_TO_ORDER,),
    )


def _on_data(payload: Payload, row: FitRow, answers: Mapping[str, Answer]) -> tuple[str, ...]:
    test = next(one["test"] for one in payload["rules"]["conditions"] if one["id"] == row.id)
    return tuple(dict.fromkeys(_hiders(payload, test, answers))) or ((row.detail,) if row.detail else ())


def _answered(check: Check, answers: Mapping[str, Answer]) -> Requirements:
    """Return the kit's requirements, with those of a sale of which something was answered."""
    theirs = (one for one in check.sold.roots if one not in check.requirements.roots)
    return Requirements((
        *check.requirements.roots,
        *(one for one in theirs if any(each.fact in answers for each in comparisons_of(one.test))),
    ))  # fmt: skip


def _hidden(check: Check, question: Question, text: str) -> Iterator[Comparison]:
    """Yield the comparisons of which nothing is known after an answer, beside those of its own fact."""
    chosen = question.offered(text)
    places = question.hidden if text in (NOT_SURE, PHOTO) else chosen.hides if chosen is not None else ()
    for condition in check.sold.conditions:
        for one in comparisons_of(condition.test):
            if one.fact != question.fact and is_hidden(one, places, check.table):
                yield one


def asked(payload: Payload | Which, name: str) -> QuestionShown:
    """Return one question in words."""
    question = next(one for one in payload["questions"] if one["fact"] == name)
    fact = next(one for one in payload["rules"]["facts"] if one["fact"] == name)
    settle = {"tool": question["tool"], "where": question["where"], "minutes": f"{question['minutes']:g}"}
    units = (f"a number in {unit['unit']}, ± {_count(unit, unit['plus_minus'])}" for unit in fact["units"])
    takes = (*fact["choices"], *units, "not-sure", "photo")
    how = gettext(PHRASES["settle"]).format(**settle)
    return QuestionShown(name, question["title"], question["ask"], how, takes, question["hint"])


def answer_words(payload: Payload | Which, name: str, answer: Answer) -> str:
    """Return what was asked and answered, as `Inlet fitting: a banjo`."""
    question = next(one for one in payload["questions"] if one["fact"] == name)
    fact = next(one for one in payload["rules"]["facts"] if one["fact"] == name)
    return f"{question['title']}: {_said(question, answer) if 'is' in answer else shown(fact, answer)}"


def _answers(payload: Payload, answers: Mapping[str, Answer], found: Walk) -> tuple[tuple[str, str], ...]:
    facts = {fact["fact"]: fact for fact in payload["rules"]["facts"]}
    return tuple((name, shown(facts[name], answers[name])) for name in found["asked"])


def _photographs(payload: Payload, answers: Mapping[str, Answer], asked: list[str]) -> Iterator[str]:
    """Yield what to show the workshop, a line for each answer that only it can make clearer."""
    facts = {fact["fact"]: fact for fact in payload["rules"]["facts"]}
    for question in payload["questions"]:
        name = question["fact"]
        if name in asked and class_of(facts[name], answers.get(name)) in facts[name]["beyond"]:
            words = {"title": question["title"], "answer": _said(question, answers[name])}
            yield gettext(PHRASES["only_we"]).format(**words, photos="; ".join(question["photos"]))


def _said(question: Words, answer: Answer) -> str:
    """Return a picked answer as the owner saw it."""
    return next((says for word, says in question["choices"] if word == answer.get("is")), str(answer.get("is")))


def _set(payload: Payload, one: SetRules) -> RemedySetReport:
    names = {remedy["id"]: remedy["name"] for remedy in payload["remedies"]}
    says = {condition["id"]: condition["says"] for condition in payload["conditions"]}
    return RemedySetReport(
        remedies=tuple(one["remedies"]),
        names=tuple(names[name] for name in one["remedies"]),
        minutes=one["minutes"],
        cuts=one["cuts"],
        mains_work=one["mains_work"],
        provided=tuple(says[name] for name in one["provided"]),
        to_order=tuple(line for name in one["remedies"] for line in payload["parts"].get(name, [])),
    )


def _numbers(payload: Payload, words: ConditionWords, answers: Mapping[str, Answer]) -> tuple[str, ...]:
    """Return by how much each comparison of a condition misses: as the data settle it, else as answered.

    Where an answer hides what the condition speaks of, that is said instead.
    """
    test = next(one["test"] for one in payload["rules"]["conditions"] if one["id"] == words["id"])
    hidden = tuple(dict.fromkeys(_hiders(payload, test, answers)))
    if hidden or words["detail"]:
        return hidden or (words["detail"] or "",)
    return tuple(_missed(payload, test, answers))


def _hiders(payload: Payload, test: Tree, answers: Mapping[str, Answer]) -> Iterator[str]:
    """Yield a sentence for each answer that hides something of a test."""
    if isinstance(test, str) or isinstance(test[0], int):
        return
    if test[0] == "unless":
        yield from _hiders(payload, test[1], answers)
        fact = payload["rules"]["facts"][test[2]]
        answer = answers.get(fact["fact"])
        if answer is not None and class_of(fact, answer) in test[3:]:
            question = next(one for one in payload["questions"] if one["fact"] == fact["fact"])
            said = _said(question, answer) if "is" in answer else write_answer(fact, answer)
            yield gettext(PHRASES["hidden"]).format(title=question["title"], answer=said)
        return
    for member in test[1:]:
        yield from _hiders(payload, member, answers)


def _missed(payload: Payload, test: Tree, answers: Mapping[str, Answer]) -> Iterator[str]:
    if isinstance(test, str):
        return
    if not isinstance(test[0], int):
        for member in below(test):
            yield from _missed(payload, member, answers)
        return
    fact = payload["rules"]["facts"][test[0]]
    answer = answers.get(fact["fact"])
    way = class_of(fact, answer)
    if answer is None or way is None or "count" not in answer:
        return
    truth = fact["classes"][way][test[1]]
    unit = next(unit for unit in fact["units"] if unit["unit"] == answer["unit"])
    lowest, highest = unit["limits"][test[1]]
    low = lowest is not None and (highest is None or answer["count"] < lowest)
    bound = lowest if low else highest
    if truth == "T" or bound is None:
        return
    title = next(one["title"] for one in payload["questions"] if one["fact"] == fact["fact"])
    yield gettext(PHRASES[("low_" if low else "high_") + truth.replace("?", "U")]).format(
        title=title,
        answer=shown(fact, answer),
        limit=_count(unit, max(0, bound)),
        gap=_count(unit, abs(answer["count"] - bound)),
    )


def _count(unit: UnitRules, count: int) -> str:
    return f"{write_count(unit['decimals'], count)} {unit['unit']}"
