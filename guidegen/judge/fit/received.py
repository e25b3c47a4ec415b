"""Hold a received order against rules. The outcome is never believed: it is computed again from the answers."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from difflib import get_close_matches

from guidegen.judge.fit.answers import accepted, asked_again, is_plausible, read_answer
from guidegen.judge.fit.order import OUTCOME_WORDS, write
from guidegen.judge.fit.order_codes import OrderCode
from guidegen.judge.fit.order_keys import in_keys
from guidegen.judge.fit.order_text import OrderText, problem
from guidegen.judge.fit.order_words import ByKeys, InWords
from guidegen.judge.fit.payload import Payload
from guidegen.judge.fit.scale import NotRead
from guidegen.judge.fit.walk import Answer, Walk, walk
from guidegen.judge.letter import Word, lines_of
from guidegen.problems import Problem

_PART = re.compile(r"[0-9]+ × |seal: |Kit .*, revision ")


@dataclass(frozen=True)
class JudgedOrder:
    """An order held against the rules of one edition."""

    order: OrderText
    """What was sent, by the keys of these rules."""
    answers: Mapping[str, Answer]
    found: Walk
    choice: int
    """The place of the chosen set of remedies."""
    problems: tuple[Problem, ...]


def judged(order: OrderText, payload: Payload) -> JudgedOrder:
    """Hold an order against the rules of the edition that it names: it must say what its page wrote."""
    problems = []
    if payload["pair"]["rules"] != order.rules:
        words = f"edition {order.edition} has the rules {payload['pair']['rules']}, the text says {order.rules}"
        problems.append(order.problem(OrderCode.OTHER_RULES, "edition", words))
    if payload["pair"]["revision"] != order.revision:
        words = f"edition {order.edition} has revision {payload['pair']['revision']}, the text says {order.revision}"
        problems.append(order.problem(OrderCode.EDITED, "kit", words))
    order, unread = in_keys(order, payload)
    answers, more = read_answers(order, payload)
    unread += more
    problems += unread
    found = walk(payload["rules"], answers)
    if not unread:
        problems += _asked(order, payload, found)
    choice = choice_of(order, found)
    if found["outcome"] is not None and not problems:
        problems += _outcome(order, payload, found, choice)
        if not problems:
            problems += _compared(order, write(payload, answers, choice or 0, keys=order.keyed))
    return JudgedOrder(order, answers, found, choice or 0, tuple(problems))


def choice_of(order: OrderText, found: Walk) -> int | None:
    """Return the place of the chosen remedies among the sufficient sets; None where they are not among them."""
    sets = [tuple(one["remedies"]) for one in found["remedies"]]
    return sets.index(order.remedies) if order.remedies in sets else None


def read_answers(order: OrderText, payload: Payload) -> tuple[dict[str, Answer], list[Problem]]:
    """Return the answers as these rules read them, and what cannot be read."""
    facts = {fact["fact"]: fact for fact in payload["rules"]["facts"]}
    answers: dict[str, Answer] = {}
    problems = []
    for name, written in order.answers.items():
        if name not in facts:
            near = get_close_matches(name, facts, n=1)
            fix = f"write {near[0]}" if near else "delete the line"
            problems.append(order.problem(OrderCode.BAD_ANSWER, name, f"{name[:60]} is not asked", fix))
            continue
        try:
            answers[name] = read_answer(facts[name], written)
        except NotRead as error:
            problems.append(order.problem(OrderCode.BAD_ANSWER, name, f"{name}: {error}", accepted(facts[name])))
    return answers, problems


def _words(order: OrderText, payload: Payload) -> ByKeys | InWords:
    """What things are called in a text."""
    return ByKeys(payload) if order.keyed else InWords(payload)


def _asked(order: OrderText, payload: Payload, found: Walk) -> Iterator[Problem]:
    """What is missing, and what is answered although nobody asks it after the other answers."""
    words = _words(order, payload)
    if found["ask"] is not None and found["ask"] not in order.answers:
        question = next(one for one in payload["questions"] if one["fact"] == found["ask"])
        message, fix = f"{words.title(found['ask'])} is not answered", f"ask: {question['ask']}"
        yield order.problem(OrderCode.BAD_ANSWER, "answers", message, fix)
    if found["ask"] is None:
        known = {fact["fact"] for fact in payload["rules"]["facts"]}
        for name in order.answers:
            if name in known and name not in found["asked"]:
                message = f"{words.title(name)} is not asked after the other answers"
                yield order.problem(OrderCode.BAD_ANSWER, name, message, "delete the line, or ask for the text again")


def _outcome(order: OrderText, payload: Payload, found: Walk, choice: int | None) -> Iterator[Problem]:
    """The outcome and the chosen remedies, against what the answers give."""
    outcome = found["outcome"] or ""
    if outcome != order.outcome:
        message = f"the answers give “{OUTCOME_WORDS[outcome]}”, the text says “{OUTCOME_WORDS[order.outcome]}”"
        yield order.problem(OrderCode.EDITED, "outcome", message)
    elif found["remedies"] and choice is None:
        words = _words(order, payload)
        sets = "; ".join(words.remedies(one["remedies"]) for one in found["remedies"])
        message = f"{(order.chosen or 'no remedy')[:80]} does not make the kit fit; one of these would: {sets}"
        yield order.problem(OrderCode.EDITED, "remedies", message)


def _compared(order: OrderText, text: str) -> Iterator[Problem]:
    """The first word from the outcome on that is not the page's; behind them a greeting may follow, but no part."""
    wanted = lines_of(text[text.index("\nOutcome: ") :])
    words = [word for line in order.tail for word in line.words]
    for line in wanted:
        for word in line.words:
            there: Word | None = words.pop(0) if words else None
            if there is None:
                message = f"the text ends before “{line.text}”"
                yield problem(order.path, order.tail[-1].words[-1].spot, OrderCode.CUT_OFF, message)
                return
            if there.text != word.text:
                message = f"here stands “{there.text[:40]}”, for these answers the page wrote “{line.text}”"
                yield problem(order.path, there.spot, OrderCode.EDITED, message)
                return
    spots = {word.spot for word in words}
    for line in order.tail:
        if line.spot in spots and _PART.match(line.text):
            message = f"“{line.text[:60]}” is not in what the page wrote for these answers"
            yield problem(order.path, line.spot, OrderCode.EDITED, message, "order it by a text of its own")


