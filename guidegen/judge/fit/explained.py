"""The judgement in words, for a table: what was asked, what is known, by how much it misses, what remedies it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from guidegen.judge.comparison import Comparison, Connective, Facts, OneOf, Test, Within, comparisons_of
from guidegen.judge.fit.requirements import Evaluation, JudgedCondition
from guidegen.judge.logic import Interval, Truth
from guidegen.language import gettext
from guidegen.language.choices import choice, remedy_words
from guidegen.units import NARROW_SPACE, in_unit, number, unit_for
from guidegen.workshop.fact_table import FactTable
from guidegen.workshop.facts import SURE, Evidence


@dataclass(frozen=True)
class FitRow:
    """One requirement on one machine. `met` is None while that is not known.

    `remedies` are the ids of those that `remedy` offers in words: none that is ruled out on this machine. Of
    `unsure_remedies` it is not known yet whether they can be carried out.
    """

    id: str
    says: str
    met: bool | None
    detail: str
    detail_imperial: str
    remedy: str | None
    remedies: tuple[str, ...]
    unsure_remedies: tuple[str, ...]
    settles: str | None
    evidence: tuple[FactEvidence, ...] = ()


@dataclass(frozen=True)
class FactEvidence:
    """How one fact of a requirement is known; None where nobody knows it. `settles` is False where that is too weak."""

    fact: str
    title: str
    evidence: Evidence | None
    source: str | None
    settles: bool


EvidenceOf = Callable[[str], tuple[Evidence | None, str | None]]
"""Of a fact's name: how it is known, and the key of its source."""


def rows(
    evaluation: Evaluation, facts: Facts, table: FactTable, evidence_of: EvidenceOf | None = None
) -> tuple[FitRow, ...]:
    """Return one row per requirement of the kit, in document order."""
    return tuple(_row(judged, facts, table, evidence_of) for judged in evaluation.judged)


def _row(judged: JudgedCondition, facts: Facts, table: FactTable, evidence_of: EvidenceOf | None) -> FitRow:
    condition, truth = judged.condition, judged.truth
    comparisons = tuple(dict.fromkeys(comparisons_of(condition.test)))
    remedies = judged.open_remedies if truth is Truth.FALSE else ()
    unsure = tuple(one.id for one in remedies if judged.possible[one.id] is Truth.UNKNOWN)
    return FitRow(
        id=condition.id,
        says=condition.says,
        met=None if truth is Truth.UNKNOWN else truth is Truth.TRUE,
        detail="; ".join(detail(one, facts, table, imperial=False) for one in comparisons),
        detail_imperial="; ".join(detail(one, facts, table, imperial=True) for one in comparisons),
        remedy=remedied_by((one.kind, one.name, one.id in unsure) for one in remedies) if remedies else None,
        remedies=tuple(one.id for one in remedies),
        unsure_remedies=unsure,
        settles=" · ".join(_settling(comparisons, facts, table)) or None if truth is Truth.UNKNOWN else None,
        evidence=tuple(_evidence(comparisons, table, evidence_of)) if evidence_of is not None else (),
    )


def _evidence(comparisons: tuple[Comparison, ...], table: FactTable, evidence_of: EvidenceOf) -> Iterator[FactEvidence]:
    """Yield how each fact of a requirement is known, once."""
    for fact in dict.fromkeys(one.fact for one in comparisons):
        known, source = evidence_of(fact)
        settles = known is not None and (known in SURE or not table.vital(fact))
        yield FactEvidence(fact, table.title(fact), known, source, settles)


def remedied_by(remedies: Iterable[tuple[str, str, bool]]) -> str:
    """Return the ways to remedy a condition, from the kind and the name of each, and whether it may be impossible.

    >>> remedied_by([("fabrication", "Trim it, then gauge it", False), ("kit", "Banjo Feed", True)])
    'Trim it, then gauge it; or: Fit the kit Banjo Feed (not known yet whether that can be done)'
    """
    return gettext("; or: ").join(remedy_words(kind, unsure).format(name=name) for kind, name, unsure in remedies)


def _settling(comparisons: tuple[Comparison, ...], facts: Facts, table: FactTable) -> Iterator[str]:
    """Yield the measurements that would settle what is not known."""
    for comparison in comparisons:
        kind = table.get(comparison.fact)
        if comparison.judge(facts) is Truth.UNKNOWN and kind is not None and kind.spec is not None:
            settles = gettext(kind.spec.settles)
            better = comparison.fact in facts
            yield gettext("measure better: {how}").format(how=settles) if better else settles


