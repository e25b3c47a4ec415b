"""Which variant is it? Outside marks and the rating plate, asked by the same engine as the requirements.

Each variant is a list of conditions: its marks look as its data say, its plate names its watts. An answer excludes a
variant where it makes one of them false. What a variant's data do not mention excludes nothing, so several variants
may be left, and then all of them are named.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import cast

from guidegen.catalogue.machine import Machine
from guidegen.catalogue.questions import Choice, Question, Questions
from guidegen.fit.build import known_of
from guidegen.fit.logic import Interval, Truth
from guidegen.fit.payload import Variant, Which, WhichPair, Words, question_words
from guidegen.fit.questions import Asked, asked_about
from guidegen.fit.rules import fact_rules
from guidegen.fit.shape import FORMAT, MendingRules, Rules
from guidegen.fit.store import TooLarge
from guidegen.fit.told import title
from guidegen.fit.tree import Comparison, Known, OneOf, Within

PLATE = ("mains.voltage", "mains.connection", "heater.power")
"""Facts that are read from outside; they tell variants apart where a question asks for them."""
MARK = "mark."
MARK_MINUTES = 1.0
MOST_STEPS = 2_000

Described = Mapping[str, Mapping[str, Comparison]]
"""Per variant and fact: what is seen where it is this variant."""


def compile_identification(machines: Sequence[Machine], questions: Questions) -> tuple[Rules, tuple[Question, ...]]:
    """Return rules for `walk` whose outcomes are the variants that are left, and the questions they ask.

    An outcome holds ids with spaces between; the empty one says that it is none of these.
    """
    plate = tuple(question for fact in PLATE if (question := questions.about(fact)) and question.look == "outside")
    asks = {question.fact: question for question in (*mark_questions(machines), *plate)}
    described = {machine.id: dict(_seen(machine, asks)) for machine in machines}
    made = _Tree(described, asks)
    top = made.branch(tuple(described), frozenset())
    return made.rules(top), tuple(one.question for one in made.asked)


def which_of(machines: Sequence[Machine], questions: Questions, *, edition: str, contact: str) -> Which:
    """Return everything that telling these variants apart carries."""
    rules, asked = compile_identification(machines, questions)
    variants = [
        Variant(id=machine.id, name=machine.name, seen=[f"{mark.look}: {mark.see}" for mark in machine.marks])
        for machine in machines
    ]
    words = [{**question_words(question), "title": _short(question)} for question in asked]
    return Which(
        pair=WhichPair(edition=edition),
        rules=rules,
        questions=cast(list[Words], words),
        variants=variants,
        contact=contact,
    )


def _short(question: Question) -> str:
    """Return what the list of answers calls a question: where to look, or the name of the fact."""
    return question.where if question.fact.startswith(MARK) else title(question.fact)


def mark_questions(machines: Sequence[Machine]) -> tuple[Question, ...]:
    """Return one question per mark; its answers are what the variants show there."""
    looks: dict[str, str] = {}
    sees: dict[str, dict[str, None]] = {}
    for machine in machines:
        for mark in machine.marks:
            looks.setdefault(mark.id, mark.look)
            sees.setdefault(mark.id, {})[mark.see] = None
    return tuple(
        Question(
            fact=f"{MARK}{name}",
            ask="What do you see there?",
            why="It tells the variants apart.",
            tool="your eyes",
            where=look,
            look="outside",
            minutes=MARK_MINUTES,
            photos=(look,),
            choices=tuple(Choice.model_validate({"is": see, "says": see}) for see in sees[name]),
            other="Something else",
        )
        for name, look in looks.items()
    )


def _seen(machine: Machine, asks: Mapping[str, Question]) -> Iterator[tuple[str, Comparison]]:
    for mark in machine.marks:
        fact = f"{MARK}{mark.id}"
        yield fact, Comparison(fact, OneOf(frozenset({mark.see})))
    for fact in PLATE:
        known = known_of(machine.fact(fact))
        if fact in asks and known is not None:
            yield fact, Comparison(fact, _agrees(known, asks[fact]))


def _agrees(known: Known, question: Question) -> Within | OneOf:
    """Return the test that what is read agrees with the data; the reading brings its own tolerance."""
    if not isinstance(known, Interval):
        return OneOf(known)
    low, high = Interval(known.low, known.low), Interval(known.high, known.high)
    return Within(question.measures if question.units else "", low, high)


class _Tree:
    """Asks, of the variants that are left, what tells most of them apart per minute; equal situations share a node."""

    def __init__(self, described: Described, asks: Mapping[str, Question]) -> None:
        self._described = described
        self.asked = tuple(
            asked_about(question, comparisons)
            for fact, question in asks.items()
            if (comparisons := tuple(dict.fromkeys(one[fact] for one in described.values() if fact in one)))
        )
        self._nodes: list[list[int]] = []
        self._known: dict[tuple[tuple[str, ...], frozenset[int]], int] = {}
        self._outcomes: list[str] = []

    def branch(self, left: tuple[str, ...], asked: frozenset[int]) -> int:
        """Return the node for the variants left and the questions asked, or the end where none tells more."""
        key = left, asked
        if key not in self._known:
            place = self._best(left, asked) if len(left) > 1 else None
            self._known[key] = self._end(left) if place is None else self._node(place, left, asked)
        return self._known[key]

    def rules(self, top: int) -> Rules:
        """Return the whole as rules."""
        return Rules(
            format=FORMAT,
            outcomes=self._outcomes,
            facts=[fact_rules(one) for one in self.asked],
            nodes=self._nodes,
            top=top,
            conditions=[],
            roots=[],
            mending=MendingRules(conditions=[], table={}, sets=[]),
        )

    def _node(self, place: int, left: tuple[str, ...], asked: frozenset[int]) -> int:
        if len(self._nodes) >= MOST_STEPS:
            raise TooLarge(f"telling the variants apart takes more than {MOST_STEPS} steps: give them clearer marks")
        node = [place]
        self._nodes.append(node)
        number = len(self._nodes) - 1
        ways = range(len(self.asked[place].vectors))
        node += [self.branch(self._left(place, way, left), asked | {place}) for way in ways]
        return number

    def _end(self, left: tuple[str, ...]) -> int:
        outcome = " ".join(left)
        if outcome not in self._outcomes:
            self._outcomes.append(outcome)
        return -1 - self._outcomes.index(outcome)

    def _left(self, place: int, way: int, left: tuple[str, ...]) -> tuple[str, ...]:
        asked = self.asked[place]
        return tuple(name for name in left if self._truth(asked, way, name) is not Truth.FALSE)

    def _truth(self, asked: Asked, way: int, name: str) -> Truth:
        comparison = self._described[name].get(asked.fact)
        if comparison is None:
            return Truth.UNKNOWN
        return asked.vectors[way][asked.comparisons.index(comparison)]

    def _best(self, left: tuple[str, ...], asked: frozenset[int]) -> int | None:
        """Return the question that leaves fewest variants per minute, counted over the variants it could be."""
        best: tuple[float, int] | None = None
        for place, one in enumerate(self.asked):
            if place in asked:
                continue
            # An answer that agrees with some and excludes others is what it may turn out to be.
            ways = [way for way, vector in enumerate(one.vectors) if len(set(vector)) > 1 or Truth.TRUE in vector]
            gone = sum(len(left) - len(self._left(place, way, left)) for way in ways) / max(1, len(ways))
            worth = gone / one.question.minutes
            if worth > 0 and (best is None or worth > best[0]):
                best = worth, place
        return best[1] if best is not None else None