# --- and today ---------------------------------------------------------------------------------------


def judged_today(order: OrderText, now: Payload) -> JudgedOrder:
    """Hold the same answers against today's rules; what ends otherwise must not be carried out as it is."""
    order, _ = in_keys(order, now)
    answers, _ = read_answers(order, now)
    problems = list(_implausible(order, now, answers))
    found = walk(now["rules"], answers)
    choice = choice_of(order, found)
    if problems:
        return JudgedOrder(order, answers, found, choice or 0, tuple(problems))
    if found["outcome"] is None:
        question = next(one for one in now["questions"] if one["fact"] == found["ask"])
        words, fix = f"today “{question['title']}” must be answered, too", f"ask: {question['ask']}"
        problems.append(order.problem(OrderCode.OVERTAKEN, "answers", words, fix))
    elif found["outcome"] != order.outcome:
        words = f"by today's rules the answers give “{OUTCOME_WORDS[found['outcome']]}”"
        problems.append(order.problem(OrderCode.OVERTAKEN, "outcome", words, "answer with today's outcome"))
    elif found["remedies"] and choice is None:
        words = f"by today's rules {' + '.join(order.remedies)[:80]} does not make the kit fit any more"
        problems.append(order.problem(OrderCode.OVERTAKEN, "remedies", words, "answer with today's remedies"))
    return JudgedOrder(order, answers, found, choice or 0, tuple(problems))


def _implausible(order: OrderText, now: Payload, answers: Mapping[str, Answer]) -> Iterator[Problem]:
    """What no page of today takes: it is asked again."""
    for fact in now["rules"]["facts"]:
        answer = answers.get(fact["fact"])
        if answer is not None and not is_plausible(fact, answer):
            words = f"{fact['fact']}: {asked_again(fact, answer)}"
            yield order.problem(OrderCode.OVERTAKEN, fact["fact"], words, "ask for it again, with a photo")
