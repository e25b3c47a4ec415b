"""Which facts the owner is asked for, what the answers can tell apart, and in which order they are asked.

A fact is settled by the variant's data, or it is asked: where the data do not know it, where it differs from unit
to unit, where its uncertainty straddles a limit, or where an earlier owner may have changed it. The answers to one
question fall into classes; two answers of one class are alike for every comparison, so the diagram has one branch
per class.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace

from guidegen.judge.comparison import Comparison, Facts, Known, RequirementError, Within, comparisons_of
from guidegen.judge.fit.answers import SOMETHING_ELSE
from guidegen.judge.fit.requirements import Requirements
from guidegen.judge.fit.scale import Scale, scales_of
from guidegen.judge.logic import Interval, Truth
from guidegen.units import parse
from guidegen.workshop.fact_table import FactTable
from guidegen.workshop.questions import Question, Questions

Vector = tuple[Truth, ...]
"""The truth of every comparison that asks about one fact, in document order."""


class TooManyQuestions(RequirementError):
    """More facts are asked about one kit than anybody would answer."""


MOST_QUESTIONS = 13
"""Nobody answers more questions than that about one kit; the tables of the page grow with it, too."""


@dataclass(frozen=True)
class Cells:
    """Answers in one unit: from each cut (a count) on, up to the next, the answers are of one class."""

    scale: Scale
    cuts: tuple[int, ...]
    classes: tuple[int, ...]
    """One more than cuts: the class below the first cut, then from each cut on."""


@dataclass(frozen=True)
class Asked:
    """One fact that is asked: its question, its comparisons, and the classes of its answers."""

    question: Question
    comparisons: tuple[Comparison, ...]
    vectors: tuple[Vector, ...]
    cells: tuple[Cells, ...]
    choices: tuple[tuple[str, int], ...]
    unsure: int
    expected: int | None
    """The class that the variant's data point at."""
    disqualifies: bool = False

    @property
    def fact(self) -> str:
        """Return the fact's name."""
        return self.question.fact

    @property
    def definite(self) -> tuple[int, ...]:
        """Return the classes that leave no comparison open."""
        return tuple(way for way, vector in enumerate(self.vectors) if Truth.UNKNOWN not in vector)


@dataclass(frozen=True)
class QuestionPlan:
    """What is settled by data, what is asked, and what nobody can be asked for."""

    settled: dict[str, Known]
    asked: tuple[Asked, ...]
    open: tuple[str, ...]
    """Facts that neither the data know nor a question asks for: their conditions stay unknown for ever."""


def plan(
    requirements: Requirements, data: Facts, spread: frozenset[str], questions: Questions, table: FactTable
) -> QuestionPlan:
    """Return how each fact of the requirements becomes known. `spread` are the facts that differ from unit to unit."""
    settled: dict[str, Known] = {}
    asked: list[Asked] = []
    nobody: list[str] = []
    deciding = _deciding_facts(requirements)
    for fact, comparisons in _by_fact(requirements).items():
        question, known = questions.about(fact), data.get(fact)
        certain = known is not None and fact not in spread
        if question is not None and not (certain and not question.may_differ and _decides(comparisons, known)):
            one = asked_about(question, comparisons, table, known if fact not in spread else None)
            asked.append(replace(one, disqualifies=fact in deciding))
        elif certain and known is not None:
            settled[fact] = known
        else:
            nobody.append(fact)
    if len(asked) > MOST_QUESTIONS:
        raise TooManyQuestions(f"{len(asked)} facts would be asked, {MOST_QUESTIONS} at most: settle some in the data")
    return QuestionPlan(settled, tuple(asked), tuple(nobody))


