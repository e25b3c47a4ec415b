"""Read an order text that was received: what it says, and in which line and column each part of it stands.

A mail program may quote it, wrap a line or change a space; what was answered must come through. Whatever else stands
in the letter is passed over and kept nowhere.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from guidegen.judge.fit.order import OUTCOME_WORDS, TITLE
from guidegen.judge.fit.order_codes import OrderCode
from guidegen.problems import CatalogueError, Problem

AGAIN = "ask for the text again, as the page's Copy or mail gives it"
MOST_BYTES = 1_000_000

_ID = r"[a-z0-9-]{1,40}"
_ANSWER = re.compile(r"([a-z0-9_-]+(?:\.[a-z0-9_-]+)*) = (\S.*)")
_HEAD = {
    "machine": re.compile(rf"Machine: ({_ID})(?: |$)"),
    "kit": re.compile(rf"Kit: ({_ID}), revision ([A-Za-z0-9.-]{{1,10}})(?: |$)"),
    "edition": re.compile(r"Edition: ([A-Za-z0-9._-]{1,40}), rules ([0-9a-f]{8})(?: |$)"),
}
_OUTCOME = re.compile(r"Outcome: (.*)")
_CHOSEN = re.compile(r"Remedies: (.*)")
_TELLING = re.compile(rf"{re.escape(TITLE)}|Kit: .*, revision |Edition: .*, rules ")

Spot = tuple[int, int]
"""Line and column, from 1."""


@dataclass(frozen=True)
class Word:
    """One word of the text and where it stands."""

    text: str
    spot: Spot


@dataclass(frozen=True)
class Line:
    """One line without marks of quotation, its words with plain spaces between."""

    words: tuple[Word, ...]

    @property
    def text(self) -> str:
        """Return the line as the page wrote it."""
        return " ".join(word.text for word in self.words)

    @property
    def spot(self) -> Spot:
        """Return where it begins."""
        return self.words[0].spot


@dataclass(frozen=True)
class OrderText:
    """What a text says, and where."""

    path: str
    variant: str
    kit: str
    revision: str
    edition: str
    rules: str
    outcome: str
    answers: Mapping[str, str]
    remedies: tuple[str, ...]
    spots: Mapping[str, Spot]
    """Of machine, kit, edition, answers, outcome, remedies, and of each answered fact."""
    tail: tuple[Line, ...]
    """The lines from the outcome on."""

    def problem(self, code: OrderCode, part: str, message: str, fix: str = AGAIN) -> Problem:
        """Return what is wrong with a part, with its place."""
        return problem(self.path, self.spots.get(part, self.spots["outcome"]), code, message, fix)


def problem(path: str, spot: Spot, code: OrderCode, message: str, fix: str = AGAIN) -> Problem:
    """Return a problem at a place of the text."""
    return Problem(path, *spot, code, message, fix)


def is_order(text: str) -> bool:
    """Return whether a text has anything that only an order has, so that it is to be read as one.

    >>> is_order("boiler: {mass: 520 g}"), is_order("> Edition: 2026.1, rules 0123abcd")
    (False, True)
    """
    return any(_TELLING.match(line.text) for line in lines_of(text))


def read(text: str, path: str = "the text") -> OrderText:
    """Return what a received text says; raise `CatalogueError` with every line that cannot be."""
    lines = lines_of(text)
    start = next((place for place, line in enumerate(lines) if _HEAD["machine"].match(line.text)), 0)
    lines = lines[start:]
    answers = next((place for place, line in enumerate(lines) if line.text == "Answers:"), None)
    heads = {name: _first(pattern, lines[:answers]) for name, pattern in _HEAD.items()}
    missing = [name for name, match in heads.items() if match is None]
    if missing:
        words = f"this is no complete order text: no line for {', '.join(missing)}"
        raise CatalogueError([problem(path, (1, 1), OrderCode.NO_ORDER, words)])
    spots: dict[str, Spot] = {name: match[0].spot for name, match in heads.items() if match is not None}
    machine, kit, edition = (match[1] for match in heads.values() if match is not None)
    end = lines[-1].words[-1].spot
    if answers is None:
        raise CatalogueError([problem(path, end, OrderCode.CUT_OFF, "the text ends before its answers")])
    spots["answers"] = lines[answers].spot
    body = lines[answers + 1 :]
    close = next((place for place, line in enumerate(body) if _OUTCOME.match(line.text)), None)
    if close is None:
        raise CatalogueError([problem(path, end, OrderCode.CUT_OFF, "the text ends before its outcome")])
    tail = body[close:]
    found, problems = _answers(body[:close], path, spots)
    problems += _second(lines, path)
    outcome = _outcome(tail[0], path, problems)
    spots["outcome"] = tail[0].spot
    chosen = _first(_CHOSEN, tail)
    if chosen is not None:
        spots["remedies"] = chosen[0].spot
    if problems:
        raise CatalogueError(problems)
    return OrderText(
        path=path,
        variant=machine[1],
        kit=kit[1],
        revision=kit[2],
        edition=edition[1],
        rules=edition[2],
        outcome=outcome,
        answers=found,
        remedies=tuple(chosen[1][1].split(" + ")) if chosen is not None else (),
        spots=spots,
        tail=tuple(tail),
    )


def lines_of(text: str) -> list[Line]:
    """Return the lines that are not empty."""
    plain = text.replace("\r\n", "\n").replace("\r", "\n")
    found = []
    for number, raw in enumerate(plain.split("\n"), 1):
        quoted = re.match(r"[\s>|]*", raw)
        begin = quoted.end() if quoted is not None else 0
        words = tuple(_words(raw, begin, number))
        if words:
            found.append(Line(words))
    return found


def _words(raw: str, begin: int, number: int) -> Iterator[Word]:
    at = begin
    for word in raw[begin:].split():
        at = raw.index(word, at)
        yield Word(word, (number, at + 1))
        at += len(word)


def _first(pattern: re.Pattern[str], lines: Sequence[Line]) -> tuple[Line, re.Match[str]] | None:
    return next(((line, match) for line in lines if (match := pattern.match(line.text))), None)


def _outcome(line: Line, path: str, problems: list[Problem]) -> str:
    names = {words: name for name, words in OUTCOME_WORDS.items()}
    sentence = line.text.removeprefix("Outcome: ")
    if sentence not in names:
        words = f"the outcome {sentence[:40]!r} is none of {', '.join(names)}"
        problems.append(problem(path, line.spot, OrderCode.GARBLED, words))
    return names.get(sentence, "")


def _answers(lines: Sequence[Line], path: str, spots: dict[str, Spot]) -> tuple[dict[str, str], list[Problem]]:
    """Return the answers; note the place of each."""
    found: dict[str, str] = {}
    problems = []
    for line in lines:
        match = _ANSWER.fullmatch(line.text)
        if match is None:
            words = f"the line {line.text[:80]!r} is no answer"
            problems.append(problem(path, line.spot, OrderCode.GARBLED, words))
        elif match[1] in found:
            problems.append(problem(path, line.spot, OrderCode.GARBLED, f"{match[1]} is answered twice"))
        else:
            found[match[1]], spots[match[1]] = match[2], line.spot
    return found, problems


def _second(lines: Sequence[Line], path: str) -> list[Problem]:
    """One text at a time: with two it would not be clear which is meant."""
    others = [line for line in lines[1:] if _HEAD["machine"].match(line.text)]
    return [
        problem(path, line.spot, OrderCode.GARBLED, "a second order begins here", "keep one order in a text")
        for line in others[:1]
    ]