def detail(comparison: Comparison, facts: Facts, table: FactTable, imperial: bool) -> str:
    """Return what is known of the fact, what is wanted, and by how much it misses.

    `height of the straight wall 40.0 ± 0.5 mm, at least 42.0 mm needed: short by 2.0 mm`
    """
    known = facts.get(comparison.fact)
    name = table.title(comparison.fact)
    if isinstance(comparison.test, OneOf):
        words = joined_by_or(map(choice, sorted(known))) if isinstance(known, frozenset) else ""
        there = gettext("not known") if known is None else words
        return f"{name}: {there}"
    unit = _unit(comparison.test, imperial)
    have = gettext("not known") if not isinstance(known, Interval) else _shown(known, comparison.test.dimension, unit)
    wanted_words = needed(comparison, unit)
    if comparison.judge(facts) is Truth.UNKNOWN:
        wanted_words = _open_limit(comparison.test, unit) or wanted_words
    text = f"{name} {have}, {wanted_words}"
    if isinstance(known, Interval) and comparison.judge_known(known) is Truth.UNKNOWN:
        return gettext("{finding}: not known well enough").format(finding=text)
    if isinstance(known, Interval) and comparison.judge_known(known) is Truth.FALSE:
        return f"{text}: {_missing(comparison.test, known, unit)}" if not comparison.negated else text
    return text


def needed(comparison: Comparison, unit: str) -> str:
    """Return what is wanted of a quantity: `at least 42.0 mm needed`."""
    test = comparison.test
    if not isinstance(test, Within):
        return ""
    words = gettext("{limits} needed") if test.lowest is not None else gettext("{limits} allowed")
    if comparison.negated:
        words = gettext("not {limits} needed")
    return words.format(limits=_limits(test, unit))


def _open_limit(test: Within, unit: str) -> str:
    """Return both ends of a limit that follows from a size nobody knows: it is no number yet. Empty for a number."""
    for bound in (test.lowest, test.highest):
        if bound is not None and bound.half_width > 0:
            words = gettext("the limit lies between {low} and {high}, by sizes that are not known yet")
            ends = (_number(float(end), test.dimension, unit) for end in (bound.low, bound.high))
            return words.format(**dict(zip(("low", "high"), ends, strict=True)))
    return ""


def _limits(test: Within, unit: str) -> str:
    """Return the ends of what is wanted: `at least 42.0 mm`."""
    least = "" if test.lowest is None else _number(float(test.lowest.high), test.dimension, unit)
    most = "" if test.highest is None else _number(float(test.highest.low), test.dimension, unit)
    if least and most:
        return gettext("at least {least} and at most {most}").format(least=least, most=most)
    return gettext("at least {least}").format(least=least) if least else gettext("at most {most}").format(most=most)


def wanted(test: Test, table: FactTable) -> str:
    """Return a whole test in words, in both systems of units."""
    if isinstance(test, Connective):
        between = gettext(" and ") if test.kind == "all" else gettext(" or ")
        return between.join(wanted(one, table) for one in test.members)
    if isinstance(test.test, OneOf):
        words = gettext("{fact} is not {words}") if test.negated else gettext("{fact} is {words}")
        return words.format(fact=table.title(test.fact), words=joined_by_or(map(choice, sorted(test.test.wanted))))
    metric, imperial = (_limits(test.test, _unit(test.test, imperial)) for imperial in (False, True))
    limits = gettext("not {limits}") if test.negated else "{limits}"
    metric, imperial = limits.format(limits=metric), limits.format(limits=imperial)
    text = metric if metric == imperial else f"{metric} ({imperial})"
    return f"{table.title(test.fact)} {text}"


def joined_by_or(words: Iterable[str]) -> str:
    """Return words of which one is enough."""
    return gettext(" or ").join(words)


def _unit(test: Within, imperial: bool) -> str:
    """Return one unit for value, limit and difference, so that they can be compared at a glance."""
    limit = test.lowest or test.highest
    if limit is None:
        return ""
    if test.dimension == "length" and not imperial:
        return "mm"
    return unit_for(float(limit.middle), test.dimension, imperial=imperial)


def _shown(known: Interval, dimension: str, unit: str) -> str:
    middle = in_unit(float(known.middle), dimension, unit)
    if known.half_width == 0:
        return f"{number(middle)}{NARROW_SPACE}{unit}".rstrip()
    half = _difference(float(known.half_width), dimension, unit)
    return f"{number(middle, half)} ± {number(half, half)}{NARROW_SPACE}{unit}".rstrip()


def _number(value: float, dimension: str, unit: str) -> str:
    """Return a limit without zeros at its end: unlike a reading it has no tolerance that they would speak of."""
    digits = number(in_unit(value, dimension, unit))
    if "." in digits:
        digits = digits.rstrip("0").rstrip(".")
    return f"{digits}{NARROW_SPACE}{unit}".rstrip()


def _difference(value: float, dimension: str, unit: str) -> float:
    return in_unit(value, dimension, unit) - in_unit(0.0, dimension, unit)


def _missing(test: Within, known: Interval, unit: str) -> str:
    """Return by how much the middle of what is known misses the limit."""
    if test.lowest is not None and known.high < test.lowest.low:
        words, gap = gettext("short by {gap}"), test.lowest.high - known.middle
    elif test.highest is not None:
        words, gap = gettext("too much by {gap}"), known.middle - test.highest.low
    else:
        return gettext("not met")
    shown = f"{number(_difference(float(gap), test.dimension, unit))}{NARROW_SPACE}{unit}"
    return words.format(gap=shown.rstrip())
