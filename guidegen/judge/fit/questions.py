"""Which facts the owner is asked for, what the answers can tell apart, and in which order they are asked.

A fact is settled by the variant's data, or it is asked: where the data do not know it, where it differs from unit
to unit, where its uncertainty straddles a limit, where it is assumed or was found on another variant, where an earlier
owner may have changed it, or where life and limb hang on it and the evidence is not sure. The answers to one question
fall into classes; two answers of one class are alike for every comparison, and hide the same places, so the diagram
has one branch per class.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace

from guidegen.judge.comparison import Comparison, Facts, Known, RequirementError, Within, comparisons_of
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


MOST_QUESTIONS = 16
"""Facts of the machine that one kit asks for where nothing is known of a variant. Nobody measures more than that."""
MOST_OF_UNIT = 12
"""What only an owner knows is quickly picked, a screen at a time; each question is a condition of its own, so that the
steps grow by a few with each and no alternatives hang on it (see `deciding`)."""


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
    hides: tuple[tuple[str, ...], ...]
    """The places that each class of answers hides."""
    beyond: tuple[int, ...]
    """The classes that an owner cannot make clearer: only the workshop can tell what such an answer means."""
    disqualifies: bool = False

    @property
    def fact(self) -> str:
        """Return the fact's name."""
        return self.question.fact

    @property
    def definite(self) -> tuple[int, ...]:
        """Return the classes that leave no comparison open."""
        return tuple(
            way for way, vector in enumerate(self.vectors) if Truth.UNKNOWN not in vector and not self.hides[way]
        )


@dataclass(frozen=True)
class QuestionPlan:
    """What is settled by data, what is asked, and what nobody can be asked for."""

    settled: dict[str, Known]
    asked: tuple[Asked, ...]
    open: tuple[str, ...]
    """Facts that neither the data know nor a question asks for: their conditions stay unknown for ever."""
    table: FactTable

    def hiding(self, asked: Asked, comparison: Comparison) -> tuple[int, ...]:
        """Return the classes of answers to another question after which nothing is known of a comparison."""
        if asked.fact == comparison.fact:
            return ()
        return tuple(way for way, places in enumerate(asked.hides) if is_hidden(comparison, places, self.table))


def is_hidden(comparison: Comparison, places: Iterable[str], table: FactTable) -> bool:
    """Return whether a comparison speaks of a hidden place: by its fact, or by the size that it is compared with."""
    names = (comparison.fact, *((comparison.limit,) if comparison.limit is not None else ()))
    return any(table.within(name, place) for name in names for place in places)


def plan(
    requirements: Requirements,
    data: Facts,
    spread: frozenset[str],
    questions: Questions,
    table: FactTable,
    doubted: frozenset[str] = frozenset(),
) -> QuestionPlan:
    """Return how each fact of the requirements becomes known.

    `spread` are the facts that the data do not settle although they name them: they differ from unit to unit, or life
    and limb hang on them and nobody sure has looked. `doubted` are settled by the data only where nobody can be asked.
    """
    settled: dict[str, Known] = {}
    asked: list[Asked] = []
    nobody: list[str] = []
    deciding = _deciding_facts(requirements)
    for fact, comparisons in {**_by_fact(requirements), **_hiding(requirements, questions, table)}.items():
        question, known = questions.about(fact), data.get(fact)
        certain = known is not None and fact not in spread
        trusted = certain and fact not in doubted
        if question is not None and not (trusted and not question.may_differ and _decides(comparisons, known)):
            one = asked_about(question, comparisons, table, known if fact not in spread else None)
            asked.append(replace(one, disqualifies=fact in deciding))
        elif certain and known is not None:
            settled[fact] = known
        else:
            nobody.append(fact)
    of_unit = sum(one.question.holds is not None for one in asked)
    if len(asked) - of_unit > MOST_QUESTIONS:
        count = len(asked) - of_unit
        raise TooManyQuestions(f"{count} facts would be asked, {MOST_QUESTIONS} at most: settle some in the data")
    if of_unit > MOST_OF_UNIT:
        words = f"{of_unit} questions would be asked about the unit, {MOST_OF_UNIT} at most: keep what decides a sale"
        raise TooManyQuestions(words)
    return QuestionPlan(settled, tuple(asked), tuple(nobody), table)


def known_from(question: Question, written: str, table: FactTable) -> Known | None:
    """Return what an answer says: a number with its unit, one of the choices, or None for "not sure".

    An answer is written as in a link or an order: `57.3 mm`, `banjo`, `something-else`, `not-sure`, `photo`.
    """
    if written in ("not-sure", "photo"):
        return None
    if question.choices:
        return _chosen(question, written, table)
    # The longest unit first: "57.3 mm" also ends in "m".
    for scale in sorted(scales_of(question, table), key=lambda scale: -len(scale.unit)):
        if written.endswith(scale.unit):
            return scale.interval(scale.read(written.removesuffix(scale.unit)))
    raise RequirementError(f"{question.fact}: {written!r} has none of the units {', '.join(question.units)}")


def _chosen(question: Question, written: str, table: FactTable) -> Known | None:
    dimension, choice = table.dimension(question.fact), question.offered(written)
    if choice is None:
        raise RequirementError(f"{question.fact}: {written!r} is not one of the answers")
    if choice.open:
        return None
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


def _hiding(requirements: Requirements, questions: Questions, table: FactTable) -> dict[str, tuple[Comparison, ...]]:
    """Return the facts that no requirement asks for, but an answer about which may hide what one asks for.

    The variant's data cannot tell whether an earlier owner put in what they do not describe.
    """
    by_fact = _by_fact(requirements)
    every = [comparison for comparisons in by_fact.values() for comparison in comparisons]
    return {
        one.fact: ()
        for one in questions.questions
        if one.may_differ and one.fact not in by_fact and any(is_hidden(each, one.hidden, table) for each in every)
    }


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
    numbers: dict[tuple[Vector, tuple[str, ...], bool], int] = {}

    def way(value: Known | None, hides: tuple[str, ...] = (), beyond: bool = False) -> int:
        unknown = (Truth.UNKNOWN,) * len(comparisons)
        vector = unknown if value is None else tuple(one.judge_known(value) for one in comparisons)
        return numbers.setdefault((vector, hides, beyond), len(numbers))

    cells = tuple(_cells(scale, comparisons, way) for scale in scales_of(question, table))
    choices = tuple((one.is_, way(_chosen(question, one.is_, table), one.hides, one.open)) for one in question.choices)
    unsure = way(None, question.hidden)
    expected = way(known) if known is not None else None
    return Asked(
        question,
        comparisons,
        tuple(vector for vector, _, _ in numbers),
        cells,
        choices,
        unsure,
        expected,
        hides=tuple(hides for _, hides, _ in numbers),
        beyond=tuple(number for (_, _, beyond), number in numbers.items() if beyond),
    )


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
