"""Numbers of acts against their bounds: stricter is allowed, laxer is not, and both ends where both harm."""

from __future__ import annotations

import math
from collections.abc import Iterator

from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.measure import Measure, measured
from guidegen.judge.safety.rules.base import Found, Rule, at_step, printed_steps
from guidegen.workshop.bounds import Bounds, Widening
from guidegen.workshop.steps import BoundedNumber

#: what a number with a bounded tolerance rests on
DOCUMENTS = frozenset({"maker-document", "standard", "measured"})
FIELDS = ("limit", "amount")
ALMOST = 1e-9
"""Of a bound: what lies on it is not beyond it for a rounding."""


def bounded(guide: Guide) -> Iterator[Found]:
    """ACT02."""
    for step in printed_steps(guide):
        for one in step.step.bounds:
            for why in _beyond(one):
                inner = (one.name,) if one.name in FIELDS else ()
                yield at_step(step, f"the {_called(one.name)} `{one.is_}` {why}", *inner)
    for act in guide.resolved.acts_around:
        for one in act.step.bounds:
            # What stands around the steps is no hold point, so that no other rule looks whether its limit can be read.
            unread = () if measured(one.is_) else ("has no number with a unit",)
            for why in (*_beyond(one), *unread):
                yield Found(act.where.place(one.name), f"`{act.act}`: the {_called(one.name)} `{one.is_}` {why}")


def _called(name: str) -> str:
    return name if name in FIELDS else f"value {name},"


def _beyond(one: BoundedNumber) -> Iterator[str]:
    """In which way a number is laxer than its bounds. What nobody knows is reported where it is printed."""
    stated, least, most = measured(one.is_), _end(one.bounds.at_least), _upper(one.bounds)
    dimension = next((end.dimension for end in (least, most) if end), None)
    if stated is None:
        if one.name != "limit":  # QTY02 says so of a limit
            yield "has no number with a unit"
    elif dimension and stated.dimension != dimension:
        yield f"is no {dimension}"
    else:
        yield from _outside(stated, least, most, one.bounds)
        yield from _vague(stated, one)


def _outside(stated: Measure, least: Measure | None, most: Measure | None, bounds: Bounds) -> Iterator[str]:
    low, high = stated.ends
    if most is not None and high > most.ends[1] + ALMOST * abs(most.ends[1]):
        words = f"{most.number:g} {most.unit}" if bounds.wider else bounds.at_most
        yield f"is more than {words}, the most that this act allows"
    if least is not None and low < least.ends[0] - ALMOST * abs(least.ends[0]):
        yield f"is less than {bounds.at_least}, the least that this act allows"


def _vague(stated: Measure, one: BoundedNumber) -> Iterator[str]:
    widest = _end(one.bounds.tolerance)
    if widest is None:
        return
    if stated.tolerance is None:
        yield "has no tolerance"
    elif (stated.ends[1] - stated.in_si) > widest.in_si * (1 + ALMOST):
        yield f"has a wider tolerance than {one.bounds.tolerance}"
    if one.evidence not in DOCUMENTS:
        yield "comes from no document of the maker"


def _end(text: str | None) -> Measure | None:
    return measured(text) if text else None


def _upper(bounds: Bounds) -> Measure | None:
    """The upper bound, widened by the number on which it depends; not at all where that number cannot be read."""
    most, wider = _end(bounds.at_most), bounds.wider
    if most is None or wider is None:
        return most
    return Measure(_widened(most, wider), most.unit, most.dimension)


def _widened(most: Measure, wider: Widening) -> float:
    of, above, per = (measured(text) for text in (wider.of, wider.above, wider.per))
    by, last = measured(wider.more), measured(wider.most)
    if of is None or above is None or per is None or by is None or last is None or of.dimension != above.dimension:
        return most.number
    times = max(0, math.floor((of.ends[0] - above.in_si) / per.in_si + ALMOST))
    return min(last.in_si, most.in_si + times * by.in_si) / most.in_si * most.number


RULES = (
    Rule("ACT02", "error", "No number of an act is laxer than its bounds, in whatever unit: limits, times, turns, and "
         "values that its words print.", "write a number on the safe side of the bound", bounded),
)  # fmt: skip
