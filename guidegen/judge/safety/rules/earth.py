"""Protective earth and insulation: tested after the last thing that could have disturbed them."""

from __future__ import annotations

from collections.abc import Iterator

from guidegen.judge.safety.flow import settled
from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.model import ResolvedStep
from guidegen.judge.safety.rules.base import (
    Found,
    Rule,
    acceptance_of,
    at_step,
    comes_too_early,
    energises,
    every_step,
    heats,
    limit_of,
    moves_leads,
    opens,
    unmet,
)

WHOLE = ("heater", "wiring")
"""What an insulation test before full power is of; of one alone it is a first look."""


def points(guide: Guide) -> tuple[str, ...]:
    """Return the points that an earth test reaches at least."""
    return ("boiler", "coil", "casing") if guide.has_coil else ("boiler", "casing")


def disturbs(step: ResolvedStep) -> bool:
    """Return whether the step may disturb the earth's path."""
    other = step.step.disturbs
    return opens(step) or moves_leads(step) or "bond" in step.step.acts or (other is not None and other.earth)


def continuous(guide: Guide) -> Iterator[Found]:
    """EAR01."""
    yield from unmet(guide, "earth")
    for _, step in every_step(guide):
        if step.step.earth_points:
            yield from _limited(step)
        elif step.step.sets.get("earth") == "tested":
            yield at_step(step, "sets earth tested without testing any point", "sets")
    for run in guide.runs:
        restoring = run.graph.course is guide.resolved.restoring
        for point in ("boiler", "casing") if restoring else points(guide):
            tested = settled(run, lambda step, point=point: point in step.step.earth_points, disturbs)  # type: ignore[misc]
            message = f"puts power on, but {point} has no earth test after the last disturbance"
            yield from comes_too_early(run, energises, tested, message)


def _limited(step: ResolvedStep) -> Iterator[Found]:
    accept, limit = acceptance_of(step), limit_of(step, "at_most")
    if accept is None or limit is None or limit.dimension != "resistance":
        yield at_step(step, "the earth test has no limit in ohms", "hold")
    elif accept.instrument is None or not accept.source:
        yield at_step(step, "the earth test names no instrument, or no source of its limit", "hold", "accept")


def insulated(guide: Guide) -> Iterator[Found]:
    """EAR02."""
    for _, step in every_step(guide):
        if not step.step.insulation_of:
            continue
        limit = limit_of(step, "at_least")
        if limit is None or limit.dimension != "resistance":
            yield at_step(step, "the insulation test has no lower limit in megohms", "hold")
        if step.step.role != "electrically-skilled":
            yield at_step(step, "an insulation test is for an electrically skilled person", "role")
    for run in guide.runs:
        if any(moves_leads(step) for step in run.steps):
            tested = settled(run, lambda step: {*WHOLE} <= {*step.step.insulation_of}, moves_leads, start=True)
            message = "puts full power on, but wiring was moved and its insulation not tested since"
            yield from comes_too_early(run, heats, tested, message)


RULES = (
    Rule("EAR01", "error", "Earth continuity is tested after the last disturbance and before power: value, limit, "
         "instrument, and points that include boiler, coil and casing.",
         "include the earth test after the last opening or moved lead", continuous),
    Rule("EAR02", "error", "Where heater, wiring or insulation was moved, an electrically skilled person tests the "
         "insulation before full power.", "include the insulation test after the last moved lead", insulated),
)  # fmt: skip
