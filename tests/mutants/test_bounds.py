"""Mutants made from the bounds: each number of each guide just outside of its bound, in its own and in another unit.

And just on it, which is allowed. None may survive, and none may be refused.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pytest

from guidegen.judge.safety.measure import Measure, measured
from guidegen.unit_table import TEST_UNITS, UNITS
from guidegen.workshop.steps import BoundedNumber
from tests.mutants.draft import Draft, draft
from tests.mutants.table import CLEAN, Mutant, survivors

pytestmark = pytest.mark.slow
JUST = 0.01
"""Of a bound: how far outside of it."""


@dataclass(frozen=True)
class Number:
    """A bounded number of a guide, and the name in braces that states it."""

    step: str
    bounded: BoundedNumber
    stated: str


def numbers(one: Draft) -> Iterator[Number]:
    """Every bounded number whose author states it as a value, with its bounds filled; each once."""
    written = {
        **{entry["id"]: entry for entry in _entries(one.shared)},
        **{entry["id"]: entry for entry in _entries(one.procedure)},
    }
    seen = set()
    for course in one.guide().resolved.courses:
        for step in course.steps:
            raw = {bound["name"]: bound["is"] for bound in written.get(step.step.id, {}).get("bounds", ())}
            for bounded in step.step.bounds:
                name = raw.get(bounded.name, "").strip("{}")
                key = (step.step.act, bounded.name, name)
                if name in {**one.shared["values"], **one.procedure.get("values", {})} and key not in seen:
                    seen.add(key)
                    yield Number(step.step.id, bounded, name)


def _entries(node: Any) -> Iterator[dict[str, Any]]:
    if isinstance(node, dict):
        if "do" in node and "id" in node:
            yield node
        for value in node.values():
            yield from _entries(value)
    elif isinstance(node, list | tuple):
        for value in node:
            yield from _entries(value)


def in_units(value: float, like: Measure) -> Iterator[str]:
    """A quantity in SI as text, in the unit of a bound and in every other of its dimension."""
    units = {unit: (factor, offset) for unit, (factor, offset) in UNITS.get(like.dimension, {}).items() if unit}
    units |= {unit: (factor, 0.0) for unit, (dimension, factor) in TEST_UNITS.items() if dimension == like.dimension}
    for unit, (factor, offset) in units.items():
        yield f"{(value - offset) / factor:.12f} {unit}"


def restated(guide: tuple[str, str], number: Number, text: str) -> Mutant:
    """The guide with another number in its place."""

    def change(one: Draft) -> None:
        values = one.procedure["values"] if number.stated in one.procedure.get("values", {}) else one.shared["values"]
        values[number.stated]["is"] = text

    return Mutant("ACT02", f"{number.step}: {number.bounded.name} {text}", guide, change)


def outside(number: Number) -> Iterator[str]:
    """Texts just beyond each end."""
    bounds = number.bounded.bounds
    width = f" ± {bounds.tolerance}" if bounds.tolerance else ""
    half = measured(bounds.tolerance or "")
    for text, sign in ((bounds.at_least, -1), (bounds.at_most, 1)):
        bound = measured(text or "")
        if bound is not None:
            end = bound.ends[(1 + sign) // 2] - sign * (half.in_si if half else 0.0)
            size = abs(bound.ends[0]) if bound.dimension != "temperature" else 10.0
            yield from (written + width for written in in_units(end + sign * JUST * size, bound))


def laxer(guide: tuple[str, str]) -> Iterator[Mutant]:
    """Each number of the guide alone just outside of each of its bounds, in each unit."""
    for number in numbers(draft(*guide)):
        yield from (restated(guide, number, text) for text in outside(number))


@pytest.mark.parametrize("guide", CLEAN, ids="/".join)
def test_no_number_outside_of_its_bounds_survives(guide: tuple[str, str]) -> None:
    """Each alone."""
    mutants = list(laxer(guide))
    assert len(mutants) > 30
    assert survivors(mutants) == []


@pytest.mark.parametrize("guide", CLEAN[:1], ids="/".join)
def test_what_lies_on_its_bound_is_allowed(guide: tuple[str, str]) -> None:
    """Stricter is as well; laxer alone is not. A value that another act bounds too may be refused there."""
    tried = [(number.step, restated(guide, number, text)) for number in numbers(draft(*guide))
             for text in (number.bounded.bounds.at_least, number.bounded.bounds.at_most)
             if text and measured(text) and not number.bounded.bounds.tolerance]  # fmt: skip
    assert len(tried) > 10
    refused = [one.says for step, one in tried if any(f"({step})" in found.message for found in one.findings())]
    assert refused == []


@pytest.mark.parametrize("unit", ["°C", "s", "bar", "mm"])
def test_a_number_of_another_dimension_is_refused(unit: str) -> None:
    """A limit in ohms that is a time is none."""
    tried = []
    for number in numbers(draft(*CLEAN[0])):
        bound = measured(number.bounded.bounds.at_least or number.bounded.bounds.at_most or "")
        other = measured(f"1 {unit}")
        if bound and other and bound.dimension != other.dimension:
            tried.append(restated(CLEAN[0], number, f"1 {unit}"))
    assert survivors(tried) == []
