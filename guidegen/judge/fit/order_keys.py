"""Find the keys of what an order says in words, by the words of the payload that it was written from."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from difflib import get_close_matches

from guidegen.judge.fit.order_codes import OrderCode
from guidegen.judge.fit.order_text import OrderText, problem
from guidegen.judge.fit.order_words import UNSURE, InWords, keys_by, sets_of
from guidegen.judge.fit.payload import Payload
from guidegen.judge.letter import Line, Spot
from guidegen.problems import Problem

_NUMBER = re.compile(r"[0-9]+(?:[.,][0-9]+)?")


def in_keys(order: OrderText, payload: Payload) -> tuple[OrderText, list[Problem]]:
    """Return the order with answers and remedies by key, and what no key was found for."""
    if order.keyed or order.resolved:
        return order, []
    words = InWords(payload)
    titles = keys_by(words.titles)
    answers: dict[str, str] = {}
    spots: dict[str, Spot] = {}
    problems: list[Problem] = []
    for title, lines in _parts(order.body, titles):
        spot = lines[0].spot
        if title is None:
            problems += [_not_asked(order, line, titles) for line in lines]
        elif (name := titles[title]) in answers:
            problems.append(problem(order.path, spot, OrderCode.GARBLED, f"{title} is answered twice"))
        else:
            written = _written(words.choices[name])
            answer, over = _answer(title, lines, written)
            spots[name] = spot
            problems += [_not_asked(order, line, titles) for line in over]
            if words.choices[name] and answer not in written:
                message, fix = f"{title}: “{answer[:60]}” is none of its answers", f"write {' | '.join(written)}"
                problems.append(problem(order.path, spot, OrderCode.BAD_ANSWER, message, fix))
            else:
                answers[name] = written.get(answer, answer)
    sets = {words.remedies(one): one for one in sets_of(payload)}
    remedies = sets.get(order.chosen, (order.chosen,)) if order.chosen else ()
    spots = {**order.spots, **spots}
    return replace(order, answers=answers, remedies=remedies, spots=spots, resolved=True), problems


def _parts(lines: Sequence[Line], titles: Mapping[str, str]) -> Iterator[tuple[str | None, list[Line]]]:
    """Yield the title and the lines of each answer; a title that a mail program broke is still one."""
    title: str | None = None
    part: list[Line] = []
    for place, line in enumerate(lines):
        found = _title(lines[place:], titles)
        if found is not None and part:
            yield title, part
            part = []
        title = found if found is not None else title
        part.append(line)
    if part:
        yield title, part


def _title(lines: Sequence[Line], titles: Mapping[str, str]) -> str | None:
    """Return the title that lines begin with; `titles` has the longest first."""
    text = " ".join(line.text for line in lines)
    return next((title for title in titles if text.startswith(f"{title}: ")), None)


def _written(choices: Mapping[str, str]) -> dict[str, str]:
    """Return the answers that are words, as a link writes them."""
    return {says: key for key, says in (*UNSURE.items(), *choices.items())}


def _answer(title: str, lines: Sequence[Line], written: Mapping[str, str]) -> tuple[str, Sequence[Line]]:
    """Return the answer as it stands there, and the lines behind it that are none of it."""
    head = f"{title}: "
    joined = (" ".join(line.text for line in lines[:count]) for count in range(1, len(lines) + 1))
    texts = {count: text.removeprefix(head) for count, text in enumerate(joined, 1) if text.startswith(head)}
    whole = next((count for count, text in texts.items() if text in written), None)
    if whole is not None:
        return texts[whole], lines[whole:]
    count = min(texts, default=0)
    # A number may be broken before its unit; what else follows is none of it.
    if count and count < len(lines) and _NUMBER.fullmatch(texts[count]) and len(lines[count].words) == 1:
        count += 1
    return texts.get(count, ""), lines[max(count, 1) :]


def _not_asked(order: OrderText, line: Line, titles: Mapping[str, str]) -> Problem:
    before = line.text.split(": ")[0]
    near = get_close_matches(before, titles, n=1)
    fix = f"write {near[0]}" if near else "delete the line"
    return problem(order.path, line.spot, OrderCode.BAD_ANSWER, f"“{before[:60]}” is not asked", fix)