def known_from(question: Question, written: str, table: FactTable) -> Known | None:
    """Return what an answer says: a number with its unit, one of the choices, or None for "not sure".

    An answer is written as in a link or an order: `57.3 mm`, `banjo`, `something-else`, `not-sure`, `photo`.
    """
    if written in ("not-sure", "photo"):
        return None
    if question.choices:
        return _chosen(question, written, table)
    # The longest unit first: "57.3 mm" also ends in "m".
    for scale in sorted(scales_of(question), key=lambda scale: -len(scale.unit)):
        if written.endswith(scale.unit):
            return scale.interval(scale.read(written.removesuffix(scale.unit)))
    raise RequirementError(f"{question.fact}: {written!r} has none of the units {', '.join(question.units)}")


def _chosen(question: Question, written: str, table: FactTable) -> Known | None:
    dimension = table.dimension(question.fact)
    if written == SOMETHING_ELSE and question.other is not None:
        # Of a quantity, "something else" gives no number, so there is nothing to compare with a limit.
        return frozenset({SOMETHING_ELSE}) if dimension is None else None
    if written not in (choice.is_ for choice in question.choices):
        raise RequirementError(f"{question.fact}: {written!r} is not one of the answers")
    if dimension is None:
        return frozenset({written})
    value = parse(written, dimension)
    return Interval.around(value.value, value.plus_minus)


def _by_fact(requirements: Requirements) -> dict[str, tuple[Comparison, ...]]:
    found: dict[str, dict[Comparison, None]] = {}
    for condition in requirements.conditions:
        for comparison in comparisons_of(condition.test):
            found.setdefault(comparison.fact, {})[comparison] = None
    return {fact: tuple(comparisons) for fact, comparisons in found.items()}


def _deciding_facts(requirements: Requirements) -> frozenset[str]:
    """Return the facts of conditions without a remedy: an answer about them can end the matter."""
    return frozenset(
        comparison.fact
        for condition in requirements.roots
        if not condition.remedies
        for comparison in comparisons_of(condition.test)
    )


def _decides(comparisons: Iterable[Comparison], known: Known | None) -> bool:
    return known is not None and all(one.judge_known(known) is not Truth.UNKNOWN for one in comparisons)


def asked_about(
    question: Question, comparisons: tuple[Comparison, ...], table: FactTable, known: Known | None = None
) -> Asked:
    """Return the question with the classes of its answers; `known` is what the data expect."""
    numbers: dict[Vector, int] = {}

    def way(value: Known | None) -> int:
        unknown = (Truth.UNKNOWN,) * len(comparisons)
        vector = unknown if value is None else tuple(one.judge_known(value) for one in comparisons)
        return numbers.setdefault(vector, len(numbers))

    cells = tuple(_cells(scale, comparisons, way) for scale in (scales_of(question) if question.units else ()))
    words = [choice.is_ for choice in question.choices] + ([SOMETHING_ELSE] if question.other is not None else [])
    choices = tuple((word, way(_chosen(question, word, table))) for word in words)
    unsure = way(None)
    expected = way(known) if known is not None else None
    return Asked(question, comparisons, tuple(numbers), cells, choices, unsure, expected)


def _cells(scale: Scale, comparisons: tuple[Comparison, ...], way: Callable[[Known | None], int]) -> Cells:
    cuts: set[int] = set()
    for comparison in comparisons:
        if not isinstance(comparison.test, Within):
            raise RequirementError(f"{comparison.fact} is measured, but compared with words")
        cuts |= scale.cuts(comparison.test)
    kept: list[int] = []
    classes = [way(scale.interval(0))]
    for cut in sorted(cuts):
        here = way(scale.interval(cut))
        if here != classes[-1]:
            kept.append(cut)
            classes.append(here)
    return Cells(scale, tuple(kept), tuple(classes))


def weights(asked: Asked, trust: float = 0.8) -> Mapping[int, float]:
    """Return how likely each definite class is: mostly what the data point at, else all alike.

    Only the order of questions depends on it, never an outcome.
    """
    ways = asked.definite or tuple(range(len(asked.vectors)))
    if asked.expected in ways:
        rest = (1 - trust) / len(ways)
        return {way: rest + (trust if way == asked.expected else 0.0) for way in ways}
    return {way: 1 / len(ways) for way in ways}
