"""Read an order text that was received: what it says, and in which line and column each part of it stands.

A mail program may quote it, wrap a line or change a space; what was answered must come through. Whatever else stands
in the letter is passed over and kept nowhere. A text names answers and remedies in the words of its edition, which
`order_keys` finds the keys of; pages of earlier editions wrote the keys themselves.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from guidegen.judge.fit.order import OUTCOME_WORDS, TITLE
from guidegen.judge.fit.order_codes import OrderCode
from guidegen.judge.fit.order_words import BETWEEN, REFERENCE
from guidegen.judge.letter import Line, Spot, lines_of
from guidegen.problems import CatalogueError, Problem

AGAIN = "ask for the text again, as the page's Copy or mail gives it"

_ID = r"[a-z0-9-]{1,40}"
_ANSWER = re.compile(r"([a-z0-9_-]+(?:\.[a-z0-9_-]+)*) = (\S.*)")
_HEAD = {
    "machine": re.compile(rf"Machine: ({_ID})(?: |$)"),
    "kit": re.compile(rf"Kit: ({_ID}), revision ([A-Za-z0-9.-]{{1,10}})(?: |$)"),
    "edition": re.compile(r"Edition: ([A-Za-z0-9._-]{1,40}), rules ([0-9a-f]{8})(?: |$)"),
}
_REFERENCE = re.compile(
    REFERENCE
    + BETWEEN.join((f"({_ID})", f"({_ID})", "([A-Za-z0-9.-]{1,10})", "([A-Za-z0-9._-]{1,40})", "([0-9a-f]{8})"))
    + "(?: |$)"
)
_OUTCOME = re.compile(r"Outcome: (.*)")
_CHOSEN = re.compile(r"Remedies:(?: |$)")
_AFTER_CHOSEN = re.compile(r"Provided that: |To order:$")
_TELLING = re.compile(rf"{re.escape(TITLE)}|Kit: .*, revision |Edition: .*, rules |{REFERENCE}.* / ")


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
    keyed: bool = False
    """Whether it names answers and remedies by their keys, as earlier editions wrote it."""
    body: tuple[Line, ...] = ()
    """The lines of answers that are in words."""
    chosen: str = ""
    """The chosen remedies as they stand there."""
    resolved: bool = False
    """Whether the keys of what is in words were looked up."""

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
    head = _in_words(lines) or _by_keys(lines, path)
    lines, spots = lines[head.first :], head.spots
    end = lines[-1].words[-1].spot
    answers = next((place for place, line in enumerate(lines) if line.text == "Answers:"), None)
    if answers is None:
        raise CatalogueError([problem(path, end, OrderCode.CUT_OFF, "the text ends before its answers")])
    spots["answers"] = lines[answers].spot
    body = lines[answers + 1 :]
    close = next((place for place, line in enumerate(body) if _OUTCOME.match(line.text)), None)
    if close is None:
        raise CatalogueError([problem(path, end, OrderCode.CUT_OFF, "the text ends before its outcome")])
    body, tail = body[:close], body[close:]
    found, problems = _answers(body, path, spots) if head.keyed else ({}, [])
    problems += _second(lines, head.keyed, path)
    outcome = _outcome(tail[0], path, problems)
    spots["outcome"] = tail[0].spot
    chosen = _chosen(tail, spots)
    if problems:
        raise CatalogueError(problems)
    variant, kit, revision, edition, rules = head.names
    return OrderText(
        path=path,
        variant=variant,
        kit=kit,
        revision=revision,
        edition=edition,
        rules=rules,
        outcome=outcome,
        answers=found,
        remedies=tuple(chosen.split(" + ")) if chosen and head.keyed else (),
        spots=spots,
        tail=tuple(tail),
        keyed=head.keyed,
        body=() if head.keyed else tuple(body),
        chosen=chosen,
    )


@dataclass(frozen=True)
class _Head:
    """What a text names; `first` is the line with which it begins."""

    names: tuple[str, ...]
    """Variant, kit, revision, edition, rules."""
    first: int
    spots: dict[str, Spot]
    keyed: bool


def _in_words(lines: Sequence[Line]) -> _Head | None:
    """The reference, whole or broken by a mail program; None where there is none."""
    for place, line in enumerate(lines):
        if not line.text.startswith(REFERENCE.rstrip()):
            continue
        words = [word for one in lines[place : place + 3] for word in one.words]
        match = _REFERENCE.match(" ".join(word.text for word in words))
        if match is not None:
            names = ("machine", "kit", "revision", "edition", "rules")
            spots = {name: words[1 + 2 * at].spot for at, name in enumerate(names)}
            return _Head(match.groups(), place, spots, keyed=False)
    return None


def _by_keys(lines: Sequence[Line], path: str) -> _Head:
    """The head as earlier editions wrote it."""
    start = next((place for place, line in enumerate(lines) if _HEAD["machine"].match(line.text)), 0)
    answers = next((place for place, line in enumerate(lines) if place >= start and line.text == "Answers:"), None)
    heads = {name: _first(pattern, lines[start:answers]) for name, pattern in _HEAD.items()}
    if any(match is None for match in heads.values()):
        words = f"this is no complete order text: no whole line “{REFERENCE.strip()}”"
        missing = [name for name, match in heads.items() if match is None]
        if len(missing) < len(heads):
            words = f"this is no complete order text: no line for {', '.join(missing)}"
        raise CatalogueError([problem(path, (1, 1), OrderCode.NO_ORDER, words)])
    machine, kit, edition = (match for match in heads.values() if match is not None)
    names = (machine[1][1], kit[1][1], kit[1][2], edition[1][1], edition[1][2])
    return _Head(names, start, {name: match[0].spot for name, match in heads.items() if match is not None}, keyed=True)


def _chosen(tail: Sequence[Line], spots: dict[str, Spot]) -> str:
    """The chosen remedies as they stand there, in one line."""
    at = next((place for place, line in enumerate(tail) if _CHOSEN.match(line.text)), None)
    if at is None:
        return ""
    spots["remedies"] = tail[at].spot
    end = next((at + place for place, line in enumerate(tail[at:]) if _AFTER_CHOSEN.match(line.text)), at + 1)
    return " ".join(line.text for line in tail[at:end]).removeprefix("Remedies: ")


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


def _second(lines: Sequence[Line], keyed: bool, path: str) -> list[Problem]:
    """One text at a time: with two it would not be clear which is meant."""
    begins = _HEAD["machine"] if keyed else re.compile(REFERENCE)
    others = [line for line in lines[1:] if begins.match(line.text)]
    return [
        problem(path, line.spot, OrderCode.GARBLED, "a second order begins here", "keep one order in a text")
        for line in others[:1]
    ]
