"""The judgement in words, for a table: what was asked, what is known, by how much it misses, what mends it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from guidegen.catalogue.paths import known_facts
from guidegen.fit.logic import Interval, Truth
from guidegen.fit.requirements import Evaluation, Judged
from guidegen.fit.tree import Comparison, Facts, Group, OneOf, Test, Within, comparisons_of
from guidegen.units import NARROW_SPACE, in_unit, number, unit_for


@dataclass(frozen=True)
class Row:
    """One requirement on one machine. `met` is None while it cannot be told."""

    id: str
    says: str
    met: bool | None
    detail: str
    detail_imperial: str
    remedy: str | None
    settles: str | None


def rows(evaluation: Evaluation, facts: Facts) -> tuple[Row, ...]:
    """Return one row per requirement of the kit, in document order."""
    return tuple(_row(judged, facts) for judged in evaluation.judged)


def _row(judged: Judged, facts: Facts) -> Row:
    condition, truth = judged.condition, judged.truth
    comparisons = tuple(dict.fromkeys(comparisons_of(condition.test)))
    return Row(
        id=condition.id,
        says=condition.says,
        met=None if truth is Truth.UNKNOWN else truth is Truth.TRUE,
        detail="; ".join(detail(one, facts, imperial=False) for one in comparisons),
        detail_imperial="; ".join(detail(one, facts, imperial=True) for one in comparisons),
        remedy=_remedies(judged),
        settles=" · ".join(_settling(comparisons, facts)) or None if truth is Truth.UNKNOWN else None,
    )


def _remedies(judged: Judged) -> str | None:
    if judged.truth is not Truth.FALSE or not judged.condition.remedies:
        return None
    return " or ".join(remedy.name for remedy in judged.condition.remedies)


def _settling(comparisons: tuple[Comparison, ...], facts: Facts) -> Iterator[str]:
    """Yield the measurements that would settle what is not known."""
    for comparison in comparisons:
        field = known_facts().get(comparison.fact)
        if comparison.judge(facts) is Truth.UNKNOWN and field is not None and field.spec is not None:
            better = "measure better: " if comparison.fact in facts else ""
            yield f"{better}{field.spec.settles}"


def detail(comparison: Comparison, facts: Facts, imperial: bool) -> str:
    """Return what is known of the fact, what is wanted, and by how much it misses.

    `height of the straight wall 40.0 ± 0.5 mm, at least 42.0 mm needed: short by 2.0 mm`
    """
    known = facts.get(comparison.fact)
    name = title(comparison.fact)
    if isinstance(comparison.test, OneOf):
        there = "not known" if known is None else " or ".join(sorted(known)) if isinstance(known, frozenset) else ""
        return f"{name}: {there}"
    unit = _unit(comparison.test, imperial)
    have = "not known" if not isinstance(known, Interval) else _shown(known, comparison.test.dimension, unit)
    text = f"{name} {have}, {needed(comparison, unit)}"
    if isinstance(known, Interval) and comparison.judge_known(known) is Truth.FALSE:
        return f"{text}: {_missing(comparison.test, known, unit)}" if not comparison.negated else text
    return text


def needed(comparison: Comparison, unit: str) -> str:
    """Return what is wanted of a quantity: `at least 42.0 mm needed`."""
    test = comparison.test
    if not isinstance(test, Within):
        return ""
    limits = []
    if test.lowest is not None:
        limits.append(f"at least {_number(float(test.lowest.high), test.dimension, unit)}")
    if test.highest is not None:
        limits.append(f"at most {_number(float(test.highest.low), test.dimension, unit)}")
    return f"{'not ' if comparison.negated else ''}{' and '.join(limits)} needed"


def wanted(test: Test) -> str:
    """Return a whole test in words, in both systems of units."""
    if isinstance(test, Group):
        return (" and " if test.kind == "all" else " or ").join(map(wanted, test.members))
    if isinstance(test.test, OneOf):
        return f"{title(test.fact)} is {'not ' if test.negated else ''}{' or '.join(sorted(test.test.wanted))}"
    metric, imperial = (needed(test, _unit(test.test, imperial)) for imperial in (False, True))
    text = metric if metric == imperial else f"{metric} ({imperial})"
    return f"{title(test.fact)} {text}".replace(" needed", "")


def title(fact: str) -> str:
    """Return what pages call a fact, starting small so that it stands in a sentence."""
    field = known_facts().get(fact)
    if field is None or field.spec is None:
        return fact.replace(".", " ").replace("_", " ")
    text = field.spec.title
    return text[:1].lower() + text[1:]


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
    return f"{number(in_unit(value, dimension, unit))}{NARROW_SPACE}{unit}".rstrip()


def _difference(value: float, dimension: str, unit: str) -> float:
    return in_unit(value, dimension, unit) - in_unit(0.0, dimension, unit)


def _missing(test: Within, known: Interval, unit: str) -> str:
    """Return by how much the middle of what is known misses the limit."""
    if test.lowest is not None and known.high < test.lowest.low:
        word, gap = "short by", test.lowest.high - known.middle
    elif test.highest is not None:
        word, gap = "too much by", known.middle - test.highest.low
    else:
        return "not met"
    return f"{word} {number(_difference(float(gap), test.dimension, unit))}{NARROW_SPACE}{unit}".rstrip()
