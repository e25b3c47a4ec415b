"""Which variant is it? The name, outside marks, the rating plate and sizes, asked by the engine of the requirements.

Each variant is a list of conditions: its marks look as its data say, its plate names its watts. An answer excludes a
variant where it makes one of them false. A mark that another variant has speaks against one whose data do not mention
it; where nobody looked they say so, `see: unknown`, and then it excludes nothing, as a size that nobody knows. So
several variants may be left, and then all of them are named. The order is a rule: the name, then the rating plate,
which the maker riveted on and which mostly decides alone, then whatever else is seen from outside, and last what is
under the lid. Facts that an earlier owner may have changed are not used.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import cast

from guidegen.judge.comparison import Comparison, Known, OneOf, Within
from guidegen.judge.fit.build import known_of
from guidegen.judge.fit.identified import NOT_KNOWN, NOT_STATED, agrees
from guidegen.judge.fit.marks import (
    FAMILY,
    MARK,
    PLATE_MARK,
    WHY,
    family_question,
    mark_questions,
    seen_marks,
    unseen_marks,
)
from guidegen.judge.fit.payload import Variant, Which, WhichPair, Words, question_words
from guidegen.judge.fit.questions import Asked, asked_about
from guidegen.judge.fit.rules import fact_rules
from guidegen.judge.fit.shape import FORMAT, Rules, SufficientRules
from guidegen.judge.fit.store import TooLarge
from guidegen.judge.fit.subject import Candidate
from guidegen.judge.logic import Interval
from guidegen.language import gettext
from guidegen.units import NARROW_SPACE
from guidegen.workshop.fact_table import FactTable
from guidegen.workshop.questions import Question, Questions

PLATE = ("mains.voltage", "heater.power")
"""What the rating plate names; it stays as the maker riveted it, whatever an earlier owner has changed."""
MOST_UNDER_LID = 2
"""Who could not answer two questions under the lid will not answer a third one."""
MOST_STEPS = 2_000

Described = Mapping[str, Mapping[str, Comparison]]
"""Per variant and fact: what is seen where it is this variant."""


def compile_identification(
    machines: Sequence[Candidate], questions: Questions, table: FactTable
) -> tuple[Rules, tuple[Question, ...]]:
    """Return rules for `walk` whose outcomes are the variants that are left, and the questions they ask.

    An outcome holds ids with spaces between; the empty one says that it is none of these.
    """
    made, top = _grown(machines, questions, table)
    return made.rules(top), tuple(one.question for one in made.asked)


def _grown(machines: Sequence[Candidate], questions: Questions, table: FactTable) -> tuple[_Tree, int]:
    read = tuple(one for one in questions.questions if one.fact in PLATE or not one.may_differ)
    asks = {one.fact: one for one in (*family_question(machines), *mark_questions(machines), *read)}
    described = {machine.id: dict(_seen(machine, asks, table)) for machine in machines}
    unseen = {machine.id: frozenset(unseen_marks(machine)) for machine in machines}
    made = _Tree(described, unseen, asks, table)
    return made, made.branch(tuple(described), frozenset())


def which_of(
    machines: Sequence[Candidate], questions: Questions, table: FactTable, *, edition: str, contact: str
) -> Which:
    """Return everything that the page needs to tell these variants apart.

    Where sizes make too much of it they are left out; where even that is too much nothing is asked, and the table
    of the marks has to do.
    """
    outside = Questions(questions=tuple(one for one in questions.questions if one.look == "outside"))
    for askable in (questions, outside):
        try:
            made, top = _grown(machines, askable, table)
            break
        except TooLarge:
            continue
    else:
        made, top = _grown((), Questions(), table)
    words = [
        {**question_words(question, table), "title": _short(question, table), "why": gettext(WHY)}
        for question in (one.question for one in made.asked)
    ]
    return Which(
        pair=WhichPair(edition=edition),
        rules=made.rules(top),
        shows=made.shows,
        questions=cast(list[Words], words),
        variants=[_variant(machine) for machine in machines],
        contact=contact,
    )


def _variant(machine: Candidate) -> Variant:
    known = [machine.fact(path) for path in PLATE]
    # A plate names its watts without a tolerance.
    plate = [fact.text.split(" ±")[0].replace(" ", NARROW_SPACE) for fact in known if fact is not None and fact.known]
    return Variant(
        id=machine.id,
        name=machine.name,
        seen=[f"{mark.look}: {mark.see}" for mark in seen_marks(machine)],
        plate=", ".join(plate),
    )


def _short(question: Question, table: FactTable) -> str:
    """Return what the list of answers calls a question: where to look, or the name of the fact."""
    if question.fact == FAMILY:
        return gettext("the machine's name")
    return question.where if question.fact.startswith(MARK) else table.title(question.fact)


def _seen(machine: Candidate, asks: Mapping[str, Question], table: FactTable) -> Iterator[tuple[str, Comparison]]:
    if FAMILY in asks:
        yield FAMILY, Comparison(FAMILY, OneOf(frozenset({machine.family})))
    for mark in seen_marks(machine):
        fact = f"{MARK}{mark.id}"
        yield fact, Comparison(fact, OneOf(frozenset({mark.see})))
    for fact, question in asks.items():
        if fact not in table:
            continue
        known = known_of(machine.fact(fact))
        if known is not None:
            yield fact, Comparison(fact, _agrees(known, question))


def _agrees(known: Known, question: Question) -> Within | OneOf:
    """Return the test that what is read agrees with the data; the reading brings its own tolerance."""
    if not isinstance(known, Interval):
        return OneOf(known)
    low, high = Interval(known.low, known.low), Interval(known.high, known.high)
    return Within(question.measures if question.units else "", low, high)


class _Tree:
    """Asks what distinguishes most of the variants that are left per minute; equal situations share a node."""

    def __init__(
        self,
        described: Described,
        unseen: Mapping[str, frozenset[str]],
        asks: Mapping[str, Question],
        table: FactTable,
    ) -> None:
        self._names = tuple(described)
        self.asked = tuple(
            asked_about(question, comparisons, table)
            for fact, question in asks.items()
            if (comparisons := tuple(dict.fromkeys(one[fact] for one in described.values() if fact in one)))
        )
        self._facts = [fact_rules(one) for one in self.asked]
        self.shows = [[_shown(one, name, described, unseen) for name in described] for one in self.asked]
        """See `guidegen.judge.fit.identified`."""
        self._nodes: list[list[int]] = []
        self._known: dict[tuple[tuple[str, ...], frozenset[int]], int] = {}
        self._gains: dict[tuple[str, ...], dict[int, float]] = {}
        self._stays = tuple(tuple(self._agreeing(place, way) for way in range(len(one.vectors)))
                            for place, one in enumerate(self.asked))  # fmt: skip
        self._outcomes: list[str] = []

    def branch(self, left: tuple[str, ...], asked: frozenset[int]) -> int:
        """Return the node for the variants left and the questions asked, or the end where none separates them."""
        useful = self._useful(left)
        # What separates nothing here separates nothing further on: whether it was asked makes no difference.
        key = left, frozenset(place for place in asked if place in useful or self._under_lid(place))
        if key not in self._known:
            place = self._best(useful, asked)
            self._known[key] = self._end(left) if place is None else self._node(place, left, asked)
        return self._known[key]

    def rules(self, top: int) -> Rules:
        """Return the whole as rules."""
        return Rules(
            format=FORMAT,
            outcomes=self._outcomes,
            facts=self._facts,
            nodes=self._nodes,
            top=top,
            conditions=[],
            roots=[],
            sufficient=SufficientRules(conditions=[], table={}, sets=[]),
        )

    def _node(self, place: int, left: tuple[str, ...], asked: frozenset[int]) -> int:
        if len(self._nodes) >= MOST_STEPS:
            raise TooLarge(f"distinguishing the variants takes more than {MOST_STEPS} steps: give them clearer marks")
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
        stays = self._stays[place][way]
        return tuple(name for name in left if name in stays)

    def _agreeing(self, place: int, way: int) -> frozenset[str]:
        """Return the variants that an answer does not exclude; see the module about marks that data do not mention."""
        letters = self._facts[place]["classes"][way]
        shown = zip(self._names, self.shows[place], strict=True)
        return frozenset(name for name, one in shown if agrees(letters, one))

    def _useful(self, left: tuple[str, ...]) -> dict[int, float]:
        """Return the questions that can exclude a variant, with how many an answer excludes per minute."""
        if left in self._gains:
            return self._gains[left]
        found = self._gains.setdefault(left, {})
        for place, one in enumerate(self.asked) if len(left) > 1 else ():
            # What agrees with none of them, or leaves none of them, is no answer to hope for.
            letters = self._facts[place]["classes"]
            ways = [way for way, said in enumerate(letters) if len({*said}) > 1 or "T" in said]
            stay = [kept for way in ways if (kept := len(self._left(place, way, left)))]
            gone = sum(len(left) - kept for kept in stay)
            if gone:
                found[place] = gone / len(stay) / one.question.minutes
        return found

    def _best(self, useful: Mapping[int, float], asked: frozenset[int]) -> int | None:
        """Return the question to ask next, in the order of the module; None where enough was asked."""
        under_lid = sum(map(self._under_lid, asked))
        open_ones = [
            place
            for place in useful
            if place not in asked and not (self._under_lid(place) and under_lid >= MOST_UNDER_LID)
        ]
        # The first of equals, in the order of the questions.
        return min(open_ones, key=lambda place: (self._turn(place), -useful[place], place), default=None)

    def _turn(self, place: int) -> int:
        """Return when a question may be asked: none of a later turn while one of an earlier could still tell."""
        if self._under_lid(place):
            return 3
        return {FAMILY: 0, PLATE_MARK: 1, **dict.fromkeys(PLATE, 1)}.get(self.asked[place].fact, 2)

    def _under_lid(self, place: int) -> bool:
        return self.asked[place].question.look == "under-lid"


def _shown(asked: Asked, name: str, described: Described, unseen: Mapping[str, frozenset[str]]) -> int:
    """Return the place of what a variant shows among the comparisons of a question, or what is not known of it."""
    if asked.fact in described[name]:
        return asked.comparisons.index(described[name][asked.fact])
    return NOT_STATED if asked.fact.startswith(MARK) and asked.fact not in unseen[name] else NOT_KNOWN
